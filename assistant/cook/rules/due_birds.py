"""What is due for the birds: looks, sauce, off and on, rest, carving, leftovers. Pure."""

from dataclasses import replace

from assistant.cook.rules.away import ASKING
from assistant.cook.rules.due_dinner import carve_at_s
from assistant.cook.rules.due_looks import is_done_but_doubted, look_prompts
from assistant.cook.rules.finish import (
    WARN_CHILL_S,
    chill_by_s,
    is_stuck,
    is_waiting,
    rested_s,
    spots_to_read,
)
from assistant.cook.rules.forecasts import forecast_of
from assistant.cook.rules.joint_stop import joins_stop
from assistant.cook.rules.lifting import farther_out, is_asked_about, unread_spots
from assistant.cook.rules.sauces import Window, window
from assistant.cook.rules.trouble import thermometer_is_doubted
from assistant.cook.rules.waiting import needs_no_sauce, sauce_is_due
from assistant.cook.state import BOTH_SPOTS, Bird, Cook
from assistant.cook.vocabulary import prompts as due
from assistant.cook.vocabulary.prompts import Prompt, Urgency
from assistant.heat.bird.evidence import BirdForecast

OTHER_SPOT_S = 60.0
ASK_AGAIN_S = 60.0
REREAD_S = 120.0  # the open question has been dropped by then
OFF_RAW_S = 30 * 60.0  # common practice, no source
UNREAD_S = 120.0  # the read-back has just named the spot
WAITS_S = 20 * 60.0
LAST_CALL_S = 5 * 60.0  # a last call comes no sooner after the first
STOP_S = 10 * 60.0
AT_ONCE_S = 3 * 60.0  # a wait shorter than this is none: the other bird is read at this stop
OUTSIDE_S = 180.0  # the birds farther out are being read
OFF_S = 10 * 60.0  # common practice, no source: off for saucing about ten minutes


def bird_prompts(state: Cook) -> list[Prompt]:
    """Everything due for single birds, then for all of them."""
    forecast = forecast_of(state)
    told = {one.number: one for one in forecast.birds} if forecast is not None else {}
    found = []
    for bird in state.birds:
        unread = _unread(bird)
        if unread is not None:
            found.append(unread)
        elif is_asked_about(state, bird.number):
            continue  # lifted, as told; whether for good is the question
        elif bird.has_been_on and not bird.is_pulled:
            found += _cooking(bird, told.get(bird.number), state)
        elif is_waiting(bird, state) or _waits_for_table(bird, state):
            found.append(_keep_hot(bird, state))
    found = _in_stops(found, told, state)
    return [*found, *_open_question(state), *_doubt(state), *look_prompts(state), *_table(state)]


def sauce_due_s(state: Cook, number: int) -> float | None:
    """When a bird at its sauce mark will be called for sauce, epoch seconds; None: it is
    not. A sweet sauce waits for its window, any for another's stop; one that is due within
    three minutes of another is called for with it."""
    found = [one for one in bird_prompts(state) if isinstance(one.about, due.Sauce)]
    own_s = next((one.due_s for one in found if one.bird == number), None)
    if own_s is None:
        return None
    return min(one.due_s for one in found if own_s - AT_ONCE_S <= one.due_s <= own_s)


def _unread(bird: Bird) -> Prompt | None:
    """A bird that is off at its mark, with a spot unread."""
    if not bird.has_been_on or bird.is_on:
        return None
    off_s = bird.on_heat[-1].end_s or 0.0
    spots = unread_spots(bird)
    if not spots:
        return None
    rests = (f"{off_s:.0f}", str(len(bird.readings)))
    return Prompt(due.Unread(bird.number, spots), rests, "soon", off_s + UNREAD_S)


