"""What is worth an open lid: the next look, and the birds that are read at it. Pure.

The birds share a spit and a lid: looks at several of them within minutes of each other
are one.
"""

from dataclasses import replace

from assistant.cook.rules.finish import spots_to_read
from assistant.cook.rules.forecasts import forecast_of
from assistant.cook.rules.lifting import farther_out
from assistant.cook.rules.waiting import needs_no_sauce, next_mark, sauce_is_due
from assistant.cook.state import Bird, Cook
from assistant.cook.vocabulary.prompts import Key, LookDue, Prompt, SauceLast, Urgency
from assistant.heat.bird.evidence import BirdForecast, Look

BRUSHED_S = 3 * 60.0  # a bird was sauced so lately: the cook is at the spit with the brush
AGAIN_S = 5 * 60.0  # a bird just read, or just put back on, is not read again at once
BOTH_S = 20 * 60.0
ONE_LID_S = 10 * 60.0  # looks this close are one, as in the plan
WAITS_S = 3 * 60.0  # the first of them is put off by this much at most for the others
MARKS = {"done", "sauce"}  # what a look may be for; others only narrow the forecast


def look_prompts(state: Cook) -> list[Prompt]:
    """The next look, one prompt for each bird that it is for, all due at once."""
    forecast = forecast_of(state)
    if forecast is None or forecast.look is None:
        return []
    told = {one.number: one for one in forecast.birds}
    found = (_of_bird(one, told, state) for one in (forecast.look, *forecast.others))
    looks = sorted((one for one in found if one is not None), key=lambda one: one.due_s)
    return _at_one_lid(looks, state) if looks else []


def _at_one_lid(looks: list[Prompt], state: Cook) -> list[Prompt]:
    """The looks within ten minutes of the first, when it is best for all of them: at most
    three minutes after the first, which is the one that may overrun its mark. A first
    reading is taken of every bird that has none."""
    near = [one for one in looks if one.due_s - looks[0].due_s <= ONE_LID_S]
    if _is_first(looks[0]):
        here = [replace(one, due_s=min(one.due_s, near[-1].due_s)) for one in looks
                if one in near or _is_first(one)]  # fmt: skip
    else:
        here = near
    gap_s = here[-1].due_s - here[0].due_s
    joint_s = here[0].due_s + min(gap_s / 2, WAITS_S)
    told_s = _asked_s(here, state)
    called = [one.key for one in here if one.key in told_s]
    # One that was asked for and not read yet is asked for again together with the others.
    rest_s = max([joint_s, *(told_s[key] + ONE_LID_S for key in called)])
    timed = [replace(one, due_s=joint_s if one.key in told_s else rest_s) for one in here]
    return _for_marks(timed, state)


def _for_marks(looks: list[Prompt], state: Cook) -> list[Prompt]:
    """Where one of the birds is read for a mark, so are those that come along."""
    if not any(one.about.reason in MARKS for one in looks if isinstance(one.about, LookDue)):
        return looks
    return [_for_its_mark(one, state) for one in looks]


def _for_its_mark(look: Prompt, state: Cook) -> Prompt:
    bird = state.bird(look.bird) if look.bird is not None else None
    if bird is None or not isinstance(look.about, LookDue) or look.about.reason in MARKS:
        return look
    return replace(look, about=LookDue(bird.number, next_mark(bird)), urgency="soon")


def _is_first(look: Prompt) -> bool:
    return isinstance(look.about, LookDue) and look.about.reason == "first"


def _asked_s(looks: list[Prompt], state: Cook) -> dict[str, float]:
    """When each of the looks that were asked for was asked for last."""
    keys = {one.key for one in looks}
    return {one.key: one.said_s[-1] for one in state.prompts if one.said_s and one.key in keys}


def _of_bird(look: Look, told: dict[int, BirdForecast], state: Cook) -> Prompt | None:
    """The look at one bird; None: it is off, done, or waits for its sauce."""
    bird = state.bird(look.bird)
    if bird is None or not bird.is_on or bird.is_done or is_done_but_doubted(bird):
        return None
    if bird.number in waited_for(state):
        return None  # the call to take the other off names it
    last = bird.readings[-1] if bird.readings else None
    called_last = bird.number in last_called(state)
    if last is not None and sauce_is_due(bird) and not called_last:
        return None
    look = _for_one_mark(look, told.get(look.bird), bird, called_last=called_last)
    due_s = look.at_s if last is None else max(look.at_s, last.at_s + AGAIN_S)
    if look.reason == "sauce":
        brushed_s = (at_s + BRUSHED_S for one in state.birds for at_s in one.sauced_s)
        due_s = max(due_s, max(brushed_s, default=due_s))
    if len(bird.on_heat) > 1:
        due_s = max(due_s, bird.on_heat[-1].start_s + AGAIN_S)
    urgency: Urgency = "soon" if look.reason in MARKS else "convenient"
    rests = (str(last.seq if last is not None else 0),)
    return Prompt(LookDue(look.bird, look.reason), rests, urgency, due_s)


def last_called(state: Cook) -> frozenset[int | None]:
    """Return the birds whose sauce was called for the last time: what comes then is done."""
    said = (Key.read(one.key) for one in state.prompts if one.said_s)
    return frozenset(key.bird for key in said if key.kind == SauceLast.KIND)


def _for_one_mark(
    look: Look, forecast: BirdForecast | None, bird: Bird, *, called_last: bool
) -> Look:
    """The look at a bird's own next mark: a bird that gets no sauce, or
    was called for it for the last time, is not read for it, and
    a reading that would settle a lot, and one for a mark soon after, are one."""
    if forecast is None or look.reason not in {"sauce", "spread"}:
        return look
    plain = needs_no_sauce(bird) or called_last
    at_s = forecast.done.q10 if plain else forecast.sauce.q10
    if at_s is None:
        return look
    if look.reason == "sauce":
        return Look(look.bird, at_s, "done") if plain else look
    if at_s - look.at_s > BOTH_S:
        return look
    return Look(look.bird, max(look.at_s, at_s), "done" if plain else "sauce")


def waited_for(state: Cook) -> tuple[int, ...]:
    """Return the birds farther out than one that is done at both spots and waits for them."""
    done = [bird for bird in state.birds if bird.is_on and bird.is_done]
    ready = [bird.number for bird in done if not spots_to_read(bird)]
    return farther_out(state, ready) if ready else ()


def is_done_but_doubted(bird: Bird) -> bool:
    """Return whether only readings in doubt keep the bird from its done mark."""
    surely_f = bird.surely_f()
    return bool(bird.open_doubts) and surely_f is not None and surely_f >= bird.done_mark_f
