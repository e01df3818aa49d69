"""What is due for the fire: the lid, the rare word about charcoal or a vent, a reading. Pure."""

from assistant.cook.rules.forecasts import fire_of
from assistant.cook.rules.trouble import is_open
from assistant.cook.state import Cook, PromptRecord
from assistant.cook.vocabulary import prompts as due
from assistant.cook.vocabulary.prompts import Key, Prompt
from assistant.heat.fire.advice import WORD_APART_S
from assistant.heat.fire.suggest import Action, Advice

FRESH_S = 15 * 60.0  # advice rests on the dial as it is now
TOLD_S = 10 * 60.0  # to tell how the vents stand, before anything else is said
SETTLES_S = 20 * 60.0  # what was done has to show before the same is asked again
LID_S = 3 * 60.0
FIRST_GRILL_S = 25 * 60.0  # after lighting: coals ash over in 15 to 30 min
ON_GRILL_S = 12 * 60.0  # after the first bird went on, where nobody ever read the dial
OUT_GRILL_S = 20 * 60.0  # after a dial out of its band
GRILL_S, GRILL_STEADY_S = 40 * 60.0, 80 * 60.0  # soonest and latest, in the band
AHEAD_S = 10 * 60.0  # read it before the fire is likely to leave its band


def fire_prompts(state: Cook) -> list[Prompt]:
    """Everything due for the fire; nothing once every bird has come off."""
    found = _lid(state)
    any_on = any(bird.has_been_on for bird in state.birds)
    if any_on and not state.cooking:
        return found
    return [*found, *_advice(state), *_dial(state)]


def _lid(state: Cook) -> list[Prompt]:
    fire = state.fire
    if not fire.lid_is_off or not any(bird.is_on for bird in state.birds):
        return []
    since_s = fire.lid_open[-1].start_s
    return [Prompt(due.LidOpen(), (f"{since_s:.0f}",), "now", since_s + LID_S, early=False)]


def suggested(state: Cook, now_s: float) -> Advice | None:
    """What the board may suggest for the fire at `now_s`: on a fresh dial with the lid on,
    until the last bird is off. Shown to who looks, never said unasked."""
    fire = state.fire
    fresh = bool(fire.readings) and now_s - fire.readings[-1].at_s < FRESH_S
    over = any(bird.has_been_on for bird in state.birds) and not state.cooking
    burns = is_open(state, "flare_up")
    if not state.is_running or not fresh or over or fire.lid_is_off or burns:
        return None
    forecast = fire_of(state, now_s)
    return forecast.suggestion if forecast is not None else None


def _advice(state: Cook) -> list[Prompt]:
    """What of it is worth a word: said once, one an hour, never while the last such word is
    unanswered."""
    fire = state.fire
    if suggested(state, state.at_s) is None or not state.cooking:
        return []
    forecast = fire_of(state, state.at_s)
    advice = forecast.advice if forecast is not None else None
    if advice is None:
        return []
    read_s = fire.readings[-1].at_s
    if advice.action == "ask":
        return [Prompt(due.VentsUntold(), (), "convenient", read_s)]
    about, rests = _about(advice), _rests(state, advice.action)
    due_s = max([read_s, *(at_s + TOLD_S for at_s in _asked_s(state))])
    word = Prompt(about, rests, "convenient", due_s)
    if _words_said(state) and not _is_said(state, word):
        last_s = max(one.said_s[-1] for one in _words_said(state))
        unanswered = _unanswered(state, hot=advice.side == "hot")
        if unanswered is not None or state.at_s - last_s < WORD_APART_S:
            return []
    return [word]


def _words_said(state: Cook) -> list[PromptRecord]:
    kinds = (due.TurnVent.KIND, due.Refuel.KIND)
    return [one for one in state.prompts if one.said_s and Key.read(one.key).kind in kinds]


def _is_said(state: Cook, word: Prompt) -> bool:
    """It stands as said, for "done" to settle."""
    return word.key in [one.key for one in _words_said(state)]


def _about(advice: Advice) -> due.Refuel | due.TurnVent:
    match advice.action:
        case "open" | "close":
            return due.TurnVent(advice.action, advice.by, advice.at_s)
        case _:
            return due.Refuel(advice.count, advice.at_s)


def _rests(state: Cook, action: Action) -> tuple[str, ...]:
    """What was done about it makes a new key; so does a dial read twenty minutes after
    "got it", by when it would have shown."""
    fire, last = state.fire, state.fire.readings[-1]
    if action == "add":
        kind, rests = due.Refuel.KIND, (str(len(fire.fuel)), f"{_fed_s(state):.0f}")
    else:
        kind, rests = due.TurnVent.KIND, (action, str(len(fire.vents)))
    key = Key(kind, None, rests).text
    answered_s = next((one.acknowledged_s for one in state.prompts if one.key == key), None)
    if answered_s is not None and last.at_s > answered_s + SETTLES_S:
        return (*rests, str(last.seq))
    return rests


def _unanswered(state: Cook, *, hot: bool) -> PromptRecord | None:
    """The last word that side since anything was done with the fire, if nobody answered."""
    done_s = max([_fed_s(state), *(moved.at_s for moved in state.fire.vents)])
    said = [one for one in _words_said(state) if _closes(Key.read(one.key)) == hot]
    last = max(said, key=lambda one: one.said_s[-1], default=None)
    if last is None or last.acknowledged_s is not None or last.said_s[-1] < done_s:
        return None
    return last


def _closes(key: Key) -> bool:
    return key.kind == due.TurnVent.KIND and key.rests[:1] == ("close",)


def _fed_s(state: Cook) -> float:
    return max((one.at_s for one in state.fire.fuel), default=0.0)


def _asked_s(state: Cook) -> list[float]:
    """When the cook was asked how the vents stand and has not told since."""
    if state.fire.vents:
        return []
    return [
        one.said_s[-1] for one in state.prompts if one.key == due.VentsUntold.KIND and one.said_s
    ]


def _dial(state: Cook) -> list[Prompt]:
    """Ask for the grill's temperature where nobody told it and it may have changed; not
    with the lid off, when the dial tells nothing."""
    fire = state.fire
    if fire.lid_is_off:
        return []
    if fire.readings:
        if all(bird.is_done for bird in state.cooking):
            return []
        due_s = _read_again_s(state)
    elif state.cooking:
        due_s = min(bird.on_heat[0].start_s for bird in state.cooking) + ON_GRILL_S
    elif fire.lit_s is not None:
        due_s = fire.lit_s + FIRST_GRILL_S
    else:
        return []
    seq = fire.readings[-1].seq if fire.readings else 0
    return [Prompt(due.GrillUnread(), (str(seq),), "convenient", due_s)]


def _read_again_s(state: Cook) -> float:
    """Soon where it was out of its band; in it, before it is likely to leave."""
    last, fire = state.fire.readings[-1], state.fire
    if not fire.band_low_f <= last.temperature_f <= fire.band_high_f:
        return last.at_s + OUT_GRILL_S
    forecast = fire_of(state, state.at_s)
    leaves_s = forecast.leaves.q50 if forecast is not None else None
    steady_s = last.at_s + GRILL_STEADY_S
    if leaves_s is None:
        return steady_s
    return min(max(leaves_s - AHEAD_S, last.at_s + GRILL_S), steady_s)
