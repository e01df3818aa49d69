"""What comes of facts understood: taken, asked about, or refused with what was understood."""

from dataclasses import replace

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.context import Context, Understood
from assistant.grammar.free.helping import helped
from assistant.grammar.free.lex import Item
from assistant.grammar.free.open_facts import Fact, OpenReading
from assistant.grammar.numbers import UNITS

Asked = tuple[str, tuple[cmd.Command, ...]]  # a question, and the commands it is between


def judged(
    facts: tuple[Fact, ...], context: Context, cost: float, *, scale_asked: bool = True
) -> Understood:
    """Accept, or ask for all that is missing in the facts."""
    for fact in facts:
        bird = getattr(fact, "bird", None)
        if isinstance(bird, int) and bird > context.most_birds:
            return Understood(
                (),
                "refuse",
                help=f"There are {context.birds} birds tonight, no bird {UNITS[bird]}; which one?",
                cost=cost + 3,
            )
    facts = tuple(dict.fromkeys(facts))
    asks = [_between(some) for some in _twice(facts)]
    asks += [ask for fact in facts if (ask := _asks(fact, context, scale_asked=scale_asked))]
    return asking(facts, asks, cost) if asks else Understood(facts, "accept", cost=cost)


def _twice(facts: tuple[Fact, ...]) -> list[tuple[cmd.BirdReading, ...]]:
    """Readings of one bird at one spot that are not the same number."""
    by_place: dict[tuple[int, str | None], list[cmd.BirdReading]] = {}
    for fact in facts:
        if isinstance(fact, cmd.BirdReading):
            by_place.setdefault((fact.bird, fact.spot), []).append(fact)
    return [tuple(some) for some in by_place.values() if len(some) > 1]


def _between(readings: tuple[cmd.BirdReading, ...]) -> Asked:
    numbers = " or ".join(f"{one.said.number:g}" for one in readings)
    return f"Bird {readings[0].bird}, {numbers}?", readings


def asking(facts: tuple[Fact, ...], asks: list[Asked], cost: float) -> Understood:
    """Every question in one line; the options of the first are open, the others wait."""
    line = " ".join(dict.fromkeys(question for question, _ in asks))
    first, *later = (options for _, options in asks)
    return Understood(facts, "ask", line, first, tuple(one for one in later if one), cost=cost)


def _asks(fact: Fact, context: Context, *, scale_asked: bool) -> Asked | None:
    """What has to be asked about a fact."""
    if isinstance(fact, OpenReading):
        options = tuple(
            cmd.BirdReading(bird, fact.temperature, fact.said, fact.spot)
            for bird in range(1, context.birds + 1)
        )
        return f"{fact.said.number:g}, which bird?", options
    other = _in_other_scale(fact, context) if scale_asked else None
    if other is None or not isinstance(fact, cmd.BirdReading):
        return None
    names = ("Celsius", "Fahrenheit")
    units = names if other.said.scale == "C" else names[::-1]
    return f"{other.said.number:g}, {units[0]} or {units[1]}?", (other, fact)


MOST_FALLEN_F = 15.0  # meat over a fire falls no more between readings; from memory
EITHER_SCALE = (38.0, 82.0)  # warm meat in Celsius, and still cold in Fahrenheit


def _in_other_scale(fact: Fact, context: Context) -> cmd.BirdReading | None:
    """The reading in the other scale, where only that fits the bird's last one, or where none
    was read before and meat over a fire may well have either."""
    if not isinstance(fact, cmd.BirdReading) or fact.said.scale != context.scale:
        return None
    last = context.last_f.get(fact.bird)
    number = fact.said.number
    f = number * 1.8 + 32 if context.scale == "F" else number
    if not 28 <= f <= 212:
        return None
    if last is None:
        is_doubtful = context.scale == "F" and EITHER_SCALE[0] <= number <= EITHER_SCALE[1]
    else:
        is_far = fact.temperature - last > 40 or last - fact.temperature > MOST_FALLEN_F
        is_doubtful = is_far and -6 <= f - last <= 40
    if is_doubtful:
        return replace(
            fact,
            temperature=round(f, 3),
            said=cmd.Said(number, "C" if context.scale == "F" else "F"),
        )
    return None


def refused(items: tuple[Item, ...], context: Context, cost: float) -> Understood:
    """Nothing is taken; say what was understood and what is missing."""
    return Understood((), "refuse", help=helped(items, context), cost=cost)
