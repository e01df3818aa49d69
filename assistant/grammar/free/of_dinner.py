"""Facts of dinner from the words of a frame."""

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.got import Got
from assistant.grammar.free.open_facts import Fact


def serve(got: Got) -> tuple[Fact, ...] | None:
    """When to eat."""
    spans = got.all("DURATION")
    if spans and got.has("back"):
        return None  # "put dinner back half an hour"
    if spans:
        return (cmd.ServeIn(float(spans[0].value)),)  # type: ignore[arg-type]
    clocks = got.all("CLOCK")
    if clocks:
        return (cmd.ServeAt(int(clocks[0].value)),)  # type: ignore[call-overload]
    value = got.figures()[0].value
    if len(got.figures()) == 2:
        value = 100 * value + got.figures()[1].value
    hour, minute = (value, 0) if value <= 24 else divmod(value, 100)
    if value != int(value) or not (1 <= hour <= 23 and minute < 60):
        return None
    return (cmd.ServeAt(int(60 * hour + minute), vague=hour <= 12),)


def late(got: Got) -> tuple[Fact, ...] | None:
    """Dinner is put back."""
    spans = got.all("DURATION")
    return (cmd.Hold(float(spans[0].value)),) if spans else None  # type: ignore[arg-type]
