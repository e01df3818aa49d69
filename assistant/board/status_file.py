"""A plain-text status file that other programs can read: `key: value`, one a line.

The file is replaced as a whole, so a reader sees the old one or the new one,
never half of either.
"""

from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from assistant.board.heading import headline
from assistant.board.phrases import clean, place_of
from assistant.board.view import BoardView
from assistant.board.waiting import fire_line, wait_of
from assistant.cook.state import Bird
from assistant.heat.bird.evidence import Quantiles
from assistant.system.files import write_whole

FORMAT = "turnspit-status 1"


def status_text(view: BoardView) -> str:
    """The whole file. Times are ISO 8601 with offset, temperatures degrees F,
    spans seconds; a key that has no value is left out."""
    cook, top = view.cook, headline(view)
    lines = {
        "format": FORMAT,
        "time": _iso(view.now_s, cook.zone),
        "cook": "ended" if cook.ended_s is not None else "running" if cook.is_running else "none",
        "elapsed_s": _seconds(cook.began_s, cook.ended_s or view.now_s),
        "serve": _iso(cook.serve_s, cook.zone),
        "headline": " ".join(filter(None, (top.sign, top.figure, top.label))),
        **_fire_lines(view),
    }
    for bird in cook.birds:
        lines |= _bird_lines(bird, view)
    for place, due in enumerate(view.coming(), 1):
        lines[f"due.{place}"] = f"{_iso(due.at_s, cook.zone)} {due.urgency} {clean(due.text)}"
    for key, text in (("heard", view.heard), ("said", view.said), ("question", view.question)):
        lines[key] = clean(text) if text else None
    lines["missed"] = clean(view.missed) if view.missed else None
    lines["notice"] = clean(view.notice) if view.notice else None
    return "".join(f"{key}: {value}\n" for key, value in lines.items() if value)


def _iso(at_s: float | None, zone: str) -> str | None:
    if at_s is None:
        return None
    return datetime.fromtimestamp(at_s, ZoneInfo(zone)).isoformat(timespec="seconds")


def _seconds(start_s: float | None, end_s: float) -> str | None:
    return None if start_s is None else f"{max(0.0, end_s - start_s):.0f}"


def _times(times: Quantiles | None, zone: str) -> str | None:
    """Early, middle and late, "-" for one that is not in sight."""
    if times is None:
        return None
    return " ".join(_iso(each, zone) or "-" for each in (times.q10, times.q50, times.q90))


def _fire_lines(view: BoardView) -> dict[str, str | None]:
    fire = view.cook.fire
    last = fire.readings[-1] if fire.readings else None
    return {
        "grill_f": f"{last.temperature_f:.0f}" if last else None,
        "grill_read": _iso(last.at_s, view.cook.zone) if last else None,
        "grill_band_f": f"{fire.band_low_f:.0f} {fire.band_high_f:.0f}",
        "grill_state": fire_line(view).verdict,
        "grill_leaves": _times(view.fire_leaves, view.cook.zone),
        "grill_help": view.fire_help or None,
        "lid": "off" if fire.lid_is_off else "on",
    }


def _bird_lines(bird: Bird, view: BoardView) -> dict[str, str | None]:
    wait, last = wait_of(bird, view), bird.readings[-1] if bird.readings else None
    forecast, zone = view.forecast_of(bird.number), view.cook.zone
    lines = {
        "place": place_of(bird, view),
        "sauce": clean(bird.sauce) if bird.sauce else None,
        "mass_kg": f"{bird.mass_kg:.2f}" if bird.mass_kg else None,
        "reading_f": f"{last.temperature_f:.0f}" if last else None,
        "reading_spot": last.spot if last else None,
        "read": _iso(last.at_s, zone) if last else None,
        "waits_for": wait.what + (" now" if wait.due else ""),
        "sauce_mark": _times(forecast.sauce, zone) if forecast else None,
        "done_mark": _times(forecast.done, zone) if forecast else None,
    }
    return {f"bird.{bird.number}.{key}": value for key, value in lines.items()}


def replace_text(path: Path, text: str) -> None:
    """Put `text` at `path` in one step; raises OSError, and then leaves nothing behind."""
    write_whole(path, text.encode(), sync=False)  # it is made anew at the next change
