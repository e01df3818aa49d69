"""The answer to an open question: which bird, how many, how far open, yes or no."""

import re

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.context import Context, Understood
from assistant.grammar.free.figures import Figure
from assistant.grammar.free.lex import Item
from assistant.grammar.free.refer import Ref

MOST_PIECES = 60  # a bare number above it is rather a reading
MOST_ANSWERING = 9  # words; more than that tell something
_ABOUT_FUEL = {"", "ADD", "MORE", "FUEL", "IT", "VAGUE", "BIT", "ON"}
_ABOUT_VENTS = {"", "VENT", "OPEN", "SHUT", "IT", "BIT"}


def answer(items: tuple[Item, ...], context: Context) -> Understood | None:
    """The facts that answer the open question; None where the words are no answer to it."""
    first = context.asked[0] if context.asked else None
    match first:
        case cmd.FuelAdded(None, kind):
            count = _count(items)
            return None if count is None else _taken(cmd.FuelAdded(count, kind))
        case cmd.Vents(which):
            share = _share(items)
            return None if share is None else _taken(cmd.Vents(which, share))
        case cmd.EndCook() | cmd.BirdsOff() | cmd.Rest() if len(context.asked) == 1:
            return _yes_or_no(items)
        case _:
            return _which_bird(items, context)


def _taken(command: cmd.Command) -> Understood:
    return Understood((command,), "accept")


def _count(items: tuple[Item, ...]) -> float | None:
    """The one number there is, and nothing else that means something."""
    figures = [one.value for one in items if isinstance(one.value, Figure)]
    if {one.kind for one in items} - _ABOUT_FUEL - {"N", "SIDE"} or len(items) > 6:
        return None
    if len(figures) != 1:
        return 1.0 if [one.text for one in items] == ["one"] else None
    sides = 2 if any(one.kind == "SIDE" for one in items) else 1
    return figures[0].value * sides if 0 < figures[0].value <= MOST_PIECES else None


def _share(items: tuple[Item, ...]) -> float | None:
    kinds = {one.kind for one in items}
    shares = [one.value for one in items if one.kind == "SHARE"]
    if kinds - _ABOUT_VENTS - {"SHARE"} or len(items) > 6:
        return None
    if len(shares) == 1 and isinstance(shares[0], float):
        return 1.0 - shares[0] if "SHUT" in kinds and "OPEN" not in kinds else shares[0]
    return 1.0 if kinds == {"OPEN"} else 0.0 if kinds == {"SHUT"} else None


def _which_bird(items: tuple[Item, ...], context: Context) -> Understood | None:
    """The bird that an open question asked for."""
    options = [one for one in context.asked if getattr(one, "bird", None) is not None]
    if len({getattr(one, "bird", None) for one in options}) < 2:
        return None
    refs = [one.value for one in items if isinstance(one.value, Ref) and one.value.numbers]
    numbers = set(refs[0].numbers) if len(refs) == 1 else set()
    others = [one for one in items if one.kind not in {"", "R", "SAUCY", "IT", "ALL"}]
    if not refs and len(items) <= 3:
        figures = [one.value for one in items if isinstance(one.value, Figure)]
        lone = [one for one in items if one.text == "one"]
        if len(figures) == 1:
            numbers, others = {int(figures[0].value)}, []
        elif lone:
            numbers = {1}
    if len(numbers) != 1 or others:
        return None
    meant = tuple(one for one in options if getattr(one, "bird", None) in numbers)
    return _taken(meant[0]) if len(meant) == 1 else None


_YES = re.compile(
    r"(?:(?:yes|sure|okay|please|go on|go ahead|right|correct|absolutely|do it|i am sure|of course"
    r"|definitely|just) )*(?:(?:yes|sure|absolutely|definitely|correct|go ahead|do it|of course|"
    r"i am sure|end|end it|end the cook|end it now|finish|finish it|stop it|for good|off for good|"
    r"it is for good|they are for good|i mean it|end it anyway|end anyway|anyway)(?: |$))+"
    r"(?:please|thanks|now|anyway|then|chef|i am|it is|all of them|both|for good|the cook|"
    r"we are (?:done|finished))?$"
)
_NO = re.compile(
    r"(?:(?:okay|well|oh|wait|hold on|hang on|sorry|oops|whoops) )*"
    r"(?:(?:no|nope|not|never|do not|wait|keep going|carry on|go on cooking|just|only|it goes back|"
    r"(?:it|they) (?:is|are) going back|going back|back on|for now|hold on|not yet)(?: |$)).*"
)
_TELLS = {"N", "CLOCK", "SERVE", "LID", "VENT", "FUEL", "GRILL", "WEIGHT", "TIMER"}


def _yes_or_no(items: tuple[Item, ...]) -> Understood | None:
    """Yes or no to what must not happen by a slip, in more words than one; None where the
    words tell something of their own. "Okay" alone and "done" are no answer to it."""
    if len(items) > MOST_ANSWERING or {one.kind for one in items} & _TELLS:
        return None
    words = " ".join(one.text.replace("_", " ") for one in items)
    if _YES.fullmatch(words) and not re.search(r"\b(?:no|not|never)\b", words):
        return _taken(cmd.Yes())
    return _taken(cmd.No()) if _NO.fullmatch(words) else None
