"""What is said whole: repairs, questions, timers, answers, trouble, rest and the end.

A rule is a pattern over plain words, tried once "alright", "so", "honey" are gone; its
builder may look at the items too.
"""

import re
from functools import lru_cache

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.answers import ANSWERS, REPLIES, SNOOZES
from assistant.grammar.free.got import Got
from assistant.grammar.free.lex import lexed
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.free.passing import PASSING
from assistant.grammar.free.questions import question
from assistant.grammar.free.repairs import REPAIRS
from assistant.grammar.free.saying import Build, Rule, core, fixed, of_bird, unapologetic
from assistant.grammar.free.timers import CALLED, MUST, Facts, cancel, needed, timer
from assistant.grammar.free.troubles import TROUBLES

_FOREIGN = {
    "N",
    "LID",
    "VENT",
    "SERVE",
    "WEIGHT",
    "SAUCED",
    "WOOD",
    "CHIMNEY",
    "LATE",
    "CLOCK",
    "OFF",
    "FUEL",
    "TIMER",
}
_ALONE = (cmd.Trouble, cmd.Rest, cmd.Carve, cmd.EndCook)


def _carve(got: Got, match: re.Match[str]) -> Facts:
    return None if got.all("NOT") or got.all("YOU") else of_bird(cmd.Carve)(got, match)


_RESTS = re.compile(r"(?:is |now |to )*(?:resting|rests?|having a|under|in foil)\b")


def _rest(got: Got, match: re.Match[str]) -> Facts:
    birds = got.birds()
    if got.all("NOT") or got.all("N") or got.all("YOU") or got.has("the_rest"):
        return None
    if not got.refs() and got.context.spoken and _RESTS.match(match.string):
        return (cmd.Rest(got.context.spoken),)
    if got.is_all() or not birds:
        return (cmd.Rest(),) if got.refs() else None
    return tuple(cmd.Rest(bird) for bird in birds)


def _end(got: Got, _: re.Match[str]) -> Facts:
    if any(ref.numbers and ref.kind != "all" for ref in got.refs()):
        return None
    return (cmd.EndCook(),)


