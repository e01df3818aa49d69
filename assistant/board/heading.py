"""The one thing that matters now: an instruction, and its time."""

from dataclasses import dataclass

from assistant.board.phrases import clean, clock, place_of
from assistant.board.view import BoardView, Due
from assistant.board.waiting import Weight, wait_of
from assistant.cook.vocabulary.commands import BirdReading, GrillReading
from assistant.sentences.leftovers import leftovers

LID_PATIENCE_S = 45.0  # an open lid shorter than this is an ordinary look
SOON_S = 180.0


@dataclass(frozen=True, slots=True)
class Headline:
    """The `sign` is what to do, the `figure` when: both short enough to be drawn large
    (capitals, digits, and ":-?." only). The `label` is the whole sentence."""

    sign: str
    figure: str
    label: str
    weight: Weight


def headline(view: BoardView) -> Headline:
    """Chosen in the order of what cannot wait: an open question, a due prompt, a lid
    left off, the next thing to come."""
    cook = view.cook
    if view.question:
        return Headline(_choices(view), "", clean(view.question), "now")
    if cook.ended_s is not None:
        label = f"{leftovers(cook)} How it went: turnspit lookback".strip()
        return Headline("COOK ENDED", "", label, "calm")
    due = [each for each in view.coming() if each.at_s <= view.now_s]
    if due and due[0].urgency == "now":
        return _due(due[0], "NOW")
    if cook.fire.lid_is_off:
        off_s = view.now_s - cook.fire.lid_open[-1].start_s
        if off_s >= LID_PATIENCE_S:
            return Headline("LID IS OFF", _stopwatch(off_s), "The lid is off", "soon")
    if due:
        return _due(due[0], "NOW")
    return _next_headline(view)


def _due(due: Due, figure: str) -> Headline:
    weight: Weight = "now" if due.urgency == "now" else "soon"
    return Headline(due.sign or figure, figure if due.sign else "", clean(due.text), weight)


def _choices(view: BoardView) -> str:
    """What an open question offers, "180 OR 118?", where it is about two numbers."""
    options = view.cook.pending.options if view.cook.pending else ()
    values = [
        f"{one.said.number:g}" for one in options if isinstance(one, BirdReading | GrillReading)
    ]
    if len(values) == len(options) == 2 and values[0] != values[1]:
        return f"{values[0]} OR {values[1]}?"
    return "YES OR NO?" if len(options) == 1 else "ANSWER?"


def _stopwatch(seconds: float) -> str:
    return f"{int(seconds) // 60}:{int(seconds) % 60:02d}"


def _next_headline(view: BoardView) -> Headline:
    ahead = view.coming()
    zone = view.cook.zone
    if ahead:
        left_s = ahead[0].at_s - view.now_s
        text, at = clean(ahead[0].text), clock(ahead[0].at_s, zone)
        label = f"At {at}: {text}" if text.endswith("?") else f"{text.rstrip('.')}, at {at}"
        weight: Weight = "soon" if left_s <= SOON_S else "calm"
        left = _left(left_s)
        return Headline(ahead[0].sign or left, left if ahead[0].sign else "", label, weight)
    waits = [(wait_of(bird, view), bird) for bird in view.cook.birds]
    marks = [
        (wait.times.q50, bird, wait.what)
        for wait, bird in waits
        if wait.times is not None and wait.times.q50 is not None
    ]
    if marks:
        at_s, bird, what = min(marks, key=lambda each: (each[0], each[1].number))
        label = f"Bird {bird.number}, {place_of(bird, view)}: {what} about {clock(at_s, zone)}"
        word = what.split()[0].upper()
        return Headline(f"BIRD {bird.number} {word}", _left(at_s - view.now_s), label, "calm")
    if view.cook.serve_s is not None and view.cook.serve_s > view.now_s:
        label = f"Dinner at {clock(view.cook.serve_s, zone)}"
        return Headline("DINNER", _left(view.cook.serve_s - view.now_s), label, "calm")
    return Headline("READY", "", "Say what happens: weights, sauces, birds on, readings", "calm")


def _left(seconds: float) -> str:
    """Time to go, coarse enough to be read in a glance: "12 MIN", "1:05 H", "NOW"."""
    minutes = round(seconds / 60)
    if minutes < 1:
        return "NOW"
    return f"{minutes} MIN" if minutes < 60 else f"{minutes // 60}:{minutes % 60:02d} H"
