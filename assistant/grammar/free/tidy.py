"""Words as written or heard to plain ones: contractions apart, dialect aside."""

import re

from assistant.grammar.clean import cleaned
from assistant.grammar.numbers import TENS, UNITS

_WHOLE = {
    "i'm": "i am", "can't": "can not", "won't": "will not", "ain't": "is not",
    "let's": "let us", "o'clock": "o'clock", "ma'am": "madam", "y'all": "you",
    "'em": "them", "em": "them", "aye": "yes", "naw": "no", "nah": "no", "nae": "not",
    "yeah": "yes", "yep": "yes", "yup": "yes", "yea": "yes", "nope": "no", "ok": "okay",
    "okey": "okay", "gonna": "going to", "gotta": "got to", "wanna": "want to",
    "lemme": "let me", "dunno": "do not know", "cannot": "can not", "yin": "one",
    "didnae": "did not", "isnae": "is not", "dont": "do not", "cant": "can not",
    "didnt": "did not", "isnt": "is not", "im": "i am", "ive": "i have", "wasnt": "was not",
    "til": "till", "'til": "till", "goin": "going", "fixin": "fixing", "charcoals": "coals",
    "gimme": "give me", "kinda": "kind of", "sorta": "sort of", "an": "an", "yessir": "yes sir",
    "nossir": "no sir", "yessum": "yes madam", "outta": "out of", "outa": "out of",
    "'bout": "about", "bout": "about", "lil": "little", "li'l": "little", "an'": "and",
    "n'": "and", "'n": "and", "throwed": "threw", "mebbe": "maybe", "ye": "you", "yer": "your",
    "aboot": "about", "noo": "now", "oot": "out", "doon": "down", "wan": "one", "twa": "two",
    "dinnae": "do not", "cannae": "can not", "wasnae": "was not", "hasnae": "has not",
    "whatcha": "what are you", "gotten": "got", "theyre": "they are", "were'nt": "were not",
    "hasnt": "has not", "havent": "have not", "doesnt": "does not", "wont": "will not",
    "couldnt": "could not", "shouldve": "should have", "youre": "you are", "shes": "she is",
    "hes": "he is", "theres": "there is", "lets": "let us", "birds'": "birds",
    "d'you": "do you", "d'ya": "do you", "d'ye": "do you", "whaddya": "what do you",
    "wouldja": "would you",
    "couldja": "could you",
    "hunner": "hundred", "hunnert": "hundred", "hunnerd": "hundred",
    "cuppla": "couple of", "coupla": "couple of", "s'pose": "suppose",
}  # fmt: skip
_ENDINGS = (
    ("n't", " not"), ("'s", " is"), ("'re", " are"), ("'ve", " have"), ("'ll", " will"),
    ("'d", " did"), ("'m", " am"), ("s'", "s"),
)  # fmt: skip


