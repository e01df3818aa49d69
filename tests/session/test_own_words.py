"""A typed cook in words nobody taught: what is recorded, what is asked, what is said."""

import pytest

from assistant.app.hear_text import hear_text
from assistant.cook.vocabulary import events as ev
from assistant.grammar.free.open_facts import fact_json
from assistant.session.free_words import context_of
from assistant.session.line import Line
from assistant.session.log import MemoryLog
from assistant.session.session import Session
from assistant.session.typed import heard_typed
from assistant.system.clock import VirtualClock
from assistant.voice.silent import SilentSpeaker


class Evening:
    """A cook of three birds, half an hour on the spit."""

    def __init__(self) -> None:
        self.lines: list[Line] = []
        self.clock = VirtualClock(1_790_524_800.0)
        self.session = Session(MemoryLog(), self.clock, SilentSpeaker(), self.lines.append)
        self.session.begin(ev.CookBegan(birds=3))
        for words in ("bird one gets apricot", "bird two gets harissa", "that's all three on"):
            self.say(words)
        self.clock.run_until(1_790_524_800.0 + 1800)

    def say(self, words: str) -> str:
        self.lines.clear()
        self.session.hear(heard_typed(words, "F", self.session.state))
        return " | ".join(str(one.fields["text"]) for one in self.lines if one.kind == "said")

    def last_f(self, bird: int) -> float | None:
        found = self.session.state.bird(bird)
        return found.readings[-1].temperature_f if found and found.readings else None


def test_several_facts_are_recorded_and_read_back_in_one_sentence() -> None:
    cook = Evening()
    said = cook.say("the apricot one's at sixty eight, bird two seventy one and I put eight on")
    assert (cook.last_f(1), cook.last_f(2)) == (68, 71)
    assert [one.count for one in cook.session.state.fire.fuel] == [8]
    assert "|" not in said and all(part in said for part in ("68", "71", "8"))


def test_a_number_waits_for_its_bird() -> None:
    for answer, bird in (("two", 2), ("the far one", 3)):
        cook = Evening()
        assert "70" in cook.say("seventy")
        assert cook.last_f(bird) is None
        cook.say(answer)
        assert cook.last_f(bird) == 70


def test_what_is_clear_is_kept_beside_what_is_asked() -> None:
    cook = Evening()
    cook.say("lid's off and I got seventy in the breast")
    assert cook.session.state.fire.lid_is_off
    assert cook.session.state.pending is not None
    cook.say("the harissa one")
    assert cook.last_f(2) == 70


def test_the_bird_of_the_last_reading_is_changed() -> None:
    cook = Evening()
    cook.say("bird one's seventy")
    cook.say("i meant bird two")
    assert (cook.last_f(1), cook.last_f(2)) == (None, 70)


def test_a_refusal_helps_and_records_nothing() -> None:
    cook = Evening()
    before = cook.session.state.birds
    assert "bird 2" in cook.say("bird two looks a bit peaky frankly")
    assert cook.session.state.birds == before and not cook.session.state.fire.fuel


@pytest.mark.parametrize(
    "words",
    [
        "tossed a few more coals on",
        "opened the bottom vent a bit more",
        "throttled the top vent back a touch",
        "six coals on each side and an apple chunk",
        "bird one's resting",
        "carving bird two now",
        "the fire's way too hot",
        "bird one's skin is burning",
        "what time is it",
        "how are we looking",
        "lid on, no, lid off",
        "bird one is seventy and bird two is the same",
    ],
)
def test_a_live_typed_cook_takes_what_hear_text_prints(words: str) -> None:
    cook = Evening()
    heard = heard_typed(words, "F", cook.session.state)
    (printed,) = hear_text([words], context_of(cook.session.state))
    taken = [one for one in (heard.command, *heard.more) if one is not None]
    assert heard.outcome == printed["outcome"] == "accept"
    assert [fact_json(one) for one in taken] == printed["facts"]


def test_what_was_named_and_not_told_is_asked_for_and_the_rest_recorded() -> None:
    cook = Evening()
    said = cook.say("bird one's seventy and something about the vent")
    assert cook.last_f(1) == 70
    assert "vent" in said
