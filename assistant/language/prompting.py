"""What is said unasked, because it is due: one sentence for what comes together."""

from collections.abc import Callable

from assistant.cook.prompts import Prompt
from assistant.cook.state import Bird, Cook
from assistant.language.phrasing import birds, capital, degrees, listed, place, placed, span
from assistant.language.spell import Sentence, sentence

Speaker = Callable[[tuple[Prompt, ...], Cook, float], str]


def prompt(
    prompts: tuple[Prompt, ...], state: Cook, now_s: float, *, late: bool = False
) -> Sentence:
    """One sentence for all `prompts`, most urgent first; `late` says so."""
    kinds: dict[str, list[Prompt]] = {}
    for one in prompts:
        kinds.setdefault(one.kind, []).append(one)
    texts = [_SPEAKERS.get(kind, _plain)(tuple(some), state, now_s) for kind, some in kinds.items()]
    opened = "This is late. " if late else ""
    return sentence(opened + " ".join(texts))


def short(prompt_: Prompt) -> str:
    """What is to be done, in a few words, for "what's next"."""
    number = prompt_.bird
    match prompt_.kind:
        case "take_off":
            return f"bird {number} off"
        case "sauce":
            return f"sauce bird {number}"
        case "back_on":
            return f"bird {number} back on"
        case "look":
            return f"read bird {number}"
        case "lid":
            return "lid on"
        case "refuel":
            return "charcoal"
        case "timer":
            name = prompt_.facts.get("name")
            return f"{name} timer" if name else "your timer"
    return prompt_.kind.replace("_", " ")


def _numbers(prompts: tuple[Prompt, ...]) -> list[int]:
    return [one.bird for one in prompts if one.bird is not None]


def _known(prompts: tuple[Prompt, ...], state: Cook) -> list[Bird]:
    found = (state.bird(number) for number in _numbers(prompts))
    return [bird for bird in found if bird is not None]


def _take_off(prompts: tuple[Prompt, ...], state: Cook, _: float) -> str:
    numbers = _numbers(prompts)
    mark = degrees(max((bird.done_mark_f for bird in _known(prompts, state)), default=0.0), state)
    one_spot = [
        bird.number
        for bird in _known(prompts, state)
        if len({reading.spot for reading in bird.readings}) < 2
    ]
    where = f", {place(numbers[0], state)}," if len(numbers) == 1 else ""
    reads = "reads" if len(numbers) == 1 else "read"
    first = f"{capital(birds(numbers))}{where} {reads} {mark} or more"
    if one_spot:
        return f"{first} at one spot. Read the other, then off."
    them = "it" if len(numbers) == 1 else "them"
    return f"{first} at both spots. Gloves on, take {them} off."


def _sauce(prompts: tuple[Prompt, ...], state: Cook, _: float) -> str:
    known = _known(prompts, state)
    if len(known) == 1:
        return f"Sauce now: {placed(known[0], state)}."
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


def _refuel(_: tuple[Prompt, ...], state: Cook, now_s: float) -> str:
    fed_s = max((one.at_s for one in state.fire.fuel), default=state.fire.lit_s)
    since = f" Last fed {span(now_s - fed_s)} ago." if fed_s is not None else ""
    return f"Time for charcoal; it needs 10 to 15 minutes to catch.{since}"


def _timer(prompts: tuple[Prompt, ...], _: Cook, __: float) -> str:
    names = [str(one.facts["name"]) for one in prompts if one.facts.get("name")]
    if not names:
        return "Your timer is up."
    return f"{capital(listed(names))} timer{'s are' if len(names) > 1 else ' is'} up."


def _plain(prompts: tuple[Prompt, ...], _: Cook, __: float) -> str:
    return f"{capital(listed(short(one) for one in prompts))}."


_SPEAKERS: dict[str, Speaker] = {
    "take_off": _take_off, "sauce": _sauce, "back_on": _back_on, "look": _look, "lid": _lid,
    "refuel": _refuel, "timer": _timer,
}  # fmt: skip
