"""What is said unasked, because it is due: one sentence for what comes together."""

from collections.abc import Callable

from assistant.cook.clocktimes import clock_text
from assistant.cook.finish import HOT_F, spots_to_read
from assistant.cook.prompts import Prompt
from assistant.cook.sauces import brush_is_raw
from assistant.cook.state import Bird, Cook
from assistant.heat.bird.evidence import Quantiles
from assistant.sentences.asking import open_question
from assistant.sentences.describe import turn_text
from assistant.sentences.leftovers import leftovers
from assistant.sentences.lifting import not_read
from assistant.sentences.phrasing import birds, capital, degrees, listed, place, placed, span
from assistant.sentences.spell import Sentence, sentence

MOST_NAMED = 4  # birds named one by one
Speaker = Callable[[tuple[Prompt, ...], Cook, float], str]


def prompt(
    prompts: tuple[Prompt, ...], state: Cook, now_s: float, *, late_s: float = 0.0
) -> Sentence:
    """One sentence for all `prompts`, most urgent first, opened by how late it is."""
    last_call = {one.bird for one in prompts if one.kind == "sauce_last"}
    kinds: dict[str, list[Prompt]] = {}
    for one in prompts:
        if one.kind == "sauce" and one.bird in last_call:
            continue
        kinds.setdefault(one.kind, []).append(one)
    texts = [_SPEAKERS.get(kind, _plain)(tuple(some), state, now_s) for kind, some in kinds.items()]
    opened = f"{capital(span(late_s))} late. " if late_s > 0.0 else ""
    return sentence(opened + " ".join(texts))


def short(prompt_: Prompt) -> str:
    """What is to be done, in a few words, for "what's next"."""
    if prompt_.kind == "timer":
        name = prompt_.facts.get("name")
        return f"{name} timer" if name else "your timer"
    return _SHORT.get(prompt_.kind, prompt_.kind.replace("_", " ")).format(bird=prompt_.bird)


_SHORT = {
    "take_off": "bird {bird} off", "sauce": "sauce bird {bird}", "coat": "second coat, bird {bird}",
    "sauce_last": "last call, sauce bird {bird}", "back_on": "bird {bird} back on",
    "look": "read bird {bird}", "stuck": "look at bird {bird}", "keep_hot": "keep bird {bird} hot",
    "carve": "carve", "chill": "leftovers into the cold", "lid": "lid on", "refuel": "charcoal",
    "vents": "bottom vent", "grill": "read the grill", "dinner": "dinner moved",
    "readiness": "the readiness list", "light": "light the charcoal", "birds_on": "birds on",
    "doubt": "check the thermometer", "reread": "read bird {bird} again",
    "off_raw": "bird {bird} back on", "end_raw": "say yes to end, or no",
    "unread": "read the rest of bird {bird}",
}  # fmt: skip


def _numbers(prompts: tuple[Prompt, ...]) -> list[int]:
    return [one.bird for one in prompts if one.bird is not None]


def _known(prompts: tuple[Prompt, ...], state: Cook) -> list[Bird]:
    found = (state.bird(number) for number in _numbers(prompts))
    return [bird for bird in found if bird is not None]


def _take_off(prompts: tuple[Prompt, ...], state: Cook, _: float) -> str:
    numbers = _numbers(prompts)
    mark = degrees(max((bird.done_mark_f for bird in _known(prompts, state)), default=0.0), state)
    missing = {spot for bird in _known(prompts, state) for spot in spots_to_read(bird)}
    where = f", {place(numbers[0], state)}," if len(numbers) == 1 else ""
    reads = "reads" if len(numbers) == 1 else "read"
    first = f"{capital(birds(numbers))}{where} {reads} {mark} or more"
    if missing:
        return f"{first} at one spot. Read the {listed(sorted(missing))}, then off."
    them = "it" if len(numbers) == 1 else "them"
    return f"{first} at both spots. Gloves on, take {them} off."