_POLITE = (
    r"(?:(?:can|could|would|will) you |please |i want you to |i need you to |you can |you may |you could |you should |i |"
    r"just |we )*"
)
_CANCEL = (
    r"(?:cancel|kill|bin|stop|ditch|lose|drop|clear|delete|turn off|switch off|get rid of|"
    r"never mind|forget|scrap|"
    r"end|do not need|off with|remove|silence|shut off|quit)"
)
_TIMES: tuple[Rule, ...] = (
    (
        _POLITE
        + _CANCEL
        + r"(?: about)?(?: off)? .*(?:timer|alarm|reminder)\b.*|(?:no|do not|not)\b.*(?:timer|"
        r"alarm)\b.*|.*(?:timer|alarm|reminder)\b.*\b(?:not need|do not want|cancel|cancelled|off|"
        r"any ?more|no longer|no more)\b.*",
        cancel,
    ),
    *SNOOZES,
    (
        rf".*{CALLED.pattern}.*|{_POLITE}(?:set|start|time|put|do|run|make|give me|need|clock|stick|pop|whack|bung|want)\b.*",
        timer,
    ),
    (
        r"(?:(?:half|quarter|three quarters|an?|"
        r"[a-z]+(?: [a-z]+)?)(?: of)?(?: an?)? )?(?:minutes?|hours?)(?: and a half)? (?:on|for|"
        r"till|until|to) (?:the |my |those |our )?(?!grill|fire|spit|bird|dinner).*",
        needed,
    ),
    (rf"(?:the |my |our |those |some )*[a-z]+(?: [a-z]+){{0,2}} {MUST}\b.*", needed),
    (
        r"(?:the |my |our )?[a-z]+(?: [a-z]+)? (?:in |for )?(?:about |another )?(?:half an hour|"
        r"quarter of an hour|an hour|(?:[a-z]+ ){1,2}(?:minutes?|hours?))$",
        needed,
    ),
)
_ENDS: tuple[Rule, ...] = (
    (
        r"(?:the )?motor(?: end| side)?(?: is| sits)? (?:at |on |to )?(?:my |the |"
        r"your )?(?P<h>left|right)(?: hand)?(?: side| end)?$",
        lambda _g, m: (cmd.MotorSide("left" if m["h"] == "left" else "right"),),
    ),
    (
        r"(?!.*\b(?:when|should|board)\b)(?:.* )?(?:carving|carve|carved|slicing|sliced|jointing|"
        r"jointed|portioning|cutting (?:it|them|the birds?|this one|into|up)|cut(?:ting)? .* up|"
        r"cut(?:ting)? up|cut into|under the knife|break(?:ing)? (?:it|them|the .*) down|"
        r"taking the knife to|taking a knife to|cut(?:ting)?(?: now| just)? (?:the |it|them|bird|"
        r"both|all|chicken|this|that))\b.*|.*\b(?:to|onto) the (?:carving |cutting |"
        r"chopping )?board\b(?! (?:to )?rest).*",
        _carve,
    ),
    (
        r"(?!.*\bwhen\b)(?:.* )?(?:for good|off (?:the (?:spit|heat|fire|grill) )?for (?:the table|"
        r"dinner|eating|carving)|resting|rested|under (?:the |some )?foil|tented|tenting|"
        r"having a (?:rest|breather|sit|lie down)|(?:have|has|having|taking|take|get|"
        r"getting) (?:its|their|her|his|a|some) rest|rests|rest|in foil|with foil|"
        r"foil (?:is )?(?:on|over)|let(?:ting)? .*(?:sit|stand|settle)|left to (?:sit|rest|stand)|"
        r"sitting for a (?:bit|while|spell))\b.*",
        _rest,
    ),
    (
        r"(?:(?:right|okay|well|that|this|is|us|we|i|am|are|everything|all|supper|dinner|tea|cook|"
        r"the|it|everyone|and) )*(?:all )?(?:done|finished|finish|through|over|complete|a wrap|"
        r"end of (?:the )?cook|packing up|shutting (?:it )?down|call it a night|"
        r"wrapped up)(?: (?:for$|for the (?:night|evening|day)|tonight|cooking|thank|you|honey|here|"
        r"now|with (?:it|the cook|cooking|that)|thanks|everyone|all))*$|(?:that is it |that is all |okay |i said )?(?:end|finish|close|"
        r"stop)(?: the| this)? (?:cook|session|cooking|evening)$|(?:good ?night|that is (?:a wrap|"
        r"us|it|all))(?: thanks?| thank you| for (?:the night|tonight|today))*$|(?:call|"
        r"calling) it a night$",
        fixed(cmd.EndCook()),
    ),
    (
        r"(?=.*\b(?:done|finished|night|day|evening|wrap|pack|packing|quits|shop|over)\b)"
        r"(?:(?:right|okay|well|that|is|us|we|are|all|and|here|so|it|cook|now|finished|done|thank|"
        r"thanks|you|everyone|i|am|let|good|evening|night) )*(?:shut(?:ting)? (?:it|this|"
        r"everything|her) down|(?:wrap|pack|close|finish|call)(?:ping|ing|ed|d)? (?:it|this|"
        r"everything|things|us) (?:up|in|down|off|a night|a day|quits)|close(?:ing)? up(?: shop)?|"
        r"shut up shop|packing up|that is a wrap|good ?(?:night|evening)|done for (?:tonight|"
        r"today|the day|the night)|finished for (?:tonight|today|the day|the night))(?: (?:now|"
        r"then|thank|you|thanks|everyone|all|please|here|for|the|night|day|tonight|folks|and))*$",
        _end,
    ),
    (
        r"(?:that is (?:all|it|us|supper|dinner) )?(?:.{0,12} )?(?:we|i|that) (?:are|"
        r"am|is us|is me) (?:all )?(?:done|finished|through)(?: (?:for(?: .*)?|here|now|cooking|thank you|"
        r"thanks))*(?: (?:so |and )?you can (?:shut up shop|shut down|switch off|stop|turn off|go|"
        r"pack up|close(?: up| down)?|knock off)\b.*)?$",
        _end,
    ),
    (
        r"(?:fire|charcoal|coals)(?: is| are| has| have)*(?: been)? (?:lit|going|started|burning now)$|"
        r"(?:just )?(?:(?:i|we) )?(?:just )?(?:have )?lit the (?:fire|coals|charcoal|chimney)$",
        fixed(cmd.FireLit()),
    ),
    (
        r"(?:louder|speak up|turn (?:it|yourself|the volume) up|i (?:can not|"
        r"can barely) hear you).*",
        fixed(cmd.Louder()),
    ),
    (
        r"(?:quieter|softer|turn (?:it|yourself|the volume) down|not so loud|keep it down|"
        r"lower your voice).*",
        fixed(cmd.Quieter()),
    ),
    (
        r"(?:please |just )?(?:stop listening|do not listen|leave (?:me|us) (?:alone|in peace|be)|"
        r"(?:be|keep|stay|go) quiet for (?:now|a .*|.* minutes)|(?:shut up|hush|pipe down) for "
        r"(?:now|a .*|.* minutes)|take a (?:break|nap)|go to sleep|sleep|stand by|stand down)$",
        fixed(cmd.Sleep()),
    ),
    (
        r"(?:please )?(?:(?:start|begin) listening|listen up|listen(?: to me)?|wake(?: up)?|come back|"
        r"i am back|we are back|are you(?: there| listening| awake| asleep)?)$",
        fixed(cmd.Wake()),
    ),
    (r"(?:hush|quiet|be quiet|shush|stop talking|shut up|enough|zip it)$", fixed(cmd.Hush())),
)


