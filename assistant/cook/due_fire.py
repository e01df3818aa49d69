"""What is due for the fire: the lid, charcoal ahead of need, a vent, a reading. Pure."""

from assistant.cook import prompt as due
from assistant.cook.forecasts import fire_of
from assistant.cook.prompt import Prompt, Urgency
from assistant.cook.state import Cook

REFUEL_S = 40 * 60.0  # common practice, no source: without a dial, feed about every 40 min
WORTH = 6  # briquettes; fewer are not worth an interruption
CATCHES_S = 20 * 60.0  # what just went on has to show first
FRESH_S = 10 * 60.0  # a vent is turned on a fresh reading only
FLARE_S = 15 * 60.0  # "vents nearly shut" stands for so long
LID_S = 3 * 60.0
GRILL_S = 40 * 60.0  # an older reading says little about now
FIRST_GRILL_S = 25 * 60.0  # after lighting: coals ash over in 15 to 30 min
ON_GRILL_S = 12 * 60.0  # after the first bird went on, where nobody ever read the dial


def fire_prompts(state: Cook) -> list[Prompt]:
    """Everything due for the fire; nothing once every bird has come off."""
    found = _lid(state)
    any_on = any(bird.has_been_on for bird in state.birds)
    if any_on and not state.cooking:
        return found
    return [*found, *_fuel_and_vents(state), *_dial(state)]


def _lid(state: Cook) -> list[Prompt]:
    fire = state.fire
    if not fire.lid_is_off or not any(bird.is_on for bird in state.birds):
        return []
    since_s = fire.lid_open[-1].start_s
    return [Prompt(due.LidOpen(), (f"{since_s:.0f}",), "now", since_s + LID_S, early=False)]


def _fuel_and_vents(state: Cook) -> list[Prompt]:
    fire = state.fire
    if not fire.readings:
        return _by_the_clock(state)
    forecast = fire_of(state, state.at_s)
    if forecast is None:
        return []
    found = []
    if forecast.add is not None and state.cooking and forecast.add.count >= WORTH:
        about = due.Refuel(forecast.add.count, forecast.leaves)
        fed_s = max((one.at_s for one in fire.fuel), default=0.0)
        due_s = max(forecast.add.at_s, fed_s + CATCHES_S)
        found.append(Prompt(about, _fuel_rests(state), "soon", due_s))
    last = fire.readings[-1]
    fresh = state.at_s - last.at_s < FRESH_S
    advised = any(
        one.kind == "flare_up" and state.at_s - one.at_s < FLARE_S for one in state.troubles
    )
    if forecast.vents is not None and fresh and not fire.lid_is_off and not advised:
        turn = forecast.vents
        in_band = fire.band_low_f <= last.temperature_f <= fire.band_high_f
        urgency: Urgency = "convenient" if in_band else "soon"
        found.append(
            Prompt(due.TurnVent(turn.direction, turn.opening), (turn.direction, str(last.seq)),
                   urgency, last.at_s)
        )  # fmt: skip
    return found


def _by_the_clock(state: Cook) -> list[Prompt]:
    """Without any reading of the dial: feed it by plain interval."""
    fed_s = max((one.at_s for one in state.fire.fuel), default=state.fire.lit_s)
    if fed_s is None:
        fed_s = min((bird.on_heat[0].start_s for bird in state.birds if bird.on_heat), default=None)
    if fed_s is None or not state.cooking:
        return []
    return [Prompt(due.Refuel(), _fuel_rests(state), "soon", fed_s + REFUEL_S)]


def _fuel_rests(state: Cook) -> tuple[str, ...]:
    """New charcoal makes a new key; so does a dial under its band after it was said."""
    fire = state.fire
    fed_s = max((one.at_s for one in fire.fuel), default=0.0)
    rests = (str(len(fire.fuel)), f"{fed_s:.0f}")
    key = due.Key("refuel", None, rests).text
    told_s = next((one.said_s[-1] for one in state.prompts if one.key == key and one.said_s), None)
    low = [one for one in fire.readings[-1:] if one.temperature_f < fire.band_low_f]
    if told_s is not None and low and low[0].at_s > told_s:
        return (*rests, str(low[0].seq))
    return rests


def _dial(state: Cook) -> list[Prompt]:
    """Ask for the grill's temperature where nobody told it for long."""
    fire = state.fire
    if fire.readings:
        due_s = fire.readings[-1].at_s + GRILL_S
        if not state.cooking:
            return []
    elif state.cooking:
        due_s = min(bird.on_heat[0].start_s for bird in state.cooking) + ON_GRILL_S
    elif fire.lit_s is not None:
        due_s = fire.lit_s + FIRST_GRILL_S
    else:
        return []
    seq = fire.readings[-1].seq if fire.readings else 0
    return [Prompt(due.GrillUnread(), (str(seq),), "convenient", due_s)]