def _sauce(prompts: tuple[Prompt, ...], state: Cook, _: float) -> str:
    known = _known(prompts, state)
    if len(known) == 1:
        return f"Sauce now: {placed(known[0], state)}."
    known.sort(key=lambda bird: bird.number)
    pairs = (f"bird {bird.number} {bird.sauce or ''}".strip() for bird in known)
    return f"Sauce now: {listed(pairs)}."


def _back_on(prompts: tuple[Prompt, ...], state: Cook, now_s: float) -> str:
    off_s = [bird.on_heat[-1].end_s for bird in _known(prompts, state) if bird.on_heat]
    longest_s = max((now_s - end_s for end_s in off_s if end_s is not None), default=0.0)
    plural = len(prompts) > 1
    return (
        f"{capital(birds(_numbers(prompts)))} {'have' if plural else 'has'} been off"
        f" {span(longest_s)}. Back on the heat."
    )


def _off_raw(prompts: tuple[Prompt, ...], state: Cook, now_s: float) -> str:
    """Birds off for long that are not done: each with what it last read."""
    return " ".join(_off_raw_text(bird, state, now_s) for bird in _known(prompts, state))


def _off_raw_text(bird: Bird, state: Cook, now_s: float) -> str:
    off_s = bird.on_heat[-1].end_s if bird.on_heat else None
    since = span(now_s - (now_s if off_s is None else off_s))
    coldest_f = bird.coldest_f()
    read = "unread" if coldest_f is None else f"last read {degrees(coldest_f, state)}"
    mark = degrees(bird.done_mark_f, state)
    return (
        f"Bird {bird.number} is off for {since}, {read}, under its {mark}: raw poultry."
        " Back on, or not for the table."
    )


def _reread(prompts: tuple[Prompt, ...], _: Cook, __: float) -> str:
    """Which spots were left in doubt, to be read again."""
    where = (
        f"bird {one.bird}" + (f" {one.facts['spot']}" if one.facts["spot"] else "")
        for one in prompts
    )
    return f"That reading is still in doubt. Read {listed(where)} again."


def _end_raw(_: tuple[Prompt, ...], state: Cook, __: float) -> str:
    return open_question(state) or ""


_LOOKS = {
    "first": "Time for a first reading of {bird}.",
    "sauce": "Read {bird}; the sauce may be near.",
    "done": "Read {bird}, breast and thigh; it may be near done.",
    "spread": "A reading of {bird} would settle a lot.",
}


def _look(prompts: tuple[Prompt, ...], _: Cook, __: float) -> str:
    reason = str(prompts[0].facts.get("reason"))
    return _LOOKS.get(reason, "Read {bird}.").format(bird=birds(_numbers(prompts)))


def _lid(_: tuple[Prompt, ...], state: Cook, now_s: float) -> str:
    since_s = state.fire.lid_open[-1].start_s if state.fire.lid_open else now_s
    return f"Lid off for {span(now_s - since_s)}. Put it on."


def _refuel(prompts: tuple[Prompt, ...], state: Cook, now_s: float) -> str:
    count, leaves = (prompts[0].facts.get(name) for name in ("count", "leaves"))
    if count is not None:
        text = f"Add {count} briquettes; they need 10 to 15 minutes to catch."
        if isinstance(leaves, Quantiles) and leaves.q50 is not None and leaves.q50 > now_s:
            text += f" Else the grill sags about {clock_text(leaves.q50, state.zone)}."
        return text
    fed_s = max((one.at_s for one in state.fire.fuel), default=state.fire.lit_s)
    at_s = max(now_s, prompts[0].due_s)  # also shown ahead of time
    since = f" Last fed {span(at_s - fed_s)} ago." if fed_s is not None else ""
    return f"Time for charcoal; it needs 10 to 15 minutes to catch.{since}"


def _vents(prompts: tuple[Prompt, ...], _: Cook, __: float) -> str:
    facts = prompts[0].facts
    opening = facts["opening"]
    assert isinstance(opening, float)
    return f"{capital(turn_text(str(facts['direction']), opening))}."


def _timer(prompts: tuple[Prompt, ...], _: Cook, __: float) -> str:
    names = [str(one.facts["name"]) for one in prompts if one.facts.get("name")]
    if not names:
        return "Your timer is up."
    return f"{capital(listed(names))} timer{'s are' if len(names) > 1 else ' is'} up."


