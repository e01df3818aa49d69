"""What is said whole: questions, answers, repairs, timers, trouble and the end.

A rule is a pattern over plain words, tried at the beginning of what is left once
"alright", "so", "honey" are gone; its builder may look at the items too.
"""

import re
from collections.abc import Callable
from functools import lru_cache

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.figures import Figure
from assistant.grammar.free.got import Got, said
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.free.timers import Facts, cancel, span, timer
from assistant.grammar.meaning import fahrenheit

Build = Callable[[Got, re.Match[str]], Facts]

_LEAD = re.compile(
    r"(?:(?:okay|ok|alright|all right|so|well|hey|oh|ah|um|uh|er|now|and|but|then|honey|hon|please|kindly|sorry|"
    r"turnspit|just|there|look|listen|right|love|pal|shoot|lord|man|heck|gosh|blimey|oops|ach|och|hi) )+"
    r"(?=\S)"
)
_TRAIL = re.compile(
    r"(?: (?:please|thanks|thank you|now|then|honey|hon|sugar|love|pal|mate|madam|sir|again|okay|turnspit|for me|"
    r"cheers|ta|already|yet))+$"
)
_BIRD_TAIL = r"(?: (?:.{0,60}))?"


def core(text: str) -> str:
    """The words without what opens and closes talk."""
    lead = _LEAD.match(text)
    text = text[lead.end() :] if lead else text
    return _TRAIL.sub("", text) or text


def _one(got: Got) -> int | None:
    birds = got.birds() if any(ref.kind != "all" for ref in got.refs()) else ()
    return birds[0] if len(birds) == 1 else None


def _fixed(fact: Fact) -> Build:
    return lambda _got, _match: (fact,)


def _bird(make: Callable[[int | None], Fact]) -> Build:
    return lambda got, _match: (make(_one(got)),)


def _trouble(kind: cmd.TroubleKind) -> Build:
    return _bird(lambda bird: cmd.Trouble(kind, bird))


def _correct(got: Got, match: re.Match[str]) -> Facts:
    """The number meant: not the one after "not"."""
    items = got.items
    kept = [
        item.value
        for at, item in enumerate(items)
        if isinstance(item.value, Figure)
        and not (
            at
            and items[at - 1].text in {"not", "said"}
            and "not" in match[0]
            and items[at - 1].text == "not"
        )
    ]
    birds = (
        got.birds() if got.refs() and any(r.kind in {"named", "sauce"} for r in got.refs()) else ()
    )
    bird = birds[0] if len(birds) == 1 else None
    if len(kept) != 1:
        return (cmd.Correct(bird=bird),) if bird and not kept else None
    figure = kept[0]
    assert isinstance(figure, Figure)
    spoken = said(figure, got.context)
    f = fahrenheit(spoken.number, spoken.scale)
    if not 28 <= f <= 700:
        return None
    return (cmd.Correct(f, spoken, bird),)


def _snooze(got: Got, _: re.Match[str]) -> Facts:
    return (cmd.Snooze(span(got)),)


def _choose(_: Got, match: re.Match[str]) -> Facts:
    place = {"first": 1, "former": 1, "second": 2, "latter": 2, "third": 3}[match["o"]]
    return (cmd.Choose(place),)


def _carve(got: Got, _: re.Match[str]) -> Facts:
    return (cmd.Carve(_one(got)),)


def _rest(got: Got, _: re.Match[str]) -> Facts:
    birds = got.birds()
    if got.is_all() or not birds:
        return (cmd.Rest(),) if got.refs() else None
    return tuple(cmd.Rest(bird) for bird in birds)


