"""Facts as frames: a template over marked words, and the facts it stands for.

In a template capitals name a class of `lexicon` or `lex`, small words stand for
themselves, `_` for a few plain words, and `B` for any bird. Everything else is as in
regular expressions.
"""

import re
from functools import lru_cache

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.fire_frames import FIRE_FRAMES
from assistant.grammar.free.got import Build
from assistant.grammar.free.of_birds import (
    between,
    both_spots,
    denied,
    from_an_end,
    gone_on,
    in_order,
    nothing,
    of_birds,
    off_and_read,
    plain,
    reading,
    sauce,
    sauced,
    sauced_with,
    spot_reading,
    unsauced,
    weight,
    weights,
)
from assistant.grammar.free.of_dinner import late, serve
from assistant.grammar.free.of_fire import grill, hot

_ON = of_birds(cmd.BirdsOn)
_OFF = of_birds(cmd.BirdsOff)
_TABLE: tuple[tuple[str, Build], ...] = (
    ("B _ ((IT|ALL) _ )?N", reading),
    ("B _ ON N", reading),
    ("B _ ((IT|ALL) _ )?N _ P", reading),
    ("B _ P _ (IT _ )?N", reading),
    ("B _ P _ P _ ((IT|ALL) _ )?N", both_spots),
    ("B _ ((IT|ALL) _ )?N _ P _ P", both_spots),
    ("B _ ((IT|ALL) _ )?N _ (ALL _ )P _ P", both_spots),
    ("P _ (ON _ )?B _ (IT _ )?N", reading),
    ("B _ (IT _ )?P _ (IT _ )?N", reading),
    ("P _ N _ (ON _ )?B", reading),
    ("N _ P _ (ON _ )?B", reading),
    ("N _ (ON _ )?B", reading),
    ("N _ OFF _ B", reading),
    ("N _ (ON _ )?B _ P", reading),
    ("IT _ N _ P _ (ON _ )?B", reading),
    ("IT _ N _ (ON _ )?B", reading),
    ("B _ N _ NO _ ((NO|NOT|N) _ )?(IT _ )?N", reading),
    ("B _ (P _ )?(IT _ )?N _ NOT _ N", denied),
    ("P _ (IT _ )?N", spot_reading),
    ("N _ P", spot_reading),
    ("IT _ N", reading),
    ("N", reading),
    (
        "(in order _ )?(IT _ )?N _ N( _ N)?( _ N)?( _ N)?( _ N)?( _ B _ (B|first|FIRST|start)| "
        "_ B)?",
        in_order,
    ),
    ("(IT _ )?N _ N( _ N)?( _ N)?( _ N)? _ starting _ (B|from the motor)", in_order),
    ("P _ (B _ )?N _ N( _ N)?( _ N)?", in_order),
    ("B _ N _ N( _ N)?( _ N)?( _ N)?", from_an_end),
    ("B _ B _ N _ N( _ N)?( _ N)?( _ N)?", in_order),
    ("ALL _ N _ N( _ N)?( _ N)?( _ N)?( respectively)?", in_order),
    ("(GRILL|LID) _ (GRILL _)?N (RISING)?", grill),
    ("LID _ GRILL _ N", grill),
    ("(GRILL|LID) _ ON _ N", grill),
    ("(GRILL|fire) _ IT _ N", hot),
    ("N _ (on|in|by|at) _ ON? _ (GRILL|LID)( _ GRILL)?", grill),
    ("N _ ON the (GRILL|LID)( _ GRILL)?", grill),
    ("N _ (ON )?(the )?GRILL", grill),
    ("GRILL _ (ON _ )?(GRILL _ )?(SHARE _ )?between N and N", grill),
    (
        "(fire|heat|temp|temperature|inside|oven|air|box|FUEL|thermometer) _ (IT _ )?N( _ (LID|"
        "GRILL|ADD))?",
        hot,
    ),
    ("(IT _ )?N( _ (ON _ )?(in|under|inside) _ (LID|GRILL|there|IT))?", hot),
    ("(IT _ )?N ADD", hot),
    ("(under|inside|in) _ LID _ (IT _ )?N", grill),
    ("(fire|heat|temp|temperature|air|IT) _ in there _ (IT _ )?N", hot),
    ("(fire|heat|temp|temperature|air|IT) _ ADD _ (IT _ )?N", hot),
    ("(B _ )?(P _ )?(IT _ )?between N and N( _ P)?", between),
    ("(B _ )?(P _ )?(IT _ )?(either _ )?N or (maybe )?N( _ P)?", between),
    *FIRE_FRAMES,
    ("B _ ON( the (spit|heat|fire|GRILL|rod|skewer|rotisserie|FUEL))?", _ON),
    ("(ADD|got|have) _ B _ ON", _ON),
    ("ADD ON _ B", _ON),
    ("B _ NOT _ ADD _ IT _ ON", _ON),
    (
        "B _ (spinning|turning|rotating|rolling|loaded|mounted|skewered|hung|going round)( _ ON( "
        "the spit)?)?",
        _ON,
    ),
    ("B _ ADD( _ (spit|rod|rotisserie|heat|fire))?", gone_on),
    ("B _ over the (fire|FUEL|heat)", _ON),
    (
        "(hung|loaded|mounted|skewered|threaded|started|starting|ADD) _ B( _ ON)?( _ (spit|rod|"
        "GRILL|rotisserie|fire))",
        _ON,
    ),
    ("(hung|mounted|skewered|threaded|spitted) _ B( _ (ON|up))?", _ON),
    ("B _ OFF( _ the GRILL)?", _OFF),
    (
        "B _ (removed|pulled|unloaded|retrieved|taken|lifted|lifting|taken down)( _ (OFF|down|"
        "out|away|from))?( _ (GRILL|spit|fire|heat|rod))?",
        _OFF,
    ),
    ("B _ (down|out|from) _ (of|from|the) _ (GRILL|spit|fire|heat|rod)", _OFF),
    ("B (is|are|have|has) (down|out)", _OFF),
    (
        "(took|taken|taking|take|lifted|brought|bring|lift|got|getting) _ (down|OFF|out) _ B( _ "
        "(from|of))?( _ (GRILL|spit|fire|heat|rod))?",
        _OFF,
    ),
    (
        "(took|taken|taking|take|lifted|brought|bring|lift|got|getting) _ B _ (down|out|away|in|"
        "OFF)( _ (from|of))?( _ (GRILL|spit|fire|heat|rod))?",
        _OFF,
    ),
    (
        "(pulling|remove|unloaded|unloading|retrieved|pull|yanked|snatched|lifting|rescued|"
        "slid|slipped) _ B( "
        "_ (OFF|out|down|away|from))?( _ (GRILL|spit|fire|heat|rod))?",
        _OFF,
    ),
    ("(took|pulled|lifted|taken|taking|pulling|got|lifting) _ B _ (OFF)( _ the GRILL)?", _OFF),
    ("(removed|removing|pulled) _ B", _OFF),
    ("(took|pulled|lifted|taken|pulling) _ OFF _ B", _OFF),
    ("B _ OFF _ at N( _ P)?", off_and_read),
    ("B _ (ALL _ )?SAUCED( _ ON)?", sauced),
    ("(SAUCED) _ B( _ ON)?", sauced),
    ("(done|did|finished) _ (SAUCED|SAUCE) _ (ON _ )?B", sauced),
    ("B _ (VAGUE _)?(SAUCE _)(ON)?", sauced),
    ("(SAUCE) _ (ON _ )?B", sauced),
    ("(ADD|gave|given|got) _ (SAUCE|coat) _ (of SAUCE _)?(ON _ )?B", sauced),
    ("(gave|given|giving|give) _ B _ (SAUCE|coat|SAUCED)( of SAUCE)?", sauced),
    ("(hit|done|did|SAUCED|covered|finished|treated) _ B _ (with|in) _ (R|SAUCY)", sauced_with),
    ("B _ been _ (done|hit|SAUCED|covered|treated) _ (with|in) _ (R|SAUCY)", sauced_with),
    ("(hit|covered|finished|treated) _ B _ (with|in) _ (SAUCE)", sauced),
    ("(R|SAUCY) _ (SAUCE _ )?(is|went|goes|gone|has|going|ADD) _ ON _ B", sauced_with),
    (
        "(ADD|got|SAUCED|gave) _ (SAUCE _ )?(of )?(R|SAUCY) _ (SAUCE _ )?(ON|over|onto) _ B",
        sauced_with,
    ),
    ("SAUCE _ (is|went|goes|gone|going|ADD) _ (ON _ )?B", sauced),
    ("B _ (got|has|have|had|ADD) _ (IT _ )?SAUCE", sauced),
    ("B _ (got|has|have|had) _ (the )?(R|SAUCY) _ (ON|now)", sauced_with),
    ("B _ (got|had|received) (IT is |the )?(R|SAUCY)( SAUCE)?( just)?", sauced_with),
    ("B _ (WEIGH _)?(IT _)?WEIGHT", weight),
    ("WEIGHT _ B", weight),
    ("B _ WEIGH _ N", weight),
    ("B _ (WEIGH _)?WEIGHT _ B _ (N|WEIGHT)( _ B _ (N|WEIGHT))?( _ B _ (N|WEIGHT))?", weights),
    (
        "R _ (gets|takes|getting|going|goes|as|my|wants|having|with|for) _ (R|SAUCY)( SAUCE)?",
        sauce,
    ),
    ("R _ SAUCY", sauce),
    ("IT _ (KEEP|stays|stay|staying|gets|getting|takes|WANT|NEED) _ (SAUCY|R)( SAUCE)?", sauce),
    ("R is R", sauce),
    ("(for|on) _ R _ (use|take|WANT|do|have|using|doing) _ (R|SAUCY)( SAUCE)?", sauce),
    ("(R|SAUCY) _ (SAUCE _ )?(for|on) _ R", sauce),
    ("(leave|leaving|KEEP|stays|keep|WANT) _ (R|IT) _ SAUCY", sauce),
    ("(that|there) is (the )?(R|SAUCY) _ (ON|over) _ B", sauced_with),
    ("SAUCY R", unsauced),
    ("R _ (going|goes|go|gets|getting|stays) _ (without|nothing)", plain),
    ("nothing (on|for) R _ (tonight|today)", plain),
    ("SAUCY _ ADD _ B", sauced_with),
    ("(but|though|and|not|only) _ NOT _ B( _ (ON|OFF|yet))?( yet)?", nothing),
    ("(but|though|while|whereas) _ B _ NOT( _ (ON|OFF|yet))?( yet)?", nothing),
    ("KEEP _ B _ ON", nothing),
    ("((up|down) )?(from|was) N", nothing),
    ("B _ (staying|stays|still) _ ON", nothing),
    ("B _ NOT _ (any )?SAUCE", plain),
    ("R _ (leave|KEEP|stays|keep|stay|staying|WANT) _ SAUCY", sauce),
    ("(leaving|making|giving|keeping) _ R", sauce),
    ("leaving _ R _ SAUCY", sauce),
    ("SERVE _ (SERVE _)?N N", serve),
    (
        "(guests|people|folks|everyone|everybody|company|family|crowd|lot|kids|we|ALL) _ (coming|"
        "come|arrive|arriving|here|sit|sitting|seated) _ (down|in|to)?( _ (N|CLOCK|DURATION))",
        serve,
    ),
    ("SERVE _ (SERVE _)?(N|CLOCK|DURATION)", serve),
    ("SERVE _ (ALL|IT) _ (N|CLOCK|DURATION)", serve),
    ("(want|need) _ SERVE _ (N|CLOCK|DURATION)", serve),
    ("(N|CLOCK|DURATION) _ SERVE", serve),
    ("(SERVE _)?LATE _ (SERVE _)?DURATION", late),
    ("SERVE _ DURATION _ LATE", late),
    ("((ADD|move|moved|shift|set|knock|bump|take) _ )?SERVE _ back _ DURATION", late),
    ("(running|are|is|they|guests|LATE|everybody) _ DURATION _ LATE", late),
    ("LATE _ (SERVE _)?(LATE _)?DURATION", late),
    ("LATE _ DURATION _ SERVE", late),
    ("SERVE _ LATE _ (SERVE _)?DURATION", late),
    (
        "(KIN|guests|ALL|we|everyone|they|folks|family|company|people) _ (running|is|are|be|has|"
        "have) _ (LATE _ )?DURATION _ LATE",
        late,
    ),
    (
        "(guests|they|ALL|people|everyone|folks|family|company) _ (have|has|need|WANT) _ "
        "DURATION _ (LATE)",
        late,
    ),
    ("(we|i|it|IT|ALL) _ (need|have|WANT|take)  _ (another|extra) _ DURATION", late),
    ("DURATION _ (LATE) _ SERVE", late),
)


def _compiled(template: str) -> re.Pattern[str]:
    def token(found: re.Match[str]) -> str:
        word = found.group()
        if word == "_":
            return r"(?:[^:~]+:(?:BIT|WANT|NEED)?~){0,6}?"
        if word == "COUNT":
            return r"(?:[^:~]+:(?:N|VAGUE)~)"
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
