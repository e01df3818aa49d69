"""What was told is read back, and taken back in the same words, so that a cook hears what goes."""

import pytest

from assistant.cook.rules.decide import decide
from assistant.cook.rules.decision import Record
from assistant.cook.vocabulary.commands import Carve
from assistant.sentences.all import read_back
from tests.sentences.test_sentences import cooking

FACTS = [
    ("bird one weighs two kilos", "Bird 1, 2 kg.", "bird 1, 2 kg"),
    ("bird one weighs five pounds eight ounces", "Bird 1, 5 lb 8 oz.", "bird 1, 5 lb 8 oz"),
    ("bird one gets harissa", "Bird 1, harissa.", "bird 1, harissa"),
    ("bird one gets plain", "Bird 1 stays plain.", "bird 1, plain"),
    ("bird two is off", "Bird 2 off. Bird 3 counts as still on.", "bird 2 off"),
    ("grill is three thirty", "Grill 330. 20 under the band.", "grill 330"),
    ("added ten briquettes", "10 briquettes on.", "10 briquettes"),
    ("added one briquette", "1 briquette on.", "1 briquette"),
    ("added half a chimney", "Half a chimney on.", "half a chimney"),
    ("added three pieces of lump", "3 pieces of lump on.", "3 pieces of lump"),
    ("added wood", "Wood on.", "the wood"),
    ("lid off", "Lid off.", "lid off"),
    ("bottom vent two thirds", "Bottom vent 2/3.", "bottom vent 2/3"),
    ("top vent shut", "Top vent shut.", "top vent shut"),
    ("both vents open", "Both vents open.", "both vents open"),
    ("dinner at six thirty", "Dinner at 6:30 in the evening.", "dinner at 6:30 in the evening"),
    ("dinner in two hours", "Dinner at 6:40 in the evening.", "dinner at 6:40 in the evening"),
    ("set a rice timer for twenty minutes", "Rice timer, 20 minutes.", "rice timer, 20 minutes"),
    ("remind me in ten minutes", "Timer, 10 minutes.", "timer, 10 minutes"),
]


@pytest.mark.parametrize(("words", "told", "named"), FACTS)
def test_a_fact_is_read_back_and_taken_back_in_the_same_words(
    words: str, told: str, named: str
) -> None:
    evening = cooking()
    assert evening.say(40, words).text == told
    assert evening.say(41, "scratch that").text == f"Taken back: {named}."


HARM = [
    ("wing is loose", "wing loose", "hot metal"),
    ("flare up", "flare-up", "never water on burning fat"),
    ("it is raining", "rain", "carbon monoxide"),
    ("the spit has stopped", "spit stopped", "hot metal"),
    ("fire is dying", "fire dying", "outdoors as ever"),
    ("drip pan is full", "drip pan full", "hot fat"),
]


@pytest.mark.parametrize(("words", "named", "caution"), HARM)
def test_a_trouble_is_answered_with_its_danger_and_taken_back_by_its_name(
    words: str, named: str, caution: str
) -> None:
    evening = cooking()
    assert caution in evening.say(40, words).text
    assert evening.say(41, "scratch that").text == f"Taken back: {named}."


def test_a_hold_says_what_to_do_with_the_fire_and_is_taken_back() -> None:
    evening = cooking()
    evening.say(38, "dinner at six thirty")
    told = evening.say(40, "hold dinner twenty minutes").text
    assert told.startswith("Holding 20 minutes, to 6:50 in the evening.")
    assert "the grill not under 325" in told
    assert evening.say(41, "scratch that").text == "Taken back: the hold."
    assert evening.state.serve_s == cooked_for_half_past_six()


def cooked_for_half_past_six() -> float | None:
    evening = cooking()
    evening.say(38, "dinner at six thirty")
    return evening.state.serve_s


def test_facts_told_in_one_breath_are_taken_back_together_by_name() -> None:
    evening = cooking()
    assert evening.say(40, "scratch that").text == "Taken back: bird 1 on, bird 2 on, bird 3 on."
    assert not evening.state.cooking


def test_a_timer_that_was_stopped_runs_again_when_that_is_taken_back() -> None:
    evening = cooking()
    evening.say(40, "set a rice timer for twenty minutes")
    assert evening.say(41, "cancel the rice timer").text == "Rice timer stopped."
    assert evening.say(42, "scratch that").text == "Taken back: the stopped timer."
    assert [timer.name for timer in evening.state.timers] == ["rice"]


def test_a_bird_that_goes_back_on_hears_how_long_it_was_off() -> None:
    evening = cooking()
    evening.say(60, "bird one is off")
    assert evening.say(66, "bird one is on").text == "Bird 1 back on. 6 minutes off."


def test_an_unread_bird_that_is_carved_is_told_what_to_read_first() -> None:
    evening = cooking()
    evening.say(60, "bird one is off")
    before = evening.state
    decision = decide(before, Carve(1), before.at_s + 60.0)
    assert isinstance(decision, Record)
    evening.record(before.at_s + 60.0, *decision.events)
    told = read_back(decision, before, evening.state).text
    assert told.startswith("Carving bird 1. Wait: bird 1 is not read and off.")
    assert "Read 165 in breast and thigh first." in told
    assert told.endswith("Clean board and knife, that met no raw poultry.")