_LOG = (
    r"(?:log|record|note|write|mark|enter|save|jot|update|register|track|store|remember|key|"
    r"(?:put|set|take|make|add|get)(?= (?:\S+ ){0,9}(?:down (?:as|at|for)|(?:to|in|into|"
    r"on) the (?:log|record|book|notes))\b))"
)
_NO_HOUR = "".join(
    f"(?<!{word} )" for word in (*UNITS[1:], "twenty", "thirty", "forty", "fifty", "o'clock")
)
_NUMBER = "|".join((*UNITS[1:10], *TENS[2:]))
_SPIT = r"(?:spit|rod|skewer|rotisserie)"
_COUNT = "|".join(UNITS[1:9])
_LIFTED = r"lifted|took|taken|pulled|hauled|got|lifting"
_ASIDES = tuple(
    (re.compile(rf"\b(?:{aside})\b ?"), plain)
    for aside, plain in (
        (
        r"(?:(?:please |kindly )*(?:can|could|would|will) you|i (?:want|need|would like|"
        r"did like) you to|"
         rf"do you mind|you can|you may|you should|be a (?:dear|love|pal) and)"
         rf"(?: please| kindly| just| quickly| go ahead and)*(?= {_LOG}\b)", ""),
        (r"thank you(?: very much| so much| kindly| again)?(?!\S)", "thanks"),
        (r"(?<=past )midnight(?!\S)", "twelve a m"),
        (r"(?<=past )noon(?!\S)", "twelve p m"),
        (r"if you (?:would|could|can|please|will|like|do not mind)(?: please)?(?!\S)", "please"),
        (r"(?:when|whenever) you (?:get|have) (?:a|the) (?:chance|moment|second|minute|sec)", ""),
        (
        r"(?:(?<!do )(?<!did )you know|you see|mind you|i tell you|let me tell you|as you know|"
        r"would you believe(?: it)?|"

        r"believe it or not|like i said|as i said|to be honest|i have to say|guess what|"
        r"i think so)", ""),
        (r"^(?:you|you all|all of you)(?= (?:put|log|mark|note|write|record|set)\b)", ""),
        (r"is not but", "is only"),
        (rf"(?<=\w )ones(?= (?:at )?(?:a |{_NUMBER}))", "one is"),
        (
        r"(?:let us|let me|shall we|we will|i would|i will) (?:say|call (?:it|that))(?! (?:it|"
        r"that|again|so))", ""),
        (
        r"(?:nearly|almost|just about|close to|coming up (?:on|to)|getting on for|pushing|"
        r"just under|just over|"

        r"just shy of|a (?:shade|tick|hair|touch|bit|little) (?:under|over|above|below|off|"
        r"shy of)|closing in on|"

        rf"knocking on)(?: (?:at|on|up to))?(?= (?:a |{'|'.join(UNITS[1:10])}|"
        rf"{'|'.join(TENS[2:])}))", ""),
        (r"(?<=\w )(?:would|will|could|can) you(?: please| love| mate| now)?$", ""),
        (r"(?<=\w )(?:i )?(?:did not|have not|forgot to|lost) count(?:ed)?(?: (?:them|of them|"
            r"how many))?"
         r"(?: sorry)?(?!\S)|(?<=\w )(?:i am )?(?:not sure|no idea|do not know) how "
         r"many(?!\S)|(?<=\w )(?:i )?(?:could not|can not|could not even) (?:say|tell you|tell) "
         r"how (?:many|much)(?!\S)", ""),
        (rf"^(?:let us|let me)(?= {_LOG}\b)", ""),
        (r"^(?:can|could|shall|should) we (?=(?:move|push|put|shift|bump|set|delay|hold)\b)", ""),
        (r"is not (?:(?:too|that|all that) )?(?:far|much|a long way) (?:behind|off|away|below)"
         r"(?: (?:it|that|her|him))?(?: (?:on|at|with))?(?= )", "is"),
        (r"(?:just )?(?:(?:a|one) (?:second|sec|moment)|seconds|moments) ago", ""),
        (r"^(?:(?:what|who) (?:have )?(?:we|i) got|what do we have|let us (?:see|have a look)|"
         r"here we go|where are we|where were we)(?: here| then| now)?"
         rf"(?= .*\b(?:hundred|{_NUMBER}) (?:and )?(?:{_NUMBER}))", ""),
        (r"(?<=\w )(?:because|cause|cos|cuz) (?!.*\b(?:"
         rf"hundred|{_NUMBER})\b).*$", ""),
        (r"(?<=\w )(?:(?:and )?i )?(?:suppose|guess|reckon|believe|would say|imagine)$", ""),
        (r"(?<=\w )(?:and )?i will (?:do|get|check|read|see to|come back to|try|stick|have) "
         r"(?:the )?(?:others?|rest|next)(?: one| ones| two| bird| birds)?"
         r"(?: (?:in a (?:minute|moment|second|bit|sec|tick|jiffy)|later|next|after|now|soon|"
         r"shortly))?(?!\S)", ""),
        (r"(?<=\w )(?:got|gotten|crept up|snuck up|run|ran|jumped|shot)(?: up)?(?: away)? "
            r"(?:on|from) me(?!\S)", ""),
        (r"(?:(?<=\bthat )|(?<=\bit )|(?<=\bwhich )|(?<=\bthis ))would be", "is"),
        (r"(?:(?<=\bam )|(?<=\bis )|(?<=\bare ))(?:just )?after (?=\w+ing\b)", ""),
        (r"(?<=\w )(?:but )?(?:do not ask me|can not say|could not tell you|not sure|no idea|"
         r"i do not know|god knows) which(?: (?:one|bird|of them))?(?: (?:it|that) (?:is|"
         r"was))?$", ""),
        (r"(?<=\bvents )are both(?= )", "are"),
        (r"(?<=\w )(?:and |but )?(?:the )?[a-z]+(?: one| bird)? (?:is|are) (?:grand|fine|good|okay|"
         r"all right) (?:as (?:it|he|she) is|as they are|for now)$", ""),
        (r"(?:sorry )?(?:i )?(?:had|have) (?:it|the thermometer|the probe) (?:set |still "
            r")?(?:on|in) "
         r"(?=(?:celsius|fahrenheit|centigrade)\b)", ""),
        (r"(?:that is |for )?(?<!birds )(?<!numbers )one two and three(?: in (?:that "
            r")?order)?$", ""),
        (r"(?:(?<=\boff )|(?<=\bout ))for (?:a|one) (?:minute|sec|second|moment|bit|tick|jiffy|"
            r"mo)$", ""),
        (r"for the (?:others?|rest)(?: one| ones| two| bird| birds)?$", ""),
        (r"(?<=\w )instead of (?:leaving|keeping|having|doing|giving) .*$|"
         rf"(?<=\w )instead of (?:the )?(?!bird|number|one\b|{_NUMBER})[a-z]+$", ""),
        (r"thanks? (?:you )?for (?:your|the|all your|all the) help", "thanks"),
        (rf"\bgot to(?= (?:a |{_NUMBER}))", "at"),
        (r"(?:for your information|just so you know|just to let you know|to let you know|"
         r"for the record|i am afraid|i fear|unfortunately|sadly)(?!\S)", ""),
        (r"is all(?: that)?(?= (?:bird|number|the)\b)", "on"),
        (r"(?:here (?:are|come) |these are )?(?:the |my |our |all )+(?:two|three|four) "
         r"(?:numbers|readings|temperatures|temps)(?= )", ""),
        (r"onto(?= (?:the )?(?:bird|number|first|second|third|fourth|far|motor|middle)\b)", "on"),
        (r"(?:on|by|according to) (?:the|my) (?:[a-z]+ )?scales?(?!\S)", ""),
        (r"all over(?= (?:the |bird|number))", "over"),
        (r"(?<=\w )(?:and |but )?(?:i |we )*(?:have )?left (?:bird |number |the )?[a-z]+"
         r"(?: one| bird)? (?:alone|be|as (?:it|he|she) is|for now|plain|out)(?!\S)", ""),
        (_NO_HOUR + r"a m", "am"),
        (rf"(sauced|brushed|glazed|basted) (?:birds )?({_COUNT}) and ({_COUNT})",
         r"\1 bird \2 and bird \3"),
        (rf"(?:{_LIFTED}) (?:the )?(?:whole )?{_SPIT} (?:out|up|off the (?:grill|fire|coals))|"
         rf"(?:the )?(?:whole )?{_SPIT} (?:(?:is|has|was|been|came|comes|{_LIFTED}) )*out$",
         "the birds are off"),
        (rf"(?:put |got |set |dropped )?(?:the )?(?:whole )?{_SPIT} (?:(?:is|has|went|been|put) )*"
         r"back (?:in|over the (?:fire|coals|grill)|on the (?:grill|fire|coals|heat))",
         "the birds are back on"),
        (r"(?<=\bis )done(?= (?:come|gone|got|hit|reached|made|went))|(?<=\bi )done(?= \S+ed\b)|"
         r"^done(?= \S+ed\b)|(?<=\bhas )done(?= (?:come|gone|got|hit|reached))", ""),
    )
)  # fmt: skip


