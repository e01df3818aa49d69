"""A forecast and its spread as a bar on a time axis that all birds share."""

from dataclasses import dataclass

from assistant.board.phrases import clock
from assistant.heat.bird.evidence import Quantiles

QUIET, SPREAD, MIDDLE, DINNER, BEYOND = "·", "▒", "█", "╎", ">"
STEP_S = 1800.0
SHORTEST_S, LONGEST_S = 3600.0, 4 * 3600.0
LABEL_CELLS = 6


@dataclass(frozen=True, slots=True)
class Axis:
    """Times from `start_s` to `end_s` spread over `width` cells."""

    start_s: float
    end_s: float
    width: int

    def cell(self, at_s: float) -> int:
        """The cell of a time; outside 0 to width - 1 when it is off the axis."""
        share = (at_s - self.start_s) / (self.end_s - self.start_s)
        return int(share * self.width // 1)


def axis_for(now_s: float, times: tuple[Quantiles, ...], width: int) -> Axis:
    """An axis from now, long enough for the latest of `times` in whole half hours,
    but never shorter than one hour nor longer than four."""
    latest = max((each.q90 or each.q50 or now_s for each in times), default=now_s)
    steps = -(-(latest - now_s) // STEP_S)
    length_s = min(max(steps * STEP_S, SHORTEST_S), LONGEST_S)
    return Axis(now_s, now_s + length_s, width)


def bar(times: Quantiles | None, axis: Axis, serve_s: float | None = None) -> str:
    """`axis.width` cells: the 10 to 90 % range shaded, the middle solid, dinner dotted
    and an arrow where the range runs off the end."""
    cells = [QUIET] * axis.width
    if serve_s is not None and 0 <= axis.cell(serve_s) < axis.width:
        cells[axis.cell(serve_s)] = DINNER
    if times is None or times.q10 is None:
        return "".join(cells)
    first = max(axis.cell(times.q10), 0)
    last = axis.width - 1 if times.q90 is None else min(axis.cell(times.q90), axis.width - 1)
    for cell in range(first, last + 1):
        cells[cell] = SPREAD
    if times.q50 is not None and axis.cell(times.q50) < axis.width:
        cells[max(axis.cell(times.q50), 0)] = MIDDLE
    if times.q90 is None or axis.cell(times.q90) >= axis.width:
        cells[-1] = BEYOND
    return "".join(cells)


def scale_line(axis: Axis, zone: str) -> str:
    """Clock times under the bars, each starting at its cell, no two touching."""
    line = "now"
    step_s = STEP_S if (axis.end_s - axis.start_s) <= 2 * 3600 else 2 * STEP_S
    if axis.width >= LABEL_CELLS * 2 * (axis.end_s - axis.start_s) / step_s:
        step_s /= 2
    at_s = (axis.start_s // step_s + 1) * step_s
    while axis.cell(at_s) + LABEL_CELLS <= axis.width:
        if axis.cell(at_s) > len(line):
            line = line.ljust(axis.cell(at_s)) + clock(at_s, zone)
        at_s += step_s
    return line.ljust(axis.width)
