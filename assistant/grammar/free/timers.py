"""Timers for anything, named in the cook's own words.

A timer is set by a word for one ("timer", "remind me") with a span of time, or by a name
nobody else claims with a span: never where fuel, a vent, a bird's number or dinner is meant.
"""

import re

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.got import Got
from assistant.grammar.free.lex import Item
from assistant.grammar.free.open_facts import Fact

Facts = tuple[Fact, ...] | None

_CALLS = (
    r"timer|alarm|remind|reminder|remember me|holler|shout|yell|ping|buzz|nudge|wake me|"
    r"call me|ring|warn|"
    r"beep|alert|count|countdown|tell me|let me know|sing out|give me a (?:shout|sign|nudge|"
    r"heads up|buzz|"
    r"ring|yell|call|poke|knock)|(?<!the )(?<!by )time (?:that|it|this|the|my|some|me)"
)
CALLED = re.compile(rf"\b(?:{_CALLS})\b")
MUST = (
    r"(?:needs?|takes?|wants?|gets?|must|has to|have to|will|should|come|comes|goes?|is|are|"
    r"due|want|require"
    r"|requires)"
)
_OTHERS = {"FUEL", "SIDE", "CHIMNEY", "VENT", "GRILL", "WEIGHT", "SHARE", "WOOD", "THINGS", "P"}
_NOT_OF_US = {
    "R",
    "SAUCY",
    "IT",
    "ALL",
    "SERVE",
    "LATE",
    "YOU",
    "KIN",
    "LID",
    "NOT",
    "ON",
    "SAUCE",
    "SAUCED",
}


def span(got: Got) -> float | None:
    """Minutes; a bare number counts as minutes."""
    for item in got.all("DURATION"):
        return float(item.value)  # type: ignore[arg-type]
    figures = got.figures()
    return figures[0].value if len(figures) == 1 else None


def timer(got: Got, match: re.Match[str]) -> Facts:
    """A timer set: by a word for one, or by a span of time and a name."""
    kinds = {item.kind for item in got.items}
    minutes = span(got)
    if minutes is None or kinds & _OTHERS:
        return None
    called = CALLED.search(match.string) is not None
    if not called and ("DURATION" not in kinds or kinds & (_NOT_OF_US - {"ON", "IT"})):
        return None
    if "N" in kinds and ((called and not 0 < minutes <= 120) or len(got.figures()) > 1):
        return None
    return (cmd.TimerSet(minutes, _name(got.items)),)


def needed(got: Got, _: re.Match[str]) -> Facts:
    """A timer nobody called one: "gravy, ten minutes"."""
    kinds = {item.kind for item in got.items}
    name = _name(got.items)
    if "DURATION" not in kinds or kinds & (_OTHERS | _NOT_OF_US - {"ON"}) or name is None:
        return None
    if set(name.split()) & _NOBODYS_TIMER:
        return None
    return (cmd.TimerSet(float(span(got) or 0), name),)


def _name(items: tuple[Item, ...]) -> str | None:
    """What a timer is for: the words left over, best those after "the", "my" or before "timer"."""
    runs: list[tuple[int, list[str]]] = []  # how good, words
    opens, before = True, ""
    for item in items:
        word = item.text
        is_free = item.kind in {"", "LID", "R"} and word not in _NO_NAME
        if item.kind == "R" and not word.startswith("bird_"):
            is_free = False
        if is_free and opens:
            runs.append(
                (2 if before in _ARTICLES else 1 if before in _OF else 0, [word.replace("_", " ")])
            )
        elif is_free and len(runs[-1][1]) < 3:
            runs[-1][1].append(word)
        elif word in {"timer", "alarm", "reminder"} and not opens and runs:
            runs[-1] = (3, runs[-1][1])
        opens = not is_free
        before = word
    if not runs:
        return None
    return " ".join(max(runs, key=lambda one: one[0])[1])


_ARTICLES = {"the", "my", "some", "our", "those", "these", "that"}
_OF = {"about", "for", "on", "called", "named", "of"}
_NOBODYS_TIMER = frozenset(
    """
 train bus flight plane game match show film call home there back shop store shower drive walk
 traffic meeting work school church weather news guests folks people everybody everyone kids he
 we i minutes hours moment
""".split()  # noqa: SIM905
)
_NO_NAME = frozenset(
    """
 half quarter an a minute minutes hour hours timer the me it that set start one two three four
 five six seven eight nine ten eleven twelve fifteen twenty thirty forty fifty sixty o'clock
 now long this please and so of another again new for cancel kill bin stop in on us them up out
 off into from to at by be is are am was were do does done did can could will would should shall
 must have has had need needs needed want wants take takes taking get gets give gives make put
 about check checking turn turning stir stirring baste see watching watch look looking flip
 remind remember reminder holler shout yell ping buzz nudge wake call ring warn beep alert count
 countdown tell let know sing sign heads go goes going come comes coming i we you he she they my
 your his our some those these with when then there here ready finish finished due time times
 timing run more over back later just okay right oven pan fire grill hob stove heat if not no
 love honey hon thanks sure quick quickly first next soon around roughly like gone passed
 hey oh well sugar pal mate madam sir cheers ta yeah yes hi thank only only-just remove pull
 drain add start-off start, went alarm else what which who as after before until till down
 been passed elapsed dear sweetie boss chef darling buddy man lads us-all also too sharp
maybe perhaps think add clock stopwatch watch board phone
starting beginning called named labelled titled peg
""".split()  # noqa: SIM905
)


def cancel(_: Got, match: re.Match[str]) -> Facts:
    """A timer cancelled."""
    found = re.search(
        r"(?:timer|alarm|reminder) (?:for|on|about) (?:the |my |those )?(?P<n2>[a-z]+(?: "
        r"[a-z]+)?)$",
        match[0],
    ) or re.search(
        r"(?:the |my |that |a )*(?P<n>[a-z]+(?: [a-z]+)??) (?:timer|alarm|reminder)"
        r"|(?:timer|alarm|reminder) (?:for|on|about) (?:the |my )?(?P<n2>[a-z]+(?: [a-z]+)?)$",
        match[0],
    )
    name = (found["n2"] or found["n"]) if found else ""
    words = [one for one in name.split() if one not in _NOT_NAMED]
    return (cmd.TimerCancel(" ".join(words) or None),)


_NOT_NAMED = frozenset(
    """
 the that my kill bin cancel stop about off of mind rid ditch a this need want clear delete
 scrap forget lose drop turn switch end please no more any longer now it us me we
""".split()  # noqa: SIM905
)
