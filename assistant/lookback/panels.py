"""The panels of the look-back's pictures, each drawn on axes that are given.

Birds differ by marker and line as well as by colour.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from assistant.cook.state import Bird, Cook
from assistant.cook.vocabulary.commands import Mark
from assistant.heat.degrees import in_scale
from assistant.lookback.facts import Evening, quantiles_of
from assistant.lookback.phrases import clock
from assistant.lookback.stages import called

# The colour-blind safe palette of Okabe and Ito 2008, dark ones first.
COLORS = ("#0072b2", "#d55e00", "#009e73", "#cc79a7", "#56b4e9", "#e69f00", "#000000", "#7f7f7f")
MARKERS = ("o", "s", "^", "D", "v", "P", "X", "*")
LINES = ("-", "--", "-.", ":", "-", "--", "-.", ":")
STEPS_MIN = (1, 2, 5, 10, 15, 20, 30, 60, 120, 180, 360, 720, 1440, 10080, 100000)
MOST_TICKS = 6
CLOSE_S, CLOSE_F = 600.0, 8.0  # letters nearer to each other cannot be read
SPOTS = {"breast": "B", "thigh": "T", "wing": "W"}


def picture_start(evening: Evening) -> float:
    """Where the picture begins: a little before the fire or the first bird."""
    times = [bird.on_heat[0].start_s for bird in evening.cook.birds if bird.on_heat]
    times += [one.at_s for one in evening.cook.fire.readings]
    return min(times, default=evening.began_s) - 300.0


def _epoch_s(place: float) -> float:
    """Epoch seconds of a place on a time axis (Matplotlib counts days)."""
    return place * 86400.0


def _time(at_s: float, cook: Cook) -> datetime:
    return datetime.fromtimestamp(at_s, ZoneInfo(cook.zone))


def clock_axis(panel: Any, cook: Cook, start_s: float, end_s: float) -> None:
    """Clock times of the cook's zone along the bottom."""
    end_s = max(end_s, start_s + 600.0) + 120.0
    panel.set_xlim(_time(start_s, cook), _time(end_s, cook))
    panel.set_xticks(*_ticks(start_s, end_s, cook))


