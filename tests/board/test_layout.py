"""The board as text: what is on it, and that it fits every terminal."""

import io
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console
from syrupy.assertion import SnapshotAssertion

from assistant.board.layout import board_rows, render
from assistant.board.view import BoardView, Due
from assistant.cook.state import AirRead, Fire
from assistant.heat.bird.evidence import Quantiles, Span
from tests.board.examples import bird, evening, minutes, with_cook

LOG = ("3:41 lid off", "3:43 lid on")


def text_of(view: BoardView, width: int, height: int) -> str:
    """The board without any styles, as a terminal without colour shows it."""
    console = Console(file=io.StringIO(), width=width, height=height, no_color=True)
    with console.capture() as capture:
        console.print(render(view, width, height, LOG))
    return "\n".join(line.rstrip() for line in capture.get().splitlines())


@pytest.mark.parametrize(("width", "height"), [(60, 21), (80, 21), (120, 37), (200, 47)])
def test_a_steady_hour_looks_as_reviewed(
    width: int, height: int, snapshot: SnapshotAssertion
) -> None:
    assert text_of(evening(), width, height) == snapshot


def test_eight_birds_fit_a_small_terminal(snapshot: SnapshotAssertion) -> None:
    text = text_of(evening(8), 80, 21)
    assert all(f"\n   {number} " in text for number in range(1, 9))
    assert text == snapshot


def test_a_due_prompt_is_shown_by_words_and_marks_not_only_colour(
    snapshot: SnapshotAssertion,
) -> None:
    due = Due(minutes(-1), "take bird 1 off, it is done", "now")
    text = text_of(evening(due=(due, *evening().due)), 80, 21)
    assert "!! take bird 1 off, it is done" in text
    assert "now!!" in text
    assert text == snapshot


@given(
    birds=st.integers(0, 8), width=st.integers(60, 200), height=st.integers(12, 60),
    lid=st.booleans(), heard=st.text(max_size=300), question=st.none() | st.text(max_size=200),
)  # fmt: skip
def test_every_size_is_filled_exactly(
    birds: int, width: int, height: int, lid: bool, heard: str, question: str | None
) -> None:
    fire = Fire(lid_open=(Span(minutes(-3)),) if lid else ())
    view = with_cook(evening(birds, heard=heard, question=question), fire=fire)
    rows = board_rows(view, width, height, LOG)
    assert len(rows) == height
    assert {row.cell_len for row in rows} == {width}
    assert not any("\n" in row.plain or "\x1b" in row.plain for row in rows)


@pytest.mark.parametrize("width", [60, 80, 110, 160, 200])
def test_every_bird_its_reading_and_its_wait_are_always_in_sight(width: int) -> None:
    for birds in range(1, 9):
        text = text_of(evening(birds), width, 21)
        for number in range(1, birds + 1):
            row = next(
                (line for line in text.splitlines() if line.startswith(f"   {number} ")), text
            )
            assert "sauce" in row or "done" in row
            assert "ago" in row
        assert "372 F" in text
        assert "bird two reads one twenty four" in text


def test_a_bird_at_its_sauce_mark_asks_for_its_sauce() -> None:
    hot = bird(1, readings=(replace(bird(1).readings[-1], temperature_f=133.0),))
    assert "! its sauce, now" in text_of(with_cook(evening(), birds=(hot,)), 80, 21)


def test_celsius_cooks_see_celsius() -> None:
    text = text_of(with_cook(evening(), scale="C"), 80, 21)
    assert "53 C breast" in text
    assert "band 177 to 204 C" in text


def test_a_forecast_that_runs_off_the_axis_ends_in_an_arrow() -> None:
    never = Quantiles(minutes(50), None, None)
    view = evening(1)
    assert view.forecast is not None
    birds = (replace(view.forecast.birds[0], sauce=never),)
    text = text_of(replace(view, forecast=replace(view.forecast, birds=birds)), 80, 21)
    assert "sauce mark not before 4:50" in text
    assert any(line.endswith("▒>") for line in text.splitlines())


def test_a_fault_stays_in_the_first_row() -> None:
    text = text_of(evening(notice="microphone lost, type instead"), 80, 21)
    assert "microphone lost, type instead" in text.splitlines()[0]


@pytest.mark.parametrize(("width", "height"), [(80, 23), (120, 39), (200, 49)])
def test_no_figure_of_a_bird_is_larger_than_the_instruction(width: int, height: int) -> None:
    """The instruction is the largest thing; the birds' figures are smaller where they can be."""
    view = evening()
    for count in (1, 2, 3):
        some = with_cook(view, birds=view.cook.birds[:count])
        rows = [row.plain for row in board_rows(some, width, height)]
        at = next(number for number, row in enumerate(rows) if row.startswith("── birds"))
        figures = [row[:15].strip() for row in rows[at + 1 :]]
        instruction = max(_runs(rows[1:at]))
        assert max(_runs(figures)) <= instruction


def _runs(rows: list[str]) -> list[int]:
    """How many rows in a row hold drawn letters."""
    lengths, current = [0], 0
    for row in rows:
        current = current + 1 if any(mark in row for mark in "█▀▄") else 0
        lengths.append(current)
    return lengths


def test_a_dinner_that_moved_shows_when_it_is_likely_unless_a_fault_needs_the_row() -> None:
    assert "dinner 5:15, likely 4:55" in text_of(evening(), 80, 21).splitlines()[0]
    broken = text_of(evening(notice="microphone lost, type instead"), 80, 21).splitlines()[0]
    assert "likely" not in broken


def test_a_grill_out_of_its_band_is_not_said_to_leave_it() -> None:
    cold = replace(evening().cook.fire, readings=(AirRead(minutes(-2), 310.0, 40),))
    text = text_of(with_cook(evening(), fire=cold), 120, 37)
    assert "40 under the band" in text
    assert "leaves the band" not in text
