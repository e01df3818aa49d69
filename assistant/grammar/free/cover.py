"""The cheapest cover of marked words by frames of facts: what no frame explains has its price."""

from dataclasses import dataclass, replace
from itertools import pairwise

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.context import Context, Understood
from assistant.grammar.free.frames import frames
from assistant.grammar.free.got import Build, Got, Unclear
from assistant.grammar.free.leftover import TOPICS, question_about
from assistant.grammar.free.lex import Item, marked
from assistant.grammar.free.lexicon import FILLERS
from assistant.grammar.free.mending import at_one_spot, of_the_one_named
from assistant.grammar.free.open_facts import Fact, OpenReading
from assistant.grammar.free.refer import Ref
from assistant.grammar.free.verdict import Asked, asking, judged, refused

ANY_WORD = 0.45  # an unknown word that no frame covers; half of it inside one
INSIDE = 0.22
KEY_WORD = {
    "N": 2.5,
    "R": 0.9,
    "SAUCY": 0.9,
    "NOT": 1.2,
    "FUTURE": 1.0,
    "YOU": 2.6,
    "KIN": 0.9,
    "PAST": 2.5,
    "DAY": 2.0,
    "WOOD": 1.7,
    "THINGS": 1.8,
    "IT": 0.0,
    "ALL": 0.3,
    "DURATION": 1.5,
    "CLOCK": 1.5,
    "WEIGHT": 1.5,
    "NO": 0.4,
    "P": 0.7,
    "MORE": 0.1,
    "LESS": 0.3,
    "VAGUE": 0.2,
    "ON": 0.5,
    "OFF": 0.9,
    "OPEN": 0.4,
    "SHUT": 0.4,
    "RISING": 0.0,
    "ADD": 0.5,
    "SHARE": 0.5,
    "WANT": 0.2,
    "NEED": 0.9,
    "BIT": 0.0,
    "KEEP": 0.2,
    "GRILL": 0.5,
    "SERVE": 0.3,
    "LATE": 0.2,
}
FRAME = 0.25
ASIDE = 0.2  # words that tell nothing by a frame of their own
BLOCKED = 3.0  # a fact denied, or only to come
MOST = 1.6
BARE_MOST = 0.7  # a bare number of no bird, with next to nothing around it


@dataclass(frozen=True)
class _Cover:
    cost: float
    facts: tuple[Fact, ...] = ()
    unclear: tuple[Unclear, ...] = ()
    bare: bool = False
    birds: tuple[int, ...] = ()  # of the last reference
    named: tuple[int, ...] = ()  # of all references
    left: frozenset[str | int] = frozenset()  # topics and birds that no frame explains


def covered(items: tuple[Item, ...], context: Context, *, scale_asked: bool) -> Understood:
    """The cheapest cover of the items by frames."""
    text = marked(items)
    starts, at = [], 0
    for item in items:
        starts.append(at)
        at += len(item.text) + len(item.kind) + 2
    ends = {one: n for n, one in enumerate([*starts, at])}
    best: list[dict[bool, _Cover]] = [{} for _ in (*items, None)]
    _keep(best[0], _Cover(0.0))
    for n, item in enumerate(items):
        matches = [
            (ends[found.end()], build)
            for pattern, build in (frames() if best[n] else ())
            if (found := pattern.match(text, starts[n])) and found.end() > found.start()
        ]
        for here in tuple(best[n].values()):
            _keep(best[n + 1], _past(here, item))
            for stop, build in matches:
                cover = _with(here, items, n, stop, build, context)
                if cover is not None:
                    _keep(best[stop], cover)
    last = best[-1].get(True)
    if last is None:
        return refused(items, context, best[-1][False].cost)
    is_one = len(last.facts) == 1 or all(isinstance(one, cmd.BirdReading) for one in last.facts)
    limit = BARE_MOST if last.bare and is_one else MOST
    if last.cost > limit:
        return refused(items, context, last.cost)
    if any(one.text in _BUT for one in items):
        last = replace(last, facts=_last_told(last.facts))
    last = replace(last, facts=of_the_one_named(at_one_spot(last.facts, items), items))
    asks_more = question_about(
        {one for one in last.left if isinstance(one, str)},
        {one for one in last.left if isinstance(one, int)},
        last.facts,
    )
    if asks_more is not None:
        last = replace(last, unclear=(*last.unclear, Unclear(asks_more)))
    if last.unclear:
        asks: list[Asked] = [(one.question, one.options) for one in last.unclear]
        rest = judged(last.facts, context, last.cost, scale_asked=scale_asked)
        if rest.outcome == "refuse":
            return rest
        if rest.question is not None:
            asks += [(rest.question, rest.options), *(("", one) for one in rest.later)]
        return asking(last.facts, asks, last.cost)
    return judged(last.facts, context, last.cost, scale_asked=scale_asked)


