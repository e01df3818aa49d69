"""What a bird waits for, and which one thing the board calls out."""

from dataclasses import replace

import pytest

from assistant.board.figures import GLYPH_ROWS, GLYPHS, draw, fitting_scale
from assistant.board.heading import headline
from assistant.board.layout import board_rows
from assistant.board.lines import facts
from assistant.board.phrases import clean, duration, place, window
from assistant.board.spread import axis_for, bar, scale_line
from assistant.board.view import Due
from assistant.board.waiting import fire_line, wait_of
from assistant.cook.state import AirRead, Bird, Fire, Pending, Reading
from assistant.cook.vocabulary.commands import BirdReading, Said
from assistant.heat.bird.evidence import Quantiles, Span
from tests.board.examples import bird, evening, minutes, with_cook

HOT = (Reading(minutes(-3), 168.0, 5, "breast"), Reading(minutes(-2), 167.0, 6, "thigh"))


@pytest.mark.parametrize(
    ("changes", "what", "due"),
    [
        ({"on_heat": (), "readings": ()}, "to go on", False),
        ({}, "sauce mark", False),
        ({"sauced_s": (minutes(-5),)}, "done mark", False),
        ({"sauce": "plain"}, "done mark", False),
        ({"readings": (Reading(minutes(-1), 131.0, 4),)}, "its sauce", True),
        ({"on_heat": (Span(minutes(-60), minutes(-5)),)}, "to go back on", True),
        ({"readings": HOT}, "to come off", True),
        (
            {"readings": HOT, "on_heat": (Span(minutes(-60), minutes(-5)),)},
            "resting till 4:10",
            False,
        ),
    ],
)
def test_a_bird_waits_for_the_next_step_of_its_evening(
    changes: dict[str, object], what: str, due: bool
) -> None:
    wait = wait_of(bird(1, **changes), evening())
    assert (wait.what, wait.due) == (what, due)


def test_a_sauce_held_for_its_sugar_is_not_called_now() -> None:
    at_mark = (Reading(minutes(-1), 131.0, 4),)
    held = bird(1, sauce="honey", sugar="high", mass_kg=4.0, readings=at_mark)
    cool = Fire(readings=(AirRead(minutes(-2), 310.0, 3),))
    wait = wait_of(held, with_cook(evening(), birds=(held,), fire=cool))
    assert wait.what.startswith("its sauce, held till about ")
    assert not wait.due


def test_one_hot_spot_is_not_done() -> None:
    cold_thigh = (Reading(minutes(-3), 160.0, 5, "thigh"), Reading(minutes(-2), 168.0, 6, "breast"))
    one = bird(1, sauced_s=(minutes(-20),), readings=cold_thigh)
    assert wait_of(one, evening()).what == "done mark"


def test_an_open_question_comes_before_a_due_prompt() -> None:
    view = evening(question="118 or 180?", due=(Due(minutes(-1), "take bird 1 off", "now"),))
    assert headline(view).label == "118 or 180?"


def test_a_question_about_two_numbers_shows_both_large() -> None:
    said = [Said(118.0, "F"), Said(180.0, "F")]
    options = tuple(BirdReading(1, one.number, one) for one in said)
    pending = Pending(minutes(0), options, "teen_or_ty")
    view = with_cook(evening(question="118 or 180?"), pending=pending)
    assert headline(view).sign == "118 OR 180?"
    same = tuple(BirdReading(bird, 118.0, said[0]) for bird in (1, 2))
    view = with_cook(view, pending=replace(pending, options=same))
    assert headline(view).sign == "ANSWER?"


def test_a_now_prompt_comes_before_a_soon_one_that_is_older() -> None:
    off = Due(minutes(-1), "take bird 1 off", "now", "BIRD 1 OFF")
    view = evening(due=(Due(minutes(-9), "add fuel", "soon", "ADD CHARCOAL"), off))
    assert headline(view) == headline(replace(view, due=view.due[::-1]))
    assert headline(view).label == "take bird 1 off"
    assert (headline(view).sign, headline(view).figure) == ("BIRD 1 OFF", "NOW")


def test_a_lid_left_off_counts_up() -> None:
    view = with_cook(evening(), fire=Fire(lid_open=(Span(minutes(-2.5)),)))
    assert headline(view).figure == "2:30"
    short = with_cook(view, fire=Fire(lid_open=(Span(minutes(-0.5)),)))
    assert (headline(short).sign, headline(short).figure) == ("READ BIRD 2", "11 MIN")


