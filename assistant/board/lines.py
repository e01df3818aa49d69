"""The same cook as lines of plain text: for screen readers, logs, pipes, and the end."""

from dataclasses import replace

from assistant.board.phrases import clean, clock, place_of, reading
from assistant.board.view import BoardView
from assistant.board.waiting import Wait, fire_line, wait_of, wait_text
from assistant.cook.state import Bird


def facts(view: BoardView) -> dict[str, str]:
    """What stands at the moment of `view`, by topic; one line of text each."""
    cook = view.cook
    lines = {f"bird {bird.number}": _bird(bird, view) for bird in cook.birds}
    fire = fire_line(view)
    grill = [fire.reading, fire.band, fire.verdict, fire.outlook, fire.help]
    lines["fire"] = ", ".join(part for part in grill if part)
    if cook.serve_s is not None:
        lines["dinner"] = clock(cook.serve_s, cook.zone)
    coming = view.coming()
    if coming:
        lines["next"] = "; ".join(_due(view, at_s, text) for at_s, text in _firsts(view))
    if view.missed:
        lines["missed"] = f"{clean(view.heard or '')} ({clean(view.missed)})"
    if view.question:
        lines["question"] = clean(view.question)
    if view.notice:
        lines["notice"] = clean(view.notice)
    return lines


def _firsts(view: BoardView) -> list[tuple[float, str]]:
    return [(due.at_s, clean(due.text)) for due in view.coming()[:3]]


def _due(view: BoardView, at_s: float, text: str) -> str:
    return f"now: {text}" if at_s <= view.now_s else f"{clock(at_s, view.cook.zone)} {text}"


def _bird(bird: Bird, view: BoardView) -> str:
    sauce = [] if bird.sauce is None else [clean(bird.sauce)]
    read = reading(bird.readings[-1], view) if bird.readings else "not read yet"
    waits = _waits(wait_of(bird, view), view.cook.zone)
    return ", ".join([place_of(bird, view), *sauce, read, waits])


def _waits(wait: Wait, zone: str) -> str:
    """ "waits for done mark about 6:45", "waits to go on", "resting till 7:10"."""
    text = wait_text(wait, zone)
    if wait.what.startswith("rest"):
        return text
    return f"waits {text}" if wait.what.startswith("to ") else f"waits for {text}"


def changes(before: BoardView | None, after: BoardView) -> tuple[str, ...]:
    """The lines of `after` that say something `before` did not, ages left aside."""
    old = facts(replace(before, now_s=after.now_s)) if before is not None else {}
    return tuple(
        f"{topic}: {text}" for topic, text in facts(after).items() if old.get(topic) != text
    )