def _ticks(start_s: float, end_s: float, cook: Cook) -> tuple[list[datetime], list[str]]:
    """Round clock times between two moments, at most `MOST_TICKS`, and their words."""
    step_s = next(
        60.0 * step for step in STEPS_MIN if (end_s - start_s) / (60.0 * step) <= MOST_TICKS
    )
    offset = _time(start_s, cook).utcoffset()
    shift_s = offset.total_seconds() if offset is not None else 0.0
    at_s = -(-(start_s + shift_s) // step_s) * step_s - shift_s
    times = []
    while at_s <= end_s:
        times.append(at_s)
        at_s += step_s
    return [_time(one, cook) for one in times], [clock(one, cook) for one in times]


def _degrees(temperature_f: float, cook: Cook) -> float:
    return in_scale(temperature_f, cook.scale)


def birds_panel(panel: Any, evening: Evening) -> None:
    """Readings over clock time, spots marked B, T or W, and the marks to reach."""
    cook = evening.cook
    for place, bird in enumerate(cook.birds):
        color = COLORS[place % len(COLORS)]
        times = [_time(one.at_s, cook) for one in bird.readings]
        values = [_degrees(one.temperature_f, cook) for one in bird.readings]
        label = f"bird {bird.number}" + (f", {_plain(bird.sauce)}" if bird.sauce else "")
        panel.plot(
            times, values, color=color, marker=MARKERS[place % len(MARKERS)],
            linestyle=LINES[place % len(LINES)], label=label,
        )  # fmt: skip
        lettered: list[tuple[float, float]] = []
        for time, value, reading in zip(times, values, bird.readings, strict=True):
            here = (reading.at_s, reading.temperature_f)
            if reading.spot is not None and not _piles_up(here, lettered):
                lettered.append(here)
                panel.annotate(
                    SPOTS[reading.spot], (time, value), textcoords="offset points",
                    xytext=(5, -9), fontsize=8, color=color,
                )  # fmt: skip
    for mark_f, name in ((cook.sauce_mark_f, "sauce mark"), (cook.done_mark_f, "done mark")):
        _level(panel, _degrees(mark_f, cook), name)
    panel.set_ylabel(f"bird, {cook.scale}")
    panel.margins(y=0.08)
    if cook.birds:
        panel.legend(loc="best", handlelength=2.6, ncols=1 if len(cook.birds) <= 4 else 2)


def _piles_up(here: tuple[float, float], lettered: Sequence[tuple[float, float]]) -> bool:
    """A letter here would lie on another of its bird: the table tells those apart."""
    return any(abs(here[0] - at_s) < CLOSE_S and abs(here[1] - f) < CLOSE_F for at_s, f in lettered)


def _level(panel: Any, value: float, name: str) -> None:
    panel.axhline(value, color="#555555", linewidth=0.9)
    panel.annotate(
        name, (1.0, value), xycoords=("axes fraction", "data"), textcoords="offset points",
        xytext=(-2, 3), ha="right", fontsize=8, color="#333333",
    )  # fmt: skip


def _plain(text: str) -> str:
    """Text short enough for a legend."""
    return text[:24]


def spit_panel(panel: Any, evening: Evening) -> None:
    """A row for each bird: bars while it was over the fire, a star where it was sauced."""
    cook = evening.cook
    for place, bird in enumerate(cook.birds):
        color = COLORS[place % len(COLORS)]
        for one in bird.on_heat:
            times = [_time(one.start_s, cook), _time(one.end_s or evening.ended_s, cook)]
            panel.plot(times, [place, place], color=color, linewidth=5, solid_capstyle="butt")
        sauced = [_time(one, cook) for one in bird.sauced_s]
        panel.plot(
            sauced, [place] * len(sauced), linestyle="none", marker="*", markersize=9,
            color="white", markeredgecolor=color,
        )  # fmt: skip
    panel.set_yticks(range(len(cook.birds)), [f"bird {one.number}" for one in cook.birds])
    panel.set_ylim(len(cook.birds) - 0.4, -0.6)
    panel.set_ylabel("on spit")


def grill_panel(panel: Any, evening: Evening) -> None:
    """Grill readings over the band, lids off, charcoal added."""
    cook, fire = evening.cook, evening.cook.fire
    panel.axhspan(
        _degrees(fire.band_low_f, cook), _degrees(fire.band_high_f, cook), color="#f6e3c5",
        label="band", linewidth=0,
    )  # fmt: skip
    panel.plot(
        [_time(one.at_s, cook) for one in fire.readings],
        [_degrees(one.temperature_f, cook) for one in fire.readings],
        color="#333333", marker="o", label="grill",
    )  # fmt: skip
    for count, lid in enumerate(fire.lid_open):
        panel.axvspan(
            _time(lid.start_s, cook), _time(lid.end_s or evening.ended_s, cook), hatch="////",
            facecolor="none", edgecolor="#999999", linewidth=0,
            label="lid off" if count == 0 else None,
        )  # fmt: skip
    for fuel in fire.fuel:
        panel.annotate(
            f"+{fuel.count:g}", (_time(fuel.at_s, cook), 0.0), xycoords=("data", "axes fraction"),
            textcoords="offset points", xytext=(0, 12), ha="center", fontsize=8,
            annotation_clip=True,
            arrowprops={"arrowstyle": "-|>", "color": "#333333"},
        )  # fmt: skip
    margin = _degrees(fire.band_high_f, cook) - _degrees(fire.band_low_f, cook)
    low, high = panel.get_ylim()
    panel.set_ylim(
        min(low, _degrees(fire.band_low_f, cook) - margin) - 0.5 * margin,  # the charcoal's row
        max(high, _degrees(fire.band_high_f, cook)) + 0.8 * margin,
    )
    panel.set_ylabel(f"grill, {cook.scale}")
    panel.legend(loc="upper right", ncols=3)


def prompts_panel(panel: Any, evening: Evening) -> None:
    """What was called out, filled where something was done about it."""
    rows = {"now": 2, "soon": 1, "convenient": 0}
    for answered, marker, face, label in (
        (True, "o", "#333333", "done or answered"),
        (False, "o", "none", "nothing recorded"),
    ):
        some = [one for one in called(evening) if one.answered is answered]
        panel.plot(
            [_time(one.at_s, evening.cook) for one in some],
            [rows.get(one.urgency, 0) for one in some],
            linestyle="none", marker=marker, markerfacecolor=face, markeredgecolor="#333333",
            label=label,
        )  # fmt: skip
    panel.set_yticks([0, 1, 2], ["no hurry", "soon", "now"])
    panel.set_ylim(-0.6, 3.6)
    panel.set_ylabel("calls")
    panel.legend(loc="upper left", ncols=2)


def forecast_panel(panel: Any, evening: Evening, bird: Bird) -> None:
    """When the marks of `bird` were expected, as it stood at each moment; stars are what
    happened, the slanted line is now."""
    cook = evening.cook
    marks: tuple[tuple[Mark, str, str], ...] = (
        ("done", COLORS[0], "-"), ("sauce", COLORS[1], "--"),
    )  # fmt: skip
    start_s = bird.on_heat[0].start_s if bird.on_heat else evening.began_s
    end_s = bird.on_heat[-1].end_s or evening.ended_s if bird.on_heat else evening.ended_s
    for mark, color, line in marks:
        if mark == "sauce" and bird.is_plain:
            continue
        _fan(panel, evening, bird, mark, (color, line))
    panel.plot(
        [_time(start_s, cook), _time(end_s, cook)], [_time(start_s, cook), _time(end_s, cook)],
        color="#999999", linewidth=0.8,
    )  # fmt: skip
    panel.set_xlabel("as it stood at")
    panel.set_ylabel("expected at")
    clock_axis(panel, cook, start_s - 120.0, end_s)
    low, high = (_epoch_s(one) for one in panel.get_ylim())
    panel.set_yticks(*_ticks(low, high, cook))
    panel.legend(loc="lower right", ncols=2)


def _fan(panel: Any, evening: Evening, bird: Bird, mark: Mark, style: tuple[str, str]) -> None:
    """The 80 % range and the middle as steps, until the mark was read, and the truth."""
    cook, (color, line) = evening.cook, style
    truth = evening.reached_by(bird.number, mark)
    until_s = truth.by_s if truth else evening.ended_s
    times: list[datetime] = []
    low: list[datetime] = []
    middle: list[datetime] = []
    high: list[datetime] = []
    for one in evening.foreseen:
        found = quantiles_of(one.forecast, bird.number, mark)
        if one.at_s > until_s or found is None or None in (found.q10, found.q50, found.q90):
            continue
        times.append(_time(one.at_s, cook))
        for values, value in zip(
            (low, middle, high), (found.q10, found.q50, found.q90), strict=True
        ):
            assert value is not None
            values.append(_time(value, cook))
    if not times:
        return
    times.append(_time(until_s, cook))
    for values in (low, middle, high):
        values.append(values[-1])
    panel.fill_between(times, low, high, step="post", color=color, alpha=0.2, linewidth=0)
    panel.step(times, middle, where="post", color=color, linestyle=line, label=f"{mark} mark")
    if truth is not None:
        known = truth.after_s is not None  # else it was at the mark when first read
        panel.plot(
            [_time(truth.at_s, cook)], [_time(truth.at_s, cook)], marker="*", markersize=11,
            color=color if known else "white", markeredgecolor="black" if known else color,
            linestyle="none", label=f"{mark}: {'reached' if known else 'when first read'}",
        )  # fmt: skip
        panel.axhline(_time(truth.at_s, cook), color=color, linewidth=0.9, linestyle=":")