def plain_words(text: str) -> tuple[str, ...]:
    """The words of `text`, digits spelled out, each contraction taken apart, asides left out.

    A possessive reads as "is": "bird one's breast" is "bird one is breast".
    """
    words: list[str] = []
    for word in cleaned(text):
        words += _plain(word.strip("-").replace("-", " ")).split()
    plain = " ".join(words)
    for aside, instead in _ASIDES:
        plain = aside.sub(f"{instead} ".lstrip(), plain)
    return tuple(plain.split()) or tuple(words)


def _plain(word: str) -> str:
    if word in _WHOLE:
        return _WHOLE[word]
    for ending, apart in _ENDINGS:
        if word.endswith(ending) and len(word) > len(ending):
            return _plain(word.removesuffix(ending)) + apart
    return word + "g" if _drops_its_g(word) else word


_NO_GERUND = frozenset(
    """
 again begin within cousin muffin pumpkin napkin cumin raisin margin robin cabin basin resin
 dolphin vitamin violin gelatin muslin penguin coffin penicillin lignin tarpaulin griffin latin
""".split()  # noqa: SIM905
)


def _drops_its_g(word: str) -> bool:
    """ "sittin", "runnin": but neither "again" nor "skin"."""
    stem = word.removesuffix("in")
    return (
        len(word) > 4
        and stem != word
        and not stem.endswith(("a", "sk"))
        and any(vowel in stem for vowel in "aeiouy")
        and word not in _NO_GERUND
    )
