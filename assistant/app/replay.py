"""A past cook again: what was heard and said, at any speed, from any moment."""

import re
from collections.abc import Callable, Iterator, Sequence

from assistant.board.view import BoardView
from assistant.cook.rules.forecasts import fire_of, forecast_of
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.sentences.asking import open_question
from assistant.sentences.fire_words import fire_help
from assistant.session.line import Line
from assistant.session.retold import Moment, moments
from assistant.session.view import due_of
from assistant.voice.speech import Speaker

__all__ = ["Moment", "moments", "parse_moment", "replay", "scrub", "view_after", "view_at"]

_MOMENT = re.compile(r"(?:(\d{1,3}):)?([0-5]?\d):([0-5]\d)")


def parse_moment(text: str) -> float:
    """Seconds since the cook began, from "H:MM:SS" or "MM:SS". Raises ValueError."""
    match = _MOMENT.fullmatch(text.strip())
    if match is None:
        raise ValueError(f"{text!r} is not a moment; write it like 0:40:00")
    hours, minutes, seconds = (int(part or 0) for part in match.groups())
    return 3600.0 * hours + 60.0 * minutes + seconds


def replay(
    steps: Iterator[Moment],
    show: Callable[[Line], None],
    *,
    speaker: Speaker | None = None,
    settle: Callable[[], None] = lambda: None,
    sleep: Callable[[float], None] | None = None,
    speed: float = 1.0,
    from_s: float = 0.0,
) -> int:
    """Show the steps again, and say them; how many there were.

    `from_s` is seconds since the cook began. With `sleep` the pauses of the evening
    are kept, divided by `speed`; without it there are none. `settle` is called after
    each speech, to wait until it was said.
    """
    count, before_s, began_s = 0, None, None
    for step in steps:
        began_s = step.at_s if began_s is None else began_s
        if step.at_s < began_s + from_s:
            continue
        if sleep is not None and before_s is not None:
            sleep((step.at_s - before_s) / speed)
        before_s = step.at_s
        for line in step.lines:
            show(line)
        if speaker is not None and step.speech is not None:
            speaker.say(step.speech)
            settle()
        count += 1
    return count


def view_at(
    recorded: Sequence[ev.Recorded], after_s: float, start: Cook | None = None
) -> BoardView | None:
    """State and forecast as they stood `after_s` seconds into the cook, as a board
    shows them; None before its first event."""
    if not recorded or after_s < 0:
        return None
    now_s = recorded[0].at_s + after_s
    return view_after([one for one in moments(recorded, start) if one.at_s <= now_s], now_s)


def view_after(steps: Sequence[Moment], now_s: float) -> BoardView:
    """What a board shows at `now_s`, after these steps (at least one)."""
    state = steps[-1].state
    said = next((one.speech.text for one in reversed(steps) if one.speech is not None), None)
    fire = fire_of(state, now_s)
    return BoardView(
        cook=state,
        now_s=now_s,
        forecast=forecast_of(state),
        fire_leaves=fire.leaves if fire is not None else None,
        fire_help=fire_help(state, now_s),
        due=due_of(state, now_s),
        heard=state.last_heard,
        said=said,
        question=open_question(state),
        missed=_missed(steps[-1]),
    )


def _missed(step: Moment) -> str | None:
    """Why what was heard at this step was not taken."""
    refused = [line for line in step.lines if line.kind == "refused"]
    return str(refused[-1].fields["reason"]) if refused else None


def scrub(
    recorded: Sequence[ev.Recorded],
    keys: Iterator[str],
    show: Callable[[Line], None],
    tell: Callable[[BoardView], None],
    start: Cook | None = None,
) -> None:
    """Step through a cook by event. `keys` are lines typed: nothing or "n" goes on,
    "b" goes back, "s" tells state and forecast there, a moment ("0:40:00") jumps to the
    first step from it on, "q" or the end of `keys` stops. Anything else shows the step
    where it stands again.
    """
    steps = list(moments(recorded, start))
    place = 0
    _show(steps[place], show)
    for key in keys:
        match key.strip().lower():
            case "" | "n":
                if place + 1 == len(steps):
                    return
                place += 1
            case "b":
                place = max(0, place - 1)
            case "s":
                tell(view_after(steps[: place + 1], steps[place].at_s))
                continue
            case "q":
                return
            case other if _MOMENT.fullmatch(other):
                place = _from(steps, parse_moment(other))
            case _:
                pass
        _show(steps[place], show)


def _from(steps: Sequence[Moment], from_s: float) -> int:
    at_s = steps[0].at_s + from_s
    return next((n for n, one in enumerate(steps) if one.at_s >= at_s), len(steps) - 1)


def _show(step: Moment, show: Callable[[Line], None]) -> None:
    for line in step.lines:
        show(line)
