"""The look-back as rows: CSV for spreadsheets, JSON lines for programs."""

import csv
import io
import json
from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from assistant.cook.vocabulary.codec import event_json
from assistant.lookback.facts import MARKS, Evening, quantiles_of
from assistant.lookback.phrases import event_words
from assistant.lookback.scores import scored, summary
from assistant.lookback.stages import called, mended, stages
from assistant.lookback.words import cautions, lessons

Row = dict[str, object]
COLUMNS = (
    "elapsed_s", "time", "kind", "bird", "spot", "mark", "temperature_f", "q10_s", "q50_s",
    "q90_s", "count", "text",
)  # fmt: skip
FORMULA = ("=", "+", "-", "@", "\t", "\r")  # what a spreadsheet would run


def rows(evening: Evening) -> tuple[Row, ...]:
    """Everything that happened and was forecast, in order. Times ISO 8601, `_s` seconds
    since the cook began; keys without a value are left out."""
    found = [*_events(evening), *_forecasts(evening), *_reached(evening)]
    found.sort(key=lambda row: float(str(row["elapsed_s"])))
    return tuple(found)


def _row(evening: Evening, at_s: float, kind: str, **values: object) -> Row:
    moment = datetime.fromtimestamp(at_s, ZoneInfo(evening.cook.zone))
    row: Row = {
        "elapsed_s": round(at_s - evening.began_s, 3),
        "time": moment.isoformat(timespec="seconds"),
        "kind": kind,
    }
    return row | {key: value for key, value in values.items() if value is not None}


def _events(evening: Evening) -> Iterator[Row]:
    for entry in evening.recorded:
        name, slots = event_json(entry.event)
        text = event_words(entry.event, evening.cook)
        values = {
            "bird": slots.get("bird"), "spot": slots.get("spot"), "count": slots.get("count"),
            "temperature_f": slots.get("temperature"),
        }  # fmt: skip
        yield _row(evening, entry.at_s, name, **values, text=text)


def _forecasts(evening: Evening) -> Iterator[Row]:
    for one in evening.foreseen:
        for bird in evening.cook.birds:
            for mark in MARKS:
                times = quantiles_of(one.forecast, bird.number, mark)
                if times is None or (mark == "sauce" and bird.is_plain):
                    continue
                q10, q50, q90 = (
                    None if each is None else round(each - evening.began_s)
                    for each in (times.q10, times.q50, times.q90)
                )
                yield _row(
                    evening, one.at_s, "forecast", bird=bird.number, mark=mark,
                    q10_s=q10, q50_s=q50, q90_s=q90,
                )  # fmt: skip


def _reached(evening: Evening) -> Iterator[Row]:
    for one in evening.reached:
        yield _row(evening, one.at_s, "reached", bird=one.bird, mark=one.mark)


def csv_text(evening: Evening) -> str:
    """The rows as CSV with a header line. Text that a spreadsheet would run as a
    formula is preceded by an apostrophe."""
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, restval="", lineterminator="\n")
    writer.writeheader()
    for row in rows(evening):
        writer.writerow({key: _inert(value) for key, value in row.items()})
    return out.getvalue()


def _inert(value: object) -> object:
    return f"'{value}" if isinstance(value, str) and value.startswith(FORMULA) else value


def jsonl_text(evening: Evening) -> str:
    """The rows, then what was mended, called out, planned, and the summary: one JSON
    object a line, told apart by `kind`."""
    lines = [*rows(evening), *_mended(evening), *_called(evening), *_planned(evening)]
    lines.append(_summary(evening))
    return "".join(json.dumps(line, ensure_ascii=False) + "\n" for line in lines)


def _mended(evening: Evening) -> Iterator[Row]:
    for one in mended(evening):
        yield _row(evening, one.at_s, "mended", first=one.first, then=one.then)


def _called(evening: Evening) -> Iterator[Row]:
    for one in called(evening):
        yield _row(
            evening, one.at_s, "called", text=one.what, urgency=one.urgency,
            answer=one.answer, answered=one.answered,
        )  # fmt: skip


def _planned(evening: Evening) -> Iterator[Row]:
    for one in stages(evening):
        actual_s = None if one.actual_s is None else one.actual_s - evening.began_s
        yield _row(evening, one.likely_s, "planned", text=one.what, actual_s=actual_s)


def _summary(evening: Evening) -> Row:
    found = summary(scored(evening))
    return {
        "kind": "summary",
        "title": evening.title,
        "note": evening.note,
        "forecasts": found.count,
        "inside_80": found.inside,
        "median_error_s": found.error_s,
        "bias_s": found.bias_s,
        "interval_score_s": found.interval_score_s,
        "crps_s": found.crps_s,
        "lessons": list(lessons(evening)),
        "cautions": list(cautions(evening)),
    }