def _in_stops(found: list[Prompt], told: dict[int, BirdForecast], state: Cook) -> list[Prompt]:
    """One spit, one stop: a sauce that is due waits up to ten minutes for another whose
    window opens then, if its own is still open. A second coat is called for once."""
    opens = {}
    for bird in state.birds:
        one = told.get(bird.number)
        if one is not None and bird.is_on and not needs_no_sauce(bird):
            opens[bird.number] = window(bird, one, state.at_s)
    ready = {one.number for one in state.birds if sauce_is_due(one) and one.sugar != "high"}
    moved = []
    for prompt in found:
        own = opens.get(prompt.bird) if prompt.bird is not None else None
        if isinstance(prompt.about, due.Coat) and _coated_beside(prompt, state):
            continue
        if not isinstance(prompt.about, due.Sauce) or own is None:
            moved.append(prompt)
            continue
        others = [
            one.opens_s
            for number, one in opens.items()
            if number != prompt.bird and number not in ready and one
        ]
        joint_s = max((at_s for at_s in others if at_s <= prompt.due_s + STOP_S), default=0.0)
        waits_s = max(0.0, min(joint_s, own.closes_s) - prompt.due_s)
        due_s = prompt.due_s + (waits_s if waits_s >= AT_ONCE_S else 0.0)
        # Another that may be there is being read: what it reads decides what is said.
        alone = due_s == prompt.due_s and not joins_stop(state, (prompt.bird or 0,))
        moved.append(replace(prompt, due_s=due_s, at_once=prompt.at_once and alone))
    return moved


def _coated_beside(coat: Prompt, state: Cook) -> bool:
    """Whether a second coat was called for other birds since this one was sauced, or a bird
    is done and the spit will be lifted out for it."""
    bird = state.bird(coat.bird) if coat.bird is not None else None
    if bird is None or any(one.is_on and one.is_done for one in state.birds):
        return bird is not None
    said = [one for one in state.prompts if one.said_s]
    if any(one.key == coat.key for one in said):
        return False
    since_s = bird.sauced_s[-1]
    return any(
        due.Key.read(one.key).kind == due.Coat.KIND and one.said_s[-1] > since_s for one in said
    )


def _cooking(bird: Bird, forecast: BirdForecast | None, state: Cook) -> list[Prompt]:
    number = bird.number
    doubted = _reread(bird)
    if not bird.is_on:
        return doubted if is_done_but_doubted(bird) else _off(bird)
    if not bird.readings:
        return []
    read_s = bird.readings[-1].at_s
    if bird.is_done:
        unread = spots_to_read(bird)
        spots = len(BOTH_SPOTS) - len(unread)
        rests = (str(_reached(bird, bird.done_mark_f)), str(spots))
        # The read-back has just asked for the other spot.
        due_s = read_s + OTHER_SPOT_S if unread else read_s
        outside = farther_out(state, (number,))  # then it may wait for those
        urgency: Urgency = "soon" if outside and not unread else "now"
        due_s = max(due_s, read_s + OUTSIDE_S) if urgency == "soon" else due_s
        about = (*rests, *(str(one) for one in outside))
        off = Prompt(due.TakeOff(number), about, urgency, due_s, at_once=due_s == read_s)
        return [replace(off, early=urgency == "now")]
    found = [*doubted, *_sauce(bird, forecast, read_s)]
    if is_stuck(bird):
        seq = (str(bird.readings[-1].seq),)
        found.append(Prompt(due.Stuck(number), seq, "convenient", read_s))
    return found


def _off(bird: Bird) -> list[Prompt]:
    """A bird that is not done belongs back on; off for long, that is said until answered."""
    off_s = bird.on_heat[-1].end_s or 0.0
    rests = (f"{off_s:.0f}",)
    back = Prompt(due.BackOn(bird.number), rests, "soon", off_s + OFF_S)
    long = Prompt(due.OffRaw(bird.number), rests, "now", off_s + OFF_RAW_S, early=False)
    return [long] if bird.off_for_good else [back, long]


def _reread(bird: Bird) -> list[Prompt]:
    """A doubt that nobody settled, where it holds something back: read that spot again."""
    surely_f, coldest_f = bird.surely_f(), bird.coldest_f()
    if not bird.open_doubts or surely_f is None or coldest_f is None:
        return []
    if not any(coldest_f < f <= surely_f for f in (bird.sauce_mark_f, bird.done_mark_f)):
        return []
    doubt = bird.open_doubts[-1]
    about = due.Reread(bird.number, doubt.spot)
    return [Prompt(about, (str(doubt.seq),), "soon", doubt.at_s + REREAD_S)]


def _sauce(bird: Bird, forecast: BirdForecast | None, read_s: float) -> list[Prompt]:
    """Sauce once the mark is read; a sweet one not before its window; a last call."""
    coldest_f = bird.coldest_f()
    if bird.is_plain or bird.sauce is None or coldest_f is None:
        return []
    opens = window(bird, forecast, read_s) if forecast is not None else None
    if bird.sauced_s:
        return _second_coat(bird, opens)
    if coldest_f < bird.sauce_mark_f:
        return []
    due_s = read_s if opens is None or bird.sugar != "high" else max(read_s, opens.opens_s)
    rests = (str(_reached(bird, bird.sauce_mark_f)),)
    found = [Prompt(due.Sauce(bird.number), rests, "soon", due_s, at_once=due_s == read_s)]
    if opens is not None and opens.closes_s > due_s:
        last_s = max(opens.closes_s, due_s + LAST_CALL_S)
        found.append(Prompt(due.SauceLast(bird.number), rests, "now", last_s))
    return found


