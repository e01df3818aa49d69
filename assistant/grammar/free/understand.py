"""Free words and the evening to facts: what is clear, what has to be asked, what is missing.

A sentence of the grammar means exactly what the grammar says. Other words are marked
(`lex`), then tried as one whole saying (`talk`), then covered as cheaply as possible by
frames of facts (`frames`); what no frame covers has its price, and past a limit nothing
is taken at all: a question costs less than a wrong fact.
"""

import re
from dataclasses import dataclass, replace

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.clean import is_too_long
from assistant.grammar.free import earlier, talk
from assistant.grammar.free.answering import answer
from assistant.grammar.free.context import Context, Understood
from assistant.grammar.free.frames import frames
from assistant.grammar.free.got import Build, Got, Unclear
from assistant.grammar.free.lex import Item, lexed, marked
from assistant.grammar.free.lexicon import FILLERS
from assistant.grammar.free.open_facts import Fact, OpenReading
from assistant.grammar.free.refer import Ref
from assistant.grammar.free.tidy import plain_words
from assistant.grammar.free.verdict import Asked, asking, judged, refused
from assistant.grammar.grammar import Names
from assistant.grammar.parse import NotUnderstood, parse

ANY_WORD = 0.45  # an unknown word that no frame covers; half of it inside one
INSIDE = 0.22
KEY_WORD = {
    "N": 2.5, "R": 0.9, "SAUCY": 0.9, "NOT": 1.2, "FUTURE": 1.0, "YOU": 2.6, "IT": 0.0, "ALL": 0.3,
    "DURATION": 1.5, "CLOCK": 1.5, "WEIGHT": 1.5, "NO": 0.4, "P": 0.7, "MORE": 0.1, "LESS": 0.3,
    "VAGUE": 0.2, "ON": 0.5, "OFF": 0.9, "OPEN": 0.2, "SHUT": 0.2, "RISING": 0.0, "ADD": 0.5,
    "SHARE": 0.5, "WANT": 0.2, "BIT": 0.0, "KEEP": 0.2, "GRILL": 0.5, "SERVE": 0.7,
}  # fmt: skip
FRAME = 0.25
BLOCKED = 3.0  # a fact denied, or only to come
MOST = 2.4
BARE_MOST = 0.7  # a bare number of no bird, with next to nothing around it
_ASKING = re.compile(
    r"(?:who|what|which|when|where|why|how|is|are|was|were|do|does|did|should|shall|can|could|would|have|has|am)\b"
)
_POLITE = re.compile(r"(?:can|could|would|will) you (?:please |just )?")


def understand(words: str, context: Context, *, scale_asked: bool = True) -> Understood:
    """What the words mean in this evening."""
    known = _known(words, context)
    if known is not None:
        return judged(known, context, 0.0, scale_asked=scale_asked)
    plain = () if is_too_long(words) else plain_words(words)
    if not plain:
        return Understood((), "refuse", help="No words there.", cost=9.0)
    if plain[0] == "right" and context.motor_side is None and len(plain) > 1:
        plain = plain[1:]  # an opening, not a hand
    told = earlier.split(plain)
    if told is not None and told[0]:
        rest, when = told
        meant = understand(" ".join(rest), context, scale_asked=scale_asked)
        return earlier.dated(meant, when)
    return earlier.undated(_understood(plain, context, scale_asked=scale_asked), plain)


def _understood(plain: tuple[str, ...], context: Context, *, scale_asked: bool) -> Understood:
    """What words that the grammar lacks mean, as of now."""
    items = lexed(plain, context)
    answered = answer(items, context)
    if answered is not None:
        return answered
    spoken = talk.core(" ".join(plain))
    to_us = _POLITE.sub("", spoken)
    got = Got(items, context, ())
    facts = talk.whole(spoken, got) or (talk.whole(to_us, got) if to_us != spoken else None)
    if facts is not None and (_only_asks(facts) or _cue(plain, spoken) is None):
        price = 0.05 * sum(1 for one in items if not one.kind and one.text not in FILLERS)
        return judged(facts, context, price, scale_asked=scale_asked)
    if _ASKING.match(to_us):
        return refused(items, 4.0)
    return _covered(items, context, scale_asked=scale_asked)


def _known(words: str, context: Context) -> tuple[Fact, ...] | None:
    sauces = tuple(
        name
        for name in dict.fromkeys((*context.names, *context.sauces.values()))
        if name != "plain"
    )
    try:
        command = parse(words, Names(sauces=sauces), scale=context.scale, open_names=True)
    except (NotUnderstood, ValueError):
        return None
    if isinstance(command, cmd.Number) and not context.asked:
        return (
            (OpenReading(command.temperature, command.said),)
            if 28 <= command.temperature <= 212
            else (command,)
        )
    return (command,)


