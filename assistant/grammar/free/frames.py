"""Facts as frames: a template over marked words, and the facts it stands for.

In a template capitals name a class of `lexicon` or `lex`, small words stand for
themselves, `_` for a few plain words, and `B` for any bird. Everything else is as in
regular expressions.
"""

import re
from functools import lru_cache

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.got import Build
from assistant.grammar.free.of_birds import (
    denied,
    in_order,
    of_birds,
    off_and_read,
    reading,
    sauce,
    sauced,
    spot_reading,
    weight,
    weights,
)
from assistant.grammar.free.of_dinner import late, serve
from assistant.grammar.free.of_fire import chimney, fuel, grill, lid_off, lid_on, vents, wood

_ON = of_birds(cmd.BirdsOn)
_OFF = of_birds(cmd.BirdsOff)
_COUNT = "(N|VAGUE)"
_TABLE: tuple[tuple[str, Build], ...] = (
    ("B _ ((IT|ALL) _ )?N", reading),
    ("B _ ON N", reading),
    ("B _ ((IT|ALL) _ )?N _ P", reading),
    ("B _ P _ (IT _ )?N", reading),
    ("P _ (ON _ )?B _ (IT _ )?N", reading),
    ("B _ (IT _ )?P _ (IT _ )?N", reading),
    ("P _ N _ (ON _ )?B", reading),
    ("N _ P _ (ON _ )?B", reading),
    ("N _ (ON _ )?B", reading),
    ("N _ (ON _ )?B _ P", reading),
    ("IT _ N _ P _ (ON _ )?B", reading),
    ("IT _ N _ (ON _ )?B", reading),
    ("B _ N _ NO _ ((NO|NOT|N) _ )?(IT _ )?N", reading),
    ("B _ (P _ )?(IT _ )?N _ NOT _ N", denied),
    ("P _ (IT _ )?N", spot_reading),
    ("N _ P", spot_reading),
    ("IT _ N", reading),
    ("N", reading),
    ("(in order _ )?(IT _ )?N _ N( _ N)?( _ N)?( _ N)?( _ N)?( _ B _ B)?", in_order),
    ("(IT _ )?N _ N( _ N)?( _ N)?( _ N)? _ starting _ (B|from the motor)", in_order),
    ("P _ (B _ )?N _ N( _ N)?( _ N)?", in_order),
    ("B _ B _ N _ N( _ N)?( _ N)?( _ N)?", in_order),
    ("(GRILL|LID) _ (GRILL _)?N (RISING)?", grill),
    ("LID _ GRILL _ N", grill),
    ("N _ (on|in|by|at) _ ON? _ (GRILL|LID)( _ GRILL)?", grill),
    ("N _ ON the (GRILL|LID)( _ GRILL)?", grill),
    ("N _ (ON )?(the )?GRILL", grill),
    ("GRILL _ (ON _ )?(GRILL _ )?(SHARE _ )?between N and N", grill),
    (f"(ADD _)?{_COUNT} _ (MORE _)?(FUEL _)(ON _)?(ADD _)?(SIDE)?", fuel),
    (f"(ADD _)?{_COUNT} _ (MORE _)?(FUEL _)?(ON _)?(ADD _)?SIDE( _ ADD)?( _ ON)?", fuel),
    ("N _ ON _ N SIDE", fuel),
    (f"(ADD _)(ON _)?{_COUNT} _ (MORE _)?(FUEL _)?(ON _)?", fuel),
    ("N _ ADD _ ON", fuel),
    ("N (MORE _)ON", fuel),
    (f"(ADD _)(ON _)?{_COUNT} _ (MORE _)?(FUEL _)?(ON _)?(SIDE)?", fuel),
    ("(ADD _)(MORE _)(FUEL)( _ ON)?", fuel),
    ("(ADD _)?N _ FUEL _ ON the left _ N _ ON the right", fuel),
    ("(ADD _)?(ON _)?(SHARE _|N _)?CHIMNEY _ (FUEL _)?(ADD _)?(ON)?", chimney),
    ("ADD _ (SHARE _|N _)?CHIMNEY _ ON", chimney),
    ("(ADD _)(ON _)?((VAGUE|BIT) _)?(FUEL _)?(of _)?WOOD( _ ADD)?( _ ON)?", wood),
    ("(VAGUE|BIT) _ (FUEL _)?(of _)?WOOD( _ ON)?", wood),
    ("(FUEL _)?(of _)?WOOD _ (ADD|ON|added)", wood),
    ("LID _ (OFF|OPEN|up)", lid_off),
    ("(OPEN|took|lifted|pulled|lifting|got) _ (OPEN _)?(OFF _)?LID( _ OFF)?", lid_off),
    ("LID _ (ON|SHUT|down)", lid_on),
    ("(SHUT|ADD) _ LID( _ (ON|SHUT))?", lid_on),
    ("VENT _ (OPEN _)?(SHUT _)?SHARE _ (OPEN)?", vents),
    ("VENT _ SHARE _ OPEN _ (top and bottom)?", vents),
    (
        "(OPEN|SHUT) _ (OPEN _)?VENT _ (OPEN|SHUT|MORE|LESS|SHARE)?( _ (MORE|LESS|SHARE|OPEN))?",
        vents,
    ),
    ("(OPEN|SHUT) _ (OPEN _)?VENT _ (MORE|LESS|BIT)", vents),
    ("(OPEN|SHUT) _ BIT _ VENT", vents),
    ("VENT _ (OPEN|SHUT|MORE|LESS|BIT)( _ (MORE|LESS|BIT))?", vents),
    ("(MORE|LESS) _ VENT", vents),
    ("B _ ON( the spit| the heat)?", _ON),
    ("(ADD|got|have) _ B _ ON", _ON),
    ("B _ NOT _ ADD _ IT _ ON", _ON),
    ("B _ OFF( _ the GRILL)?", _OFF),
    ("(took|pulled|lifted|taken|taking|pulling|got|lifting) _ B _ (OFF)( _ the GRILL)?", _OFF),
    ("(removed|removing|pulled) _ B", _OFF),
    ("(took|pulled|lifted|taken|pulling) _ OFF _ B", _OFF),
    ("B _ OFF _ at N( _ P)?", off_and_read),
    ("B _ (ALL _ )?SAUCED( _ ON)?", sauced),
    ("(SAUCED) _ B( _ ON)?", sauced),
    ("B _ (VAGUE _)?(SAUCE _)(ON)?", sauced),
    ("(SAUCE) _ (ON _ )?B", sauced),
    ("(ADD|gave|given|got) _ (SAUCE|coat) _ (of SAUCE _)?(ON _ )?B", sauced),
    ("gave _ B _ (SAUCE|coat)( of SAUCE)?", sauced),
    ("B _ (WEIGH _)?(IT _)?WEIGHT", weight),
    ("WEIGHT _ B", weight),
    ("B _ WEIGH _ N", weight),
    ("B _ (WEIGH _)?WEIGHT _ B _ (N|WEIGHT)( _ B _ (N|WEIGHT))?( _ B _ (N|WEIGHT))?", weights),
    (
        "R _ (gets|takes|getting|as|my|wants|having|with|for) _ (R|SAUCY)( SAUCE)?",
        sauce,
    ),
    ("R _ SAUCY", sauce),
    ("R is R", sauce),
    ("(leaving|making|giving|keeping) _ R", sauce),
    ("leaving _ R _ SAUCY", sauce),
    ("SERVE _ (SERVE _)?N N", serve),
    ("SERVE _ (SERVE _)?(N|CLOCK|DURATION)", serve),
    ("(want|need) _ SERVE _ (N|CLOCK|DURATION)", serve),
    ("(N|CLOCK|DURATION) _ SERVE", serve),
    ("(SERVE _)?LATE _ (SERVE _)?DURATION", late),
    ("SERVE _ DURATION _ LATE", late),
    ("(running|are|is|they|guests|LATE|everybody) _ DURATION _ LATE", late),
    ("LATE _ (SERVE _)?(LATE _)?DURATION", late),
    ("LATE _ DURATION _ SERVE", late),
)


def _compiled(template: str) -> re.Pattern[str]:
    def token(found: re.Match[str]) -> str:
        word = found.group()
        if word == "_":
            return r"(?:[^:~]+:(?:BIT|WANT)?~){0,6}?"
        if word == "B":
            return r"(?:[^:~]+:(?:R|SAUCY|IT|ALL)~)"
        if word.isupper():
            return rf"(?:[^:~]+:{word}~)"
        return rf"(?:{word}:[^~]*~)"

    pattern = re.sub(r"[A-Za-z']+|_", token, template).replace(" ", "")
    return re.compile(pattern.replace("~", " "))


@lru_cache(maxsize=1)
def frames() -> tuple[tuple[re.Pattern[str], Build], ...]:
    """The frames, compiled."""
    return tuple((_compiled(template), build) for template, build in _TABLE)
