"""Repairs in the cook's own words: take back, say again, and what was really meant."""

import re

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.figures import Figure
from assistant.grammar.free.got import Got, said
from assistant.grammar.free.lex import Item
from assistant.grammar.free.refer import Ref
from assistant.grammar.free.saying import Rule, fixed
from assistant.grammar.free.timers import Facts
from assistant.grammar.meaning import fahrenheit

_MEANT_F = (28.0, 700.0)


_HALTS = re.compile(
    r"(?:wait|hang on|hold on|hold up|oops|whoops)\b.*\b(?:bird|breast|thigh|"
    r"grill)\b"
)
_SAID_BUT = re.compile(r"(?:i said|did i say) .* (?:but|should be|i meant|i mean) ")


def _meant(items: tuple[Item, ...], kind: type) -> list[Item]:
    """The numbers or birds but those after "not" or "instead of"."""
    return [
        item
        for at, item in enumerate(items)
        if isinstance(item.value, kind) and not _denied(items[max(0, at - 2) : at])
    ]


def _denied(before: tuple[Item, ...]) -> bool:
    words = [one.text for one in before]
    return bool(words) and (words[-1] in {"not", "never"} or words == ["instead", "of"])


def correct(got: Got, match: re.Match[str]) -> Facts:
    """The number or the bird that was meant; None where that is not one."""
    figures = [one.value for one in _meant(got.items, Figure)]
    if _SAID_BUT.match(match.string) and len(figures) == 2:
        figures = figures[1:]  # "I said one thirteen but it is one thirty"
    named = [
        one.value
        for one in _meant(got.items, Ref)
        if isinstance(one.value, Ref) and one.value.kind in {"named", "sauce"}
    ]
    birds = {n for ref in named for n in ref.numbers}
    if len(birds) > 1 or len(figures) > 1 or {item.kind for item in got.items} & _OF_MORE:
        return None
    if any(item.text in {"no_sauce", "no_glaze"} for item in got.items):
        return None
    bird = next(iter(birds), None)
    if not figures:
        says_more = any(not one.kind and one.text not in _LITTLE for one in got.items)
        return (cmd.Correct(bird=bird),) if bird and not says_more else None
    figure = figures[0]
    assert isinstance(figure, Figure)
    if _HALTS.match(match.string) and not _REPAIRS.search(match.string):
        return None  # "hang on, my glasses, one forty nine": only a pause
    if bird is not None and not _REPAIRS.search(match.string):
        return None  # "sorry, bird two is one thirty": but a word before a reading
    denied = [one.value for one in got.items if isinstance(one.value, Figure)][:-1]
    if denied and bird is None and max(figure.value, denied[0].value) <= got.context.birds:
        return (cmd.Correct(bird=int(figure.value)),)  # "not two, three"
    spoken = said(figure, got.context)
    f = fahrenheit(spoken.number, spoken.scale)
    return (cmd.Correct(f, spoken, bird),) if _MEANT_F[0] <= f <= _MEANT_F[1] else None


