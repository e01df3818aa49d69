"""Questions in the cook's own words.

A question is known by the word that asks and by what it asks about; the rules are tried in
order over words in which `B` stands for a bird that was named.
"""

import re
from functools import lru_cache

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.got import Got
from assistant.grammar.free.saying import Rule, core, fixed, of_bird
from assistant.grammar.free.timers import Facts

_ABOUT = re.compile(
    r"^(?:(?:do you (?:happen to )?know|do you have any idea|have you any idea|"
    r"(?:got )?any idea|have you got any idea|"
    r"(?:can|could|would|will) you (?:please )?(?:tell me|say|let me know|remind me|check)|"
    r"tell me|let me know|"
    r"i (?:want|need|would like|did like|am dying) to know|i (?:am|was) (?:just )?wondering|"
    r"i wonder|remind me|do you think|"
    r"do you reckon|say|can i ask|may i ask|i forget|i forgot|(?:talk|walk|run|"
    r"take) me through|what do you (?:think|reckon)|and) )+"
    r"(?=(?:how|what|when|which|why|who|where|if|is|are|do|does|the (?:time|status|last)|"
    r"whether)\b)(?:if |whether )?"
)
_EVEN = re.compile(r"\b(?<!what )(?:even|actually|exactly) ")
_FIRE = (
    r"(?:fire|coals|coal|charcoal|embers|grill|barbecue|pit|heat|fuel|cooker|briquettes|"
    r"smoker|flames)"
)
_US = (
    r"(?:it|things|everything|we|they|all|them|that|dinner|the cook|supper|the lot|the birds|"
    r"my birds|both|the food|food|this|the meal|lunch)"
)
_READY = (
    r"(?:ready|done|finished|cooked|good to go|good to eat|there|close|through|coming off|"
    r"come off|be off|off)"
)
_INDIRECT = re.compile(  # "do you know when bird one will be ready"
    r"^(when|where|how|how long|how far|what|why)"
    r" (B|it|they|we|i|dinner|everything|supper|things|the fire|the grill)"
    r" (will|is|are|has|have|can|should|do|does)\b"
)
_RULES: tuple[Rule, ...] = (
    # the time of day, and how long it has been
    (
        r"(?:(?:what is|what|what hour|what hour is it|how late|"
        r"which)? ?(?:the )?(?:current )?(?:time|hour|clock|o'clock)(?: is it| it is| do (?:you|"
        r"we)(?: make it| have| got)?| you got| (?:have|has) (?:you|we)(?: got)?| of day| check|"
        r" say| now| right now| please| there| by you| read)*)$|how late is it$|(?:have you|you|"
        r"do you have|have we|got|you have|do you|has anybody) (?:got |know )?(?:the|"
        r"what) time(?: it is| is it)?$|what does the clock say$|what time .*\b(?:is it|it is)$",
        fixed(cmd.AskTime()),
    ),
    (
        r"(?:how long|how much time|since when|what time|when|how many (?:hours|"
        r"minutes))(?!.*\b(?:left|till|until|before|more|need|needs|take|last|remain|"
        r"remains)\b).*\b(?:been|since|so far|elapsed|passed|gone by|started|start|ago|"
        r"did (?:they|i|we) (?:go|put|get)|put on)\b.*|how long (?:have|has|had|in|on|"
        r"are they (?:already )?on|is it on)\b(?!.*\b(?:left|to go|till|until|got)\b).*|"
        r"since when .*|"
        r"when did (?:they|i|we|the birds|all|both|B) .*(?:go|put|start|on|get)\b.*|"
        r"(?:the )?(?:elapsed|total|cooking|running) time(?: so far)?$|elapsed$|time (?:so far|"
        r"elapsed|on|on the (?:spit|heat|fire|grill))$|when did (?:it|this|"
        r"the cook) (?:all )?(?:start|begin)$",
        fixed(cmd.AskElapsed()),
    ),
    # the leftovers
    (
        r"(?:how long|when|what time|by when|how soon|how late|until when|till when)\b"
        r"(?!.*\bfire\b).*\b(?:leftovers?|left overs|in(?:to)? the (?:fridge|refrigerator|cold)|"
        r"chill|chilled|refrigerate|refrigerated|(?:sit|stand|stay|lie|left) out)\b.*|"
        r"(?:the )?leftovers?$|(?:what|how) about (?:the )?leftovers?$",
        fixed(cmd.AskLeftovers()),
    ),
    # why
    (
        r"(?:why|how come|what for|what makes you|for what reason|what is the reason|reason|"
        r"the reason|what is that for|how do you (?:know|figure)|says who|on what grounds|"
        r"explain)\b.*",
        of_bird(cmd.AskWhy),
    ),
    # what can be said
    (
        r"(?:what|which|how)(?: all| else)?(?: things?| words| questions| sort of things|"
        r" kinds? of things?| sorts? of things?)? (?:can|could|should|do|am|may) (?:i|we) "
        r"(?:able to )?(?:ask|say|tell|"
        r"talk|speak)\b.*|(?:what|which)(?: all| else)?(?: things?| words| commands|"
        r" phrases)? (?:can|could|do|are|will) you (?:able to |all )?(?:do|help|tell me|"
        r"understand|know|answer|offer|capable|good|able|take)\b.*|help(?: me)?(?: out)?$|"
        r"i need help$|(?:what|which) (?:are|is) (?:the|my|your) (?:commands|options|phrases|"
        r"features|choices)$|how do(?:es)? (?:i|this|you) (?:use|talk|work|speak).*|(?:show|give|"
        r"read) me (?:the )?(?:help|commands|options|card)$|(?:commands|options|instructions)$",
        fixed(cmd.AskHelp()),
    ),
    # the last reading
    (
        r"what (?:did|have) (?:i|you|we) .*\b(?:tell|told|say|said|have|had|write|log|record|note|"
        r"put|get|got|read|measure)\b(?!.* on\b).*\b(?:B|at|last|for)\b.*",
        of_bird(cmd.AskLast),
    ),
    (
        r"(?:what|where) (?:is|was) (?:the |my |our )?(?:last|latest|previous|most recent) "
        r"(?:reading|number|temperature|temp|figure|one)\b.*\bB$",
        of_bird(cmd.AskLast),
    ),
    # sauce
    (
        r"(?:which|what)(?! time)\b.*\b(?:sauce|glaze|flavou?r|marinade|coating)\b.*|what (?:is|"
        r"did|goes|go|does|do|will|should|am|are|have|has)\b.*(?:\bB|\b(?:it|she|he)\b).*\b(?:get|"
        r"getting|gets|got on|put on|go on|goes on|going on|take|takes|wearing|meant to get|"
        r"sauced with|glazed with|brush(?:ed)? on|become)\b.*|what (?:is|did|goes|go|"
        r"have) .*\b(?:put on|got on|goes on|going on|on|brush on)\b.* B$|what (?:goes|is) on B$|"
        r".*was it the \S+ or the \S+$|.* was it B or B$|is B (?:the |getting |getting the |"
        r"a )?B(?: or (?:the )?B)?$|(?:the )?(?:sauce|glaze|sauces)(?: (?:for|of) .*)?$|"
        r"B (?:sauce|glaze)$|which (?:one|bird) (?:gets|is|has|got|is getting|is the) (?:the )?B$|"
        r"what (?:did i|did we|i|have i) (?:put|brush).* on\b.*",
        of_bird(cmd.AskSauce),
    ),
    # how many are left
    (
        rf"how many(?! (?:more )?(?:minutes|hours|{_FIRE}|pounds|degrees|people|guests|times|"
        r"bags)\b).*\b(?:left|still|on|cooking|remain|remaining|go|off|spit|grill|more)\b.*|"
        r"how many(?: birds| chickens| more)?$|(?:what|which|who)(?: birds?| ones?| one|"
        r" chickens)? (?:is|are|do|have|has)\b.*\b(?:left|still|not done|to go|remaining|"
        r"to come off)\b.*|(?:any|is there any|are there any|are any|have we got any|"
        r"do we have any)(?: birds| more| ones| of them| chickens)* (?:left|still on|still|on|"
        r"remaining|more)\b.*|(?:is|are) (?:B|it|they|both|any)(?: both)? still (?:on|cooking|"
        r"going|turning|there|over the fire)\b.*|(?:birds|chickens) (?:left|remaining|still on)$|"
        r"(?:what|who) is left$|how much is (?:left|still on)\b.*|still on$|left$",
        fixed(cmd.AskLeft()),
    ),
    # one bird's last reading
    (
        r"(?!.*\b(?:long|soon|when|time)\b).*\b(?:last|latest|previous|most recent|"
        r"recent)\b (?:reading|temp|temperature|number|value|one|check|measurement|figure|was|"
        r"look)(?! should| was| is wrong)\b.*|what (?:was|did|is|were|does|reading|have|"
        r"do)\b.*\b(?:last|tell you|told you|reading|read|say|said|previous|before|at|on|measure|"
        r"show|temp|temperature|up to|reach|get to)\b.*B.*|what (?:was|did|is|were|does|"
        r"reading)\b.*B.*\b(?:last|tell you|told you|reading|read|at|say|said|previous|before|got|"
        r"on|up to|show|measure|temp|temperature|reach|get to|come to)\b.*|what (?:was|is) B$|"
        r"what (?:temperature|temp|reading|number) (?:was|is|did|has) B\b.*|"
        r"how (?:hot|warm|cold) (?:is|was|did)\b.*B.*|(?:the )?last (?:on|for|of|from) B$|"
        r"(?:where|what) (?:was|is|are|were) B(?: (?:at|last|up to|standing|sitting|now))*$|"
        r"what (?:have|has|did) .* (?:for|on) B$|what (?:was|is) the (?:last|latest).*|(?:temp|"
        r"temperature|reading) (?:of|on|for|in) B$|B (?:temp|temperature|reading|last(?: time|"
        r" one)?|last reading|previous)$|(?:where|what) (?:was|is|were|"
        r"are) .*\b(?:at )?last(?: time)?$",
        of_bird(cmd.AskLast),
    ),
    # the fire
    (
        r"(?!\w+ you\b)(?:how|is|are|does|do(?! not)|will|would|have|has|should|can|when|what|any|"
        rf"need|enough|check|which)\b.*\b{_FIRE}\b.*|{_FIRE}(?: (?:okay|all right|alright|good|"
        r"fine|status|check|report|holding|still going|doing|level|alive|hot enough|still hot|low|"
        rf"still good))*$|(?:the|my) {_FIRE}(?: (?:okay|all right|alright|good|fine|status|"
        r"check))*$|(?:is|are) (?:it|they) (?:still )?(?:hot|warm) enough.*|how hot (?:is|"
        r"are) (?:it|we|things)(?: in there| running| going| getting)?$|tell me about the fire$|"
        r"grill temp(?:erature)?$",
        fixed(cmd.AskFire()),
    ),
    # what is next
    (
        r"what (?:should|do|must|shall|can|am|is|comes|have|has|would|now|else|are|next|"
        r"does)(?!.*\b(?:happen|going on|up with|the matter)\b)(?: (?:i|we|me|you|is|it|up|to|"
        r"coming|the|my|our|do|doing|be|need|needs|have|has|got|gotta|must|thing|job|step|move|"
        r"task|want|supposed|meant|expected|going|comes|on|list|next|now|first|then|after|that|"
        r"this|here|else|doing|should|of|done|with|about|plan|order|agenda|for))*(?: (?:next|now|"
        r"first|then|do|doing|done|up|job|step|move|task|to do|after this|after that|plan|agenda|"
        r"list))?$|(?:the |my |what )?next(?: up| job| step| thing| move| task| one| action)?$|"
        r"now what$|what now$|what else$|(?:is there )?anything(?: else)?(?: (?:i|to|next|we|that|"
        r"needs|need|coming|left|you|for|should|do|doing|be|done|me|now|up|want|can))*$|(?:do|"
        r"should) i (?:need|have) to do (?:anything|something)\b.*|should i (?:do|"
        r"be doing) anything\b.*|what (?:are|is) (?:you|we|it) waiting (?:for|on)$|where (?:do|"
        r"should) (?:i|we) (?:go|start)(?: from here)?$|and then$|"
        r"what is coming(?: up)?(?: next)?$|what .*\bto do (?:next|now|first)$|"
        r"(?:which|who)(?: one| bird| ones| of them| B)? (?:is|are|comes|goes|gets|needs|do|"
        r"should)?(?: \w+){0,3} ?next(?: to .*)?$|"
        r"(?:which|who) (?:comes|goes|gets|needs) .*\bnext$",
        fixed(cmd.AskNext()),
    ),
    # when
    (
        r"(?:B |all |both )?(?:how (?:long|soon|much longer|many(?: more)? minutes|"
        r"many(?: more)? hours|much(?: more)? time|far (?:off|away|along|till|until|is|are|from|"
        r"out|to)|close|near)|when (?:is|are|will|can|do|does|should|shall|did|would|may|B (?:is |"
        r"will be )?(?:ready|done|off|finished))|what time (?:will|is|are|should|do|can|does|did|"
        r"shall)|eta|e t a|estimated|expected|remaining time|the remaining|time (?:left|remaining|"
        r"to go|needed)|long to go|what is the (?:estimated|remaining|expected|time (?:left|"
        r"remaining|on|for)|eta)|what is left (?:on|for)|any idea when|until when)\b.*|(?:is|are|"
        rf"will|has|have)(?! not)\b.*(?:\bB|\b{_US})\b.*\b{_READY}\b.*|(?:is|are|"
        rf"will) .*\b(?:on time|in time)\b.*(?:\bB|\b{_US})?.*|B(?: how much longer| how long| eta|"
        r" time left| ready| done)$|how is B(?: (?:doing|looking|coming|getting|along|on|going|"
        r"now|shaping|up|cooking|progressing|today))*$|how about B$|what about B$|"
        r"is B (?:nearly|almost|near|close)"
        r"(?: \w+)?$|(?:minutes|"
        r"time) left(?: (?:on|for|till|until) .*)?$|(?:nearly|almost) (?:ready|done|there)$|"
        r"(?:.* )?how (?:many|much) more (?:minutes|time).*|(?:.* )?how much longer.*",
        of_bird(cmd.AskWhen),
    ),
    # how it stands
    (
        rf"(?:what are (?:they|all|both|the birds|birds) (?:at|up to|reading|reading at)|"
        rf"how (?:is|are|goes|does|do) (?:it|{_US}|you)\b(?: (?:all|birds|doing|going|looking|"
        r"look|getting|on|coming|along|standing|stand|holding|up|now|go|is|out there|over there|"
        r"shaping|faring|progressing|there|so far|turning out))*|where (?:are|do|is|does) (?:we|"
        r"things|everything|it)(?: (?:at|stand|up|to|now|with|are|it|all|everything|things))*|"
        r"(?:give me |a |the |"
        r"quick |full |can i have |let us have |get me )*(?:rundown|status|update|summary|state|"
        r"overview|report|progress|recap|picture|situation)(?: (?:report|please|check|update|"
        r"on .*|of .*|for .*))*|what is (?:the )?(?:status|state|story|situation|score|progress|"
        r"latest|picture|going on|happening|up|new|the position)(?: (?:of|with|on|now|here|"
        r"out there) ?.*)?|what is happening|bring me up to (?:date|speed)|catch me up|fill me in|"
        r"update me|tell me (?:where|how) .*\b(?:stand|stands|at|everything|doing|going)\b.*|"
        r"(?:is |are )?(?:everything|all|things|we|it all)(?: still)? (?:okay|all right|alright|"
        r"good|fine|on track|well|in order|on schedule|going well|going okay|under control|"
        r"doing okay|doing well|on plan|on time)|how far (?:are|have) we(?: got| along| come)?|"
        r"(?:are we|is it) (?:all )?(?:on track|on schedule|going (?:okay|well)|good|okay|"
        r"still good|doing okay)|how we doing|how things going|"
        r"(?:are|will) (?:we|it)(?: be| going to be| running)? late|how do (?:we|things) stand|"
        r"how does (?:it|everything|that) look)$",
        fixed(cmd.AskStatus()),
    ),
)


@lru_cache(maxsize=1)
def _rules() -> tuple[tuple[re.Pattern[str], Rule], ...]:
    return tuple((re.compile(rule[0]), rule) for rule in _RULES)


def question(text: str, got: Got) -> Facts:
    """What the words ask; None where they ask nothing known."""
    said = core(_with_birds(text, got))
    asked = core(_ABOUT.sub("", _EVEN.sub("", said)))
    if asked != said:
        asked = _INDIRECT.sub(r"\1 \3 \2", asked)
    if "DURATION" in {item.kind for item in got.items}:
        return None
    for pattern, (_, build) in _rules():
        found = pattern.fullmatch(asked)
        if found is not None:
            return build(got, found)
    return None


def _with_birds(text: str, got: Got) -> str:
    """The text with `B` for each bird named: not for "it", "they"."""
    for item in got.items:
        if item.kind in {"R", "SAUCY"}:
            text = text.replace(item.text.replace("_", " "), "B", 1)
    return re.sub(
        r"\b(?:the|my|on|that|for|of|in) (?=B\b)",
        lambda found: "" if found.group().startswith(("the", "my", "that")) else found.group(),
        text,
    )
