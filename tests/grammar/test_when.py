"""When dinner is, as people type and say it: the day, the hour, and what has gone by."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.cook.clocktimes import clock_text, date_text
from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.grammar import Names
from assistant.grammar.parse import parse
from assistant.grammar.sayback import say_back
from assistant.grammar.when import serving_time

BERLIN = "Europe/Berlin"


def at(text: str) -> float:
    return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(BERLIN)).timestamp()


FRIDAY_23 = at("2026-11-27 23:00")

SAID = {
    "19:00": "2026-11-28 19:00",
    "tomorrow 18:30": "2026-11-28 18:30",
    "Tomorrow at 6:30 pm": "2026-11-28 18:30",
    "Saturday 6 pm": "2026-11-28 18:00",
    "sat 6pm": "2026-11-28 18:00",
    "Sunday evening at half past six": "2026-11-29 18:30",
    "on Sunday, 13:00": "2026-11-29 13:00",
    "6:30 pm": "2026-11-28 18:30",
    "6.30pm": "2026-11-28 18:30",
    "18h30": "2026-11-28 18:30",
    "half past six": "2026-11-28 18:30",
    "half past six on Monday": "2026-11-30 18:30",
    "six thirty in the morning": "2026-11-28 06:30",
    "noon": "2026-11-28 12:00",
    "23:30": "2026-11-27 23:30",
    "tonight at 23:30": "2026-11-27 23:30",
    "friday 19:00": "2026-12-04 19:00",
    "half past twelve": "2026-11-28 00:30",
    "2026-11-28 18:30": "2026-11-28 18:30",
    "2026-11-28T18:30": "2026-11-28 18:30",
    "2026-11-28T18:30+00:00": "2026-11-28 19:30",
}


@pytest.mark.parametrize("text", SAID)
def test_on_a_friday_at_eleven_at_night(text: str) -> None:
    assert serving_time(text, FRIDAY_23, BERLIN) == at(SAID[text])


@pytest.mark.parametrize("text", ["2026-11-27 19:00", "2025-12-24 18:00", "today 19:00"])
def test_a_past_date_is_one_clear_line(text: str) -> None:
    with pytest.raises(ValueError, match="has gone by; give a time still to come") as caught:
        serving_time(text, FRIDAY_23, BERLIN)
    assert "\n" not in str(caught.value)


NO_TIMES = ["", "25:99", "soon", "2026-13-01 18:00", "2026-11-28", "tomorrow", "6 lb", "x" * 300]


@pytest.mark.parametrize("text", NO_TIMES)
def test_what_is_no_time_says_how_to_write_one(text: str) -> None:
    with pytest.raises(ValueError, match='"tomorrow 18:30"') as caught:
        serving_time(text, FRIDAY_23, BERLIN)
    assert "\n" not in str(caught.value)


def answer(text: str, zone: str = BERLIN) -> str | float:
    """The moment, or the one line that says why there is none."""
    try:
        return serving_time(text, FRIDAY_23, zone)
    except ValueError as error:
        return str(error)


@given(st.text(max_size=60) | st.from_regex(r"[0-9]{4}-[0-9]{2}-[0-9]{2}[T ][0-9:+.Z]{0,9}"))
def test_whatever_is_typed_is_a_time_to_come_or_a_reason(text: str) -> None:
    found = answer(text)
    assert found if isinstance(found, str) else found > FRIDAY_23


@pytest.mark.parametrize("zone", [BERLIN, "Pacific/Auckland", "America/Chicago"])
@pytest.mark.parametrize("text", ["0001-01-01 00:00", "9999-12-31 23:59"])
def test_dates_at_the_ends_of_the_calendar(text: str, zone: str) -> None:
    found = answer(text, zone)
    assert isinstance(found, str)
    assert "\n" not in found


def test_a_year_mistyped_is_told() -> None:
    with pytest.raises(ValueError, match="more than 60 days away"):
        serving_time("2027-11-28 18:30", FRIDAY_23, BERLIN)


def test_the_night_the_clocks_change() -> None:
    """Saturday evening to Sunday noon: one hour more than on the dial."""
    saturday = at("2026-10-24 18:00")
    assert serving_time("tomorrow 12:00", saturday, BERLIN) - saturday == 19 * 3600


SPOKEN = {
    "dinner tomorrow at half past six": cmd.ServeAt(390, vague=True, day="tomorrow"),
    "dinner at half past six tomorrow": cmd.ServeAt(390, vague=True, day="tomorrow"),
    "we eat on saturday at six p m": cmd.ServeAt(1080, vague=False, day="saturday"),
    "dinner saturday evening at six": cmd.ServeAt(1080, vague=False, day="saturday"),
    "serve at eighteen thirty on sunday": cmd.ServeAt(1110, vague=False, day="sunday"),
}


@pytest.mark.parametrize("words", SPOKEN)
def test_the_day_is_spoken_too(words: str) -> None:
    assert parse(words, Names()) == SPOKEN[words]
    assert parse(say_back(SPOKEN[words]), Names()) == SPOKEN[words]


def test_a_time_is_told_with_its_day() -> None:
    moment = serving_time("Saturday 6 pm", FRIDAY_23, BERLIN)
    assert (
        f"{date_text(moment, BERLIN)}, {clock_text(moment, BERLIN)}" == "Saturday 28 November, 6:00"
    )
