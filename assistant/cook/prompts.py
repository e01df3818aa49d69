"""What is due, computed from the state, so that nothing is lost on a restart. Pure.

A prompt's key names the thing that is due and the facts it rests on (how many
readings the bird had, which fuel came last): a new fact makes a new key, so an
old prompt falls silent by itself and nothing is said that the cook just did.
"""

from dataclasses import dataclass, field
from typing import Literal

from assistant.cook.forecasts import forecast_of
from assistant.cook.state import Bird, Cook, PromptRecord

Urgency = Literal["now", "soon", "convenient"]

NOW_REPEATS_S = (60.0, 180.0, 300.0)  # after the first saying; then every five minutes
SOON_REPEATS_S = (300.0,)
REFUEL_S = 40 * 60.0  # common practice, no source: a kettle wants charcoal about every 40 min
LID_S = 3 * 60.0
OFF_S = 10 * 60.0  # common practice, no source: off for saucing about ten minutes


@dataclass(frozen=True, slots=True)
class Prompt:
    """Something due at `due_s` (epoch seconds). `kind` picks its sentence."""

    key: str
    kind: str
    urgency: Urgency
    due_s: float
    bird: int | None = None
    facts: dict[str, object] = field(default_factory=dict, hash=False)


def prompts(state: Cook) -> tuple[Prompt, ...]:
    """All that is or will be due as things stand, soonest first."""
    if not state.is_running:
        return ()
    found = [*_bird_prompts(state), *_look(state), *_fire_prompts(state), *_timers(state)]
    return tuple(sorted(found, key=lambda one: (one.due_s, one.key)))


def due(state: Cook, now_s: float) -> tuple[Prompt, ...]:
    """The prompts to say now: first time, or again because nobody answered."""
    ready = ((one, _say_s(state, one)) for one in prompts(state))
    return tuple(one for one, say_s in ready if say_s is not None and say_s <= now_s)


def next_due(state: Cook) -> float | None:
    """When the next prompt is to be said, epoch seconds; None if nothing is."""
    times = [say_s for one in prompts(state) if (say_s := _say_s(state, one)) is not None]
    return min(times, default=None)


def open_keys(state: Cook, now_s: float) -> tuple[str, ...]:
    """Keys said, still standing, and not yet acknowledged."""
    standing = {one.key for one in prompts(state) if one.due_s <= now_s}
    return tuple(
        one.key
        for one in state.prompts
        if one.said_s and one.acknowledged_s is None and one.key in standing
    )


def _say_s(state: Cook, prompt: Prompt) -> float | None:
    """When this prompt is next to be said; None if it has been said enough."""
    record = next((one for one in state.prompts if one.key == prompt.key), PromptRecord(""))
    if record.acknowledged_s is not None:
        return None
    if record.snoozed_until_s is not None and (
        not record.said_s or record.said_s[-1] < record.snoozed_until_s
    ):
        return record.snoozed_until_s
    if not record.said_s:
        return prompt.due_s
    return _repeat_s(prompt.urgency, record.said_s)


def _repeat_s(urgency: Urgency, said_s: tuple[float, ...]) -> float | None:
    repeats = {"now": NOW_REPEATS_S, "soon": SOON_REPEATS_S, "convenient": ()}[urgency]
    times = len(said_s)
    if times <= len(repeats):
        return said_s[0] + repeats[times - 1]
    return said_s[-1] + NOW_REPEATS_S[-1] if urgency == "now" else None


def _bird_prompts(state: Cook) -> list[Prompt]:
    found = []
    for bird in state.birds:
        if not bird.has_been_on or bird.is_pulled or not (bird.readings or not bird.is_on):
            continue
        if bird.is_on and bird.is_done:
            at_s = bird.readings[-1].at_s
            key = f"take_off:{bird.number}:{len(bird.on_heat)}"
            found.append(Prompt(key, "take_off", "now", at_s, bird.number))
        elif bird.is_on and _wants_sauce(bird):
            at_s = bird.readings[-1].at_s
            found.append(Prompt(f"sauce:{bird.number}", "sauce", "soon", at_s, bird.number))
        elif not bird.is_on and not bird.is_done:
            off_s = bird.on_heat[-1].end_s or 0.0
            key = f"back_on:{bird.number}:{len(bird.on_heat)}"
            found.append(Prompt(key, "back_on", "soon", off_s + OFF_S, bird.number))
    return found


def _wants_sauce(bird: Bird) -> bool:
    coldest = bird.coldest_f()
    if bird.is_plain or bird.sauced_s or bird.sauce is None or coldest is None:
        return False
    return coldest >= bird.sauce_mark_f


def _look(state: Cook) -> list[Prompt]:
    """The next reading that is worth an open lid."""
    if not any(bird.is_on and not bird.is_done for bird in state.birds):
        return []
    forecast = forecast_of(state)
    if forecast is None or forecast.look is None:
        return []
    look = forecast.look
    bird = state.bird(look.bird)
    readings = len(bird.readings) if bird else 0
    urgency: Urgency = "soon" if look.reason in {"done", "sauce"} else "convenient"
    return [
        Prompt(
            f"look:{look.bird}:{readings}", "look", urgency, look.at_s, look.bird,
            {"reason": look.reason},
        )
    ]  # fmt: skip


def _fire_prompts(state: Cook) -> list[Prompt]:
    fire, found = state.fire, []
    if fire.lid_is_off and any(bird.is_on for bird in state.birds):
        since_s = fire.lid_open[-1].start_s
        found.append(Prompt(f"lid:{since_s:.0f}", "lid", "now", since_s + LID_S))
    fed_s = max((one.at_s for one in fire.fuel), default=fire.lit_s)
    if fed_s is None:
        fed_s = min((bird.on_heat[0].start_s for bird in state.birds if bird.on_heat), default=None)
    if fed_s is not None and any(not bird.is_pulled for bird in state.birds):
        key = f"refuel:{len(fire.fuel)}"
        found.append(Prompt(key, "refuel", "soon", fed_s + REFUEL_S))
    return found


def _timers(state: Cook) -> list[Prompt]:
    return [
        Prompt(f"timer:{one.number}", "timer", "now", one.due_s, None, {"name": one.name})
        for one in state.timers
    ]


def late_by(prompt: Prompt, now_s: float) -> float:
    """Seconds by which a prompt is said after it fell due."""
    return max(0.0, now_s - prompt.due_s)
