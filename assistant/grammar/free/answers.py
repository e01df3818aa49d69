"""Answers in the cook's own words: yes, no, which of two, done, later."""

import re

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.got import Got
from assistant.grammar.free.saying import Rule, fixed
from assistant.grammar.free.timers import Facts, span
from assistant.grammar.numbers import TENS, UNITS

_PLACES = {
    "first": 1,
    "former": 1,
    "second": 2,
    "latter": 2,
    "third": 3,
    "one": 1,
    "two": 2,
    "three": 3,
    "a": 1,
    "b": 2,
    "c": 3,
}


def _choose(_: Got, match: re.Match[str]) -> Facts:
    return (cmd.Choose(_PLACES[next(value for value in match.groupdict().values() if value)]),)


def _snooze(got: Got, _: re.Match[str]) -> Facts:
    return None if got.all("N") and got.all("DURATION") else (cmd.Snooze(span(got)),)


_YES = (
    r"(?:yes|correct|right|affirmative|sure|that is right|that is it|exactly|it is|i did|"
    r"definitely|indeed|course|of course|"
    r"go on|go ahead|do that|do it|absolutely|spot on|please do|yes please|certainly|ya|yup|"
    r"uh huh|mm hmm|mhm|"
    r"you bet|you got it|that is the one|that one|sure thing|sure did|sure is|bang on|"
    r"of course|agreed|"
    r"that is correct|that is what i said|i have|they are|she is|he is|it was|that was it|"
    r"no problem|by all means|"
    r"positive|naturally|confirmed|confirm|true|very good|perfect|sounds good|that works|aye|"
    r"okay do that)"
)
_YES_TAIL = (
    r"(?: (?:madam|sir|then|i|sure|did|do|have|it is|that is|go on|please|okay|is|was|now|"
    r"right|one|it|them|honey|"
    r"that|the|correct|exactly|of|course|so|they|are|she|he|we|all|already|just|done|indeed|"
    r"ahead|thanks|for|me|"
    r"dear|love|boss|chef|yes|am|can|will|thank|you|fine|absolutely))*"
)
_NO = (
    r"(?:no|nope|not yet|not just yet|no way|do not|negative|not really|nah|neither|none|none "
    r"of (?:them|"
    r"those)|not at all|not exactly|not quite|never|certainly not|absolutely not|wrong|"
    r"incorrect|it is not|that is wrong|that is not (?:it|right|what i said)|i did not|not me|"
    r"of course not|definitely not|no chance)"
)
_NO_TAIL = (
    r"(?: (?:not|yet|it|is|was|did|i|have|do|does|thanks|thank|you|way|that|honey|madam|sir|"
    r"need|leave|right|just|no|"
    r"wrong|really|they|are|she|he|we|of|them|those|course|please|correct|what|said|meant|one|"
    r"the|either|neither|dear|love|"
    r"am|at|all|them|for|now|absolutely|again|mean|quite))*"
)
_NUMBER = rf"(?:{'|'.join((*UNITS[1:], *TENS[2:]))})"
_BIT = (
    r"(?:a (?:bit|minute|moment|few|while|sec|second|little while|little bit|jiffy|tick|"
    r"few minutes|couple of minutes|wee while|little)|(?:a |"
    rf"the )?(?:{_NUMBER} ){{1,2}}(?:more )?(?:minutes|minute|hours|hour)|half an hour|an hour|"
    rf"{_NUMBER}(?: {_NUMBER})?)"
)
_CALL = (
    r"(?:remind|ask|tell|nag|bug|ping|holler|shout|check|come|get|try|say|call|wake|prompt|"
    r"nudge|buzz|poke|talk|hit|yell|give|repeat)"
)
ANSWERS: tuple[Rule, ...] = (
    (
        r"(?:(?:i (?:meant|mean)|(?:i would |i will |let us )?(?:go with|take|say|have)|i want|"
        r"go with|it is|it was|make it|take|i choose|i pick|i say|i said|"
        r"give me|pick|choose|use|that is|must be) )*(?:the |option |choice |answer )*(?P<o>first|"
        r"second|third|former|latter)(?: one| of (?:them|those|the two|the three)| option| number|"
        r" choice| reading| answer)?(?: (?:you|i) said| please| you (?:mentioned|gave|named))?$",
        _choose,
    ),
    (r"i (?:meant|mean) the (?P<o>first|second|third)\b.*", _choose),
    (
        r"(?:go with |i (?:choose|mean|meant) |make it |pick |take )*(?:the )?(?:option|choice|"
        r"answer|number) (?P<k>one|two|three|a|b|c)$",
        _choose,
    ),
)
SNOOZES: tuple[Rule, ...] = (
    (
        r"(?:not (?:right |just )?now|not yet|later|i am busy|busy) "
        rf"(?:(?:ask|tell|remind|try) (?:me )?)?(?:in|after|give me|maybe in) (?:about )?{_BIT}$",
        _snooze,
    ),
    (
        rf"(?:(?:can|could|would|will) you |please |just |okay |no )*{_CALL}(?: (?:at|to|with|on|"
        r"by|me|us|that|it|this|back|about|a|shout|try))*? (?:again|later|back)(?: (?:to|at|on|"
        r"with|me|us|that|it))*(?: (?:on|about|later|please|again|when|once|after|in|for|"
        r"at) ?.*)?$",
        _snooze,
    ),
    (
        rf"(?:snooze|later|not now|not right now|not just now|hold that thought|in {_BIT}|"
        rf"hold on(?: {_BIT})?|hang on(?: {_BIT})?|check back|again in|wait(?: {_BIT})?|"
        rf"give me (?:just )?(?:another |about )?{_BIT}|one (?:moment|second|minute|sec)|"
        r"just a (?:moment|second|minute|sec|tick)|hang fire|"
        r"(?:i am )?(?:a bit )?busy(?: (?:right )?now)?|(?:my |i have got my |"
        rf"i got my )?hands (?:are )?full|i can not (?:right )?now|too busy|another {_BIT}|"
        r"not yet later|maybe later|a bit later|later on|soon|remind me that)(?: (?:please|then|"
        r"now|later|not|maybe|again|okay|i am .*|my hands .*|hands .*|we will .*|for .*|on that.*|"
        r"till .*|and .*))*$",
        _snooze,
    ),
    (
        r"(?:(?:can|could|will) you |please |just )*(?:ask|nag|bug|check|try|get|check in|"
        rf"prompt)(?: (?:with|me|us|on|that|it|this|to))* in {_BIT}$",
        _snooze,
    ),
    (
        r".*\b(?:me|us) (?:that |this )?in (?:a|just a) (?:bit|minute|moment|few|while|sec|second|"
        r"little while|little bit|jiffy|tick|wee while)$",
        _snooze,
    ),
    (
        r"(?:remind me that|remind me later|bug me again|come back to me|try me again|"
        r"say it again in|snooze)\b.*",
        _snooze,
    ),
)
REPLIES: tuple[Rule, ...] = (
    (
        r"(?:it is|that is|they are|she is|he is|this is|is|it was) (?:all |now |just |already )*"
        r"(?:done|sorted|taken care of|seen to|finished)(?: now| already)?$|did (?:it|that)|"
        r"just did(?: it| that)?|i (?:have )?(?:just )?(?:did|done) (?:it|that)(?: now| already)?|"
        r"both are done|they are both done|done and done",
        fixed(cmd.ItemDone()),
    ),
    (rf"(?:{_YES}[ ,]?)+{_YES_TAIL}$", fixed(cmd.Yes())),
    (
        rf"{_NO}(?: (?:you are|it is|that is|i am|we are) (?:alright|all right|fine|good|grand|"
        rf"okay))?"
        rf"{_NO_TAIL}$",
        fixed(cmd.No()),
    ),
    (
        r"(?:got it|gotcha|okay got it|on it|will do|doing (?:it|that|so)(?: now)?|got you|"
        r"understood|i (?:am )?(?:on (?:it|that|the case|my way)|doing (?:it|that)|have got (?:it|"
        r"that)|got (?:it|that)|working on (?:it|that)|about to(?: do (?:it|that))?|getting (?:to|"
        r"on) (?:it|that)|going to do (?:it|that)|fixing to(?: do (?:it|that))?|hear you|"
        r"heard you|understand|see|know|can do that|did (?:it|that))(?: (?:now|already|right now|"
        r"just now))?|i will (?:do|see to|get|sort|check|handle|take care of|be right|go|"
        r"look)(?: (?:on|to|of|it|that|right|now|there|into|do))*|i have (?:done|seen to|sorted|"
        r"just done|already done) (?:it|that)(?: (?:now|already))?|consider it done|"
        r"roger(?: that)?|copy(?: that)?|message received|noted|okay|okay okay|cheers|"
        r"no (?:bother|worries)|thanks?(?: you)?(?: .{0,14})?|righto|sorted|on my way|"
        r"safe|bless|grand|right you are|got that|(?:i )?have (?:that|it)|nice one|sound|cool|"
        r"sweet|sick|class|good "
        r"stuff|top man|too easy|sweet as|"
        r"no probs|"
        r"leave it with me|okay doing that|it is done|that is done|all sorted|it is all done|"
        r"did that|did it|just did(?: it| that)?|right away|straight away|at once|yes chef|"
        r"aye aye|working on it|acknowledged|ten four|loud and clear|heard|i am there|fair enough|"
        r"very well|easy|as you say|you are the boss|taken care of|will get (?:to|on) it|"
        r"getting (?:to|on) it|about to)(?: .{0,12})?$",
        fixed(cmd.Acknowledge()),
    ),
)
