"""`turnspit plan` the evening before: on a Friday at 23:00, for Saturday."""

import json
import re
from datetime import datetime
from html.parser import HTMLParser
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar

from assistant.app import kept_plan
from assistant.app.begin import start
from assistant.app.plan import Wanted, make_dinner, parse_bird, parse_side, shown, write
from assistant.cook.planning.whole_dinner import Dinner
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.session.line import Line
from assistant.session.log import MemoryLog
from assistant.session.opening import CookLog, Opened
from assistant.session.session import Session
from assistant.session.typed import heard_typed
from assistant.system.clock import VirtualClock
from assistant.voice.silent import SilentSpeaker

ZONE = "Europe/Berlin"
FRIDAY_23 = datetime(2026, 11, 27, 23, 0, tzinfo=ZoneInfo(ZONE)).timestamp()
BIRDS = ("4.5 lb with apricot", "4 lb with harissa", "4 lb with no sauce")
SIDES = ("potatoes 45 min grill", "slaw 20 min")


def planned(*, frozen: bool = False, serve: str = "Saturday 18:30", **more: object) -> Dinner:
    asked: dict[str, object] = {"birds": BIRDS, "sides": SIDES, "guests": 10} | more
    return make_dinner(Wanted(serve, frozen=frozen, **asked), FRIDAY_23, ZONE)  # type: ignore[arg-type]


def wrote(
    dinner: Dinner, *, calendar: Path | None = None, page: Path | None = None, keep: bool = False
) -> list[str]:
    return list(write(dinner, FRIDAY_23, ZONE, calendar=calendar, page=page, keep=keep))


def clock(dinner: Dinner, what: str) -> str:
    moment = dinner.plan.moment(what)
    assert moment is not None, what
    return f"{datetime.fromtimestamp(moment.likely_s, ZoneInfo(ZONE)):%a %H:%M}"


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(kept_plan, "data_folder", lambda: tmp_path)
    return tmp_path


def test_friday_at_eleven_for_saturday_has_everything_in_order() -> None:
    """Fresh birds: salt tonight, light and on tomorrow, stops, rest, carve, chill."""
    dinner = planned()
    wanted = ("salt", "sauces", "readiness", "light", "birds_on", "first_look", "sauce", "off",
              "rest", "carve", "serve", "chill", "ash")  # fmt: skip
    firsts = [dinner.plan.moment(what) for what in wanted]
    times = [one.likely_s for one in firsts if one is not None]
    assert len(times) == len(wanted)
    assert times == sorted(times)
    assert clock(dinner, "salt") == "Fri 23:00"
    assert clock(dinner, "serve") == "Sat 18:30"
    assert clock(dinner, "ash").startswith("Sun")


def test_frozen_birds_still_thaw_in_cold_water_and_are_not_salted_ahead() -> None:
    """19 hours are too few for the refrigerator (4.5 lb at 24 h for 4 to 5 lb, no less than
    21.6 h), so cold water, 30 minutes a pound: 2 h 15 min before they are wanted."""
    dinner = planned(frozen=True)
    found, out = dinner.plan.moment("thaw_cold_water"), dinner.plan.moment("readiness")
    assert found is not None
    assert out is not None
    assert (out.likely_s - found.likely_s) / 60 == pytest.approx(135)
    assert dinner.plan.moment("salt") is None


def test_frozen_birds_for_monday_thaw_in_the_refrigerator_and_are_salted_then() -> None:
    dinner = planned(frozen=True, serve="Monday 18:30")
    found, salt = dinner.plan.moment("thaw_refrigerator"), dinner.plan.moment("salt")
    assert found is not None
    assert salt is not None
    assert salt.likely_s - found.likely_s >= 24 * 3600 * 4.5 / 5


def test_the_table_says_it_in_words_within_eighty_columns() -> None:
    text = shown(planned(), ZONE, as_json=False, as_list=False)
    assert text.startswith("Dinner at 18:30, Saturday 28 November\n")
    for words in (
        "Friday 27 November\n", "Dry-salt, uncovered in the refrigerator: birds 1, 2, 3",
        "Stop: lift out, sauce", "in this order, back on", "Potatoes on the grill", "briquettes",
        "If frozen: in cold water from Sat", "10 at the table: enough", "outdoors only",
        "carbon monoxide", "--calendar FILE", "Close all vents", "metal can with a lid",
        "Bones in the soup pot or in the cold", "165 F in every part",
    ):  # fmt: skip
        assert words in text
    assert max(map(len, text.splitlines())) <= 80
    assert not re.search(r"\bsafe\b", text, re.IGNORECASE)