@lru_cache(maxsize=1)
def _rules() -> tuple[tuple[tuple[re.Pattern[str], Build], ...], ...]:
    groups = (ANSWERS + REPAIRS, _TIMES, REPLIES + PASSING + TROUBLES + _ENDS)
    return tuple(
        tuple((re.compile(pattern), build) for pattern, build in group) for group in groups
    )


def whole(text: str, got: Got) -> Facts:
    """The facts of words that are one whole saying; None where they are none."""
    facts = _whole(text, got)
    plainly = unapologetic(text)
    if facts is None and plainly != text:
        facts = _whole(plainly, got)
    return _said_twice(text, got) if facts is None else facts


_REPLIES = (
    cmd.Yes, cmd.No, cmd.Acknowledge, cmd.Snooze, cmd.Repeat, cmd.Undo, cmd.EndCook, cmd.AskHelp,
)  # fmt: skip
MOST_REPLY = 12  # words


def _reply(text: str, got: Got) -> Facts:
    for one in dict.fromkeys((text, core(text))):
        facts = _whole(one, Got(lexed(tuple(one.split()), got.context), got.context, ()))
        if facts:
            return facts
    return None


def _said_twice(text: str, got: Got) -> Facts:
    """One reply in two ways of saying it: "not now, ask me later", "yes, got it, on it"."""
    words = tuple(text.split())
    if not 2 <= len(words) <= MOST_REPLY:
        return None
    for at in range(1, len(words)):
        facts = [_reply(" ".join(half), got) for half in (words[:at], words[at:])]
        if all(one and isinstance(one[0], _REPLIES) for one in facts):
            found = {fact for one in facts for fact in one or ()}
            if cmd.Acknowledge() in found:
                found -= {cmd.Yes()}
            if cmd.No() in found and len(found) > 1:
                found -= {cmd.No(), cmd.Acknowledge()} if cmd.Snooze() in found else {cmd.No()}
            if len(found) == 1:
                return tuple(found)
    return None


def _whole(text: str, got: Got) -> Facts:
    repairs, times, others = _rules()
    for found in (
        _first(repairs, text, got),
        question(text, got),
        _first(times, text, got),
        _first(others, text, got),
    ):
        if found is not None:
            return found
    return None


def _first(rules: tuple[tuple[re.Pattern[str], Build], ...], text: str, got: Got) -> Facts:
    for pattern, build in rules:
        found = pattern.fullmatch(text)
        if found is not None:
            facts = build(got, found)
            if facts is not None:
                return facts
    return None


def leaves_more(facts: tuple[Fact, ...], got: Got) -> bool:
    """Whether words that a rule passed over tell something else as well."""
    kinds = {item.kind for item in got.items}
    if (
        all(isinstance(fact, cmd.Rest) for fact in facts)
        and len(got.refs()) == 1
        and not got.has("and")
    ):
        kinds.discard("OFF")  # off to rest is one thing; "off and resting" are two
    if all(isinstance(fact, cmd.TimerSet) for fact in facts):
        return "DURATION" in kinds and bool(kinds & {"N", "WEIGHT", "SAUCED"})
    return all(isinstance(fact, _ALONE) for fact in facts) and bool(kinds & _FOREIGN)