_YES = (
    r"(?:yes|correct|right|affirmative|sure|that is right|that is it|exactly|it is|i did|definitely|indeed|course|of course|"
    r"go on|go ahead|do that|do it|absolutely|spot on|please do|yes please|certainly|ya|yup)"
)
_POLITE = r"(?:(?:can|could|would|will) you |please |i want you to |i need you to |you can |just )*"
_LOOSE = (
    r"(?:loose|undone|untied|flapping|flopping|floppy|floating|dangling|hanging|free|adrift|slipped|"
    r"unhooked|off the string)"
)
_TABLE: tuple[tuple[str, Build], ...] = (
    (r"(?:(?:i meant |i mean |go with |it is |it was |make it )?the )?(?P<o>first|second|third|former|latter)(?: one| of (?:them|those|the two)| option| number)?(?: you said| please)?$|i (?:meant|mean) the (?P<o2>first|second|third).*", lambda g, m: _choose(g, m) if m.groupdict().get("o") else (cmd.Choose({"first": 1, "second": 2, "third": 3}[m["o2"]]),)),
    (r"(?:go with |i (?:choose|mean|meant) |make it )?(?:the )?(?:option|choice) (?P<k>one|two|three)$", lambda _g, m: (cmd.Choose({"one": 1, "two": 2, "three": 3}[m["k"]]),)),
    # repairs
    (r"(?:scratch|scrap|scrub|undo|forget|strike|delete|bin|cancel|ignore|remove|disregard|drop|erase|take back|lose)"
     r"(?: (?:that|it|this|the|last|one|bit|reading|what|i|just|told|you|said|entry|about|thing|did|previous))*$", _fixed(cmd.Undo())),
    (r"(?:take|never mind) (?:that|it)(?: last one| one)?(?: back| off)?$|never mind$|ignore me$", _fixed(cmd.Undo())),
    (r"(?:sorry )?(?:say|tell me|run) (?:that|it)(?: one)?(?: to me| by me)?(?: again| once more| one more time| back)(?: .*)?$"
     r"|(?:sorry )?(?:say|come) again.*$|repeat.*$|pardon.*$|what(?: was| is)? that(?: again)?(?: (?:i )?did not .*| you said.*)?$"
     r"|what did you (?:just )?say.*$|(?:i )?did not (?:catch|hear|get) (?:that|it|you).*$|(?:one|once) more time$", _fixed(cmd.Repeat())),
    (r"what did (?:i|you hear me|you think i) (?:just )?(?:say|said)(?: .*)?$|what did you hear.*$", _fixed(cmd.AskHeard())),
    (r"(?:no|nope|wrong|sorry|wait|correction|hang on|hold on|oops|make (?:that|it)|change (?:that|it) to|i (?:meant|mean|said|should have said)|"
     r"not|that (?:should|was|is wrong|is not)|it (?:should|was) (?:have been|be|meant)|should (?:have been|be)|rather|actually|i said that|i did not|my mistake|scratch that)\b.*$", _correct),
    # questions
    (r"what(?: is the)? time(?: is it| do you make it| do you have)?(?: (?:now|please|right now|there))*$|what time is it\b.*|have you got the time.*|what does the clock say.*|(?:do you )?(?:know|got) the time.*", _fixed(cmd.AskTime())),
    (r"how many .*(?:left|still|on|cooking|remain|to go).*|how many(?: birds| more)?$|(?:which|what)(?: birds| ones)? (?:are|is|have i got) (?:left|still|on).*|(?:who|what) is (?:left|still on).*", _fixed(cmd.AskLeft())),
    (r"(?:how long|how much time|what time).* (?:been (?:on|cooking|going|turning|in)|since|so far|have we been|gone).*|when did (?:they|i|we|the birds).*(?:go|put|start|on).*|how long (?:have|has).*|how long (?:in|so far).*", _fixed(cmd.AskElapsed())),
    (r"(?:.* )?(?:how (?:many|much) more (?:minutes|time)|how much longer).*|(?:how long|how soon|when (?:is|are|will|can|do|should|does|did i say)|what time|how many minutes|how far off|how close|how far|how much time|how near|any idea when|how much more time|how many more|what is the (?:estimated|remaining|expected)|time (?:left|remaining) (?:for|on)|do you (?:know|think|reckon) (?:when|how long)|is .*(?:nearly|almost|about) (?:done|ready)|are .*(?:nearly|almost|about) (?:done|ready)).*", _bird(cmd.AskWhen)),
    (r"(?:which|what)(?: kind of)? (?:sauce|glaze|flavou?r|marinade|did i (?:put|say i (?:put|was putting)|brush) on|is (?:on|going on)|have i got on|goes on)\b.*|what is .*(?:getting|sauced with|glazed with|got on it|meant to get)\b.*|.*was it the \S+ or the \S+$", _bird(cmd.AskSauce)),
    (r"what is (?:the|my) (?:fire|grill|barbecue|pit|heat)\b.*", _fixed(cmd.AskFire())),
    (r"what (?:was|did|is|were|reading|have).*(?:last|tell you|told you|reading|read|at|say|said|previous|before|get|got)\b.*|(?:last|latest|previous) (?:reading|temp|temperature|number)(?! should| was| is wrong).*|what was (?:bird|the|that) .*|what is (?:bird \S+|.* (?:one|bird)) (?:at|reading|on|up to)(?: now)?$|remind me what .*(?:was|read|at).*|where (?:was|is|are|were) .*(?:at|last).*", _bird(cmd.AskLast)),
    (r"(?:how is|how are|how about|what about|is|are|check|tell me about)(?: the| my| that| we)? (?:fire|coals|charcoal|grill|heat|fuel|embers|barbecue|pit)(?: (?:doing|holding|looking|going|getting|okay|all right|hot enough|up|now|still)| on)*.*|(?:do i|does (?:it|the fire)|should i|do we) need (?:more |to add |any )*(?:coals|charcoal|fuel|briquettes).*|(?:is|will) the fire .*", _fixed(cmd.AskFire())),
    (r"(?:why|how come|what for|what makes you|how do you (?:know|figure))\b.*", _bird(cmd.AskWhy)),
    (r"(?:what|which things?)(?: all| else)?(?: things?)? (?:can|could|should|do|am) (?:i|you) (?:able to )?(?:ask|say|tell|help|do for|understand|able|know)\b.*|help(?: me)?(?: out)?$|what(?: all)? can you (?:do|help).*|what (?:are|is) (?:the|my) (?:commands|options).*|how do(?:es)? (?:i|this|you) (?:use|talk|work).*", _fixed(cmd.AskHelp())),
    (r"what (?:is|should i do|do i (?:need to )?do|do i have to do|comes|am i (?:doing|meant to do|supposed to do)|have i got|do we do|are we doing|should i be doing|do you (?:want|need)(?: me)?(?: to do)?|now)(?: (?:is|it|up|to|coming|the|i|do|need|must|thing|job|step))*(?: (?:next|now|first|then))?$|(?:what )?next(?: up| job| step)?$|anything (?:i need|to do|next|else|coming).*|what now$|what is (?:next|coming|up).*", _fixed(cmd.AskNext())),
    (r"(?:how (?:is|are) (?:it|things|everything|we|they|all|the birds|my birds|them|that|dinner|the cook|supper|the lot)(?: all| birds)?(?: doing| going| looking| getting on| coming along| coming on| standing)*|where (?:are|do) we(?: at| stand| up to)?|give me (?:a|the) (?:rundown|status|update|summary|state).*|(?:status|update|report|rundown|summary)(?: report| please)?|what is the (?:status|state|story|situation|score)(?: of .*)?|bring me up to (?:date|speed).*|tell me (?:where|how) .*(?:stand|stands|at|everything|doing).*|how are we doing(?: .*)?)$", _fixed(cmd.AskStatus())),
    # timers
    (_POLITE + r"(?:cancel|kill|bin|stop|ditch|lose|drop|clear|delete|turn off|switch off|get rid of|never mind|forget|scrap|end|do not need|i do not need)(?: about)?(?: off)? .*(?:timer|alarm|reminder)\b.*|(?:no|do not) .*timer\b.*", cancel),
    (r"(?:remind me again|ask me again|tell me again|ask again|tell me that again|remind me that|remind me later|give me (?:another )?(?:\S+ ){1,3}minutes|snooze|later|not now|hold that thought|in a (?:bit|minute|moment)|bug me again|come back to me|try me again|say it again in|hold on a|check back|again in|wait a)\b.*", _snooze),
    (_POLITE + r"(?:set|start|remind|holler|shout|timer|give me a|tell me|let me know|ping|buzz|nudge|time|put|alarm|wake me|call me|ring|count|warn|i need a|need a|run a|make a|beep|alert|do)\b.*", timer),
    (r".*\b(?:timer|time that|remind me|set a|holler)\b.*", timer),
    (r"(?:half an hour|quarter of an hour|(?:[a-z]+ ){1,3}minutes?|an hour|half hour|[a-z ]{1,20}hours?) (?:on|for) (?:the |my |those )(?!grill|fire|spit|bird|dinner).*", timer),
    # answers
    (rf"(?:{_YES}[ ,]?)+(?: (?:madam|sir|then|i|sure|did|do|have|it is|that is|go on|please|okay|is|was|now|right|one|it|them|honey))*$", _fixed(cmd.Yes())),
    (r"(?:no|nope|not yet|no way|do not|negative|not really|nah)(?: (?:not|yet|it|is|was|did|i|have|do|does|thanks|thank|you|way|that|honey|madam|sir|need|leave|right|do not|just|no|wrong))*$", _fixed(cmd.No())),
    (r"(?:got it|okay got it|i am on it|on it|will do|doing it(?: now)?|got you|understood|i (?:am )?(?:doing|have got) (?:it|that)(?: now)?|i will (?:do|see to|get|sort) (?:it|that|to it)(?: now)?|consider it done|gotcha|roger(?: that)?|copy(?: that)?|i (?:hear|heard) you|noted|okay|cheers|no (?:problem|bother|worries)|thanks?(?: you)?|righto|sorted|on my way|leave it with me|okay doing that)(?: .{0,12})?$", _fixed(cmd.Acknowledge())),
    # trouble
    (rf"(?:.* )?(?:leg|drumstick|legs)\b.*\b{_LOOSE}\b.*|.*\bloose leg\b.*", _trouble("leg_loose")),
    (rf"(?:.* )?(?:wing|wings)\b.*\b{_LOOSE}\b.*|.*\bloose wing\b.*", _trouble("wing_loose")),
    (r"(?!no |not ).*\b(?:flare ?up|flaring|flared|flare|flames (?:are|everywhere|shooting|licking|coming|up|leaping)|fat (?:is|has|caught)(?: on)? fire|grease fire|on fire)\b.*", _trouble("flare_up")),
    (r".*\b(?:spit|motor|rotisserie|rod|skewer|it)\b.*\b(?:stopped|quit|not (?:turning|spinning|going|moving|working)|jammed|stuck|dead|died|packed (?:it )?in|stalled|seized|stopping|conked|broke|broken)\b.*|.*\bstopped turning\b.*", _trouble("spit_stopped")),
    (r".*\b(?:fire|coals|charcoal|embers|heat|grill)\b.*\b(?:dying|die|going out|go out|gone out|dead|dies|died|fading|nearly out|almost out|burning out|burned out|burnt out|petering|running out|giving up|getting low|out on me|losing heat)\b.*", _trouble("fire_dying")),
    (r"(?:.* )?(?:start(?:ed|ing) (?:to )?(?:rain|chuck|pour|pelt|drizzle|spit|bucket)|raining|pouring (?:down|outside|with rain)|chucking (?:it )?down|pelting|drizzling|bucketing|here comes (?:the )?rain|rain (?:is|has) (?:start|come|here|coming|on)|coming down (?:hard|now)|spitting(?: with rain)?|rain)\b.*", _trouble("rain")),
    (r".*\b(?:drip|fat|grease)\b.*\b(?:pan|tray|tin)\b.*\b(?:full|overflow\w*|run(?:ning)? over|brimming|spilling|needs empt\w+|over|top)\b.*|.*\b(?:drip pan|drip tray|tray|pan) is (?:nearly |almost |about )?full.*", _trouble("drip_pan_full")),
    (r".*\b(?:do not|not|never) (?:believe|trust|buy|think|reckon)\b.*\b(?:thermometer|probe|reading|gauge)\b.*|.*\b(?:thermometer|probe)\b.*\b(?:wrong|off|broken|acting up|playing up|wonky|dodgy|faulty|nonsense|lying|not right|funny|bust|rubbish)\b.*|.*\bdoubt\b.*\b(?:thermometer|probe)\b.*", _trouble("thermometer_doubted")),
    (r"(?!.*\b(?:fire|coals|flames?|charcoal) (?:is|are)\b).*\b(?:burning|burnt|burned|charring|charred|scorching|scorched|blackening|going black|catching|singed|too dark|black)\b.*", _trouble("burning")),
    (r".*\b(?:fire|grill|heat|coals|it|barbecue|pit|charcoal|temp|temperature)\b.*\b(?:too hot|running hot|way hot|running away|far too hot|roasting hot|out of control|overheating|raging|too high|roaring)\b.*|.*\btoo hot\b.*", _fixed(cmd.Trouble("fire_too_hot"))),
    (r"(?:the )?motor(?: end| side)?(?: is| sits)? (?:at |on |to )?(?:my |the |your )?(?P<h>left|right)(?: hand)?(?: side| end)?$", lambda _g, m: (cmd.MotorSide("left" if m["h"] == "left" else "right"),)),
    # rest, carve, end
    (r"(?:.* )?(?:carving|carve|slicing|cutting (?:it|them|the birds?|this one) up)\b.*", _carve),
    (r"(?:.* )?(?:resting|under foil|tented|having a rest|having its rest|rests|rest)\b.*", _rest),
    (r"(?:(?:right|okay|well|that|this|is|us|we|i|am|are|everything|all|supper|dinner|tea|cook|the|it|everyone|and) )*(?:all )?(?:done|finished|finish|through|over|complete|a wrap|end of (?:the )?cook|packing up|shutting (?:it )?down|call it a night|wrapped up)(?: (?:for the (?:night|evening|day)|tonight|cooking|thank|you|honey|here|now|with (?:it|the cook|cooking|that)|thanks|everyone|all))*$|(?:end|finish|close|stop)(?: the| this)? (?:cook|session|cooking|evening)$|(?:good ?night|that is (?:a wrap|us|it|all))(?: thanks?| thank you| for (?:the night|tonight|today))*$|(?:call|calling) it a night$", _fixed(cmd.EndCook())),
    (r"(?:that is (?:all|it|us|supper|dinner) )?(?:.{0,12} )?(?:we|i) (?:are|am) (?:all )?(?:done|finished|through)(?: (?:for .*|here|now|cooking|thank you|thanks))*$", lambda got, _m: None if any(r.numbers and r.kind != "all" for r in got.refs()) else (cmd.EndCook(),)),
    (r"(?:fire|charcoal|coals)(?: is| are)? (?:lit|going|started|burning now)$|(?:just )?(?:(?:i|we) )?(?:just )?(?:have )?lit the (?:fire|coals|charcoal|chimney)$", _fixed(cmd.FireLit())),
    (r"(?:louder|speak up|turn (?:it|yourself|the volume) up|i (?:can not|can barely) hear you).*", _fixed(cmd.Louder())),
    (r"(?:quieter|softer|turn (?:it|yourself|the volume) down|not so loud|keep it down|lower your voice).*", _fixed(cmd.Quieter())),
    (r"(?:hush|quiet|be quiet|shush|stop talking|shut up|enough|zip it)$", _fixed(cmd.Hush())),
)  # fmt: skip


@lru_cache(maxsize=1)
def _rules() -> tuple[tuple[re.Pattern[str], Build], ...]:
    return tuple((re.compile(pattern), build) for pattern, build in _TABLE)


def whole(text: str, got: Got) -> Facts:
    """The facts of words that are one whole saying; None where they are none."""
    for pattern, build in _rules():
        found = pattern.fullmatch(text)
        if found is not None:
            facts = build(got, found)
            if facts is not None:
                return facts
    return None
