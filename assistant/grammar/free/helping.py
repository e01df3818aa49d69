"""What a refusal says: what was understood, what is missing, and how to say it."""

from assistant.cook.vocabulary.commands import Said
from assistant.grammar.free.context import Context
from assistant.grammar.free.figures import Figure
from assistant.grammar.free.lex import Item
from assistant.grammar.free.refer import Ref
from assistant.grammar.meaning import fahrenheit

HOTTEST_MEAT_F = 212.0
HOTTEST_FIRE_F = 700.0
_NOT_SO = {"NOT", "NEED", "FUTURE", "WANT", "KEEP"}
_MISSING = {  # by what was named, the first of them that was
    "TIMER": 'I understood a timer. For how long? Say "timer for ten minutes".',
    "LATE": "I understood that dinner moves. By how many minutes?",
    "WEIGH": 'I understood a weight. Say "bird one weighs four pounds".',
    "SERVE": 'I understood dinner. When? Say "dinner at seven".',
    "LID": "I understood the lid. Is it on or off?",
    "VENT": "I understood a vent. How far is it open?",
    "CHIMNEY": 'I understood a chimney. Say "added a chimney" when it is on.',
    "FUEL": 'I understood coals. Say "added six coals" when they are on.',
    "WOOD": 'I understood wood. Say "added wood" when it is on.',
    "GRILL": 'I understood the grill. Say "grill three fifty", or ask how the fire is.',
    "SAUCED": "I understood sauce. Which bird is sauced?",
    "SAUCE": "I understood sauce. Which bird is sauced?",
}


def helped(items: tuple[Item, ...], context: Context) -> str | None:
    """What was understood and what is missing; None where nothing was understood."""
    kinds = {item.kind for item in items}
    birds = sorted({n for item in items if item.kind in {"R", "SAUCY"} for n in _numbers(item)})
    named = " and ".join(str(n) for n in birds)
    figures = [item.value for item in items if isinstance(item.value, Figure)]
    span = next((item.text.replace("_", " ") for item in items if item.kind == "DURATION"), None)
    if figures and "FUEL" not in kinds and "SIDE" not in kinds:
        spoken = " and ".join(
            dict.fromkeys(item.text.replace("_", " ") for item in items if item.kind == "N")
        )
        return _of_number(spoken, figures, named, kinds, context)
    weight = next((item.text.replace("_", " ") for item in items if item.kind == "WEIGHT"), None)
    if weight is not None:
        return f'I understood {weight}, but not of what. Say "bird one weighs {weight}".'
    if span is not None and not kinds & {"TIMER", "SERVE"}:
        return f'I understood {span}, but not for what. Say "timer for {span}".'
    if birds and not kinds & {"LID", "VENT", "FUEL", "TIMER", "WEIGH"}:
        return f"I understood bird {named}. What of it: a temperature, on, off, or sauced?"
    return next((text for kind, text in _MISSING.items() if kind in kinds), None)


def _numbers(item: Item) -> tuple[int, ...]:
    return item.value.numbers if isinstance(item.value, Ref) else ()


def _of_number(
    number: str, figures: list[Figure], named: str, kinds: set[str], context: Context
) -> str:
    said = Said(figures[0].value, figures[0].scale or context.scale)
    f = fahrenheit(said.number, said.scale)
    if len(figures) > 1 and named:
        return f"I understood bird {named} with {number}. Say one number for one bird."
    if "GRILL" in kinds and f <= HOTTEST_FIRE_F:
        return f"I understood the grill and {number}. What does it read now?"
    if named and f > HOTTEST_MEAT_F:
        return f'{number} is too hot for a bird. If it is the grill, say "grill {number}".'
    if f > HOTTEST_FIRE_F:
        return f"I understood {number}, which is more than any grill reads. Say it again."
    say = f'Say "bird {named} reads {number}"'
    if named and kinds & _NOT_SO:
        return f"I understood bird {named} and {number}, not that it reads it. {say} when it does."
    if named:
        return f"I understood bird {named} and {number}, but not what of it. {say}."
    either = f'Say "bird one reads {number}" or "grill {number}".'
    return f"I understood {number}, but not what it is of. {either}"
