"""What passes, in the cook's own words: weather and its end, the end of a trouble, skin."""

import re

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.got import Got
from assistant.grammar.free.saying import Build, Rule, fixed
from assistant.grammar.free.timers import Facts


def _over(kind: cmd.EndingKind) -> Build:
    return fixed(cmd.TroubleOver(kind))


def _skin(skin: cmd.SkinState) -> Build:
    def build(got: Got, _: re.Match[str]) -> Facts:
        return tuple(cmd.BirdSkin(bird, skin) for bird in got.birds()) or None

    return build


_AS_IT_IS = r"(?!.*\b(?:burn|char|scorch|brown|black|dark|split|crisp|tear|tore)\w*\b)"
_OVER = r"(?:over|gone|stopped|eased|eased off|let up|passed|cleared|finished)"
_NOT = r"(?!.*\b(?:no|not|is it|has it|when|if)\b)"
_NOT_ON = (
    r"(?!.*\b(?:quit|stop|stopped|on the|everything|birds?|chickens?|hens?)"
    r"\b)"
)  # "birds on and turning"
_AIR = r"(?:it|outside|the (?:air|evening|night|weather))"
_TURNS = (
    r"(?:is|has|got|has got|is got|is getting|getting|gets|has turned|is turned|is gone|has gone|"
    r"turned|went|is turning)(?: (?:very|so|really|quite|bitterly|a bit))*"
)
_OUT = r"(?: (?:outside|out|out here))*"
_TIED = r"(?:tied|trussed|tucked|fixed|secured|fastened|pinned|back in place)"
_TIED_IT = r"(?:i |we )?(?:have )?(?:tied|tucked|pinned)(?: up| in| down)?(?: the| that)?"
# "again" and "now" at the end are gone by then.
PASSING: tuple[Rule, ...] = (
    (
        rf"{_NOT}.*\b(?:flare ?ups?|flare|flames?)\b.*\b(?:{_OVER}|out|died|down|"
        r"under control)\b.*",
        _over("flare_up"),
    ),
    (
        rf"{_NOT}{_NOT_ON}(?:.* )?(?:spit|motor|rotisserie|rod|skewer)\b.*\b(?:turning|spinning|"
        r"going|moving|running|working|fixed|turns|back)(?: (?:again|round|fine|okay|on|up))*$",
        _over("spit_stopped"),
    ),
    (
        r"(?:it|they|everything|the birds|birds|both|all)(?: is| are)? (?:all )?(?:turning|"
        r"spinning|rotating|going (?:round|around)|goes round|turns)$",
        _over("spit_stopped"),
    ),
    (
        rf"{_NOT}(?:.* )?(?:rain|raining|drizzle|shower|storm)\b.*\b{_OVER}\b.*|"
        rf"{_NOT}(?:.* )?stopped (?:raining|drizzling|pouring)\b.*|no more rain.*",
        _over("rain"),
    ),
    (
        rf"{_NOT}(?:.* )?(?:wind|breeze|gusts?)\b.*\b(?:{_OVER}|dropped|died|down|calmed)\b.*|"
        r"no more wind.*|(?:it (?:is|has|got) )?(?:calm|calmed down|less windy|not windy)"
        rf"{_OUT}$",
        _over("wind"),
    ),
    (
        rf"{_NOT}(?:.* )?wings?\b.*\b{_TIED}\b.*|{_TIED_IT} wings?\b.*",
        _over("wing_loose"),
    ),
    (
        rf"{_NOT}(?:.* )?(?:legs?|drumsticks?)\b.*\b{_TIED}\b.*|"
        rf"{_TIED_IT} (?:legs?|drumsticks?)\b.*",
        _over("leg_loose"),
    ),
    (
        rf"{_NOT}(?:.* )?(?:emptied|empty|changed|swapped|tipped out)\b.*\b(?:drip|fat|grease|pan|"
        rf"tray)\b.*|{_NOT}(?:.* )?(?:drip|fat|grease|pan|tray)\b.*\b(?:emptied|empty|changed|"
        r"swapped)\b.*",
        _over("drip_pan_full"),
    ),
    (
        r"(?:the )?(?:fire|charcoal|coals) (?:has |have |is )+been (?:lit|going|burning)$",
        fixed(cmd.FireLit()),
    ),
    (rf"{_AIR} {_TURNS} (?:warmer|warmed up|less cold){_OUT}$", _over("cold")),
    (
        rf"{_NOT}(?:.* )?(?:windy|gusty|gusting|breezy|blustery|blowing)\b.*|"
        rf"{_NOT}(?:.* )?(?:wind|breeze)\b.*\b(?:up|picked|picking|strong|stronger|rising|"
        r"howling|blowing|getting)\b.*",
        fixed(cmd.Trouble("wind")),
    ),
    (
        rf"{_NOT}{_AIR} {_TURNS} (?:cold|colder|chilly|freezing){_OUT}$",
        fixed(cmd.Trouble("cold")),
    ),
    (
        r"(?!.*\bnot\b).*\b(?:skinless|skinned|no skin|skin off|without (?:the |its |any )?"
        r"skin)\b.*",
        _skin("off"),
    ),
    (
        rf"(?!.*\bnot\b){_AS_IT_IS}.*\b(?:has (?:its |it is |the )?skin|skin (?:is )?on)\b.*",
        _skin("on"),
    ),
)