def _reached(bird: Bird, mark_f: float) -> int:
    """The reading (its place in the journal) from which on all were at the mark."""
    seq = bird.readings[-1].seq
    for one in reversed(bird.readings):
        if one.temperature_f < mark_f:
            break
        seq = one.seq
    return seq


def _second_coat(bird: Bird, opens: Window | None) -> list[Prompt]:
    if opens is None or opens.second_s is None or len(bird.sauced_s) > 1:
        return []
    back_s = bird.on_heat[-1].start_s
    due_s = max(opens.second_s, back_s)
    return [Prompt(due.Coat(bird.number), (f"{bird.sauced_s[-1]:.0f}",), "convenient", due_s)]


def _doubt(state: Cook) -> list[Prompt]:
    """A doubted thermometer that goes on reading birds unchecked."""
    last = max((bird.readings[-1] for bird in state.birds if bird.readings),
               key=lambda one: one.seq, default=None)  # fmt: skip
    if last is None or not state.troubles or not thermometer_is_doubted(state):
        return []
    doubted_s = max(one.at_s for one in state.troubles if one.kind == "thermometer_doubted")
    if last.at_s < doubted_s or not state.cooking:
        return []
    return [Prompt(due.Doubt(), (f"{doubted_s:.0f}",), "convenient", last.at_s)]


def _open_question(state: Cook) -> list[Prompt]:
    """What was asked and is not dropped: how long the program was away, and whether to
    end with a bird on, or off and raw, which is asked until answered."""
    pending = state.pending
    if pending is not None and pending.why in ASKING:
        rests, due_s = (str(pending.seq),), pending.asked_s + ASK_AGAIN_S
        return [Prompt(due.ClockAsked(), rests, "soon", due_s)]
    if pending is not None and pending.why == "below_mark":
        rests, due_s = (str(pending.seq),), pending.asked_s + ASK_AGAIN_S
        return [Prompt(due.LiftAsked(), rests, "soon", due_s, early=False)]
    if pending is None or pending.why != "end_raw":
        return []
    rests, due_s = (f"{pending.asked_s:.0f}",), pending.asked_s + ASK_AGAIN_S
    return [Prompt(due.EndRaw(), rests, "now", due_s, early=False)]


def _keep_hot(bird: Bird, state: Cook) -> Prompt:
    """A rested bird that waits for the others."""
    waits_s = min((one.on_heat[-1].start_s for one in state.cooking), default=_all_rested_s(state))
    rests = (f"{bird.on_heat[-1].start_s:.0f}",)
    return Prompt(due.KeepHot(bird.number), rests, "soon", max(rested_s(bird), waits_s))


def _waits_for_table(bird: Bird, state: Cook) -> bool:
    """Whether all have rested long before dinner wants them carved."""
    if not bird.is_pulled or bird.carved_s is not None or state.cooking or unread_spots(bird):
        return False
    rested = _all_rested_s(state)
    return carve_at_s(state, rested) - rested >= WAITS_S


def _all_rested_s(state: Cook) -> float:
    return max((rested_s(bird) for bird in state.birds if bird.is_pulled), default=0.0)


def _table(state: Cook) -> list[Prompt]:
    """The leftovers, counted from the first bird off; carving once all have rested."""
    found = []
    chill_s = chill_by_s(state)
    if chill_s is not None:
        due_s = chill_s - WARN_CHILL_S
        found.append(Prompt(due.Chill(chill_s), (f"{chill_s:.0f}",), "soon", due_s))
    pulled = [bird for bird in state.birds if bird.is_pulled and not unread_spots(bird)]
    pulled = [bird for bird in pulled if bird.carved_s is None]
    if pulled and not state.cooking:
        rested = max(rested_s(bird) for bird in pulled)
        carve = due.Carve(tuple(bird.number for bird in pulled))
        found.append(Prompt(carve, (f"{rested:.0f}",), "soon", carve_at_s(state, rested)))
    return found
