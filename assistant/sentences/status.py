"""How it all stands, in one breath, and what is next."""

from collections.abc import Sequence
from math import inf

from assistant.cook.clocktimes import clock_text
from assistant.cook.rules.due_dinner import table_of
from assistant.cook.rules.finish import rested_s
from assistant.cook.rules.lifting import unread_spots
from assistant.cook.state import AirRead, Bird, Cook
from assistant.cook.vocabulary import answers as ans
from assistant.cook.vocabulary.prompts import Prompt
from assistant.sentences.phrasing import birds, capital, degrees, listed, span
from assistant.sentences.prompting import short

SOON_S = 90.0  # due within this is due now
STALE_S = 1200.0  # a reading this old is told with its age
STEP_S = 300.0  # dinner is told to five minutes


def status(then: ans.Next, state: Cook) -> str:
    """ "Bird 1 at 118, bird 2 at 121. Grill 370, in the band. Dinner about 7:05. Next: ..."."""
    parts = [_birds(state, then.now_s), _fire(state, then.now_s), _dinner(state)]
    return " ".join([*(part for part in parts if part), coming(then, state, most=1)])


def coming(told: ans.Next, state: Cook, *, most: int = 2) -> str:
    """What was called and is not done, then what comes; `most` things in all, those of one
    kind at one time as one."""
    called = alike(told.called, inf)[:most]
    later = alike(told.prompts, told.now_s)[: max(0, most - len(called))]
    if not called and not later:
        return "Nothing is due."
    parts = [f"Still to do: {listed(map(short, called))}."] if called else []
    for at, some in enumerate(later):
        due_s = some[0].due_s
        if at == 0 and not called:
            parts.append(f"Next: {short(some)}, {_when_due(due_s - told.now_s)}.")
        elif due_s - told.now_s < SOON_S:
            parts.append(f"Then {short(some)}.")
        else:
            parts.append(f"Then {short(some)} at {clock_text(due_s, state.zone)}.")
    return " ".join(parts)


def alike(prompts: Sequence[Prompt], now_s: float) -> list[tuple[Prompt, ...]]:
    """Prompts of one kind that are due at one time, together."""
    groups: dict[tuple[str, float], list[Prompt]] = {}
    for one in prompts:
        groups.setdefault((one.kind, max(one.due_s, now_s)), []).append(one)
    return [tuple(some) for some in groups.values()]


def _when_due(ahead_s: float) -> str:
    return "now" if ahead_s < SOON_S else f"in {span(ahead_s)}"


def ago(seconds: float) -> str:
    """How long since: "just now", "12 minutes ago"."""
    return "just now" if seconds < 60 else f"{span(seconds)} ago"


def in_band(reading: AirRead, state: Cook) -> str:
    """Where a grill reading stands."""
    if reading.temperature_f < state.fire.band_low_f:
        return "under the band"
    return "over the band" if reading.temperature_f > state.fire.band_high_f else "in the band"


def _birds(state: Cook, now_s: float) -> str:
    """Each bird as it was last read, those that stand alike together."""
    been_on = [bird for bird in state.birds if bird.has_been_on]
    if not been_on:
        return "No bird on yet."
    alike: dict[str, list[int]] = {}
    for bird in been_on:
        alike.setdefault(_stands(bird, state, now_s), []).append(bird.number)
    return capital(listed(f"{birds(some)} {stands}" for stands, some in alike.items())) + "."


def _stands(bird: Bird, state: Cook, now_s: float) -> str:
    coldest_f = bird.coldest_f()
    if coldest_f is None:
        on_s = bird.on_heat[-1].start_s
        return f"on {span(now_s - on_s)}, not read" if bird.is_on else "off, not read"
    if bird.is_pulled and not unread_spots(bird):
        rests_s = rested_s(bird)
        return f"resting till {clock_text(rests_s, state.zone)}" if rests_s > now_s else "rested"
    age_s = now_s - max(one.at_s for one in bird.readings)
    old = f" {ago(age_s)}" if age_s > STALE_S else ""
    return f"at {degrees(coldest_f, state)}{old}{'' if bird.is_on else ', off'}"


def _fire(state: Cook, now_s: float) -> str:
    """The grill while it still matters to a bird."""
    off = [bird for bird in state.birds if bird.has_been_on]
    if off and not state.cooking:
        return ""
    if not state.fire.readings:
        lit_s = state.fire.lit_s
        return "Grill not read." if lit_s is None else f"Fire lit {ago(now_s - lit_s)}."
    reading = state.fire.readings[-1]
    age_s = now_s - reading.at_s
    old = f" {ago(age_s)}" if age_s > STALE_S else ""
    return f"Grill {degrees(reading.temperature_f, state)}{old}, {in_band(reading, state)}."


def _been_on(state: Cook) -> bool:
    return any(bird.has_been_on for bird in state.birds)


def _dinner(state: Cook) -> str:
    """Dinner as the forecasts have it, else as it was set."""
    at_s = table_of(state)
    off_by_s = abs(at_s - state.serve_s) if at_s is not None and state.serve_s else 0.0
    if at_s is not None and (state.cooking or off_by_s >= STEP_S or not _been_on(state)):
        return f"Dinner about {clock_text(STEP_S * round(at_s / STEP_S), state.zone)}."
    return "" if state.serve_s is None else f"Dinner at {clock_text(state.serve_s, state.zone)}."