_BUT = {"except", "apart", "excepting", "bar", "besides"}


def _last_told(facts: tuple[Fact, ...]) -> tuple[Fact, ...]:
    """ "All at one twenty except bird three": what was told last of a bird stands."""
    places = {
        (one.bird, one.spot): one for one in facts if isinstance(one, cmd.BirdReading)
    }.values()
    return tuple(one for one in facts if not isinstance(one, cmd.BirdReading) or one in places)


def _plain_price(item: Item) -> float:
    return 0.0 if item.text in FILLERS else ANY_WORD


def _past(here: _Cover, item: Item) -> _Cover:
    price = KEY_WORD.get(item.kind, 0.6) if item.kind else _plain_price(item)
    birds = here.birds
    if isinstance(item.value, Ref) and item.value.numbers and item.value.kind != "all":
        birds = item.value.numbers
    named = here.named if birds is here.birds else (*here.named, *birds)
    left: frozenset[str | int] = here.left
    if item.kind in TOPICS:
        left |= {item.kind}
    if item.kind == "R" and birds is not here.birds:
        left |= {*birds}
    return replace(here, cost=here.cost + price, birds=birds, named=named, left=left)


def _keep(best: dict[bool, _Cover], cover: _Cover) -> None:
    """The cheapest that tells something, and the cheapest that tells nothing."""
    tells = bool(cover.facts or cover.unclear)
    old = best.get(tells)
    if old is None or cover.cost < old.cost - 1e-9:
        best[tells] = cover


def _with(
    here: _Cover, items: tuple[Item, ...], start: int, stop: int, build: Build, context: Context
) -> _Cover | None:
    part = items[start:stop]
    got = Got(part, context, here.birds, here.named)
    unclear: tuple[Unclear, ...] = ()
    try:
        facts = build(got)
    except Unclear as question:
        facts, unclear = (), (question,)
    if facts is None:
        return None
    inside = sum(INSIDE for one in part if not one.kind and one.text not in FILLERS)
    price = FRAME + inside + _blocked(items, start, stop, facts)
    if not facts and not unclear:
        if got.has("was") and sum(one.kind == "N" for one in items) == 1:
            return None  # "it is off, it was one sixty five": the one number told
        price = ASIDE
    elif part[0].kind == "N" and _is_of_another(items[:start], here.facts, facts):
        price += FRAME  # "bird one is one thirty, bird two ...": the number goes with bird one
    refs = [one for one in got.refs() if one.kind != "all"]
    named = tuple(n for one in refs for n in one.numbers or _resolved(one, got))
    last = [one for one in refs if one.numbers]
    birds = last[-1].numbers if last else here.birds
    told = {getattr(fact, "bird", None) for fact in facts}
    if len(told) == 1 and isinstance(bird := told.pop(), int):
        birds = (bird,)  # "bird four gets harissa and it weighs": not the harissa bird
    bare = _is_bare(part, facts)
    return _Cover(
        here.cost + price,
        (*here.facts, *facts),
        (*here.unclear, *unclear),
        here.bare or bare,
        birds,
        (*here.named, *named),
        here.left,
    )


_THEY = {"they", "them", "these", "everybody", "everything"}
_OF_THE_AIR = {"fire", "heat", "temp", "temperature", "oven", "air", "inside", "under", "box"}