def test_no_line_is_wider_than_eighty_columns_however_far_ahead() -> None:
    hens = ("hen 1.2 lb",) * 8
    for more in ({}, {"frozen": True}, {"birds": hens, "at_once": 3}, {"birds": hens}):
        text = shown(planned(serve="Monday 18:30", **more), ZONE, as_json=False, as_list=False)
        assert max(map(len, text.splitlines())) <= 80


def test_the_list_names_birds_brushes_and_charcoal() -> None:
    text = shown(planned(), ZONE, as_json=False, as_list=True)
    for words in (
        "[ ] 2 chickens of 4 lb", "a brush for apricot", "a brush for harissa", "for potatoes",
        "chimneys", "kitchen string", "spare string", "gloves",
    ):  # fmt: skip
        assert words in text
    assert max(map(len, text.splitlines())) <= 80


def test_guests_give_birds_and_too_few_birds_are_told() -> None:
    found = planned(birds=(), guests=10)
    assert sum(bird.mass_kg for bird in found.order.birds) >= 10 * 0.4535
    text = shown(planned(birds=("3 lb",), guests=6), ZONE, as_json=False, as_list=False)
    assert "6 at the table: these birds feed about 3" in text


def test_a_hen_beside_a_turkey_is_told_to_be_kept_hot() -> None:
    found = planned(birds=("turkey 12 lb", "hen 1.2 lb"))
    text = " ".join(shown(found, ZONE, as_json=False, as_list=False).split())
    assert "Bird 2 will be off up to" in text
    assert "keep hot at 140 F or above" in text


def test_json_is_one_line_with_fuel_thaw_and_dates() -> None:
    line = shown(planned(), ZONE, as_json=True, as_list=False)
    found = json.loads(line)
    assert "\n" not in line
    low, likely, high = found["fuel"]["briquettes"]
    assert low < likely < high
    assert found["thaw"]["way"] == "cold_water"
    assert found["date"] == "2026-11-28"
    assert {one["date"] for one in found["moments"]} == {"2026-11-27", "2026-11-28", "2026-11-29"}


def test_only_what_is_asked_for_is_written(home: Path) -> None:
    dinner = planned()
    assert wrote(dinner) == []
    assert list(home.iterdir()) == []
    said = wrote(dinner, calendar=home / "d.ics", page=home / "d.html")
    assert len(said) == 2
    entries = Calendar.from_ical((home / "d.ics").read_bytes()).walk("VEVENT")
    assert len(entries) == len(dinner.plan.moments)
    assert len({str(one["UID"]) for one in entries}) == len(entries)


class Page(HTMLParser):
    """What a page is made of."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.links: list[str] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.links += [value or "" for name, value in attrs if name in {"src", "href"}]

    def handle_data(self, data: str) -> None:
        self.text += data


def test_the_fridge_page_stands_alone(home: Path) -> None:
    wrote(planned(), page=home / "d.html")
    page = Page()
    page.feed((home / "d.html").read_text(encoding="utf-8"))
    assert "script" not in page.tags
    assert page.links == []
    for words in ("Dinner at 18:30", "Dry-salt", "carbon monoxide", "165 F in every part"):
        assert words in page.text


def test_a_page_that_cannot_be_written_leaves_nothing(home: Path) -> None:
    with pytest.raises(OSError, match="nowhere"):
        wrote(planned(), page=home / "nowhere/d.html")


@pytest.mark.parametrize("text", ["potatoes", "45 min", "potatoes 0 min", "potatoes 45 min moon"])
def test_no_side_dish(text: str) -> None:
    with pytest.raises(ValueError, match="side dish"):
        parse_side(text)


def test_side_dishes_have_free_names() -> None:
    assert parse_side("grandma's dumplings, 1.5 h in the kitchen").name == "grandma's dumplings"
    assert parse_side("corn 12 min on the grill").where == "grill"


def test_a_bird_with_its_sauce() -> None:
    bird = parse_bird("hen 20 oz with apricot glaze")
    assert (bird.kind, bird.sauce, bird.sugar, bird.sauced) == ("hen", "apricot", "high", True)
    assert not parse_bird("4 lb with no sauce").sauced
    assert parse_bird("1.25 lb hen, plain") == parse_bird("hen 1.25 lb with no sauce")
    assert parse_bird("12 lb turkey with butter").kind == "turkey"
    with pytest.raises(ValueError, match="sauce name"):
        parse_bird("4 lb with 3 sauces!")


def next_day(home: Path, at: datetime, birds: int | None = None) -> tuple[Session, list[Line]]:
    """`turnspit cook --typed` at another time, from the settings' defaults."""
    lines: list[Line] = []
    session_clock = VirtualClock(at.replace(tzinfo=ZoneInfo(ZONE)).timestamp())
    session = Session(MemoryLog(), session_clock, SilentSpeaker(), lines.append, Cook())
    opened = Opened(CookLog(None, "x"), Cook(), is_new=True)  # type: ignore[arg-type]
    start(session, opened, ev.CookBegan(zone=ZONE, birds=birds or 2), birds)
    return session, lines


