"""The finish, against the published limits."""

import csv
from pathlib import Path

import pytest

from assistant.cook import guidance
from assistant.cook.kinds import KINDS
from assistant.cook.rules.finish import (
    chill_by_s,
    is_stuck,
    is_waiting,
    rest_of,
    spots_to_read,
)
from assistant.cook.state import Bird
from assistant.cook.vocabulary import events as ev
from tests.cook.build import Evening, insisted

REFERENCES = Path(__file__).parents[2] / "references"
COOKED = ((0.0, "birds on"), (40.0, "grill is 370"))


def table(name: str, key: str) -> dict[str, dict[str, str]]:
    lines = (REFERENCES / name).read_text().splitlines()
    return {row[key]: row for row in csv.DictReader(x for x in lines if not x.startswith("#"))}


def bird(one: Evening, number: int = 1) -> Bird:
    found = one.state.bird(number)
    assert found is not None
    return found


def test_limits_are_the_published_ones() -> None:
    """140 F hot holding, 2 h and 1 h out of it, 165 F poultry, 145 F whole cuts."""
    limits = table("food_safety_limits.csv", "rule")
    safe = table("safe_temperatures.csv", "food")
    hold = limits["hot holding, consumer"]
    mild = limits["out of refrigeration or hot holding, air at or below 90 F"]
    hot = limits["same, air above 90 F"]
    assert all(row["mark"] in {"a", "a2"} for row in (hold, mild, hot))
    assert float(hold["value"]) == guidance.HOT_HELD_F
    assert (float(mild["value"]) * 3600, float(hot["value"]) * 3600) == (
        guidance.CHILL_S,
        guidance.CHILL_IN_HEAT_S,
    )
    poultry = next(row for food, row in safe.items() if food.startswith("poultry"))
    cuts = next(row for food, row in safe.items() if food.startswith("beef, veal"))
    for kind in KINDS.values():
        row = cuts if kind.name == "roast" else poultry
        assert kind.done_mark_f == float(row["temp_F"])
        assert kind.rest_min >= float(row["rest_min"])


@pytest.mark.parametrize(
    ("read", "asks"),
    [(("breast 166",), ("thigh",)), (("thigh 166",), ("breast",)),
     (("reads 166",), ("breast", "thigh")), (("breast 160",), ()),
     (("thigh 166", "breast 167"), ()), (("breast 160", "thigh 166"), ()),
     (("wing 170", "breast 167"), ("thigh",)), (("reads 168", "thigh 167"), ("breast",))],
)  # fmt: skip
def test_both_spots_are_asked_for(read: tuple[str, ...], asks: tuple[str, ...]) -> None:
    """At the mark in one spot the other is asked for; below it, or with both, nothing.
    A wing, or a reading of who knows where, stands in for neither."""
    one = insisted(*COOKED, *[(80 + k, f"bird one {words}") for k, words in enumerate(read)])
    assert spots_to_read(bird(one)) == asks


def test_a_spot_read_long_ago_is_read_again() -> None:
    """The thigh of two hours ago, or of before a rest, does not make both spots."""
    old = insisted(*COOKED, (80, "bird one thigh 167"), (200, "bird one breast 168"))
    assert spots_to_read(bird(old)) == ("thigh",)
    back = insisted(*COOKED, (80, "bird one thigh 167"), (81, "bird one breast 168"),
                    (82, "bird one is off"), (92, "bird one is back on"))  # fmt: skip
    assert spots_to_read(bird(back)) == ()
    back.say(93, "bird one is off")
    back.say(125, "bird one is back on")
    assert spots_to_read(bird(back)) == ("breast", "thigh")


def test_a_third_spot_does_not_hide_a_cold_thigh() -> None:
    one = insisted(*COOKED, (80, "bird one thigh 150"), (80.5, "bird one breast 168"),
                   (81, "bird one wing 172"))  # fmt: skip
    assert not bird(one).is_done


def test_the_colder_of_two_spots_decides() -> None:
    one = insisted(*COOKED, (80, "bird one breast 168"), (80.5, "bird one thigh 161"))
    assert not bird(one).is_done
    one.say(86, "bird one thigh 166")
    assert bird(one).is_done


def test_an_inexact_thermometer_raises_the_mark() -> None:
    """+-1 F: 166 is needed, as in the public example."""
    limits = table("food_safety_limits.csv", "rule")
    row = limits["example: limit with a +-1 F thermometer when 165 F is needed"]
    one = Evening(ev.CookBegan(done_mark_f=165.0 + 1.0))
    for minute, words in (*COOKED, (80.0, "bird one breast 165"), (80.5, "bird one thigh 165")):
        one.say(minute, words)
    assert not bird(one).is_done
    assert bird(one).done_mark_f == float(row["value"])


FINISHED = (*COOKED, (85.0, "bird one breast 167"), (85.5, "bird one thigh 168"),
            (86.0, "bird one is off"))  # fmt: skip


def test_rest_has_its_timer_and_a_forecast_rise() -> None:
    """A chicken rests 15 min from leaving the heat; its coldest spot first rises."""
    one = insisted(*FINISHED)
    rest = rest_of(bird(one), one.state)
    assert rest is not None
    assert rest.ends_s - rest.began_s == 15 * 60
    assert rest.peak_f is not None
    assert 167 <= rest.peak_f[0] <= rest.peak_f[1] <= rest.peak_f[2]
    assert rest.peak_at_s is not None
    assert rest.peak_at_s > rest.began_s


def test_only_a_done_bird_off_the_heat_rests() -> None:
    one = insisted(*COOKED, (55, "bird one reads 131"), (56, "bird one is off"))
    assert rest_of(bird(one), one.state) is None


def test_leftovers_count_from_the_first_bird_off() -> None:
    """Two hours in mild air, one above 90 F; birds that come off later move nothing."""
    one = insisted(*FINISHED)
    off_s = bird(one).on_heat[-1].end_s
    assert off_s is not None
    assert chill_by_s(one.state) == off_s + 2 * 3600
    assert is_waiting(bird(one), one.state)
    for minute, words in ((90.0, "bird two breast 167"), (90.5, "bird two thigh 168"),
                          (91.0, "bird two is off")):  # fmt: skip
        one.say(minute, words)
    assert chill_by_s(one.state) == off_s + 2 * 3600
    hot = Evening(ev.CookBegan(outside_f=95.0))
    for minute, words in FINISHED:
        hot.say(minute, words)
    assert chill_by_s(hot.state) == off_s + 3600
    assert chill_by_s(insisted(*COOKED).state) is None


@pytest.mark.parametrize(
    ("minute", "second", "stuck"), [(85.0, 141, True), (85.0, 152, False), (70.0, 141, False)]
)
def test_a_stuck_bird(minute: float, second: int, stuck: bool) -> None:
    """Hardly any change in twenty minutes or more on the heat; not in ten."""
    one = insisted(*COOKED, (60, "bird one reads 140"), (minute, f"bird one reads {second}"))
    assert is_stuck(bird(one)) is stuck


def test_a_bird_that_was_off_for_saucing_is_not_stuck() -> None:
    one = insisted(*COOKED, (60, "bird one reads 140"), (62, "bird one is off"),
                  (74, "bird one is on"), (85, "bird one reads 141"))  # fmt: skip
    assert not is_stuck(bird(one))
