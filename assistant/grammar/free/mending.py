"""What is mended or told once for all within one breath: "one oh eight, sorry, one eighteen",
"in Celsius, fifty five for bird one", "the thighs: one is at one sixty, two at one fifty nine"."""

import re
from collections.abc import Iterator
from dataclasses import replace

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.context import Context
from assistant.grammar.free.figures import SCALES, Figure
from assistant.grammar.free.lex import Item, lexed
from assistant.grammar.free.lexicon import FILLERS
from assistant.grammar.free.open_facts import Fact, OpenReading
from assistant.grammar.free.refer import Ref

_NO = (
    r"no|nope|sorry|i mean|i meant|correction|scratch that|strike that|i tell a lie|tell a lie|"
    r"i lie|"
    r"listen to me|what am i saying|or rather|my mistake|i am wrong|that is wrong|beg your pardon|"
    r"excuse me|silly me|not that|i said that wrong|make (?:that|it)|change that to"
)
_HALT = r"wait|oops|whoops|hang on|hold on|actually|hold up|let me look again|call it"
_AROUND = r"oh|ah|um|uh|er|well|ooh|but|now|a minute|a second|a moment|there|damn|dang|blast|what"
_TURN = re.compile(
    rf"(?<=\S) (?:(?:{_AROUND}) )*(?P<turn>(?:{_NO}|{_HALT})(?: (?:{_NO}|{_HALT}|{_AROUND}))*) "
    rf"(?=\S)"
)
_SURE = re.compile(rf"\b(?:{_NO})\b")
_TOLD = {"N", "DURATION", "CLOCK", "WEIGHT", "SHARE", "ON", "OFF", "OPEN", "SHUT", "SAUCED"}
_SAME = {
    "N": ("N", "DURATION", "WEIGHT", "SHARE"),
    "CLOCK": ("CLOCK", "N"),
    "DURATION": ("DURATION", "CLOCK"),
    "WEIGHT": ("WEIGHT",),
    "SHARE": ("SHARE",),
    "P": ("P",),
    "R": ("R",),
    "VAGUE": ("N", "VAGUE"),
    "ON": ("ON", "OFF"),
    "OFF": ("ON", "OFF"),
    "OPEN": ("OPEN", "SHUT"),
    "SHUT": ("OPEN", "SHUT"),
}
_NAMES = {"LID", "VENT", "GRILL", "FUEL"}
MOST_MEAT_C = 100.0
LEAST_READ = 28.0  # a smaller number is rather a count
_AGAIN = re.compile(
    r"\b(?:(?:the|about the|just the|exactly the) )?(?:same|ditto|likewise)\b"
    r"(?! (?:one|bird|time|place|sauce|as|fire|vent|hen|side))"
    r"(?: (?:again|thing|temp|temperature|number|reading|too|as well))?"
)


def said_again(plain: tuple[str, ...], context: Context) -> tuple[str, ...]:
    """The words with the one number read before in the place of "the same"."""
    text = _SO_IS.sub(r"and \g<bird> is the same", " ".join(plain))
    again = _AGAIN.search(text)
    if again is None:
        return plain
    items = lexed(tuple(text[: again.start()].split()), context)
    read = [one for one in items if isinstance(one.value, Figure)]
    if len(read) != 1 or read[0].value.value < LEAST_READ:  # type: ignore[attr-defined]
        return plain
    return tuple(_AGAIN.sub(read[0].text.replace("_", " "), text, count=1).split())


_SO_IS = re.compile(r"\band so (?:is|are|has|does|reads) (?P<bird>(?!it\b).+)$")
_NAMED_LAST = re.compile(
    r"^(?P<said>.*\S) (?P<name>(?:the )?(?:grill|fire|lid|breast|thigh|bird \w+)) i (?:mean|meant)$"
)
_UNITS = re.compile(r"(?:_(?:minutes?|mins?|hours?|pounds?|lbs?|kilos?|percent|kg))$")


def mended(plain: tuple[str, ...], context: Context) -> tuple[str, ...]:
    """The words with what was said wrong replaced by what was said for it; as they are
    where they open with the repair, which then is one of something said before."""
    text = _NAMED_LAST.sub(r"\g<name> \g<said>", " ".join(plain))
    for found in reversed(tuple(_TURN.finditer(text))):
        said = lexed(tuple(text[: found.start()].split()), context)
        then = lexed(tuple(text[found.end() :].split()), context)
        better = _replaced(said, then, is_sure=_SURE.search(found["turn"]) is not None)
        at = _opening(then) if better is None and _is_unfinished(said) else None
        if at is not None and then[at].kind in {"R", "GRILL"}:
            better = text[found.end() :]  # "bird two, wait, bird two is one thirty"
        elif at is not None and then[at].kind == "N":
            better = " ".join((text[: found.start()], text[found.end() :]))  # "bird two, wait,"
        if better is not None:
            text = better
    return tuple(text.split())


