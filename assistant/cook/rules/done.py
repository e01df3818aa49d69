"""What "done" tells of the call it answers: the bird is sauced, off, or back on. Pure."""

from collections.abc import Callable, Sequence

from assistant.cook.rules.birds import decide_bird
from assistant.cook.rules.decision import Record
from assistant.cook.rules.finish import spots_to_read
from assistant.cook.rules.fire import decide_fire
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary import prompts as due
from assistant.cook.vocabulary.prompts import Key

_MEANS: dict[str, Callable[[int], cmd.BirdsOff | cmd.BirdsOn | cmd.Sauced]] = {
    due.Sauce.KIND: cmd.Sauced,
    due.SauceLast.KIND: cmd.Sauced,
    due.Coat.KIND: cmd.Sauced,
    due.TakeOff.KIND: cmd.BirdsOff,
    due.BackOn.KIND: cmd.BirdsOn,
}


def done_facts(state: Cook, keys: Sequence[str], now_s: float) -> tuple[ev.Event, ...]:
    """Return the facts that "done" makes of the calls `keys`; () where the call asked for
    nothing that is recorded, or for a reading."""
    found: list[ev.Event] = []
    for key in map(Key.read, keys):
        bird = state.bird(key.bird) if key.bird is not None else None
        if key.kind == due.LidOpen.KIND:
            decision = decide_fire(state, cmd.LidOn(), now_s)
        elif bird is None or key.kind not in _MEANS:
            continue
        elif key.kind == due.TakeOff.KIND and spots_to_read(bird):
            continue  # it was asked to be read first
        else:
            decision = decide_bird(state, _MEANS[key.kind](bird.number), now_s)
        if isinstance(decision, Record):
            found += decision.events
    return tuple(found)