def test_with_nothing_due_the_nearest_mark_is_called_out() -> None:
    top = headline(evening(due=()))
    assert top.label == "Bird 1, motor end: sauce mark about 4:07"
    assert (top.sign, top.figure) == ("BIRD 1 SAUCE", "7 MIN")


def test_a_forecast_that_has_passed_is_never_shown() -> None:
    """Ten minutes later the mark was expected three minutes ago: only a reading tells."""
    later = replace(evening(1, due=()), now_s=minutes(10))
    wait = wait_of(later.cook.birds[0], later)
    assert (wait.what, wait.times) == ("a reading: sauce mark likely by now", None)
    assert "4:07" not in headline(later).label
    assert "4:25" in fire_line(replace(later, now_s=minutes(24))).outlook
    assert fire_line(replace(later, now_s=minutes(26))).outlook == ""


def test_before_anything_happened_it_says_so() -> None:
    empty = with_cook(evening(0, due=(), forecast=None), serve_s=None, birds=())
    assert headline(empty).sign == "READY"


@pytest.mark.parametrize(
    ("grill_f", "verdict"),
    [
        (349.0, "1 under the band"),
        (350.0, "in the band"),
        (400.0, "in the band"),
        (412.0, "12 over the band"),
    ],
)
def test_the_fire_is_judged_by_its_band(grill_f: float, verdict: str) -> None:
    view = with_cook(evening(), fire=Fire(readings=(AirRead(minutes(-1), grill_f, 2),)))
    assert fire_line(view).verdict == verdict


def test_every_figure_is_a_full_drawing() -> None:
    for letter, rows in GLYPHS.items():
        assert len(rows) == GLYPH_ROWS, letter
        assert len({len(row) for row in rows}) == 1, letter


@pytest.mark.parametrize("scale", [1, 2, 3, 4])
def test_drawn_text_fits_where_it_was_said_to_fit(scale: int) -> None:
    drawn = draw("12:45 H", scale)
    assert len({len(row) for row in drawn}) == 1
    assert fitting_scale("12:45 H", len(drawn[0]), len(drawn)) == scale
    assert fitting_scale("12:45 H", len(drawn[0]) - 1, len(drawn)) == scale - 1


def test_a_bar_shades_its_range_and_marks_middle_and_dinner() -> None:
    times = Quantiles(minutes(10), minutes(20), minutes(30))
    axis = axis_for(minutes(0), (times,), 60)
    assert bar(times, axis, minutes(45)) == "·" * 10 + "▒" * 10 + "█" + "▒" * 10 + "·" * 14 + (
        "╎" + "·" * 14
    )
    assert scale_line(axis, "America/New_York").startswith("now            4:15")


def test_an_overdue_forecast_sticks_to_the_left_edge() -> None:
    times = Quantiles(minutes(-20), minutes(-10), minutes(5))
    assert bar(times, axis_for(minutes(0), (times,), 60)).startswith("█▒▒▒▒▒·")


def test_places_are_told_from_the_motor_end() -> None:
    assert [place(number, 4) for number in range(1, 5)] == [
        "motor end", "2nd from motor", "3rd from motor", "far end",
    ]  # fmt: skip
    assert place(2, 3) == "middle"


def test_spans_of_time_read_easily() -> None:
    assert [duration(s) for s in (-3, 12, 61, 3599, 3900)] == [
        "0 s", "12 s", "1 min", "59 min", "1 h 05",
    ]  # fmt: skip


def test_a_mark_out_of_reach_says_so() -> None:
    assert window(Quantiles(None, None, None), "UTC") == "not in sight"


def test_what_a_terminal_could_act_on_is_taken_out() -> None:
    assert clean("ok\x1b[2J\u202edcba\r\n\u0007") == "ok [2J dcba"


def test_a_bird_nobody_has_read_waits_without_an_age() -> None:
    fresh = Bird(1, on_heat=(Span(minutes(-1)),))
    assert wait_of(fresh, evening(due=(), forecast=None)).times is None


def test_what_may_help_the_fire_stands_at_the_end_of_its_line() -> None:
    """For the cook who looks; nothing where nothing would."""
    view = evening(fire_help="about 6 briquettes may help")
    assert facts(view)["fire"].endswith(", about 6 briquettes may help")
    assert facts(evening())["fire"].endswith("(4:15 to 4:50)")
    rows = "\n".join(row.plain for row in board_rows(view, 80, 24))
    assert "about 6 briquettes may help" in rows
