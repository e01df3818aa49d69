"""How much of what untaught cooks say is understood: `python -m tests.benchmarks.phrases [FILE...]`.

For every situation: right, asked, refused, misread, in percent, beside the closed grammar.
Each file is one cook; the rules were written while looking at the first two files only, so the
third is the honest one.
"""

import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from assistant.app.hear_text import hear_text
from assistant.grammar.free.context import tonight
from assistant.grammar.free.open_facts import fact_json
from assistant.grammar.grammar import Names
from assistant.grammar.parse import NotUnderstood, parse

LINES = Path(__file__).parent / "lines"
SAUCES = ("apricot", "harissa")


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a cook."""

    name: str
    birds: int
    situation: str
    words: str
    meaning: str


def read(path: Path) -> list[Line]:
    """The lines of one cook."""
    rows = [row.split("\t") for row in path.read_text(encoding="utf-8").splitlines() if row.strip()]
    return [
        Line(name, int(birds), situation, words, meaning)
        for name, birds, situation, words, meaning in rows
    ]


def wanted(meaning: str) -> list[tuple[object, ...]]:
    """The facts of a meaning, comparable."""
    if meaning == "none":
        return []
    return sorted((_wanted(*one.split()) for one in meaning.split(" + ")), key=repr)


def _wanted(name: str, *parts: str) -> tuple[object, ...]:
    slots = dict(part.split("=", 1) for part in parts if "=" in part)
    flag = next((part for part in parts if "=" not in part), "")
    bird = {"?": None, "all": None, None: None}.get(slots.get("bird"), slots.get("bird"))
    number = int(bird) if bird else None
    match name:
        case "reading":
            scale = "f" if "f" in slots else "c"
            return ("bird_reading", number, slots.get("spot"), float(slots[scale]), scale)
        case "grill":
            scale = "f" if "f" in slots else "c"
            return ("grill_reading", float(slots[scale]), scale)
        case "fuel":
            if "chimney" in slots:
                return ("fuel_added", float(slots["chimney"]), "chimney")
            return ("fuel_added", None if slots["count"] == "?" else float(slots["count"]), None)
        case "wood":
            return ("wood_added",)
        case "lid":
            return (f"lid_{flag}",)
        case "vents":
            share = round(float(slots["open"]), 2) if "open" in slots else None
            return ("vents", slots.get("which"), share, slots.get("change"))
        case "on" | "off":
            return (f"birds_{name}", number)
        case "sauced" | "rest" | "carve":
            return (name, number)
        case "weight":
            kg = float(slots["kg"]) if "kg" in slots else None
            return ("bird_weight", number, float(slots["lb"]) if kg is None else None, kg)
        case "sauce":
            return ("bird_sauce", number, slots["name"])
        case "serve" if "at" in slots:
            hours, minutes = slots["at"].split(":")
            return ("serve_at", (60 * int(hours) + int(minutes)) % 720)
        case "serve":
            return ("serve_in", float(slots["in_min"]))
        case "late":
            return ("hold", float(slots["by_min"]) if "by_min" in slots else None)
        case "timer":
            about = slots.get("about")
            return ("timer_set", float(slots["min"]), about and about.replace("_", " "))
        case "cancel":
            return ("timer_cancel", slots.get("about"))
        case "ask":
            return (f"ask_{flag}", number)
        case "correct":
            scale = "f" if "f" in slots else "c" if "c" in slots else None  # type: ignore[assignment]
            return ("correct", number, float(slots[scale]) if scale else None)
        case "choose":
            return ("choose", int(slots["n"]))
        case "snooze":
            return ("snooze", float(slots["min"]) if "min" in slots else None)
        case "trouble":
            return ("trouble", flag, number)
        case "ack":
            return ("acknowledge",)
        case "end":
            return ("end_cook",)
    return (name, *([flag] if flag else []))


def got(facts: list[dict[str, Any]]) -> list[tuple[object, ...]]:
    """The facts that came out, comparable."""
    return sorted((_got(one["command"], one["slots"]) for one in facts), key=repr)


def _got(name: str, slots: dict[str, Any]) -> tuple[object, ...]:
    said = slots.get("said") or {}
    scale = str(said.get("scale", "")).lower()
    match name:
        case "item_done":  # "done" settles what was called, as an acknowledgement does
            return ("acknowledge",)
        case "bird_reading":
            return (name, slots.get("bird"), slots.get("spot"), said["number"], scale)
        case "grill_reading":
            return (name, said["number"], scale)
        case "fuel_added":
            return (name, slots.get("count"), "chimney" if slots.get("kind") == "chimney" else None)
        case "vents":
            share = slots.get("opening")
            return (
                name,
                slots["which"],
                None if share is None else round(share, 2),
                slots.get("change"),
            )
        case "birds_on" | "birds_off" | "sauced" | "rest" | "carve":
            return (name, slots.get("bird"))
        case "bird_weight":
            pounds = slots.get("pounds")
            lb = None if pounds is None else round(pounds + (slots.get("ounces") or 0) / 16, 3)
            return (name, slots["bird"], lb, slots.get("kilograms"))
        case "bird_sauce":
            return (name, slots["bird"], slots["sauce"])
        case "serve_at":
            return (name, slots["time"] % 720)
        case "serve_in" | "hold" | "snooze":
            return (name, slots.get("minutes"))
        case "timer_set":
            return (name, slots["minutes"], slots.get("name"))
        case "timer_cancel":
            return (name, slots.get("name"))
        case "correct":
            return (name, slots.get("bird"), said.get("number"))
        case "choose":
            return (name, slots["place"])
        case "trouble":
            return (name, slots["kind"], slots.get("bird"))
    return (name, slots.get("bird")) if name.startswith("ask_") else (name,)


def judged(line: Line) -> str:
    """right, asked, refused or misread, by the tolerant layer."""
    (found,) = hear_text([line.words], tonight(line.birds, SAUCES))
    if found["outcome"] == "refuse":
        return "right" if line.meaning == "none" else "refused"
    if got(found["facts"]) == wanted(line.meaning):
        return "right"
    return "asked" if found["outcome"] == "ask" and line.meaning != "none" else "misread"


def judged_closed(line: Line) -> str:
    """The same by the closed grammar alone."""
    try:
        command = parse(line.words, Names(sauces=SAUCES), open_names=True)
    except NotUnderstood:
        return "right" if line.meaning == "none" else "refused"
    return "right" if got([fact_json(command)]) == wanted(line.meaning) else "misread"


def table(lines: list[Line]) -> Iterator[str]:
    """The lines of the table."""
    yield f"{'':6}{'n':>5}{'right':>8}{'asked':>8}{'refused':>9}{'misread':>9}{'closed: right':>15}{'misread':>9}"
    groups: list[tuple[str, list[Line]]] = [
        (f"S{n}", [one for one in lines if one.situation == f"S{n}"]) for n in range(1, 17)
    ]
    groups.append(("meant", [one for one in lines if one.situation != "S16"]))
    for name, some in groups:
        if not some:
            continue
        free, closed = Counter(map(judged, some)), Counter(map(judged_closed, some))
        cells = [100 * free[one] / len(some) for one in ("right", "asked", "refused", "misread")]
        old = [100 * closed[one] / len(some) for one in ("right", "misread")]
        yield (
            f"{name:6}{len(some):5}{cells[0]:8.1f}{cells[1]:8.1f}{cells[2]:9.1f}{cells[3]:9.1f}"
            f"{old[0]:15.1f}{old[1]:9.1f}"
        )


def main(arguments: list[str]) -> None:
    """Print a table for each cook; `-v` before the files lists what was not right."""
    verbose = "-v" in arguments
    paths = [Path(one) for one in arguments if one != "-v"] or sorted(LINES.glob("*.tsv"))
    for path in paths:
        lines = read(path)
        print(f"{path.stem}: {len(lines)} lines")
        print("\n".join(table(lines)))
        if verbose:
            for line in lines:
                if (verdict := judged(line)) != "right":
                    (found,) = hear_text([line.words], tonight(line.birds, SAUCES))
                    print(
                        f"{verdict:8} {line.name} {line.words}\n   want {line.meaning}\n"
                        f"   got {found['outcome']} {got(found['facts'])} {found['cost']} {found['asks']} {found['help']}"
                    )


if __name__ == "__main__":
    main(sys.argv[1:])
