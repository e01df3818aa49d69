"""Free words and the evening to facts: what is clear, what has to be asked, what is missing.

A sentence of the grammar means exactly what the grammar says. Other words are marked
(`lex`), then tried as one whole saying (`talk`), then covered as cheaply as possible by
frames of facts (`frames`); what no frame covers has its price, and past a limit nothing
is taken at all: a question costs less than a wrong fact.
"""

import re
from dataclasses import replace

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.clean import is_too_long
from assistant.grammar.free import earlier, for_all, talk, weighed
from assistant.grammar.free.answering import answer
from assistant.grammar.free.context import Context, Understood
from assistant.grammar.free.conversation import after
from assistant.grammar.free.cover import covered
from assistant.grammar.free.got import Got
from assistant.grammar.free.lex import Item, lexed
from assistant.grammar.free.lexicon import FILLERS
from assistant.grammar.free.mending import mended, said_again, told_scale
from assistant.grammar.free.open_facts import Fact, OpenReading
from assistant.grammar.free.refer import Ref
from assistant.grammar.free.saying import core, peeled
from assistant.grammar.free.tidy import plain_words
from assistant.grammar.free.verdict import asking, judged, refused
from assistant.grammar.grammar import Names
from assistant.grammar.numbers import UNITS
from assistant.grammar.parse import NotUnderstood, parse

MOST_IN_PARTS = 1.0
_ASKING = re.compile(
    r"(?:who|what|which|when|where|why|how|is|are|was|were|do|does|did|should|shall|can|could|"
    r"would|have|has|am)\b"
)
_POLITE = re.compile(r"(?:can|could|would|will) you (?:please |just )?")


def understand(words: str, context: Context, *, scale_asked: bool = True) -> Understood:
    """What the words mean in this evening."""
    plain = () if is_too_long(words) else plain_words(words)
    told_once = told_scale(plain, context) if plain else None
    if told_once is not None:
        return understand(" ".join(told_once[0]), told_once[1], scale_asked=False)
    better = mended(said_again(plain, context), context) if plain else plain
    if better != plain:
        return understand(" ".join(better), context, scale_asked=scale_asked)
    known = _as_grammar(words, plain, context)
    if known is not None:
        return judged(known, context, 0.0, scale_asked=scale_asked)
    if not plain:
        return Understood((), "refuse", help="No words there.", cost=9.0)
    if plain[0] == "right" and context.motor_side is None and len(plain) > 1:
        plain = plain[1:]  # an opening, not a hand
    both = _weighed_and_sauced(plain, context)
    if both is not None:
        return both
    everyone = for_all.sauces(" ".join(plain), context)
    if everyone:
        return Understood(everyone, "accept")
    told = earlier.split(plain)
    if told is not None and told[0]:
        rest, when = told
        meant = understand(" ".join(rest), context, scale_asked=scale_asked)
        if when.ago is not None or meant.outcome != "refuse":
            return earlier.dated(meant, when)  # else "at" opened no time, but a reading
    return earlier.undated(_understood(plain, context, scale_asked=scale_asked), plain)


def _weighed_and_sauced(plain: tuple[str, ...], context: Context) -> Understood | None:
    """A weight with the sauce named after it, which may be any word."""
    parts = weighed.parted(" ".join(plain))
    if parts is None:
        return None
    weight = understand(parts[0], context)
    facts = weighed.sauced(weight.facts, *parts[1:]) if weight.outcome == "accept" else None
    return None if facts is None else judged(facts, context, weight.cost)


def _understood(
    plain: tuple[str, ...], context: Context, *, scale_asked: bool, parted: bool = False
) -> Understood:
    """What words that the grammar lacks mean, as of now; `parted`: they are a part of more."""
    items = lexed(plain, context)
    answered = answer(items, context)
    if answered is not None:
        return answered
    spoken = core(" ".join(plain))
    to_us = _POLITE.sub("", spoken)
    got = Got(items, context, ())
    facts = talk.whole(spoken, got)
    if facts is None and to_us != spoken:
        facts = talk.whole(to_us, Got(lexed(tuple(to_us.split()), context), context, ()))
    if any(one.kind == "PAST" for one in items):
        return refused(items, context, 4.0)
    if any(one.kind == "KIN" for one in items) and {"your", "his"} & {*plain}:
        return refused(items, context, 4.0)  # "what time did your daughter get in?"
    if facts is not None and (_only_asks(facts) or not _is_to_others(plain, items)):
        both = (
            None
            if parted or not talk.leaves_more(facts, got)
            else _in_parts(items, context, anywhere=True)
        )
        if both is not None:
            return both
        if _passes_over_a_reading(facts, items):
            told = covered(items, context, scale_asked=scale_asked)
            if told.outcome == "accept":
                return replace(told, facts=(*told.facts, *facts))
        price = 0.05 * sum(1 for one in items if not one.kind and one.text not in FILLERS)
        return judged(facts, context, price, scale_asked=scale_asked)
    if _ASKING.match(to_us):
        return refused(items, context, 4.0)
    found = covered(items, context, scale_asked=scale_asked)
    if found.outcome != "refuse" or parted:
        return found
    parts = _in_parts(items, context)
    return parts if parts is not None and parts.cost <= MOST_IN_PARTS else found


