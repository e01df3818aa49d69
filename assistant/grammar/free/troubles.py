"""Trouble in the cook's own words: what burns, stops, comes loose, runs over."""

import re

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.got import Got
from assistant.grammar.free.saying import Build, Rule, fixed, of_bird
from assistant.grammar.free.timers import Facts


def _trouble(kind: cmd.TroubleKind) -> Build:
    def build(got: Got, match: re.Match[str]) -> Facts:
        if got.all("DURATION") and got.all("LATE"):
            return None  # somebody else is stuck, and dinner is put back
        return of_bird(lambda bird: cmd.Trouble(kind, bird))(got, match)

    return build


_LOOSE = (
    r"(?:loose|undone|untied|flapping|flopping|floppy|floating|dangling|hanging|free|adrift|"
    r"slipped|come off|came off|"
    r"come away|came away|fallen (?:off|out|down)|fell (?:off|out)|popped out|popped loose|"
    r"sticking out|swinging|wagging|"
    r"wobbling|dropped|unhooked|off the string|escaped|broken free|flailing|slapping|"
    r"unravelled|unpinned|slipping|working out)"
)
_NO_FIRE = (
    r"(?!.*\b(?:fire|coals|flames?|charcoal|embers) (?:is|are)\b)(?!.*\b(?:my|his|her|"
    r"your) (?:hand|finger|fingers|thumb|tongue|mouth|arm|lip|leg)\b)"
)
_TURNER = (
    r"(?:spit|motor|rotisserie|rod|skewer|birds|B|engine|drive|gearbox|"
    r"wheel|turner)"
)
_STOPPED = (
    r"(?:stopped|quit|(?:not|no longer|never) (?:turning|spinning|going|moving|working|turn|"
    r"spin|move|go|rotating|rotate|run|running)|"
    r"jammed|stuck|dead|died|packed (?:it )?(?:in|up)|stalled|seized|stopping|conked|broke|"
    r"broken|given up|gave up|burnt out|"
    r"burned out|gave out|given out|halted|frozen|stands still|standing still|slipping|grinding)"
)
_COALS = r"(?:fire|coals|charcoal|embers|heat|grill|flame|flames|barbecue|briquettes|pit)"
_DYING = (
    r"(?:dying|die|going out|go out|goes out|gone out|went out|dead|dies|died|fading|"
    r"nearly out|almost out|burning out|"
    r"burned out|burnt out|petering|running out|giving up|getting low|looking low|very low|"
    r"too low|gets low|out on me|losing heat|weak|"
    r"on (?:its|their) last legs|down to ash|burned down|burnt down|burning down|nearly gone|"
    r"almost gone|all ash|turning to ash|"
    r"cooling (?:down|off)|getting cold|gone cold|going cold|struggling|needs help|"
    r"nearly dead|spent|is out|are out|low|fizzling)"
)
TROUBLES: tuple[Rule, ...] = (
    (
        rf"(?!.*\bnot\b)(?!.*\b(?:his|her|my|your) legs?\b.* on (?:that|my|"
        r"his|her) \w+$)(?:.* )?(?:leg|drumstick|legs)"
        rf"\b.*\b{_LOOSE}\b.*|.*\bloose (?:leg|"
        r"drumstick)\b.*",
        _trouble("leg_loose"),
    ),
    (
        rf"(?!.*\bnot\b)(?:.* )?(?:wing|wings)\b.*\b{_LOOSE}\b.*|.*\bloose wings?\b.*",
        _trouble("wing_loose"),
    ),
    (
        r"(?!no |not |.*\bno (?:flames|flare)).*\b(?:flare ?ups?|flaring|flared|flare|flaming|"
        r"flame up|ablaze|up in flames|flames (?:are|everywhere|shooting|licking|coming|up|"
        r"leaping|under|on|at|right)|(?:are|got|have|see|big|bigger|huge|lot of|high|tall|"
        r"some) (?:\w+ )?flames|fat (?:is|has|caught|is burning|on)(?: on)? (?:fire|burning)|"
        r"grease (?:fire|is on|has caught|caught)|fat fire|on fire|fire(?:ball)? under|"
        r"caught fire|catching fire|fat is burning)\b.*",
        _trouble("flare_up"),
    ),
    (
        r".*\b(?:bird|chicken|hen|one|she|it)(?: \w+)? (?:is |has |got )+(?:stuck|jammed|wedged|"
        r"slipping|slipped)(?: (?:on|to|against|round) .*)?$",
        _trouble("bird_stuck"),
    ),
    (
        rf".*\b{_TURNER}\b.*\b{_STOPPED}\b(?! (?:the|my|a|his|her|our)\b).*|"
        rf".*\b(?:it|they|everything)(?: \w+){{0,3}} {_STOPPED}\b"
        r"(?! (?:the|my|a|his|her|our)\b).*|"
        r".*\b(?:stopped|quit) (?:turning|spinning|moving|"
        r"going round|rotating)\b.*|nothing is (?:turning|spinning|moving)\b.*",
        _trouble("spit_stopped"),
    ),
    (
        rf"(?!.*\b(?:drip|fat|grease) (?:pan|tray)).*\b{_COALS}\b.*\b{_DYING}\b.*|.*\b(?:losing|"
        r"lost|almost out of|nearly out of|running out of) (?:the |my |our |all the |"
        rf"some )?{_COALS}\b.*|hardly any (?:heat|fire|coals) left.*",
        _trouble("fire_dying"),
    ),
    (
        r"(?:.* )?(?:pouring|(?:start(?:s|ed|ing)?|begin(?:s|ning)?|began|about) (?:to )?(?:rain|"
        r"raining|"
        r"chuck|pour|pelt|drizzle|spit|bucket|spitting)|raining|rains|pouring (?:down|outside|"
        r"with rain|rain)|chucking (?:it )?down|pelting|drizzling|bucketing|"
        r"here comes (?:the )?rain|rain (?:is|has) (?:start|come|here|coming|on)|"
        r"coming down (?:hard|now)|spitting(?: with rain)?|rain|raindrops|drizzle|thunder|"
        r"thunderstorm|hailing|storm)\b.*",
        fixed(cmd.Trouble("rain")),
    ),
    (
        r".*\b(?:drip|fat|grease|drippings|catch|dripping)\b.*\b(?:pan|tray|tin|bowl|dish|"
        r"cup)\b.*\b(?:full|fills?|filled|filling|overflow\w*|run(?:ning)? over|brimming|brim|"
        r"spilling|needs (?:an )?empt\w+|over|top|spill\w*|wants empt\w+)\b.*|.*\b(?:drip pan|"
        r"drip tray|tray|pan)(?: \w+)? is (?:nearly |almost |about |getting )?(?:full|overflowing|"
        r"brimming|spilling).*|.*\b(?:fat|grease) is (?:spilling|overflowing|running) .*",
        _trouble("drip_pan_full"),
    ),
    (
        r".*\b(?:do not|not|never|can not) (?:believe|trust|buy|think|reckon)\b.*\b(?:thermometer|"
        r"probe|reading|gauge|sensor|number)\b.*|.*\b(?:thermometer|probe|sensor|thermapen|"
        r"meter)\b.*\b(?:wrong|off|broken|acting|playing|wonky|dodgy|faulty|nonsense|lying|"
        r"not right|not working|funny|bust|busted|rubbish|all over|jumping|frozen|died|dead|blank|"
        r"no sense|weird|strange|odd|crazy|gone|haywire|stuck|bad|unreliable|suspect|flat|"
        r"battery)\b.*|.*\bdoubt\b.*\b(?:thermometer|probe|reading)\b.*|"
        r".*\breading\b.*\b(?:no sense|does not make sense|can not be right|seems wrong|"
        r"looks wrong|seems off|looks off)\b.*",
        _trouble("thermometer_doubted"),
    ),
    (
        _NO_FIRE
        + r"(?!.*\bnot\b).*\b(?:burning|burnt|burned|burns|burn|charring|charred|scorching|"
        r"scorched|"
        r"blackening|blackened|going black|goes black|turning black|getting dark|going dark|"
        r"catching|singed|singeing|too (?:dark|brown)|(?:is|are|looks?|looking|becom\w+|turned|"
        r"gone|getting|it) (?:all |too |very |a bit |quite )?black|too crispy|browning too)\b.*",
        _trouble("burning"),
    ),
    (
        r".*\b(?:fire|grill|heat|coals|it|barbecue|pit|charcoal|temp|temperature|"
        r"flames)\b.*\b(?:too hot|running hot|way hot|running away|far too hot|roasting hot|"
        r"out of control|overheating|raging|too high|roaring|through the roof|out of hand|racing|"
        r"blazing|scorching hot|like a furnace|too fierce|way up|too much heat)\b.*|"
        r".*\btoo (?:hot|fierce)\b.*|.*\btoo much (?:heat|fire)\b.*",
        fixed(cmd.Trouble("fire_too_hot")),
    ),
)
