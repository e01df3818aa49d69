"""What the rules of whole sayings share: a pattern over plain words, and what it stands for."""

import re
from collections.abc import Callable

from assistant.grammar.free.got import Got
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.free.timers import Facts

Build = Callable[[Got, re.Match[str]], Facts]
Rule = tuple[str, Build]

_LEAD = re.compile(
    r"(?:(?:okay|ok|alright|all right|so|well|hey|oh|ah|um|uh|er|hmm|now|and|but|then|honey|"
    r"hon|please|kindly|"
    r"sorry|turnspit|just|there|look|listen|right|love|pal|shoot|lord|man|heck|gosh|blimey|"
    r"oops|ach|och|hi|"
    r"quick question|excuse me|wow|darling|dear|hello|yo|buddy|mate|chef|quickly|anyway|ta|"
    r"by the way|"
    r"hang on|hold on|hold up|wait|one second|a second) )+"
    r"(?=\S)"
)
_TRAIL = re.compile(
    r"(?: (?:please|thanks|thank you|now|then|honey|hon|sugar|love|pal|mate|madam|sir|again|"
    r"okay|turnspit|for me|"
    r"cheers|ta|already|yet|by the way|do you think|do you reckon|you think|you reckon|"
    r"exactly|roughly|"
    r"anyway|darling|dear|buddy|chef|there|at the moment|right now|at present|currently|today|"
    r"tonight))+$"
)


def core(text: str) -> str:
    """The words without what opens and closes talk."""
    lead = _LEAD.match(text)
    text = text[lead.end() :] if lead else text
    return _TRAIL.sub("", text) or text


def one_bird(got: Got) -> int | None:
    """The one bird meant; None where it is none, or several."""
    birds = got.birds() if any(ref.kind != "all" for ref in got.refs()) else ()
    return birds[0] if len(birds) == 1 else None


def fixed(fact: Fact) -> Build:
    """Always that fact."""
    return lambda _got, _match: (fact,)


def of_bird(make: Callable[[int | None], Fact]) -> Build:
    """A fact of the bird meant, or of none."""
    return lambda got, _match: (make(one_bird(got)),)
