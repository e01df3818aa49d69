"""Timers for anything, named in the cook's own words."""

import re

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.got import Got
from assistant.grammar.free.open_facts import Fact

Facts = tuple[Fact, ...] | None


def span(got: Got) -> float | None:
    """Minutes; a bare number counts as minutes."""
    for item in got.all("DURATION"):
        return float(item.value)  # type: ignore[arg-type]
    figures = got.figures()
    return figures[0].value if len(figures) == 1 else None


_NAME_STOP = (
    r"(?: (?:in|for|at|please|now|on|me|can|needs|need|timer|so|i|then|when|minutes|and|half|ten|"
    r"five|fifteen|twenty|thirty|forty|an|a|quarter|going|set|from)\b.*)?$"
)
_ARTICLE = r"(?:the |my |some |that |those |me |a |an )*"


def timer(got: Got, match: re.Match[str]) -> Facts:
    """A timer set."""
    minutes = span(got)
    if minutes is None:
        return None
    return (cmd.TimerSet(minutes, _name(match.string)),)


def _name(text: str) -> str | None:
    """What a timer is for, in the cook's own words."""
    for pattern in (
        r"(?:about|to check|check|to turn|to stir|to baste|to see to|get|put) "
        + _ARTICLE + r"(?P<n>[a-z]+(?: [a-z]+)??)" + _NAME_STOP,
        r"timer (?:for|on) " + _ARTICLE + r"(?P<n>[a-z]+(?: [a-z]+)??)" + _NAME_STOP,
        r"\b(?:on|for) " + _ARTICLE + r"(?P<n>[a-z]+(?: [a-z]+)??)" + _NAME_STOP,
        r"^" + _ARTICLE + r"(?P<n>[a-z]+(?: [a-z]+)??)"
        r" (?:needs?|takes?|wants?|will take|will need|want)\b.*$",
        r"(?:set|start|give me|put|do) " + _ARTICLE + r"(?P<n>[a-z]+(?: [a-z]+)??) timer.*$",
        r"^" + _ARTICLE + r"(?P<n>[a-z]+(?: [a-z]+)??) timer.*$",
    ):  # fmt: skip
        found = re.search(pattern, text)
        if found and not set(found["n"].split()) & _NO_NAME:
            return found["n"]
    return None


_NO_NAME = frozenset(
    """
 half quarter an a minute minutes hour hours timer the me it that set one two three four
 five six seven eight nine ten eleven twelve fifteen twenty thirty forty fifty sixty o'clock
 now long this please and so of another again new for cancel kill bin stop in on us them
""".split()  # noqa: SIM905
)


def cancel(_: Got, match: re.Match[str]) -> Facts:
    """A timer cancelled."""
    found = re.search(_ARTICLE + r"(?P<n>[a-z]+(?: [a-z]+)??) (?:timer|alarm|reminder)", match[0])
    words = [one for one in (found["n"].split() if found else []) if one not in _NOT_NAMED]
    return (cmd.TimerCancel(" ".join(words) or None),)


_NOT_NAMED = frozenset(
    """
 the that my kill bin cancel stop about off of mind rid ditch a this
""".split()  # noqa: SIM905
)
