"""Dinner as it stands: the plan before the birds go on, the forecasts after. Pure."""

from functools import lru_cache

from assistant.cook.kinds import kind_of
from assistant.cook.planning.plan import (
    LIGHT_S,
    SETTLE_S,
    Grill,
    Plan,
    PlannedBird,
    carve_s,
    plan,
)
from assistant.cook.rules.finish import rested_s
from assistant.cook.rules.forecasts import evidence_of, evidence_time, fire_of, forecast_of
from assistant.cook.rules.standing import (
    TELL_S,
    Standing,
    is_really_late,
    standing,
    worth_telling,
)
from assistant.cook.state import Bird, Cook, PromptRecord
from assistant.cook.vocabulary import prompts as due
from assistant.cook.vocabulary.prompts import Prompt
from assistant.heat.bird.evidence import Quantiles
from assistant.heat.degrees import celsius

ON_SPIT = 8
APART_S = 600.0  # dinner is not spoken of more often
MOVES_S = 1800.0  # what an unlit fire moves dinner by before that is said again
TO_S = 300.0
HEATS_UP_S = LIGHT_S[1] + SETTLE_S[0]  # from the match to a grill fit for birds


def planned(bird: Bird) -> PlannedBird:
    """Return a bird as the plan sees it; nobody said its weight: the kind's usual."""
    mass_kg = bird.mass_kg if bird.mass_kg is not None else kind_of(bird.kind).typical_kg
    return PlannedBird(bird.number, mass_kg, bird.kind, sauced=not bird.is_plain, sugar=bird.sugar)


def plan_of(state: Cook) -> Plan | None:
    """Return the timetable while no bird has been on; None without a serving time or
    without any idea of the birds."""
    if state.serve_s is None or any(bird.has_been_on for bird in state.birds):
        return None
    numbers = range(1, state.tonight + 1)
    birds = tuple(planned(state.bird(n) or Bird(n, kind=state.kind)) for n in numbers)
    if not birds:
        return None
    middle_c = celsius((state.fire.band_low_f + state.fire.band_high_f) / 2)
    try:
        grill = Grill(middle_c, state.outside_f, ON_SPIT, state.kitchen, state.heat)
        return _plan(state.serve_s, birds, grill)
    except ValueError:  # a bird that is never done at this band has no plan
        return None


@lru_cache(maxsize=8)
def _plan(serve_s: float, birds: tuple[PlannedBird, ...], grill: Grill) -> Plan:
    return plan(serve_s, birds, grill)


def standing_of(state: Cook) -> Standing | None:
    """Return where dinner stands: by the plan before the birds are on, by the live
    forecasts after. None while it cannot be told: without a serving time or a reading,
    or while a bird of tonight has not been on."""
    if not any(bird.has_been_on for bird in state.birds):
        return _by_plan(state)
    waiting = state.tonight > sum(bird.has_been_on for bird in state.birds)
    if state.serve_s is None or waiting or not state.cooking:
        return None
    if not any(bird.readings for bird in state.birds):
        return None
    forecast = forecast_of(state)
    if forecast is None:
        return None
    done = {one.number: one.done for one in forecast.birds}
    rows = [(planned(bird), done[bird.number]) for bird in state.cooking if bird.number in done]
    return standing(state.serve_s, rows)


def table_of(state: Cook) -> float | None:
    """Return when dinner can be on the table, epoch seconds: by the forecasts; once all are
    off, after their rest and carving; None while that cannot be told."""
    stands = standing_of(state)
    if stands is not None:
        return stands.table.q50
    pulled = [bird for bird in state.birds if bird.is_pulled and bird.carved_s is None]
    if state.cooking or not pulled or state.serve_s is None:
        return None
    rested = max(rested_s(bird) for bird in pulled)
    return max(carve_at_s(state, rested), state.at_s) + carve_s([planned(one) for one in pulled])


def _by_plan(state: Cook) -> Standing | None:
    """Return where dinner stands if the birds go on as soon as the grill can be ready."""
    timetable = plan_of(state)
    on = timetable.moment("birds_on") if timetable is not None else None
    if on is None or state.serve_s is None:
        return None
    ready_s = (state.at_s if state.fire.lit_s is None else state.fire.lit_s) + HEATS_UP_S
    if state.fire.readings:
        ready_s = state.at_s
    late_s = max(ready_s, state.at_s) - on.likely_s
    if late_s <= 0.0:
        return None
    table_s = state.serve_s + late_s
    return Standing(Quantiles(table_s, table_s, table_s), late_s, on.birds[0])


