"""The history as a table, as JSON, and as a picture of how forecasts got better."""

import json
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from assistant.lookback.history import PastBird, PastCook
from assistant.lookback.output import LookbackError, replace_bytes
from assistant.lookback.phrases import span
from assistant.lookback.picture import drawn
from assistant.system.units import pounds

_HEAD = ("when", "cook", "birds", "roast", "grill", "table", "first", "all", "in 80 %", "teaches")
_FOOT = (
    "first: mean error of the first forecast of each bird's done time; all: median error of\n"
    "all forecasts; in 80 %: share of forecasts whose 80 % range held what happened;\n"
    "table: last bird off against the time set for dinner."
)


def history_table(cooks: Sequence[PastCook], zone: str) -> str:
    """The cooks as lines of text with a legend; `zone` is an IANA name."""
    if not cooks:
        return "No such cook in the journal yet."
    rows = [_HEAD, *(_row(one, zone) for one in cooks)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(_HEAD))]
    lines = [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
    return "\n".join([*lines, "", _FOOT])


def _row(cook: PastCook, zone: str) -> tuple[str, ...]:
    began = datetime.fromtimestamp(cook.info.began_s, ZoneInfo(zone))
    scores = cook.scores
    return (
        f"{began:%Y-%m-%d %H:%M}",
        cook.info.name or cook.info.id[:8],
        _birds(cook.birds),
        "-" if cook.roast_s is None else span(cook.roast_s),
        "-" if cook.grill_f is None else f"{cook.grill_f:.0f} F",
        _late(cook.late_s),
        _minutes(scores.first_error_s),
        _minutes(scores.error_s),
        "-" if scores.inside is None else f"{scores.inside:.0%} of {scores.count}",
        "yes" if cook.teaches else "no",
    )


def _birds(birds: Sequence[PastBird]) -> str:
    """Weights in pounds, the kind where it is no chicken: "5, 4.5, hen 1.2 lb"."""
    if not birds:
        return "none"
    parts = []
    for bird in birds:
        weight = "?" if bird.mass_kg is None else f"{round(pounds(bird.mass_kg), 1):g}"
        parts.append(weight if bird.kind == "chicken" else f"{bird.kind} {weight}")
    return ", ".join(parts) + " lb"


def _late(late_s: float | None) -> str:
    if late_s is None:
        return "-"
    way = "late" if late_s > 0 else "early"
    return f"{abs(late_s) / 60:.0f} min {way}"


def _minutes(seconds: float | None) -> str:
    return "-" if seconds is None else f"{seconds / 60:.1f} min"


def history_json(cooks: Sequence[PastCook]) -> str:
    """One JSON object a line and cook; seconds, kg, degrees F."""
    return "".join(json.dumps(_object(one), ensure_ascii=False) + "\n" for one in cooks)


def _object(cook: PastCook) -> dict[str, Any]:
    return {
        "id": cook.info.id, "name": cook.info.name, "note": cook.info.note,
        "began_s": cook.info.began_s, "ended_s": cook.info.ended_s,
        "birds": [
            {
                "number": bird.number, "kind": bird.kind, "mass_kg": bird.mass_kg,
                "sauce": bird.sauce, "to_sauce_s": bird.to_sauce_s, "to_done_s": bird.to_done_s,
            }
            for bird in cook.birds
        ],
        "roast_s": cook.roast_s, "grill_f": cook.grill_f, "briquettes": cook.fuel,
        "late_s": cook.late_s, "teaches": cook.teaches, "forecasts": cook.scores.count,
        "inside_80": cook.scores.inside, "median_error_s": cook.scores.error_s,
        "first_error_s": cook.scores.first_error_s, "crps_s": cook.scores.crps_s,
    }  # fmt: skip


def history_picture(cooks: Sequence[PastCook], out: Path, zone: str) -> None:
    """Draw forecast errors over the cooks into `out` (`.png` or `.svg`).

    Raises `LookbackError` without a cook that can be drawn, for another ending, or
    where the file cannot be written.
    """
    ending = out.suffix.lower()
    if ending not in {".png", ".svg"}:
        raise LookbackError(f"{out}: end the name with .png or .svg")
    shown = [one for one in cooks if one.scores.error_s is not None]
    if not shown:
        raise LookbackError("no cook has forecasts that can be scored yet")

    def draw(errors: Any, inside: Any) -> None:
        _errors_panel(errors, shown)
        _inside_panel(inside, shown, zone)

    replace_bytes(out, drawn(4.4, (2.2, 1), draw, ending[1:]))


def _errors_panel(panel: Any, cooks: Sequence[PastCook]) -> None:
    places = range(1, len(cooks) + 1)
    firsts = [
        (place, one.scores.first_error_s / 60)
        for place, one in zip(places, cooks, strict=True)
        if one.scores.first_error_s is not None
    ]
    panel.plot(
        [place for place, _ in firsts], [value for _, value in firsts], color="#d55e00",
        marker="s", linestyle="--", label="first forecast, done mark",
    )  # fmt: skip
    panel.plot(
        list(places), [(one.scores.error_s or 0.0) / 60 for one in cooks], color="#0072b2",
        marker="o", label="all forecasts, median",
    )  # fmt: skip
    panel.set_ylabel("off by, min")
    panel.set_ylim(bottom=0)
    panel.legend(loc="lower left", bbox_to_anchor=(0.0, 1.0), ncols=2)


def _inside_panel(panel: Any, cooks: Sequence[PastCook], zone: str) -> None:
    places = list(range(1, len(cooks) + 1))
    panel.axhspan(75, 85, color="#e5e5e5", linewidth=0)
    panel.plot(
        places, [100 * (one.scores.inside or 0.0) for one in cooks], color="#333333", marker="^"
    )
    panel.set_ylim(0, 105)
    panel.set_ylabel("in 80 %, %")
    step = -(-len(cooks) // 6)
    days = [
        f"{datetime.fromtimestamp(one.info.began_s, ZoneInfo(zone)):%d %b}"
        if place % step == 0
        else ""
        for place, one in enumerate(cooks)
    ]
    panel.set_xticks(places, days)
    panel.set_xlim(0.5, len(cooks) + 0.5)
