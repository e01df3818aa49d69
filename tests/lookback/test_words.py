"""What the look-back tells: stages, calls, what was mended, lessons, cautions."""

import pytest

from assistant.cook.vocabulary import events as ev
from assistant.lookback.facts import Evening, evening
from assistant.lookback.phrases import event_words, minutes, prompt_words, span
from assistant.lookback.stages import called, mended, stages, stretches
from assistant.lookback.words import cautions, lessons
from tests.journal.evenings import BEGAN, START_S, family_dinner, family_evening, told

ROAST = [
    (0.0, "fire is lit"),
    (600.0, "grill is three seventy"),
    (900.0, "birds on"),
    (4500.0, "bird one breast one sixty"),
    (4560.0, "bird one thigh one sixty eight"),
    (5400.0, "bird one breast one sixty nine"),
    (5500.0, "bird one is off"),
]


def seen(lines: list[tuple[float, str]], *more: ev.Event) -> Evening:
    """An evening of one bird with these words, and these events at its end."""
    recorded = list(told(lines, ev.CookBegan(zone="America/New_York", birds=1)))
    for event in more:
        recorded.append(ev.Recorded(len(recorded) + 1, recorded[-1].at_s + 1.0, event))
    return evening(recorded, "An evening")


def dinner(at: float, *lines: tuple[float, str]) -> Evening:
    """The roast above with dinner `at` seconds in."""
    return seen([*ROAST, *lines], ev.ServeSet(START_S + at))


def test_what_was_put_right_is_told_with_what_came_of_it() -> None:
    found = [(one.first, one.then) for one in mended(family_evening())]
    assert found == [
        ("16 briquettes added", "taken back 15 s later"),
        ("bird 1 reads 98 F", "corrected to 90 F 15 s later"),
        ('"bird three reads one eighty"', "asked back (jumps), settled as: bird 3 reads 118 F"),
    ]


def test_words_not_understood_are_told() -> None:
    one = mended(seen(ROAST, ev.WordsHeard("burrs two rods one thirsty", 0.2, "refuse")))[-1]
    assert (one.first, one.then) == (
        '"burrs two rods one thirsty"', "not understood, nothing recorded",
    )  # fmt: skip


def test_a_question_left_open_is_told() -> None:
    last = mended(seen(ROAST, ev.WordsHeard("er", 0.5, "ask"), ev.AskedBack((), "teen_or_ty")))[-1]
    assert last.then == "asked back (teen or ty), never answered"


def test_calls_are_matched_with_the_deed_they_asked_for() -> None:
    said = ev.PromptSaid("look:1:3", "soon")
    recorded = [
        ev.Recorded(1, 0.0, BEGAN),
        ev.Recorded(2, 100.0, said),
        ev.Recorded(3, 130.0, ev.BirdRead(2, 120.0, ev.Said(120.0, "F"))),
        ev.Recorded(4, 160.0, ev.BirdRead(1, 120.0, ev.Said(120.0, "F"))),
        ev.Recorded(5, 200.0, ev.PromptSaid("refuel:0", "soon")),
        ev.Recorded(6, 230.0, ev.PromptAcknowledged(("refuel:0",))),
        ev.Recorded(7, 300.0, ev.PromptSaid("lid:9", "now")),
        ev.Recorded(8, 3000.0, ev.LidClosed()),
    ]
    found = [(one.what, one.answer) for one in called(evening(recorded, ""))]
    assert found == [
        ("read bird 1", "done after 60 s"),
        ("charcoal", "acknowledged after 30 s"),
        ("lid on", "nothing recorded"),
    ]


@pytest.mark.parametrize(
    ("key", "deed", "answer"),
    [
        ("vents:open:9", ev.VentsSet("bottom", 0.7), "done after 30 s"),
        ("grill:4", ev.GrillRead(360.0, ev.Said(360.0, "F")), "done after 30 s"),
        ("light:0", ev.FireStarted(), "done after 30 s"),
        ("coat:2:99", ev.BirdSauced(2), "done after 30 s"),
        ("coat:2:99", ev.BirdSauced(1), "nothing recorded"),
        ("birds_on:0", ev.BirdOn(3), "done after 30 s"),
        ("carve:99", ev.WoodPut(), "told"),
        ("not_known_yet:1", ev.WoodPut(), "nothing recorded"),
    ],
)
def test_each_call_is_answered_by_its_own_deed(key: str, deed: ev.Event, answer: str) -> None:
    recorded = [
        ev.Recorded(1, 0.0, BEGAN),
        ev.Recorded(2, 100.0, ev.PromptSaid(key, "soon")),
        ev.Recorded(3, 130.0, deed),
    ]
    assert [one.answer for one in called(evening(recorded, ""))] == [answer]