def _only_asks(facts: tuple[Fact, ...]) -> bool:
    return all(fact.NAME.startswith("ask_") or isinstance(fact, cmd.Repeat) for fact in facts)


_OTHERS = re.compile(
    r"\b(?:your|yours|yourselves|mum|mama|mom|dad|daddy|grandma|kids|dog|dogs|baby|brother|son|"
    r"hen it|you two|call you|phone you|cut you|get down|get away|y'all|ain't for)\b|"
    r"\b(?:do not you|does not it|is not it|you wanting|you want|are you|have you)\b"
)


def _cue(plain: tuple[str, ...], spoken: str) -> str | None:
    """What tells that this is said to somebody else."""
    found = _OTHERS.search(" ".join(plain)) or (_OTHERS.match(spoken))
    return found.group() if found else None


@dataclass(frozen=True)
class _Cover:
    cost: float
    facts: tuple[Fact, ...] = ()
    unclear: tuple[Unclear, ...] = ()
    bare: bool = False
    birds: tuple[int, ...] = ()


def _covered(items: tuple[Item, ...], context: Context, *, scale_asked: bool) -> Understood:
    """The cheapest cover of the items by frames."""
    text = marked(items)
    starts, at = [], 0
    for item in items:
        starts.append(at)
        at += len(item.text) + len(item.kind) + 2
    ends = {one: n for n, one in enumerate([*starts, at])}
    best: list[_Cover | None] = [_Cover(0.0), *([None] * len(items))]
    for n, item in enumerate(items):
        here = best[n]
        if here is None:
            continue
        _keep(best, n + 1, _past(here, item))
        if not item.kind and not item.text:
            continue
        for pattern, build in frames():
            found = pattern.match(text, starts[n])
            if found is None or found.end() == found.start():
                continue
            stop = ends[found.end()]
            cover = _with(here, items, n, stop, build, context)
            if cover is not None:
                _keep(best, stop, cover)
    last = best[-1]
    assert last is not None
    limit = BARE_MOST if last.bare and len(last.facts) == 1 else MOST
    if last.cost > limit or not (last.facts or last.unclear):
        return refused(items, last.cost)
    if last.unclear:
        asks: list[Asked] = [(one.question, one.options) for one in last.unclear]
        rest = judged(last.facts, context, last.cost, scale_asked=scale_asked)
        if rest.outcome == "refuse":
            return rest
        if rest.question is not None:
            asks += [(rest.question, rest.options), *(("", one) for one in rest.later)]
        return asking(last.facts, asks, last.cost)
    return judged(last.facts, context, last.cost, scale_asked=scale_asked)


def _plain_price(item: Item) -> float:
    return 0.0 if item.text in FILLERS else ANY_WORD


def _past(here: _Cover, item: Item) -> _Cover:
    price = KEY_WORD.get(item.kind, 0.6) if item.kind else _plain_price(item)
    birds = here.birds
    if isinstance(item.value, Ref) and item.value.numbers and item.value.kind != "all":
        birds = item.value.numbers
    return replace(here, cost=here.cost + price, birds=birds)


def _keep(best: list[_Cover | None], at: int, cover: _Cover) -> None:
    old = best[at]
    if old is None or cover.cost < old.cost - 1e-9:
        best[at] = cover


def _with(
    here: _Cover, items: tuple[Item, ...], start: int, stop: int, build: Build, context: Context
) -> _Cover | None:
    part = items[start:stop]
    got = Got(part, context, here.birds)
    unclear: tuple[Unclear, ...] = ()
    try:
        facts = build(got)
    except Unclear as question:
        facts, unclear = (), (question,)
    if facts is None:
        return None
    inside = sum(INSIDE for one in part if not one.kind and one.text not in FILLERS)
    price = FRAME + inside + _blocked(items, start, stop, facts)
    named = [one for one in got.refs() if one.kind != "all" and one.numbers]
    birds = named[-1].numbers if named else here.birds
    bare = any(isinstance(one, OpenReading) and one.spot is None for one in facts) and all(
        one.text == "it" for one in part if isinstance(one.value, Ref)
    )
    return _Cover(
        here.cost + price,
        (*here.facts, *facts),
        (*here.unclear, *unclear),
        here.bare or bare,
        birds,
    )


_PLANNED = (cmd.ServeAt, cmd.ServeIn, cmd.Hold, cmd.BirdSauce, cmd.BirdWeight)


def _blocked(items: tuple[Item, ...], start: int, stop: int, facts: tuple[Fact, ...]) -> float:
    """The price of a "not" or "going to" just before a fact."""
    if facts and all(isinstance(fact, _PLANNED) for fact in facts):
        return 0.0
    if any(one.kind == "WANT" for one in items[start:stop]):
        return BLOCKED
    before = items[max(0, start - 3) : start]
    return BLOCKED if any(one.kind in {"NOT", "FUTURE", "WANT", "KEEP"} for one in before) else 0.0