def _is_bare(part: tuple[Item, ...], facts: tuple[Fact, ...]) -> bool:
    """Whether a number is all there is, with no bird or grill named: any talk has numbers."""
    refs = [one for one in part if isinstance(one.value, Ref)]
    if all(isinstance(one, cmd.BirdReading) for one in facts) and facts:
        return bool(refs) and all(one.text in _THEY for one in refs)
    if all(isinstance(one, cmd.GrillReading) for one in facts) and facts:
        named = any(one.kind in {"GRILL", "LID", "FUEL"} for one in part)
        return not named and not any(one.text in _OF_THE_AIR for one in part)
    return any(isinstance(one, OpenReading) and one.spot is None for one in facts) and all(
        one.value.kind == "last" for one in refs if isinstance(one.value, Ref)
    )


def _is_of_another(
    before: tuple[Item, ...], told: tuple[Fact, ...], facts: tuple[Fact, ...]
) -> bool:
    """Whether a bird just before a number, of which nothing was told, is not the number's."""
    meant = [one for one in before if one.kind and one.kind != "IT"]
    ref = meant[-1].value if meant else None
    birds = {getattr(one, "bird", None) for one in (*told, *facts)}
    return isinstance(ref, Ref) and bool(ref.numbers) and not birds & {*ref.numbers}


def _resolved(ref: Ref, got: Got) -> tuple[int, ...]:
    return got.birds() if ref.kind in {"other", "others"} else ()


_PLANNED = (cmd.ServeAt, cmd.ServeIn, cmd.Hold, cmd.BirdSauce, cmd.BirdWeight)


_ON_OR_OFF = cmd.BirdsOn | cmd.BirdsOff | cmd.LidOff | cmd.LidOn
_OF_THE_GRILL = {
    "fire", "spit", "rod", "heat", "flames", "rotisserie", "skewer", "motor", "rack", "left",
    "right", "side", "back", "front", "pile", "bank", "edge", "edges", "ends", "middle",
}  # fmt: skip


def _is_of_other_things(
    items: tuple[Item, ...], start: int, stop: int, facts: tuple[Fact, ...]
) -> bool:
    """Whether a count without a word for coals is followed by what was counted, and "the
    bottom" without a vent by what it is the bottom of."""
    kinds = {one.kind for one in items[start:stop]}
    if all(isinstance(one, cmd.Vents) for one in facts) and "VENT" not in kinds:
        then = items[stop : stop + 1]
        return any(not one.kind and one.text not in FILLERS for one in then)
    if not all(isinstance(one, cmd.FuelAdded) for one in facts) or kinds & _OF_FUEL:
        return False
    beyond = items[stop : stop + 1]
    number = next((n for n in range(start, stop) if items[n].kind == "N"), stop)
    inside = items[number + 1 : stop]
    return any(
        not one.kind and one.text not in FILLERS and one.text not in _OF_THE_GRILL
        for one in (*inside, *beyond)
    )


_OF_FUEL = {"FUEL", "CHIMNEY", "SIDE"}


def _blocked(items: tuple[Item, ...], start: int, stop: int, facts: tuple[Fact, ...]) -> float:
    """The price of a "not" or "going to" just before a fact."""
    if facts and all(isinstance(fact, _PLANNED) for fact in facts):
        return 0.0
    if any(one.kind in {"WANT", "NEED"} for one in items[start:stop]):
        return BLOCKED
    after = [one.text for one in items[stop : stop + 3]]
    if after[:1] == ["left"] and all(isinstance(fact, cmd.FuelAdded) for fact in facts):
        return BLOCKED  # "six coals left"
    if all(isinstance(fact, _ON_OR_OFF) for fact in facts) and any(
        one.text in {"the", "a", "my"}
        and not then.kind
        and then.text not in FILLERS
        and then.text not in _OF_THE_GRILL
        for one, then in pairwise(items[stop : stop + 3])
    ):
        return BLOCKED  # on the floor, off the cooler
    if facts and _is_of_other_things(items, start, stop, facts):
        return BLOCKED  # "put six burgers on"
    before = items[max(0, start - 3) : start]
    return (
        BLOCKED
        if any(one.kind in {"NOT", "FUTURE", "WANT", "KEEP", "NEED"} for one in before)
        else 0.0
    )