def _replaced(said: tuple[Item, ...], then: tuple[Item, ...], *, is_sure: bool) -> str | None:
    at = _opening(then)
    if at is None or any(one.text in {"and", "also", "plus", "then"} for one in then[:at]):
        return None
    new, rest = then[at], then[at + 1 :]
    if new.kind in _NAMES:  # "lid on, no, lid off": all that was said of it
        named = [n for n, one in enumerate(said) if one.kind == new.kind]
        words = [one.text for one in (*said[: named[-1]], *then[at:])] if named else []
        return " ".join(words).replace("_", " ") or None
    old = _last(said, new.kind)
    if old is None or (new.kind == "R" and not is_sure):
        return None
    words = [one.text for one in said]
    words[old] = _with_unit(new, said[old])
    if new.kind == "R":
        number = next((n for n, one in enumerate(rest) if one.kind == "N"), None)
        was = _last(said, "N")
        joined = any(one.text == "and" for one in rest[:number])
        if number is not None and was is not None and not joined:
            words[was] = rest[number].text
            rest = (*rest[:number], *rest[number + 1 :])
    return " ".join((*words, *(one.text for one in rest))).replace("_", " ")


def _is_unfinished(said: tuple[Item, ...]) -> bool:
    """Whether something is named, and nothing told of it yet."""
    kinds = {one.kind for one in said}
    return bool(kinds & {"R", "GRILL", "P", "SAUCY", "IT"}) and not kinds & _TOLD


def _opening(then: tuple[Item, ...]) -> int | None:
    """The place of the first item that means something."""
    return next((n for n, one in enumerate(then) if one.kind or one.text not in FILLERS), None)


def _last(said: tuple[Item, ...], kind: str) -> int | None:
    fits = _SAME.get(kind, ())
    return next((n for n in range(len(said) - 1, -1, -1) if said[n].kind in fits), None)


def _with_unit(new: Item, old: Item) -> str:
    """ "Twelve minutes, no, fifteen" is fifteen minutes."""
    unit = _UNITS.search(old.text)
    return new.text + unit.group() if new.kind == "N" and unit else new.text


def told_scale(plain: tuple[str, ...], context: Context) -> tuple[tuple[str, ...], Context] | None:
    """The words without a scale told apart from its numbers, and the evening in that scale;
    None where every scale stands beside a number, or no number is there."""
    items = lexed(plain, context)
    apart = [one for one in items if not one.kind and one.text in SCALES and len(one.text) > 1]
    figures = [one.value for one in items if isinstance(one.value, Figure)]
    told = {SCALES[one.text] for one in apart} | {one.scale for one in figures if one.scale}
    if len(told) != 1 or all(one.scale for one in figures):
        return None
    there = replace(context, scale=told.pop())
    read = [one.value for one in lexed(plain, there) if isinstance(one.value, Figure)]
    if there.scale == "C" and any(one.value > MOST_MEAT_C for one in read):
        return None
    if not apart:
        return None if there.scale == context.scale else (plain, there)
    left = tuple(one.text for one in lexed(plain, there) if one.kind or one.text not in SCALES)
    words = re.sub(r"\bin(?= |$)(?! the)", "", " ".join(left).replace("_", " ")).split()
    return tuple(words), there


def at_one_spot(facts: tuple[Fact, ...], items: tuple[Item, ...]) -> tuple[Fact, ...]:
    """A spot told before all numbers, or after "both", is where each of them was read."""
    spots = [n for n, one in enumerate(items) if one.kind == "P"]
    numbers = [n for n, one in enumerate(items) if one.kind == "N"]
    if len(spots) != 1 or len(numbers) < 2:
        return facts
    at = spots[0]
    after_all = at > numbers[-1] and any(one.kind == "ALL" for one in items[numbers[-1] : at])
    if not (at < numbers[0] and not _names_a_bird(items[:at])) and not after_all:
        return facts
    return tuple(_placed(facts, items[at].value))  # type: ignore[arg-type]


def of_the_one_named(facts: tuple[Fact, ...], items: tuple[Item, ...]) -> tuple[Fact, ...]:
    """ "Breast one fifty four, thigh one sixty three, that is bird one": of the one bird there
    is in the breath, where each number is of a spot of its own."""
    named = {
        n
        for one in items
        if isinstance(one.value, Ref) and one.value.kind != "last"
        for n in (one.value.numbers or (0,))
    }
    read = [one for one in facts if isinstance(one, cmd.BirdReading | OpenReading)]
    if len(named) != 1 or 0 in named:
        return facts
    said = {one.said for one in read if isinstance(one, cmd.BirdReading)}
    again = [one for one in read if isinstance(one, OpenReading) and one.said in said]
    if again:  # "bird four, a hundred and three, yes, a hundred and three"
        facts = tuple(one for one in facts if one not in again)
        read = [one for one in read if one not in again]
    if len({one.spot for one in read}) != len(read):
        return facts
    (bird,) = named
    return tuple(
        cmd.BirdReading(bird, one.temperature, one.said, one.spot)
        if isinstance(one, OpenReading)
        else one
        for one in facts
    )


def _names_a_bird(items: tuple[Item, ...]) -> bool:
    return any(one.kind in {"R", "SAUCY", "IT"} for one in items)


def _placed(facts: tuple[Fact, ...], spot: cmd.Spot) -> Iterator[Fact]:
    for fact in facts:
        if isinstance(fact, cmd.BirdReading | OpenReading) and fact.spot is None:
            yield replace(fact, spot=spot)
        else:
            yield fact