_OF_MORE = {  # a repair of a reading or a bird tells of none of these
    "FUEL", "SIDE", "CHIMNEY", "WOOD", "SERVE", "LID", "VENT", "DURATION", "CLOCK", "TIMER",
    "WEIGHT", "SAUCED", "SAUCE", "THINGS", "YOU", "KEEP", "REST", "CARVE",
}  # fmt: skip
_LITTLE = frozenset(
    """
 it is was were that this i we meant mean said say sorry wait bird number one the should have been
 be for actually rather oops whoops correction make change to them a an my your mistake bad fault
 wrong no not nope okay ok so oh ah um uh er hang hold on up please just read misread got apologies
 pardon excuse me instead of and but in fact last reading temperature temp there here now then has
 had told you typo silly dang let correct fix rephrase error did do honey love hon pal mate well
 right yes really supposed at with from first hmm man gosh shoot lord heck
""".split()  # noqa: SIM905
)
_REPAIRS = re.compile(
    r"\b(?:not|was|were|should|meant|mean|make|made|no|nope|wrong|correction|correct|change|said|instead|"
    r"mistake|misread|rather|scratch|scrap|amend|fix|bad)\b"
)
_THAT = (
    r"(?: (?:that|it|this|the|last|one|bit|reading|what|i|just|told|you|said|entry|about|"
    r"thing|did|previous|all|"
    r"number|back|record|note|line|bird|part|out|again|off|from|log|a|my|temperature|temp|"
    r"before|please|was|"
    r"got|wrong|read|misread|mean|not|sorry|mistake|were|am|says|latest|most|recent|whole|two|to|ever|update|figure|command))*$"
)
_UNMEANT = (
    r"(?: (?:i|we) (?:(?:did not|never|should not have|do not|had not) (?:mean|meant|say|said|want|"
    r"intend|told) (?:it|that|to|you that|any of (?:it|that))|(?:made|have made) a mistake|"
    r"got it wrong|was wrong|am wrong|misspoke|misread it)(?: (?:at all|sorry|really))?)?$"
)
_SORRY = (
    r"(?:no|nope|wrong|sorry|wait|correction|hang on|hold on|hold up|oops|whoops|make (?:that|"
    r"it)|change (?:that|it)|"
    r"i (?:meant|mean|said|should have said|misread|misspoke|mis read|got (?:that|it) wrong|"
    r"read (?:that|it) wrong|"
    r"made a mistake|was wrong|have said it wrong|said (?:that|it) wrong|told you wrong|"
    r"take that back)|not|"
    r"that (?:should|was|is wrong|is not)|it is not|it (?:should|was) (?:have been|be|meant)|"
    r"(?:the )?(?:last|previous)(?: one| reading| number)? (?:should|was|is wrong|is not)|"
    r"should (?:have been|be)|rather|actually|i did not|my (?:mistake|bad|fault|error|apologies)|"
    r"scratch that|scrap that|strike that|forget that|apologies|mistake|misread|typo|"
    r"excuse me|pardon me|silly me|"
    r"wrong (?:bird|one|number|reading)|let me (?:correct|fix|rephrase)|fix (?:that|it)|amend|"
    r"correct (?:that|it)|"
    r"instead|ignore that|dang|damn|that is wrong|my eyes|i am wrong|beg (?:your )?pardon)"
)
REPAIRS: tuple[Rule, ...] = (
    (
        r"(?:can you |could you |please |just |let us |i want to |actually |no |sorry |oops |"
        r"wait |whoops )*(?:scratch|scrap|scrub|undo|"
        r"forget|strike|delete|bin|cancel|ignore|remove|disregard|drop|erase|take back|lose|belay|"
        r"reverse|clear|wipe|rub out|cross out|throw out|revert|unsay|discard|kill|never mind)"
        + _THAT.removesuffix("$")
        + _UNMEANT,
        fixed(cmd.Undo()),
    ),
    (
        r"(?:can you |please |let us |i )*(?:take|never mind|cross|rub|wipe|throw|leave|strike|"
        r"scratch) (?:that|it|this)(?: last one| one| last)?(?: back| off| out| away)?"
        r"(?: (?:i|did|not|mean|it|that|was|wrong|sorry|is|to|a|mistake|got|please|made|should|"
        r"have|said|say|meant|never))*$|"
        r"never mind$|ignore me$|(?:i )?did not (?:mean|say) (?:that|it|anything|to)$|that (?:was|"
        r"is) (?:a mistake|an error|not for you)$|my mistake$|as you were$|go back one$",
        fixed(cmd.Undo()),
    ),
    (
        r"(?:sorry |pardon |excuse me )?(?:(?:can|could|will|would) you |please )*(?:say|tell me|"
        r"run|give me|read|give|speak|go over|repeat|let me hear|let me have)(?: (?:that|it|me|"
        r"this|the last|what you said))?(?: one)?(?: to me| by me| past me| for me|"
        r" out)? ?(?:again|once more|one more time|another time|back|once again|slower|"
        r"more slowly|louder)(?: .*)?$"
        r"|(?:sorry |pardon |excuse me )?(?:say|come) again.*$|(?:(?:can|could) you )?repeat\b.*$|"
        r"pardon(?: me)?(?: (?:i|what) .*)?$|(?:sorry )?what(?: was| is|"
        r" did)? that(?: again)?(?: (?:i )?did not .*|"
        r" you said.*)?$|(?:sorry )?what$|huh$|eh$|come$|(?:say|run) (?:that|it)(?: by me|"
        r" past me)?$|say$|excuse me$|sorry$"
        r"|what did you (?:just )?say.*$|(?:sorry )?(?:i )?(?:did not|could not|missed|can not|"
        r"never|have not)(?: quite)? ?(?:catch|hear|get|understand|heard|caught|got)? ?(?:that|it|"
        r"you|what you said|the last bit).*$|(?:once|one) (?:more time|more|again)$|(?:again|"
        r"repeat) please$|again$|you what$|what did (?:it|she) say$",
        fixed(cmd.Repeat()),
    ),
    (
        r"what did (?:i|you hear me|you think i) (?:just )?(?:say|said)(?: .*)?$|"
        r"what did you hear.*$|what have you (?:got|heard|understood)$",
        fixed(cmd.AskHeard()),
    ),
    (
        r"(?:i said|did i say) .* (?:but|should be|i meant|i mean) .*$|"
        r"(?:it|that) (?:is|was) .* not .*$|"
        + _SORRY
        + r"\b.*$|(?:that|it|this)(?: one)? (?:was|is|should be) (?:bird|number|the|for bird|"
        r"for number)\b.* not (?:for )?(?:bird|number|the)\b.*$|.* (?:i meant|i mean|"
        r"should have been) .*$",
        correct,
    ),
)
