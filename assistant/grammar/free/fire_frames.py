"""What a fire is fed and how it breathes, as frames (see `frames`): fuel, wood, lid, vents."""

from assistant.grammar.free.got import Build
from assistant.grammar.free.of_fire import (
    chimney,
    fuel,
    left_vents,
    lid_off,
    lid_on,
    stoked,
    vents,
    wood,
)

FIRE_FRAMES: tuple[tuple[str, Build], ...] = (
    ("(ADD _)?COUNT _ (MORE _)?(FUEL _)(ON _)?(ADD _)?(SIDE)?", fuel),
    ("(ADD _)?COUNT _ (MORE _)?(FUEL _)?(ON _)?(ADD _)?SIDE( _ ADD)?( _ ON)?", fuel),
    ("N _ ON _ N SIDE", fuel),
    (
        "(ADD _)?N _ (FUEL _)?(ON _)?SIDE _ (IT _ )?(so|that|makes|making|which|ALL|altogether|"
        "total) _ "
        "N( _ (FUEL|ADD|MORE|ALL|total|altogether))?( _ (ON|ADD|ALL))?",
        fuel,
    ),
    ("(ADD _)(ON _)?COUNT _ (MORE _)?(FUEL _)?(ON _)?", fuel),
    ("N _ ADD _ ON", fuel),
    ("N (MORE _)ON", fuel),
    ("(ADD _)(ON _)?COUNT _ (MORE _)?(FUEL _)?(ON _)?(SIDE)?", fuel),
    ("(ADD _)(MORE _)?(FUEL)( _ (ON|IN|ADD))?", fuel),
    ("(MORE|other) _ (FUEL)( _ (ON|ADD))?", fuel),
    ("(ADD _)(the )?(fire|GRILL)( _ with)?( _ N _ FUEL)?", stoked),
    ("(plus|another) _ COUNT( _ FUEL)?", fuel),
    ("COUNT _ FUEL", fuel),
    ("dropped _ N _ ON", fuel),
    ("ADD _ IT _ COUNT _ (MORE|FUEL)( _ FUEL)?", fuel),
    ("SIDE _ (IT _ )?(ADD _ )?COUNT _ (MORE _ )?(FUEL)?( _ (ADD|ON))?", fuel),
    (
        "COUNT _ (MORE _ )?(FUEL _ )?(ON )?(the )?(left|right) _ COUNT _ (MORE _ )?(ON )?(the "
        ")?(left|right)",
        fuel,
    ),
    ("(ADD _)?N _ FUEL _ ON the left _ N _ ON the right", fuel),
    ("(ADD _)?(ON _)?(SHARE _|N _)?CHIMNEY _ (FUEL _)?(ADD _)?(ON)?", chimney),
    ("ADD _ (SHARE _|N _)?CHIMNEY _ ON", chimney),
    ("(SHARE |N )?_ CHIMNEY _ (lit|hot|burning|fresh) _ FUEL _ (ADD|ON)", chimney),
    ("(ADD _)?(ON _)?(N _)?CHIMNEY and a SHARE( _ FUEL)?( _ (ADD|ON))?( _ ON)?", chimney),
    ("(and|plus) (a|an|some|one|another|VAGUE|BIT|N) _ WOOD( _ (ADD|ON))?", wood),
    ("(ADD _)(ON _)?((VAGUE|BIT) _)?(FUEL _)?(of _)?WOOD( _ ADD)?( _ ON)?", wood),
    ("(VAGUE|BIT) _ (FUEL _)?(of _)?WOOD( _ ON)?", wood),
    ("ADD _ ((VAGUE|BIT|MORE|EACHOF) _ )?(of _ )?WOOD _ ON (the )?(FUEL|GRILL|fire)", wood),
    ("(gave|given|giving|fed|ADD) _ (fire|FUEL|GRILL|IT) _ ((VAGUE|BIT|MORE) _ )?WOOD", wood),
    (
        "(a|another|one|N|some|my|the) (nice |good |big |small |little |wee )?(piece|chunk|log|"
        "lump|"
        "bit|stick|block|lumps|chunks|pieces|sticks|FUEL|BIT) of (the |that |some )?WOOD( _ "
        "(ADD|ON))?",
        wood,
    ),
    ("ADD _ (VAGUE|BIT|FUEL|WOOD) _ for _ (smoke|smoking|flavour|flavor)", wood),
    ("ADD _ ON _ for _ (smoke|smoking|flavour|flavor)", wood),
    ("(VAGUE _ )?WOOD _ ADD _ (FUEL|fire|GRILL)", wood),
    ("(ADD _ )?N FUEL of WOOD( _ (ADD|ON))?", wood),
    ("(FUEL _)?(of _)?WOOD _ (ADD|ON|added)", wood),
    ("LID _ (OFF|OPEN|up|away|aside|raised|lifted|removed)", lid_off),
    (
        "(raised|removed|popped|raising|removing|lift|took|taking|take|pulled) _ LID( _ (OFF|up|"
        "away|aside|OPEN))?",
        lid_off,
    ),
    ("(OPEN|took|lifted|pulled|lifting|got) _ (OPEN _)?(OFF _)?LID( _ OFF)?", lid_off),
    ("LID _ (ON|SHUT|down|back|replaced|lowered)", lid_on),
    ("(dropped|put|popped|set|put back|clapped|slapped|got) _ LID _ (ON|down|back|SHUT)", lid_on),
    ("(covered|covering) (it|them|IT|ALL|the) _ (GRILL|up)?( _ (GRILL|up))?", lid_on),
    ("(SHUT|ADD) _ LID( _ (ON|SHUT))?", lid_on),
    ("ADD ON _ LID", lid_on),
    ("VENT _ (OPEN _)?(SHUT _)?SHARE _ (OPEN)?", vents),
    ("VENT _ SHARE _ OPEN _ (top and bottom)?", vents),
    (
        "(OPEN|SHUT) _ (OPEN _)?VENT _ (OPEN|SHUT|MORE|LESS|SHARE)?( _ (MORE|LESS|SHARE|OPEN))?",
        vents,
    ),
    ("(OPEN|SHUT) _ (OPEN _)?VENT _ (MORE|LESS|BIT)", vents),
    ("(OPEN|SHUT) _ BIT _ VENT", vents),
    ("VENT _ (OPEN|SHUT|MORE|LESS|BIT)( _ (MORE|LESS|BIT))?", vents),
    ("(MORE|LESS) _ (ON (the )?)?VENT", vents),
    ("VENT _ SHARE", vents),
    ("KEEP _ VENT _ SHARE( _ OPEN)?", left_vents),
    ("VENT _ ADD _ (SHARE|MORE|LESS|BIT)( _ OPEN)?", vents),
    ("VENT _ (OPEN _ )?(from )SHARE _ SHARE( _ OPEN)?", vents),
    (
        "VENT _ ON? (the )?(top|bottom|LID) _ (OPEN|SHUT|MORE|LESS|BIT|SHARE)( _ (MORE|LESS|"
        "SHARE|OPEN|SHUT))?",
        vents,
    ),
    ("VENT _ (OPEN|SHUT|MORE|LESS|BIT|SHARE) _ (OPEN|SHUT|MORE|LESS|BIT|SHARE)", vents),
    (
        "(OPEN|SHUT) _ (IT _ )?((MORE|LESS|BIT|SHARE) _ )?(ON _ )?(bottom|top|lower|upper|"
        "underneath|below)( one)?( _ (MORE|LESS|BIT|SHARE|OPEN|SHUT))?( _ (MORE|LESS|BIT))?",
        vents,
    ),
    (
        "(bottom|top|lower|upper) (one|ones) _ (OPEN|SHUT|SHARE)( _ (MORE|LESS|BIT|SHARE|OPEN))?",
        vents,
    ),
    (
        "(MORE|LESS|BIT) _ (of )?air( _ (ON _ )?(VENT|bottom|top|lower|upper|below|underneath))?",
        vents,
    ),
    ("VENT _ (MORE|LESS|BIT) _ air", vents),
    (
        "(turned|turn|turning|set|ADD|brought|moved) _ VENT _ (MORE|LESS|BIT|up|down)( _ (MORE|"
        "LESS|BIT))?",
        vents,
    ),
    ("VENT _ (reopened|back)( _ OPEN)?", vents),
    ("(reopened|reopening) _ VENT", vents),
    ("(ADD|OPEN|set) _ VENT _ back", vents),
)
