"""Coming back after a restart: what time it is taken to be, and whether to ask. Pure.

Within one boot the time since boot tells exactly how long it was. After a boot only the
computer's clock can, and a board without a battery clock starts anywhere: what looks
wrong is asked about, and the cook goes on meanwhile from the last known moment.
"""

from dataclasses import dataclass

from assistant.cook.rules.decision import AskBack, Decision, Record
from assistant.cook.state import Cook, Pending
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev

LONG_S = 3 * 3600.0  # longer away than this, after a boot, is asked about
BEHIND_S = 30.0  # a clock before the last note by less is drift
ASKING = frozenset({"clock_behind", "clock_ahead"})
ASKING_S = 600.0  # the question stays open this long
MOST_MIN = 24 * 60.0


@dataclass(frozen=True, slots=True)
class Back:
    """`now_s`: what the time is taken to be, epoch seconds; `away_s` since the last event.
    `why` asks about the clock ("clock_behind", "clock_ahead"), which stands `clock_s`
    after the last event (before it: negative)."""

    now_s: float
    away_s: float
    why: str | None = None
    clock_s: float = 0.0


def back(state: Cook, clock_s: float, boot: str | None, since_boot_s: float) -> Back:
    """Return how to go on with `state` by a clock that reads `clock_s` (epoch seconds),
    `since_boot_s` into the boot named `boot` (None: unknown)."""
    if boot is not None and boot == state.boot and state.booted_s is not None:
        now_s = state.booted_s + since_boot_s
        if now_s >= state.at_s - BEHIND_S:
            return Back(max(now_s, state.at_s), max(0.0, now_s - state.at_s))
    gap_s = clock_s - state.at_s
    if gap_s < -BEHIND_S:
        return Back(state.at_s, 0.0, "clock_behind", gap_s)
    if gap_s > LONG_S:
        return Back(state.at_s, 0.0, "clock_ahead", gap_s)
    return Back(max(clock_s, state.at_s), max(0.0, gap_s))


def settle_clock(pending: Pending, command: cmd.Command) -> Decision | None:
    """Return what an answer about the clock decides; None if `command` is none."""
    match command:
        case cmd.Yes() if pending.why == "clock_ahead" and pending.clock_s is not None:
            away_s = pending.clock_s
        case cmd.Yes():
            return AskBack((), pending.why, pending.clock_s)
        case cmd.No():
            return Record((ev.AskBackClosed("no"),), command, notes=("clock_kept",))
        case cmd.AwayFor(minutes) if 0 <= minutes <= MOST_MIN:
            away_s = 60.0 * minutes
        case _:
            return None
    return Record((ev.AskBackClosed("settled"), ev.Resumed(away_s)), None, notes=("clock_set",))
