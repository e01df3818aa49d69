"""What the rules of whole sayings share: a pattern over plain words, and what it stands for."""

import re
from collections.abc import Callable

from assistant.grammar.free.got import Got
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.free.timers import Facts

Build = Callable[[Got, re.Match[str]], Facts]
Rule = tuple[str, Build]

_LEAD = re.compile(
    r"(?:(?:okay|ok|alright|all right|so|well|hey|oh|ah|um|uh|er|hmm|now(?! what$)|and|but|"
    r"then|honey|"
    r"hon|please|kindly|"
    r"turnspit|just|there(?! (?:is|are))|look|listen|right|love|pal|shoot|lord|man|heck|"
    r"gosh|blimey|"
    r"ach|och|hi|"
    r"quick question|excuse me(?: but)?|pardon me but|sorry to bother you but|if i may|wow|"
    r"darling|dear|hello|yo|buddy|mate|chef|quickly|anyway|ta|"
    r"by the way) )+"
    r"(?=\S)"
)
_CLOSES = (
    r"(?: (?:please|thanks|thank you|now|then|honey|hon|sugar|love|pal|mate|madam|sir|again|"
    r"okay|turnspit|for me|"
    r"cheers|ta|already|yet|by the way|do you think|do you reckon|you think|you reckon|"
    r"exactly|roughly|just now|do you know|any idea|"
    r"i suppose|i guess|i think|i reckon|i believe|i would say|if you would|(?<!never )mind|"
    r"though|as well|innit|"
    r"folks|everyone|everybody|team|guys|people|anyway|darling|dear|buddy|chef|there|"
    r"at the moment|right now|at present|currently|today|"
    r"tonight))"
)
_TRAIL = re.compile(_CLOSES + "+$")
_ONE_MORE = re.compile(_CLOSES + "$")


_SORRY = re.compile(
    r"(?:(?:(?:i am )?sorry|oops|whoops|wait|hang on|hold on|hold up|one second|a second|"
    r"excuse me) )+(?=\S)"
)


def unapologetic(text: str) -> str:
    """The words without "sorry", "wait", which open repairs as well."""
    return core(_SORRY.sub("", text, count=1)) if _SORRY.match(text) else text


def peeled(text: str) -> tuple[str, ...]:
    """The words, and the words without what opens them and without what closes them, one
    closing word less each time."""
    lead = _LEAD.match(text)
    some = [text, text[lead.end() :]] if lead else [text]
    for one in tuple(some):
        shorter = one
        while found := _ONE_MORE.search(shorter):
            shorter = shorter[: found.start()]
            some.append(shorter)
    return tuple(dict.fromkeys(_LOGGED.sub("", one) for one in some if one))


_LOGGED = re.compile(
    r"^(?:please |just |can you |could you )*"
    r"(?:log|note|record|mark|write down|put down) (?:that |down )*(?=\S)"
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
