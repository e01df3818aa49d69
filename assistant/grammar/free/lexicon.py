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
    "LID": "lid|cover|hood",
    "VENT": "vent|vents|damper|dampers|bottom vent|bottom vents|top vent|top vents|intake"
    "|exhaust|chimney vent|lower vent|lower vents|upper vent|upper vents",
    "GRILL": "grill|barbecue|bbq|barbie|pit|dome|gauge|dial|needle|cooker|kettle|lid gauge|"
    "lid thermometer|dome thermometer|hood thermometer|grill temp|grill temperature|"
    "grill thermometer|pit temp|fire temp|cooking temp|lid temp|dome temp|temp gauge|"
    "air temp|chamber|temp in the grill|inside the grill",
    "FUEL": "coal|coals|charcoal|briquette|briquettes|briquets|lump|lumps|lump charcoal|"
    "pieces of charcoal|bits of charcoal|pieces of coal|pieces of lump|bricks|fuel",
    "CHIMNEY": "chimney|chimneys|chimney of coals|chimney of charcoal|chimney starter|"
    "chimneyful|chimney full|chimney load|starter",
    "SIDE": "each side|a side|per side|either side|both sides|to a side|to each side|every side",
    "WOOD": "wood|cherry wood|apple wood|oak|hickory|pecan|pecan wood|mesquite|cherry|applewood|"
    "cherrywood|wood chunk|wood chunks|wood chips|smoking wood|wood log|hickory wood|oak wood",
    "ADD": "add|added|adding|chucked|threw|tossed|dumped|laid|poured|bunged|dropped in|fed|"
    "loaded|shovelled|shoveled|lobbed|piled|popped|topped up|gone on|gone in|went on|went in|"
    "goes on|going on|going in|in there|put|put in|whacked|slung",
    "VAGUE": "few|some|couple|a couple|a few|handful|a handful|bit of|a bit of|several|a little",
    "SAUCED": "sauced|glazed|basted|brushed|mopped|painted|slathered|lacquered|coated|saucing|"
    "glazing|basting|brushing|sauced up|baste",
    "SAUCE": "sauce|glaze|coat|coating|marinade",
    "WEIGH": "weighs|weigh|weighed|weight|weighing|weighs in",
    "SERVE": "dinner|supper|tea|serve|serving|eat|eating|food|on the table|table|lunch|meal|"
    "sit down|dine|dining|feed everyone",
    "LATE": "late|later|push back|pushed back|push|slipped|delayed|delay|put back|hold|behind|"
    "running late|shift|slip|move back|back it up|postpone",
    "TIMER": "timer|alarm|remind|reminder|remind me|holler at me|shout me|give me a shout|"
    "countdown|tell me|let me know|ping me|buzz me|nudge me|wake me|call me",
    "CANCEL": "cancel|kill|bin|stop|ditch|scrap|lose|forget|drop|clear|turn off|switch off|"
    "get rid of|never mind|nevermind|do not need|delete",
    "NOT": "not|nowhere|below|never|without|nothing|hardly|nearly|almost|no longer",
    "KEEP": "left the|left it|left them|left that|kept|leave|staying|stays|stay|remains",
    "WANT": "need to|have to|got to|want to|let us|going to|will|should|would like",
    "FUTURE": "about to|fixing to|when|would|"
    "if|once|before|after|until|till|unless|planning to|ready to|used to|shall|might|may|must|"
    "could|ought to|wait for|let us",
    "NO": "no|wait|sorry|wrong|i mean|scratch that|correction|hang on|oops|actually|rather",
    "OPEN": "open|opened|opening|cracked",
    "SHUT": "shut|closed|closing|shutting|close|choked",
    "MORE": "more|bit more|a bit more|up a bit|up a touch|up a little|wider|open more|up some|"
    "up some more|little more|touch more|a little more|a touch more|a bit wider|a notch",
    "LESS": "less|down a bit|down a touch|down a little|a bit less|down some|in a bit|bit less|"
    "down a tad|a little less|down a little bit|narrower|shut a bit|closed a bit|choked down|"
    "down a notch|back a bit|back a touch",
    "RISING": "and climbing|and rising|and falling|and dropping|and holding",
    "YOU": "mummy|you|your|yours|yourself|mum|mama|mom|dad|daddy|grandma|kids|dog|she was|he was|"
    "they wanted|brother|sister|baby",
    "EACHOF": "each|apiece|a piece|all round",
    "BIT": "slightly|a tad|a smidge|a hair|a bit|a touch|a little|bit|touch|tad|a wee bit"
    "|a fraction",
    "REST": "resting|rested|rest|under foil|tented",
    "CARVE": "carving|carve|carved|slicing",
}
_FILLERS = """
 kindly yeah darling dear mister sure
 a an the and so well right okay alright now just then there here is are am was were be been it
 that this these those they them he she i we me my our us oh ah um uh er hmm hey honey hon sugar
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
 been-on skin core meat thickest part bless its heart cold need needs longer wants bit-longer
 ready done""".split()  # noqa: SIM905
FILLERS = frozenset(_FILLERS)
PHRASES: dict[tuple[str, ...], str] = {
    tuple(phrase.split()): name for name, some in _CLASSES.items() for phrase in some.split("|")
}
LONGEST = max(len(phrase) for phrase in PHRASES)