def said(lines: list[Line]) -> list[str]:
    return [str(one.fields["text"]) for one in lines if one.kind == "said"]


def test_a_kept_plan_is_the_next_days_cook_and_its_first_prompt_is_right(home: Path) -> None:
    """Kept on Friday at 23:00; the cook starts on Saturday at noon and goes on from it."""
    dinner = planned()
    assert "turnspit cook" in wrote(dinner, keep=True)[-1]
    session, lines = next_day(home, datetime(2026, 11, 28, 12, 0))  # noqa: DTZ001 - zone follows
    state = session.state
    assert state.serve_s == dinner.plan.serve_s
    assert [bird.sauce for bird in state.birds] == [
        one.sauce or "plain" for one in dinner.order.birds
    ]
    assert [bird.mass_kg for bird in state.birds] == pytest.approx(
        [one.mass_kg for one in dinner.order.birds], abs=1e-3
    )
    assert {one.name for one in state.timers} == {"potatoes", "slaw"}
    assert said(lines)[0].startswith(
        "As planned: dinner at 6:30 in the evening, 3 birds. First the"
    )
    assert not kept_plan.path().exists()
    session_clock = session._clock
    assert isinstance(session_clock, VirtualClock)
    readiness = dinner.plan.moment("readiness")
    assert readiness is not None
    told = len(said(lines))
    session_clock.run_until(readiness.likely_s - 600)
    assert len(said(lines)) == told
    session_clock.run_until(readiness.likely_s + 900)
    assert "list" in said(lines)[told]


def test_side_dishes_move_with_dinner_and_other_timers_do_not(home: Path) -> None:
    """The guests are half an hour late: the potatoes start half an hour later."""
    wrote(planned(), keep=True)
    session, _ = next_day(home, datetime(2026, 11, 28, 17, 0))  # noqa: DTZ001
    session.hear(heard_typed("set a beer timer for 20 minutes", "F"))
    before = {one.name: one.due_s for one in session.state.timers}
    session.hear(heard_typed("the guests are 30 minutes late", "F"))
    after = {one.name: one.due_s - before[one.name] for one in session.state.timers}
    assert after == {"potatoes": 1800.0, "slaw": 1800.0, "beer": 0.0}


def test_a_plan_for_another_day_or_another_number_waits(home: Path) -> None:
    wrote(planned(serve="Monday 18:30"), keep=True)
    session, lines = next_day(home, datetime(2026, 11, 28, 12, 0))  # noqa: DTZ001
    assert session.state.serve_s is None
    assert kept_plan.path().exists()
    session, lines = next_day(home, datetime(2026, 11, 30, 12, 0), birds=2)  # noqa: DTZ001
    assert session.state.serve_s is None
    assert said(lines) == ["The kept plan is for 3 birds. Going on without it."]
    session, lines = next_day(home, datetime(2026, 11, 30, 20, 0))  # noqa: DTZ001
    assert session.state.serve_s is None


def test_more_birds_than_a_cook_has_are_not_kept(home: Path) -> None:
    with pytest.raises(ValueError, match="9 birds: a cook has 8 at most"):
        kept_plan.kept_of(planned(birds=("hen 1 lb",) * 9), FRIDAY_23, ZONE)


def test_birds_of_several_kinds_keep_theirs(home: Path) -> None:
    dinner = planned(birds=("turkey 10 lb", "roast 4 lb"), guests=None)
    wrote(dinner, keep=True)
    session, _ = next_day(home, datetime(2026, 11, 28, 12, 0))  # noqa: DTZ001
    assert [(bird.kind, bird.done_mark_f) for bird in session.state.birds] == [
        ("turkey", 165.0), ("roast", 145.0),
    ]  # fmt: skip


@pytest.mark.parametrize("damage", [b"", b"{", b"[]", b'{"form": 9}', b"\xff\xfe", b"1" * 200_000])
def test_a_damaged_plan_stops_no_cook(home: Path, damage: bytes) -> None:
    kept_plan.path().write_bytes(damage)
    session, lines = next_day(home, datetime(2026, 11, 28, 12, 0))  # noqa: DTZ001
    assert session.state.began_s is not None
    assert said(lines)[0] == "I can't read the kept plan. Going on without it."