def _passes_over_a_reading(facts: tuple[Fact, ...], items: tuple[Item, ...]) -> bool:
    """ "Three thirty on the grill, a bit weak still": the trouble is not all that is told."""
    kinds = {one.kind for one in items}
    return "N" in kinds and "GRILL" in kinds and all(isinstance(one, cmd.Trouble) for one in facts)


_JOINS = {"and", "but", "also", "plus", "so"}
_MAY_BEGIN = {"R", "GRILL", "FUEL", "IT", "ALL", "LID", "VENT"}


def _in_parts(
    items: tuple[Item, ...], context: Context, *, anywhere: bool = False
) -> Understood | None:
    """Two things told in one breath, the second met by what the first left; None where no
    place to part them leaves two that are understood."""
    words = tuple(word for item in items for word in item.text.split("_"))
    best: Understood | None = None
    for item in items[1:]:
        if item.text not in _JOINS and not (
            anywhere and (item.kind in _MAY_BEGIN or item.text in {"the", "i", "we", "there"})
        ):
            continue
        first = _understood(words[: item.start], context, scale_asked=True, parted=True)
        if first.outcome == "refuse" or not first.facts:
            continue
        then = after(context, first)
        second = _understood(words[item.start :], then, scale_asked=True, parted=True)
        if second.outcome == "refuse" or not second.facts:
            continue
        if best is None or first.cost + second.cost < best.cost:
            best = _together(first, second)
    return best


def _together(first: Understood, second: Understood) -> Understood:
    asks = [one for one in (first, second) if one.outcome == "ask"]
    facts, cost = (*first.facts, *second.facts), first.cost + second.cost
    if not asks:
        return Understood(facts, "accept", cost=cost)
    return asking(facts, [(one.question or "", one.options) for one in asks], cost)


def _as_grammar(words: str, plain: tuple[str, ...], context: Context) -> tuple[Fact, ...] | None:
    """What a sentence of the grammar says, with or without what people say around one; of
    several the one that names nothing the evening does not know."""
    some = (words, *peeled(" ".join(plain)), *_numbered(plain, context)) if plain else (words,)
    for open_names in (False, True):
        for one in some:
            known = _known(one, context, open_names=open_names)
            if known is not None:
                return known
    return _dinner_at(plain, context)


def _numbered(plain: tuple[str, ...], context: Context) -> tuple[str, ...]:
    """The words with every bird by its number, as the grammar has it."""
    items = lexed(plain, context)
    named = {
        n: item.value.numbers[0]
        for n, item in enumerate(items)
        if item.kind == "R" and isinstance(item.value, Ref) and len(item.value.numbers) == 1
    }
    if not named:
        return ()
    words = (
        f"bird {UNITS[named[n]]}" if n in named else item.text.replace("_", " ")
        for n, item in enumerate(items)
    )
    return peeled(" ".join(words))


_DINNER = re.compile(r"\b(?:dinner|supper|serve|serving|eat|eating|dine|lunch|meal|food)\b")


def _dinner_at(plain: tuple[str, ...], context: Context) -> tuple[Fact, ...] | None:
    """The day and time of dinner as the grammar tells them, after words of the cook's own."""
    text = " ".join(plain)
    told = _DINNER.search(text)
    if told is None or not _DAY.search(text):
        return None
    for at in range(len(text[: told.end()].split()), len(plain)):
        known = _known(" ".join(("dinner", *plain[at:])), context, open_names=False)
        if known is not None:
            return known
    return None


_DAY = re.compile(
    r"\b(?:(?:mon|tues|wednes|thurs|fri|satur|sun)day|tomorrow|today|tonight|hundred|noon|midnight|"
    r"morning|afternoon|evening|[ap] m)\b"
)


def _known(words: str, context: Context, *, open_names: bool) -> tuple[Fact, ...] | None:
    sauces = tuple(
        name
        for name in dict.fromkeys((*context.names, *context.sauces.values()))
        if name != "plain"
    )
    names = Names(sauces=sauces)
    try:
        command = parse(words, names, scale=context.scale, open_names=open_names)
    except (NotUnderstood, ValueError):
        return None
    if isinstance(command, cmd.Number) and not context.asked:
        return (
            (OpenReading(command.temperature, command.said),)
            if 28 <= command.temperature <= 212
            else (command,)
        )
    if isinstance(command, cmd.BirdSauce) and command.sauce in {"nothing", "none", "naked"}:
        command = cmd.BirdSauce(command.bird, "plain")
    return (command,)


def _only_asks(facts: tuple[Fact, ...]) -> bool:
    return all(
        fact.NAME.startswith("ask_") or isinstance(fact, cmd.Repeat | cmd.Wake) for fact in facts
    )


_OTHERS = re.compile(
    r"\b(?:your|yours|yourselves|"
    r"hen it|you two|call you|phone you|cut you|get down|get away|y'all|ain't for)\b|"
    r"\b(?:do not you|does not it|is not it|you wanting|you want|are you|have you)\b"
)


_PEOPLE = re.compile(r"\b(?:mum|mama|mom|dad|daddy|grandma|kids|dog|dogs|baby|brother|son)\b")


def _is_to_others(plain: tuple[str, ...], items: tuple[Item, ...]) -> bool:
    """Whether this is said to somebody else: of people one may tell what they did to a bird."""
    words = " ".join(plain)
    named = any(isinstance(one.value, Ref) and one.value.kind == "named" for one in items)
    return bool(_OTHERS.search(words)) or (bool(_PEOPLE.search(words)) and not named)
