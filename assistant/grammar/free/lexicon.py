"""Words that mean something here, by the class they stand for; and words that mean nothing.

A class is named in capitals, as in the templates of `frames` and `talk`.
"""

SPOTS = {
    "breast": "breast", "breasts": "breast", "thigh": "thigh", "thighs": "thigh",
    "leg": "thigh", "drumstick": "thigh", "wing": "wing", "wings": "wing",
}  # fmt: skip
_CLASSES: dict[str, str] = {
    "ON": "on",
    "OFF": "off",
    "LID": "lid|cover|hood|lids",
    "VENT": "top and bottom vents|bottom and top vents|upper and lower vents|lower and upper vents|"
    "top and bottom vent|vent|vents|damper|dampers|bottom vent|bottom vents|top vent|top "
    "vents|intake|"
    "air intake|"
    "exhaust|chimney vent|lower vent|lower vents|upper vent|upper vents|air vent|air vents|"
    "air hole|"
    "air holes|air inlet|bottom damper|top damper|lower damper|upper damper|bottom dampers|"
    "top dampers|vent on top|vents on top|vent at the bottom|vents at the bottom|vent on the "
    "bottom|"
    "vents on the bottom|vent at the top|vent on the lid|lid vent|vent underneath|vents underneath|"
    "bottom air vent|top air vent|lower air vent|upper air vent|bottom holes|top holes|daisy wheel",
    "GRILL": "grill|barbecue|bbq|barbie|pit|dome|gauge|dial|needle|cooker|kettle|lid gauge|"
    "lid thermometer|dome thermometer|hood thermometer|grill temp|grill temperature|"
    "grill thermometer|pit temp|fire temp|cooking temp|lid temp|dome temp|temp gauge|"
    "air temp|chamber|temp in the grill|inside the grill|chamber temp|ambient|ambient temp|"
    "ambient temperature|air temperature|lid temperature|pit temperature|cooking temperature|"
    "cook chamber|firebox|smoker|roaster lid|hood temp|barbecue temp|barbecue temperature",
    "FUEL": "coal|coals|charcoal|briquette|briquettes|briquets|briquet|lump|lumps|lump charcoal|"
    "pieces of charcoal|bits of charcoal|pieces of coal|pieces of lump|bricks|fuel|bits of coal|"
    "lumps of charcoal|lumps of coal|chunks of charcoal|piece of charcoal|piece of coal|"
    "charcoal briquettes|charcoal pieces|cobs|heat beads|beads|heat bead|charcoal lumps|"
    "charcoal nuggets|nuggets|lumpwood|lumpwood charcoal|briqs|briqs of charcoal|pieces of "
    "briquette|fresh ones|new ones|unlit ones|lit ones|fresh coals|new coals|fresh briquettes",
    "CHIMNEY": "chimney|chimneys|chimney of coals|chimney of charcoal|chimney starter|"
    "chimneyful|chimney full|chimney load|starter|chimney of briquettes|chimney of lump|"
    "chimney full of coals|chimney full of charcoal|chimney of coal|chimney of lit coals|"
    "chimney of hot coals|chimney of fresh coals",
    "SIDE": "each side|a side|per side|either side|both sides|to a side|to each side|every side|"
    "each end|side each|left and right|right and left|left and the right|each bank|each pile",
    "WOOD": "wood|cherry wood|apple wood|oak|hickory|pecan|pecan wood|mesquite|cherry|applewood|"
    "cherrywood|wood chunk|wood chunks|wood chips|smoking wood|wood log|hickory wood|oak wood|"
    "beech|beech wood|beechwood|alder|alder wood|maple|maple wood|peach wood|plum wood|pear wood|"
    "olive wood|smoke wood|mesquite wood|hickory chips|oak chips|apple chips|cherry chips|"
    "apple chunk|apple chunks|cherry chunk|cherry chunks|hickory chunk|hickory chunks|oak chunk|"
    "oak chunks|manuka|manuka wood|kanuka|mallee|jarrah|ironbark|red gum|tea tree|pimento wood|"
    "vine wood|"
    "grape vine|vine cuttings|alder chips|birch wood|walnut wood|fruit wood|fruitwood|firewood",
    "ADD": "add|added|adding|chucked|threw|tossed|dumped|laid|poured|bunged|dropped in|fed|"
    "loaded|shovelled|shoveled|lobbed|piled|popped|topped up|gone on|gone in|went on|went in|"
    "goes on|going on|going in|in there|put|put in|whacked|slung|threw in|tossed in|chucked in|"
    "stacked|heaped|tipped in|tipped|placed|scattered|sprinkled|adding in|throwing|tossing|"
    "laying|chucking|dumping|loading|putting|refilled|refueled|refuelled|replenished|restocked|"
    "stoked|banked|banked up|fired in|flung|gave it|given it|topping up|hoyed|lumped|emptied",
    "VAGUE": "few|some|couple|a couple|a few|handful|a handful|bit of|a bit of|several|a little|"
    "the rest of the bag|rest of the bag|the last of the bag|half the bag|another bag|"
    "a whole bag|"
    "a fistful|a fistful of|a scoop of|a scoop|a shovelful|a shovel|a load|a load of|a bunch|"
    "a bunch of|a pile|a pile of|"
    "a batch of|a bag of|half a bag|half a bag of|lots of|loads of|plenty of|a lot of|a heap of|"
    "a handful of|a couple of|couple of|a couple more|a few more|handfuls|handfuls of|"
    "a shovelful of|a shovel of|a layer of|a lot more|a basket of|a bucket of|two or three|"
    "three or four|four or five|five or six|a good few|one or two|six or seven|seven or eight|"
    "half a dozen or so|another couple|another few|another handful",
    "SAUCED": "sauced|glazed|basted|brushed|mopped|painted|slathered|lacquered|coated|saucing|"
    "glazing|basting|brushing|sauced up|baste|mopping|painting|slathering|coating|swabbed|dabbed|"
    "smeared|drizzled|lathered|doused|drenched|daubed|resauced|brushed on|spread|swabbing|dressed",
    "SAUCE": "sauce|glaze|coat|coating|marinade|second coat|first coat|third coat|baste|mop|"
    "last coat|final coat|coat of sauce|coat of glaze|coat of marinade|layer of sauce|layer "
    "of glaze",
    "WEIGH": "weighs|weigh|weighed|weight|weighing|weighs in|tips the scale|tips the scales",
    "SERVE": "dinner|supper|tea|serve|serving|eat|eating|food|on the table|table|lunch|meal|"
    "sit down|dine|dining|feed everyone|sitting down|sit down to eat|at the table|to the table|"
    "dinnertime|dinner time|suppertime|supper time|teatime|tea time|lunchtime|lunch time|"
    "mealtime|dish up|dishing up|plate up|plating up|plating|serve up|serving up|feast|grub|"
    "come to table|be fed|service|chow|scran|feed us",
    "LATE": "late|later|push back|pushed back|push|slipped|delayed|delay|put back|hold|behind|"
    "running late|shift|slip|move back|back it up|postpone|bump|bumped|shove|nudge|pushing|"
    "pushing back|moving|move|shifting|bump back|postponed|behind schedule|held up|"
    "holdup|add another|stretch|delaying|knock back|set back|slide|late by|put off|running behind",
    "TIMER": "timer|alarm|remind|reminder|remind me|holler at me|shout me|give me a shout|"
    "countdown|tell me|let me know|ping me|buzz me|nudge me|wake me|call me",
    "CANCEL": "cancel|kill|bin|stop|ditch|scrap|lose|forget|drop|clear|turn off|switch off|"
    "get rid of|never mind|nevermind|do not need|delete",
    "NOT": "not|nowhere|below|never|without|nothing|hardly|nearly|almost|no longer|neither|none|"
    "no more",
    "NEED": "need|needs|needed|needing|wants|want|should be|ought to be|supposed to be|meant to be",
    "KEEP": "keep|keeping|left the|left it|left them|left that|kept|leave|staying|stays|"
    "stay|remains",
    "WANT": "need to|have to|got to|want to|let us|going to|will|should|would like",
    "FUTURE": "about to|fixing to|when|would|"
    "if|once|before|after|until|till|unless|planning to|ready to|used to|shall|might|may|must|"
    "could|ought to|wait for|expect|expecting|hope|hoping|hopefully|wish|imagine|pretend|"
    "were to|aiming for|aim for|instead of|rather than",
    "NO": "no|wait|sorry|wrong|i mean|scratch that|correction|hang on|oops|actually|rather",
    "OPEN": "open|opened|opening|cracked|widened|uncovered|opens|cracking",
    "SHUT": "shut|closed|closed off|shut off|closed up|closed right down|shut right down|"
    "closed down|closing|shutting|close|choked|throttled|damped|dampened|restricted|"
    "narrowed|pinched|tightened|squeezed|replaced|lowered|choking|closes|shuts",
    "MORE": "more|bit more|a bit more|up a bit|up a touch|up a little|wider|open more|up some|"
    "up some more|little more|touch more|a little more|a touch more|a bit wider|a notch|up a tad|"
    "up a hair|up a notch|some more|tad more|a tad more|a hair more|a smidge more|a wee bit more|"
    "a little bit more|up a smidge|a fraction more|a little wider|up more|up a little bit|up "
    "a wee bit",
    "LESS": "less|down a bit|down a touch|down a little|a bit less|down some|in a bit|bit less|"
    "down a tad|a little less|down a little bit|narrower|shut a bit|closed a bit|choked down|"
    "down a notch|back a bit|back a touch|down a hair|down a smidge|down a wee bit|a touch less|"
    "a tad less|down more|down a fraction|tighter|smaller|a little tighter",
    "RISING": "and climbing|and rising|and falling|and dropping|and holding",
    "YOU": "you|your|yours|yourself|kids|dog|she was|he was|they wanted|train|bus|flight|plane",
    "KIN": "mummy|mum|mama|mom|dad|daddy|grandma|brother|sister|baby|son|auntie|uncle|cousin|"
    "mother|"
    "father|husband|wife|nan|gran|granny|papa|daughter|grandpa|aunt|neighbour|neighbor",
    "DAY": "monday|tuesday|wednesday|thursday|friday|saturday|sunday|tomorrow",
    "PAST": "last year|last week|yesterday|last night|years ago|the other day|last summer|"
    "back then|"
    "last month|last christmas|last thanksgiving|last weekend|once upon a time|back home|in "
    "those days",
    "EACHOF": "each|apiece|a piece|all round",
    "BIT": "slightly|a tad|a smidge|a hair|a bit|a touch|a little|bit|touch|tad|a wee bit"
    "|a fraction|a little bit|a whisker|a shade|nearly there|almost there",
    "REST": "resting|rested|rest|under foil|tented",
    "CARVE": "carving|carve|carved|slicing",
}
_FILLERS = """
 kindly yeah darling dear mister sure
 a an the and so well right okay alright now just then there here is are am was were be been it
 that this these those they them he she i we me my our us oh ah um uh er erm hmm hey honey hon sugar
 love pal mate please thanks thank got get gets getting have has had do does did at of to in for
 by with up down still only already about around roughly approximately says say said reads read
 reading showing shows show sitting sits sat hit hits reached reaching gone going went come coming
 came back at on's looking look log mark update note record set put make took take taken hitting
 climbed climbing up-to good nice nicely fine great cool perfect dot sharp degrees degree exactly
 bang over under hair touch shy bit little wee nearly-there way ways go some more thing one ones
 bird birds probe thermometer temperature temp deep inside middle outside new another other also
 too plus as well again checked check stuck got-a turning temperature's spit all both every
 everybody everyone lot first my turnspit steady holding hold down-at dropped fallen jumped stands
 standing lagging hovering hanging running runs measured measures measuring tells telling me's yet
 lord shoot gosh blimey heck man guys folks sir madam fully wide really pretty quite looks like
 went ahead down-to right-now today tonight last time this-time finally about-a maybe say-about
 call think reckon guess least most max min current currently stopped piece pieces chunk lump-of
 moment bottom top side whole full half pulled lifted removed popped and-a from onto into off-of
 been-on skin core meat thickest part bless its heart cold longer bit-longer
 ready done ish odd flat even broke crossed touching touched passed climbing pretty clocking clocked
 registering registers registered displaying displays indicates indicating indicated found
 seeing see seen take-that have-been gives giving given measuring meter pops probing probed probe's
 makes made means about roughly approx circa near nearabouts thereabouts bang-on spot-on settled
 thermapen instant display digital number numbers value values figure meat's breast's internal
 nudged crept creeping inching inched sneaking rising risen rose moved moving up-there
 finally lately meanwhile currently by-now so-far inner center centre
 chef buddy dude bud computer robot machine mate's team all-right basically actually honestly
 yup mhm anyway anyways lovely brilliant super excellent smashing sweet grand awesome
 ahead folks y'all alrighty righto ooh wow boy oi ta cheers cooking
 plan planning aim aiming plans stuck traffic guests folk hours
 roasting nice-and along looking looked seems seem appears probably possibly perhaps apparently
""".split()  # noqa: SIM905
FILLERS = frozenset(_FILLERS)
THINGS = frozenset(  # counted, and no reading of anything
    """
 thousand million dollars dollar quid euros people guests years year weeks months days miles
 kilometers kilometres inches feet grams plates chairs beers kids times cents goals points
 bags cups bottles glasses forks knives bucks yards metres meters mph spoons seats inch foot
 mile year week month day pairs sets packs boxes tins loaves
""".split()  # noqa: SIM905
)
PHRASES: dict[tuple[str, ...], str] = {
    tuple(phrase.split()): name for name, some in _CLASSES.items() for phrase in some.split("|")
}
LONGEST = max(len(phrase) for phrase in PHRASES)