def test_stages_stand_beside_the_plan_back_from_dinner() -> None:
    found = {one.what: one for one in stages(family_evening())}
    assert found["bird 1 on"].actual_s == START_S + 25 * 60
    assert found["bird 3 off, done"].actual_s == START_S + (3600 + 43 * 60 + 40)
    assert "bird 3 sauced" not in found  # it stays plain
    for one in found.values():
        assert one.early_s <= one.likely_s <= one.late_s


def test_without_a_serving_time_there_is_no_plan_to_compare_with() -> None:
    assert stages(seen(ROAST)) == ()


def test_stretches_tell_roasting_times_and_time_off_the_heat() -> None:
    took = {one.what: one for one in stretches(family_evening())}
    assert took["bird 2: off the heat"].took_s == pytest.approx(520.0)
    expected = took["bird 1: on to done mark"].expected_s
    assert expected is not None
    assert expected.q10 is not None
    assert expected.q90 is not None
    assert expected.q10 < expected.q90


@pytest.mark.parametrize(
    ("serve_s", "told"),
    [
        (9000.0, "58 min before dinner, time enough to rest and carve"),
        (12700.0, "and 2 h 00 min before dinner: put the birds on about 1 h 30 min later"),
        (5800.0, "left 5 min to rest and carve: start a little earlier"),
        (4600.0, "15 min after the time set for dinner: put the birds on about 37 min earlier"),
    ],
)
def test_the_first_lesson_is_whether_dinner_was_on_time(serve_s: float, told: str) -> None:
    assert told in lessons(dinner(serve_s))[0]


def test_a_grill_that_left_its_band_is_told_with_what_to_do() -> None:
    low = " ".join(lessons(dinner(9000.0, (5600.0, "grill is three hundred"))))
    assert "below its band in 1 of 2 readings (lowest 300 F at 5:33): add charcoal" in low
    high = " ".join(lessons(dinner(9000.0, (5600.0, "grill is four thirty"))))
    assert "above its band in 1 of 2 readings (highest 430 F" in high


def test_a_lid_off_for_long_and_an_unanswered_call_are_told() -> None:
    lines = [(1000.0, "lid off"), (2000.0, "lid on")]
    evening_ = seen(sorted([*ROAST, *lines]), ev.PromptSaid("take_off:1:1", "now"))
    text = " ".join(lessons(evening_))
    assert "The lid was off for 17 min of the roast" in text
    assert "1 urgent call went unanswered" in text


def test_an_evening_without_birds_says_so_and_still_looks_back() -> None:
    assert lessons(seen([]))[0] == "No bird went on the spit in this cook."


def test_a_bird_taken_off_below_its_mark_is_a_caution() -> None:
    early = seen([*ROAST[:5], (5500.0, "bird one is off")])
    assert cautions(early)[0] == (
        "The last readings of bird 1 do not show it at 165 F: the coldest spot read was 160 F."
    )


def test_a_bird_read_in_one_spot_only_and_one_never_read_are_cautions() -> None:
    one_spot = seen([(0.0, "birds on"), (5000.0, "bird one reads one seventy")])
    assert "Bird 1 was read in one kind of spot only" in cautions(one_spot)[0]
    unread = seen([(0.0, "birds on"), (5000.0, "bird one is off")])
    assert cautions(unread)[0] == "Bird 1 was never read."


def test_an_unchecked_thermometer_is_a_caution_and_a_checked_one_is_not() -> None:
    checked = ev.ThermometerChecked("ice", 33.0, ev.Said(33.0, "F"), -1.0)
    assert any("was not checked" in one for one in cautions(seen(ROAST)))
    assert not any("was not checked" in one for one in cautions(seen(ROAST, checked)))


def test_it_never_says_that_food_is_safe() -> None:
    for evening_ in (seen(ROAST), family_evening(), seen([])):
        text = " ".join([*lessons(evening_), *cautions(evening_)])
        assert "never that food is safe" in text
        assert text.replace("never that food is safe", "").count("safe") == 0
        assert "Local codes and licensed practice come first" in text


def test_every_event_has_words_without_code_in_them() -> None:
    cook = family_evening().cook
    for entry in family_dinner():
        words = event_words(entry.event, cook)
        assert words
        assert not set(words) & set("{}[]=_")


def test_short_phrases() -> None:
    assert prompt_words("look:3:2") == "read bird 3"
    assert prompt_words("timer:1:99") == "your timer"
    assert prompt_words("not_known_yet:1") == "not known yet"
    assert (minutes(45), minutes(600), span(5520)) == ("45 s", "10 min", "1 h 32 min")
