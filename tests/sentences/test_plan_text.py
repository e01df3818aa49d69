"""The plan in print and as a calendar; weights as people type them."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from assistant.app.plan import parse_bird
from assistant.cook.planning.plan import Moment, Plan, PlannedBird, plan
from assistant.sentences.calendar_file import plan_calendar
from assistant.sentences.plan_text import plan_json, plan_table
from assistant.system.units import parse_temperature_c, pounds

CHICAGO = "America/Chicago"
SERVE_S = datetime(2026, 10, 4, 19, 0, tzinfo=ZoneInfo(CHICAGO)).timestamp()
BIRDS = [PlannedBird(1, 1.5876), PlannedBird(2, 1.5876), PlannedBird(3, 1.8144)]


@pytest.fixture(scope="module")
def dinner() -> Plan:
    return plan(SERVE_S, BIRDS)


def test_table_names_time_and_birds(dinner: Plan) -> None:
    """Clock times in the zone, every bird, no line wider than 80 columns."""
    lines = plan_table(dinner, BIRDS, CHICAGO).splitlines()
    assert lines[0] == "Dinner at 19:00, Sunday 4 October"
    assert "  chicken 1, 2: 3.5 lb (1.59 kg)" in lines
    assert any(line.startswith("19:00") and line.endswith("Dinner") for line in lines)
    assert max(map(len, lines)) <= 80
    assert "no public" in lines[-1]


def test_table_says_when_it_is_too_late() -> None:
    """A plan in the past asks for the birds now or dinner later."""
    late = plan(SERVE_S, BIRDS, now_s=SERVE_S - 1800)
    assert "put them on now, or serve later" in plan_table(late, BIRDS, CHICAGO)


def test_json_is_the_same_plan(dinner: Plan) -> None:
    """One object a moment with the clock of the zone."""
    found = plan_json(dinner, BIRDS, CHICAGO)
    moments = found["moments"]
    assert isinstance(moments, list)
    assert found["serve"] == "19:00"
    assert [one["what"] for one in moments] == [one.what for one in dinner.moments]


def test_calendar_round_trip(dinner: Plan) -> None:
    """A reader of RFC 5545 gets every moment back at its minute, in UTC."""
    calendar = Calendar.from_ical(plan_calendar(dinner, SERVE_S - 40_000))
    events = calendar.walk("VEVENT")
    assert len(events) == len(dinner.moments)
    for event, moment in zip(events, dinner.moments, strict=True):
        start = event["DTSTART"].dt
        assert start == datetime.fromtimestamp(moment.likely_s // 60 * 60, UTC)
        assert event["DTEND"].dt - start >= timedelta(minutes=5)  # type: ignore[operator]
    rings = [event for event in events if event.walk("VALARM")]
    assert 0 < len(rings) < len(events)


def test_calendar_lines_are_crlf_and_short(dinner: Plan) -> None:
    """RFC 5545: CRLF line ends, at most 75 octets a line."""
    data = plan_calendar(dinner, SERVE_S)
    lines = data.split(b"\r\n")
    assert b"\n" not in b"".join(lines)
    assert max(map(len, lines)) <= 75


def test_calendar_entries_keep_their_ids(dinner: Plan) -> None:
    """Made again later, the same plan replaces itself; ids differ within it."""
    first, again = plan_calendar(dinner, SERVE_S - 9000), plan_calendar(dinner, SERVE_S - 99)
    ids = [
        [str(event["UID"]) for event in Calendar.from_ical(data).walk("VEVENT")]
        for data in (first, again)
    ]
    assert ids[0] == ids[1]
    assert len(set(ids[0])) == len(ids[0])


def test_the_night_the_clocks_go_back() -> None:
    """An hour apart in fact is an hour apart in the calendar, across the change."""
    zone = ZoneInfo(CHICAGO)
    before = datetime(2026, 11, 1, 0, 30, tzinfo=zone).timestamp()
    night = Plan(before, (Moment("carve", before, before, before),
                          Moment("serve", *[before + 7200] * 3)))  # type: ignore[arg-type]  # fmt: skip
    events = Calendar.from_ical(plan_calendar(night, before)).walk("VEVENT")
    assert events[1]["DTSTART"].dt - events[0]["DTSTART"].dt == timedelta(hours=2)  # type: ignore[operator]
    assert " 1:30" in plan_table(night, [], CHICAGO, hours=12)


@pytest.mark.parametrize(
    ("text", "kind", "kg"),
    [
        ("3.5 lb", "chicken", 1.58757),
        ("5 lb 8 oz", "chicken", 2.49476),
        ("1.6kg", "chicken", 1.6),
        ("1,6 kg", "chicken", 1.6),
        ("Hen 20 oz", "hen", 0.56699),
        ("turkey 12 pounds", "turkey", 5.44311),
        ("roast 2200 g", "roast", 2.2),
    ],
)
def test_weights(text: str, kind: str, kg: float) -> None:
    """Pounds, ounces and kilograms, with a kind in front."""
    found = parse_bird(text)
    assert found.kind == kind
    assert found.mass_kg == pytest.approx(kg, abs=1e-4)


@pytest.mark.parametrize("text", ["", "lb", "3.5", "3.5 stone", "goose 4 lb", "4 lb and more"])
def test_not_a_weight(text: str) -> None:
    """The message shows how to write one."""
    with pytest.raises(ValueError, match=r"write it like '3\.5 lb'"):
        parse_bird(text)


@pytest.mark.parametrize("text", ["0 lb", "40 lb", "1 oz"])
def test_no_bird_weighs_that(text: str) -> None:
    """Out of range is told with the range."""
    with pytest.raises(ValueError, match=r"0\.2 to 15 kg"):
        parse_bird(text)


@given(st.floats(0.2, 15))
def test_pounds_and_back(mass_kg: float) -> None:
    """Pounds printed and parsed again are the same mass."""
    assert parse_bird(f"{pounds(mass_kg):.6f} lb").mass_kg == pytest.approx(mass_kg, rel=1e-5)


def test_temperatures_need_their_scale() -> None:
    """375 F is 190.6 C; a bare number is refused."""
    assert parse_temperature_c("375 F") == pytest.approx(190.556, abs=0.001)
    assert parse_temperature_c("190°c") == pytest.approx(190.0)
    with pytest.raises(ValueError, match="375 F"):
        parse_temperature_c("375")
