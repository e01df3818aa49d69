"""What is said unasked, because it is due: one sentence for what comes together."""

from collections.abc import Sequence

from assistant.cook.clocktimes import clock_text
from assistant.cook.guidance import HOT_HELD_F
from assistant.cook.rules.joint_stop import joins_stop
from assistant.cook.rules.lifting import farther_out
from assistant.cook.rules.sauces import brush_is_raw
from assistant.cook.rules.standing import EARLY_S
from assistant.cook.state import Bird, Cook
from assistant.cook.vocabulary import prompts as due
from assistant.cook.vocabulary.prompts import Prompt
from assistant.sentences.asking import open_question
from assistant.sentences.describe import bird_spot
from assistant.sentences.fire_words import fed, turned
from assistant.sentences.leftovers import leftovers
from assistant.sentences.lifting import not_read
from assistant.sentences.looking import looks
from assistant.sentences.phrasing import birds, capital, degrees, listed, span
from assistant.sentences.spell import Sentence, sentence
from assistant.sentences.stops import last_call, sauce, take_off

MOST_NAMED = 4  # birds named one by one
EARLY_MIN = EARLY_S / 60.0
ANOTHER_DAY_MIN = 12 * 60
FOIL_MIN = 60  # a chicken under foil stays above 140 F for about 80 min (`turnspit plan`)


def prompt(
    prompts: tuple[Prompt, ...], state: Cook, now_s: float, *, late_s: float = 0.0
) -> Sentence:
    """One sentence for all `prompts`, most urgent first, opened by how late it is."""
    off = [one.bird for one in prompts if one.kind == "take_off" and one.bird is not None]
    sauced = [one.bird for one in prompts if one.kind == "sauce" and one.bird is not None]
    named = (*(farther_out(state, off) if off else ()), *joins_stop(state, sauced))
    last_call = {one.bird for one in prompts if one.kind == "sauce_last"}
    kinds: dict[str, list[Prompt]] = {}
    for one in prompts:
        if one.kind == "sauce" and last_call:
            if one.bird not in last_call:  # the same stop does for it
                kinds.setdefault("sauce_last", []).append(one)
            continue
        if one.kind == "look" and one.bird in named:
            continue  # the bird is named with the one that waits for it
        kinds.setdefault(one.kind, []).append(one)
    ordered = sorted(kinds.values(), key=lambda some: some[0].kind == "back_on")  # sauced first
    texts = [_text(tuple(some), state, now_s) for some in ordered]
    opened = f"{capital(span(late_s))} late. " if late_s > 0.0 else ""
    return sentence(opened + " ".join(texts))


def short(some: Sequence[Prompt]) -> str:
    """What is to be done, in a few words, for "what's next": prompts of one kind as one."""
    about = some[0].about
    if isinstance(about, due.TimerUp) and about.name:
        return f"{about.name} timer"
    return short_of(some[0].kind, *(one.bird for one in some if one.bird is not None))


def short_of(kind: str, *numbers: int) -> str:
    """The same of prompts whose kind and birds are all that is known."""
    known = SHORT.get(kind)
    if known is None:
        return kind.replace("_", " ")
    return known.format(birds=birds(numbers)) if numbers else known


def timer_names(prompts: Sequence[Prompt]) -> list[str]:
    """The names of those timers among the prompts that have one."""
    return [one.about.name for one in prompts
            if isinstance(one.about, due.TimerUp) and one.about.name]  # fmt: skip


def _text(prompts: tuple[Prompt, ...], state: Cook, now_s: float) -> str:
    """One sentence for prompts of one kind."""
    about = prompts[0].about
    if isinstance(about, due.OfBird):
        return _of_birds(about, prompts, state, now_s)
    match about:
        case due.LidOpen():
            return _lid(state, now_s)
        case due.Refuel(count, out_s):
            return fed(count, out_s, now_s)
        case due.TurnVent(direction, by, out_s):
            return turned(direction, by, out_s, now_s)
        case due.VentsUntold():
            return "How far open are the vents, bottom and top?"
        case due.GrillUnread():
            return "What does the grill read?"
        case due.TimerUp():
            return _timers(timer_names(prompts))
        case due.Carve(numbers):
            some = f"all {len(numbers)} birds" if len(numbers) > MOST_NAMED else birds(numbers)
            return f"Rested. Carve {some}, on a clean board."
        case due.Chill(by_s):
            return _chill(by_s, state)
        case due.DinnerMoved():
            return _dinner(about, state)
        case due.BirdsOnDue(numbers):
            return f"Time for {birds(numbers) if numbers else 'the birds'} over the fire."
        case due.EndRaw() | due.LiftAsked() | due.ClockAsked():
            return open_question(state) or ""
        case due.Doubt():
            return "That thermometer is still unchecked. Ice water, and tell me what it reads."
        case due.ListDue():
            return "Time for the readiness list. Say: read the list."
        case due.LightDue(table_s):
            return _light(table_s, state)


def _of_birds(about: due.OfBird, prompts: tuple[Prompt, ...], state: Cook, now_s: float) -> str:
    known, numbers = _known(prompts, state), _numbers(prompts)
    match about:
        case due.TakeOff():
            return take_off(known, state)
        case due.Sauce():
            return sauce(known, state)
        case due.SauceLast():
            return last_call(known, state)
        case due.Coat():
            return f"A second coat would still set: {birds(numbers)}."
        case due.BackOn():
            return _back_on(numbers, known, now_s)
        case due.OffRaw():
            return _off_raw(known, state, now_s)
        case due.Stuck():
            return f"Hardly any change: {birds(numbers)}. Read another spot, then the grill."
        case due.KeepHot():
            return _keep_hot(numbers, state)
        case due.LookDue():
            return looks(
                [one.about for one in prompts if isinstance(one.about, due.LookDue)], state
            )
        case due.Reread():
            return _reread([one.about for one in prompts if isinstance(one.about, due.Reread)])
        case due.Unread():
            return _unread(numbers, known)