def told_late_s(state: Cook) -> float | None:
    """Return the lateness the cook was last told, against the serving time as it is
    now, seconds; None: nothing was told. Putting dinner back by itself moves nothing."""
    told = [(record.said_s[-1], float(key.rests[0])) for key, record in _told(state) if key.rests]
    return max(told)[1] - (state.serve_s or 0.0) if told else None


def _told(state: Cook) -> list[tuple[due.Key, PromptRecord]]:
    """What was said of dinner moving, and when."""
    known = ((due.Key.read(one.key), one) for one in state.prompts if one.said_s)
    kinds = {due.DinnerMoved.KIND, due.LightDue.KIND}
    return [(key, one) for key, one in known if key.kind in kinds]


def dinner_prompts(state: Cook) -> list[Prompt]:
    """Dinner moved by enough to matter, and surely. Before the birds are on nothing is
    late: the plan moves."""
    stands = standing_of(state)
    if stands is None or state.serve_s is None or not any(b.is_on for b in state.birds):
        return []  # none on yet: the plan moves; all off: that is what is said
    as_of_s = evidence_time(evidence_of(state))
    if as_of_s is None:
        as_of_s = state.at_s
    told_s = told_late_s(state)
    if not worth_telling(stands.late_s, told_s):
        return []
    if stands.late_s > 0.0 and not is_really_late(stands, state.serve_s):
        return []
    if stands.late_s < 0.0 and told_s is None and any(bird.is_pulled for bird in state.birds):
        return []  # early, with the first bird resting already: nothing to be done about it
    due_s = max(as_of_s, _last_told_s(state) + APART_S)
    late_min = 5 * round(stands.late_s / 300.0)
    sooner = told_s is not None and stands.late_s < told_s
    moved = due.DinnerMoved(late_min, stands.table, _fire_can_help(state), sooner)
    table_s = state.serve_s + 60.0 * late_min
    return [Prompt(moved, (f"{table_s:.0f}",), "soon", due_s)]


def _last_told_s(state: Cook) -> float:
    return max((one.said_s[-1] for _, one in _told(state)), default=float("-inf"))


def _fire_can_help(state: Cook) -> bool:
    """Whether a vent opened could do something about a late dinner."""
    fire = fire_of(state, state.at_s)
    roasting = any(bird.is_on and not bird.is_done for bird in state.birds)
    if fire is None or not state.fire.readings or not roasting:
        return False
    if fire.advice is not None and fire.advice.action == "open":
        return True
    return state.fire.readings[-1].temperature_f < state.fire.band_low_f


def evening_prompts(state: Cook) -> list[Prompt]:
    """What comes before the birds: the readiness list, lighting, putting them on."""
    timetable = plan_of(state)
    if timetable is None:
        return []
    found = []
    readiness, light = timetable.moment("readiness"), timetable.moment("light")
    on = timetable.moment("birds_on")
    lit = state.fire.lit_s is not None or bool(state.fire.readings)
    if state.readiness is None and not lit and readiness is not None:
        found.append(Prompt(due.ListDue(), (), "convenient", readiness.likely_s))
    if not lit and light is not None:
        table_s = _moved_table_s(state)
        rests = () if table_s is None else (f"{_told_table_s(state, table_s):.0f}",)
        found.append(Prompt(due.LightDue(table_s), rests, "soon", light.likely_s))
    if lit and on is not None:
        due_s = max(on.likely_s, (state.fire.lit_s or 0.0) + HEATS_UP_S)
        found.append(Prompt(due.BirdsOnDue(on.birds), (), "soon", due_s))
    return found


def _told_table_s(state: Cook, table_s: float) -> float:
    """The time dinner was last said to move to, while it has moved by less than half an
    hour since: that is not said again; else the time it moves to now."""
    told = [(one.said_s[-1], float(key.rests[0])) for key, one in _told(state)
            if key.kind == due.LightDue.KIND and key.rests]  # fmt: skip
    if told and abs(table_s - max(told)[1]) < MOVES_S:
        return max(told)[1]
    return TO_S * round(table_s / TO_S)


def _moved_table_s(state: Cook) -> float | None:
    """When dinner can be, where the fire is lit too late for the serving time."""
    stands = standing_of(state)
    return None if stands is None or stands.late_s < TELL_S else stands.table.q50


def carve_at_s(state: Cook, rested_s: float) -> float:
    """Return when to carve: rested, and no sooner than the table wants it."""
    if state.serve_s is None:
        return rested_s
    birds = [planned(bird) for bird in state.birds if bird.is_pulled]
    return max(rested_s, state.serve_s - carve_s(birds)) if birds else rested_s