def _sauce_last(prompts: tuple[Prompt, ...], state: Cook, _: float) -> str:
    names = (placed(bird, state) for bird in _known(prompts, state))
    return f"Last call for sauce: {listed(names)}."


def _keep_hot(prompts: tuple[Prompt, ...], state: Cook, _: float) -> str:
    plural = len(prompts) > 1
    return (
        f"{capital(birds(_numbers(prompts)))} {'have' if plural else 'has'} rested."
        f" Keep {'them' if plural else 'it'} above {degrees(HOT_F, state)} for the others."
    )


def _carve(prompts: tuple[Prompt, ...], _: Cook, __: float) -> str:
    numbers = prompts[0].facts["birds"]
    assert isinstance(numbers, tuple)
    some = f"all {len(numbers)} birds" if len(numbers) > MOST_NAMED else birds(numbers)
    return f"Rested. Carve {some}, on a clean board."


def _chill(prompts: tuple[Prompt, ...], state: Cook, _: float) -> str:
    by_s = prompts[0].facts["by_s"]
    assert isinstance(by_s, float)
    text = leftovers(state) or f"Leftovers into the cold by {clock_text(by_s, state.zone)}."
    return f"{text} Sauce the brush went back into goes out." if brush_is_raw(state) else text


def _dinner(prompts: tuple[Prompt, ...], state: Cook, _: float) -> str:
    facts = prompts[0].facts
    late = facts["late_min"]
    assert isinstance(late, int)
    if late == 0:
        return "Dinner is back on time."
    table = facts["table"]
    at = ""
    if isinstance(table, Quantiles) and table.q50 is not None:
        at = clock_text(300 * round(table.q50 / 300), state.zone)
    if late < 0:
        return f"Dinner looks {span(-60 * late)} early{', about ' + at if at else ''}."
    ways = ["open the bottom vent" if facts.get("fire") == "open" else ""]
    ways += [f"eat at {at}" if at else ""]
    known = [way for way in ways if way]
    return f"Dinner looks {span(60 * late)} late{'; ' + listed(known, 'or') if known else ''}."


def _birds_on(prompts: tuple[Prompt, ...], _: Cook, __: float) -> str:
    numbers = prompts[0].facts["birds"]
    assert isinstance(numbers, tuple)
    return f"Time for {birds(numbers) if numbers else 'the birds'} over the fire."


def _unread(prompts: tuple[Prompt, ...], state: Cook, _: float) -> str:
    some = _known(prompts, state)
    names = f"{capital(birds(_numbers(prompts)))} {'is' if len(some) == 1 else 'are'} off."
    return f"{names} {not_read(some)} Read {'it' if len(some) == 1 else 'them'} before carving."


def _plain(prompts: tuple[Prompt, ...], _: Cook, __: float) -> str:
    fixed = _FIXED.get(prompts[0].kind)
    if fixed is not None:
        return fixed.format(birds=birds(_numbers(prompts)) if _numbers(prompts) else "")
    return f"{capital(listed(short(one) for one in prompts))}."


_FIXED = {
    "coat": "A second coat would still set: {birds}.",
    "stuck": "Hardly any change: {birds}. Read another spot, then the grill.",
    "grill": "What does the grill read?",
    "doubt": "That thermometer is still unchecked. Ice water, and tell me what it reads.",
    "readiness": "Time for the readiness list. Say: read the list.",
    "light": "Time to light the charcoal, outdoors only: it gives off carbon monoxide.",
}


_SPEAKERS: dict[str, Speaker] = {
    "take_off": _take_off, "sauce": _sauce, "back_on": _back_on, "look": _look, "lid": _lid,
    "refuel": _refuel, "timer": _timer, "vents": _vents, "sauce_last": _sauce_last,
    "keep_hot": _keep_hot, "carve": _carve, "chill": _chill, "dinner": _dinner,
    "birds_on": _birds_on, "reread": _reread, "off_raw": _off_raw, "end_raw": _end_raw,
    "unread": _unread,
}  # fmt: skip