SHORT = {
    "take_off": "{birds} off", "sauce": "sauce {birds}", "coat": "second coat, {birds}",
    "sauce_last": "last call, sauce {birds}", "back_on": "{birds} back on",
    "look": "read {birds}", "stuck": "look at {birds}", "keep_hot": "keep {birds} hot",
    "carve": "carve", "chill": "leftovers into the cold", "lid": "lid on", "refuel": "charcoal",
    "vents": "bottom vent", "vents_ask": "tell the vents", "grill": "read the grill",
    "dinner": "dinner moved",
    "readiness": "the readiness list", "light": "light the charcoal", "birds_on": "birds on",
    "doubt": "check the thermometer", "reread": "read {birds} again",
    "off_raw": "{birds} back on", "end_raw": "say yes to end, or no",
    "lift": "say yes if off for good, or no",
    "unread": "read the rest of {birds}", "timer": "your timer",
    "clock": "say how long I was away",
}  # fmt: skip


def _numbers(prompts: tuple[Prompt, ...]) -> list[int]:
    return [one.bird for one in prompts if one.bird is not None]


def _known(prompts: tuple[Prompt, ...], state: Cook) -> list[Bird]:
    found = (state.bird(number) for number in _numbers(prompts))
    return [bird for bird in found if bird is not None]


def _back_on(numbers: list[int], known: list[Bird], now_s: float) -> str:
    off_s = [bird.on_heat[-1].end_s for bird in known if bird.on_heat]
    longest_s = max((now_s - end_s for end_s in off_s if end_s is not None), default=0.0)
    plural = len(numbers) > 1
    return (
        f"{capital(birds(numbers))} {'have' if plural else 'has'} been off"
        f" {span(longest_s)}. Back on the heat."
    )


def _off_raw(some: list[Bird], state: Cook, now_s: float) -> str:
    """Each with how long it is off and what it last read; what follows is said once."""
    each: list[str] = []
    for bird in some:
        off_s = bird.on_heat[-1].end_s if bird.on_heat else None
        since = span(now_s - (now_s if off_s is None else off_s))
        coldest_f = bird.coldest_f()
        read = "unread" if coldest_f is None else f"last read {degrees(coldest_f, state)}"
        are = "is off for " if not each else ""
        each.append(f"bird {bird.number} {are}{since}, {read}")
    marks = sorted({degrees(bird.done_mark_f, state) for bird in some})
    its = "its" if len(some) == 1 else "their"
    return (
        f"{capital('; '.join(each))}, under {its} {listed(marks)}: raw poultry."
        " Back on, or not for the table."
    )


def _reread(some: list[due.Reread]) -> str:
    """Which spots were left in doubt, to be read again."""
    where = (bird_spot(one.bird, one.spot) for one in some)
    return f"That reading is still in doubt. Read {listed(where)} again."


def _lid(state: Cook, now_s: float) -> str:
    since_s = state.fire.lid_open[-1].start_s if state.fire.lid_open else now_s
    return f"Lid off for {span(now_s - since_s)}. Put it on."


def _timers(names: list[str]) -> str:
    if not names:
        return "Your timer is up."
    return f"{capital(listed(names))} timer{'s are' if len(names) > 1 else ' is'} up."


def _keep_hot(numbers: list[int], state: Cook) -> str:
    plural = len(numbers) > 1
    till = "for the others" if state.cooking else "till dinner"
    return (
        f"{capital(birds(numbers))} {'have' if plural else 'has'} rested."
        f" Keep {'them' if plural else 'it'} above {degrees(HOT_HELD_F, state)} {till}."
    )


def _chill(by_s: float, state: Cook) -> str:
    text = leftovers(state) or f"Leftovers into the cold by {clock_text(by_s, state.zone)}."
    return f"{text} Sauce the brush went back into goes out." if brush_is_raw(state) else text


def _dinner(about: due.DinnerMoved, state: Cook) -> str:
    late, table_s = about.late_min, about.table.q50
    if late == 0 or (about.sooner and -EARLY_MIN < late < 0):
        return "Dinner is back on time."
    at = "" if table_s is None else clock_text(300 * round(table_s / 300), state.zone)
    if late <= -ANOTHER_DAY_MIN:
        return "Dinner is told for another day. If it is tonight, say when."
    if late < 0:
        ways = [f"eat at {at}"] if at else []
        hot = degrees(HOT_HELD_F, state)
        long = -late > FOIL_MIN
        ways.append(
            f"hold them in the oven, covered, above {hot}"
            if long
            else f"rest them longer under foil, above {hot}"
        )
        return f"Dinner looks {span(-60 * late)} early: {listed(ways, 'or')}."
    if about.sooner and at:
        return f"Dinner sooner than I said: about {at}."
    ways = ["open the bottom vent" if about.open_vent else ""]
    ways += [f"eat at {at}" if at else ""]
    known = [way for way in ways if way]
    return f"Dinner looks {span(60 * late)} late{'; ' + listed(known, 'or') if known else ''}."


def _light(table_s: float | None, state: Cook) -> str:
    text = "Time to light the charcoal, outdoors only: it gives off carbon monoxide."
    if table_s is None:
        return text
    return f"{text} Dinner moves to about {clock_text(300 * round(table_s / 300), state.zone)}."


def _unread(numbers: list[int], some: list[Bird]) -> str:
    names = f"{capital(birds(numbers))} {'is' if len(some) == 1 else 'are'} off."
    return f"{names} {not_read(some)} Read {'it' if len(some) == 1 else 'them'} before carving."
