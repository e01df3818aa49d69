"""Which bird is meant: by number, place, sauce, size, or as the one just spoken of."""

import re
from dataclasses import dataclass
from functools import lru_cache

from assistant.grammar.free.context import Context
from assistant.grammar.free.figures import figure_at

_DIGITS = {
    w: n
    for n, w in enumerate(
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"], 1
    )
}
_ORDINALS = {
    w: n
    for n, w in enumerate("first second third fourth fifth sixth seventh eighth".split(), 1)  # noqa: SIM905
}
_NOUN = (
    r"(?:one|birdie|bird|chickie|chicken|chook|chick|hen|rooster|roaster|broiler|fryer|capon|fella|"
    r"fellow|feller|lad|chap|guy|boy|girl|lady|gal|beast|critter|yin|duck|turkey)"
)
_NUM = "|".join(_DIGITS)
_ORD = "|".join(_ORDINALS)
_FIRST_PART = r"(?:the |that |this |my |our |on the |in the |for the )?"
_ON_ROD = r"(?: (?:on|of) the (?:rod|skewer|line|row|pole))?"
_BY = (
    r"(?:right |up |over )*(?:by|next to|next|nearest|closest|closest to|beside|nearest to|"
    r"near|close to|"
    r"alongside|against|at)"
)
_ENGINE = r"(?:motor|engine|drive|gearbox)"
_AWAY = r"(?:(?:clear|way|all the way|right|over|down|out|away|up|back|at|on|by|to) )*"
_MOTOR = (
    rf"{_FIRST_PART}(?:{_NOUN} )?(?:that is )?{_BY} (?:the )?{_ENGINE}(?: is)?(?: end|"
    rf" side)?(?: {_NOUN})?"
    rf"|{_FIRST_PART}(?:{_NOUN} )?(?:at the |on the |from the )?(?:{_ENGINE}|near)(?: end|"
    rf" side)(?: {_NOUN})?"
    rf"|{_FIRST_PART}{_ENGINE} {_NOUN}"
)
_FAR = (
    rf"{_FIRST_PART}(?:{_NOUN} )?(?:that is )?(?:{_AWAY}(?:the )?(?:far|other|opposite|"
    r"tail) (?:end|side)"
    rf"|(?:the )?(?:furthest|farthest)(?: out| away| end)?|far away|farther)(?: {_NOUN})?"
    rf"(?: (?:away )?from the {_ENGINE})?|{_FIRST_PART}far {_NOUN}|{_FIRST_PART}(?:last|"
    rf"end) {_NOUN}"
    rf"(?: down)?(?: there)?(?: (?:on|at) the end)?{_ON_ROD}"
    rf"|{_FIRST_PART}{_NOUN} (?:that is )?{_AWAY}(?:on|at) the (?:very )?end"
    rf"|{_FIRST_PART}{_NOUN} (?:furthest|farthest)(?: away)?(?: from the {_ENGINE})?"
    rf"|{_FIRST_PART}(?:{_NOUN} )?opposite the {_ENGINE}"
)
_SIZE_BIG = (
    rf"{_FIRST_PART}(?:big|bigger|biggest|large|larger|largest|fat|fatter|fattest|heavy|"
    rf"heavier|heaviest) (?:old )?{_NOUN}"
)
_SIZE_SMALL = (
    rf"{_FIRST_PART}(?:wee|little|littler|small|smaller|smallest|tiny|littlest|lighter|"
    r"lightest|light|skinny|"
    rf"skinnier) (?:old )?{_NOUN}"
)
_READS = r"(?:is|has|at|reads|says|shows|showing|reading|now|breast|thigh|wing|just)"
_HIGH = r"(?:one \w+|a hundred|ninety|eighty|hundred)"
_NO_SAUCE = (
    r"(?:(?:with |has |gets |have |wants )?(?:no|without|without any|not any) (?:sauce|glaze)|"
    r"naked|unsauced|unglazed|sauceless)"
)
_TAIL = r"(?= |$)"


@dataclass(frozen=True, slots=True)
class Ref:
    """Birds meant. `numbers` empty: not clear. `kind`: "named"; "sauce" (by the bare
    name of a sauce); "all"; "last" (this one, she); "other", "others" (than those named
    before); "open" (not clear, and no pronoun)."""

    numbers: tuple[int, ...]
    kind: str
    sauce: str | None = None


def ref_at(words: tuple[str, ...], at: int, context: Context) -> tuple[int, Ref] | None:
    """The longest reference beginning at this word, and where it ends."""
    bare = _bare_number(words, at, context) or _done_to(words, at)
    if bare is not None:
        return bare
    if at and words[at - 1] == "for" and words[at] in _DIGITS and _one_each(words, at):
        return at + 1, Ref((_DIGITS[words[at]],), "named")
    if at and words[at] == "one" and words[at - 1] in {"which", "what", "any", "every", "each"}:
        return None  # "which one is next" names none
    here = words[at : at + 14]
    best = _longest(here, at, context)
    if best is not None and words[best[0] - 1] == "one" and best[0] - at > 1:
        figure = figure_at(words, best[0] - 1)  # "the harissa one thirty" is at 130
        if (
            figure is not None
            and 100 < figure.value <= MOST_ALONE_F
            and (figure.scale or context.scale) == "F"
            and words[best[0]] != "one"
        ):
            best = _longest(here, at, context, shorter=best[0] - at)
    return best


def _one_each(words: tuple[str, ...], at: int) -> bool:
    """ "One fifty one for one and one forty eight for two": a bird each, and no count."""
    text = " ".join((*words, ""))
    is_last = at + 1 == len(words) or words[at + 1] in {"and", "but"}
    return is_last and " for one and " in text and " for two " in text


def _bare_number(words: tuple[str, ...], at: int, context: Context) -> tuple[int, Ref] | None:
    """ "Two one thirty five": bird two, where the words begin with it."""
    if at or words[0] not in _DIGITS or len(words) < 3 or _DIGITS[words[0]] > context.birds:
        return None
    number, rest = figure_at(words, 0), figure_at(words, 1)
    if number is None or number.end != 1 or rest is None or not 90 <= rest.value <= 212:
        return None
    return 1, Ref((_DIGITS[words[0]],), "named")


MOST_ALONE_F = 190  # above it "the fourth one ninety four" is at ninety four
_SAUCED = frozenset(
    "sauced basted glazed brushed mopped painted coated slathered done did lifted pulled".split()  # noqa: SIM905
)
_ROW = re.compile(
    rf"(?:{_NUM}) (?:(?:{_NUM}) )?and (?:{_NUM})(?= |$)(?! (?:hundred|minutes?|point))"
)


def _done_to(words: tuple[str, ...], at: int) -> tuple[int, Ref] | None:
    """ "Sauced one and two": birds, after what is done to a bird."""
    after_sauce = words[at - 1 : at] == ("on",) and bool({*words[:at]} & {"sauce", "glaze"})
    if not at or (words[at - 1] not in _SAUCED and not after_sauce):
        return None
    found = _ROW.match(" ".join(words[at : at + 6]))
    if found is None:
        return None
    row = found.group().split()
    return at + len(row), Ref(tuple(_DIGITS[one] for one in row if one != "and"), "named")


def _longest(
    words: tuple[str, ...], at: int, context: Context, *, shorter: int = 99
) -> tuple[int, Ref] | None:
    text = " ".join(words)
    best: tuple[int, Ref] | None = None
    for name, pattern in _patterns(context.names or tuple(sorted(set(context.sauces.values())))):
        found = pattern.match(text)
        if found is not None and len(found.group().split()) >= shorter:
            found = pattern.fullmatch(" ".join(words[: shorter - 1])) or _with_tail(
                pattern, words, shorter - 1
            )
        if found is None:
            continue
        size = len(found.group().split())
        if best is None or size > best[0] - at:
            ref = _meant(name, found, context)
            if ref is not None:
                best = (at + size, ref)
    return best


def _with_tail(pattern: re.Pattern[str], words: tuple[str, ...], size: int) -> re.Match[str] | None:
    """A match of exactly so many words that looks at what follows them."""
    end = len(" ".join(words[:size]))
    found = pattern.match(" ".join((*words[:size], "one thirty")))
    return found if found is not None and found.end() == end else None


@lru_cache(maxsize=32)
def _patterns(sauces: tuple[str, ...]) -> tuple[tuple[str, re.Pattern[str]], ...]:
    named = "|".join(re.escape(one) for one in sorted({*sauces, "plain"}, key=len, reverse=True))
    table = {
        "number": rf"{_FIRST_PART}(?:birdie|bird|number|chicken|chook|hen|duck|turkey|roaster|bird number|"
        rf"chicken number|hen number|position|slot) (?P<n>{_NUM})",
        "two": rf"(?:birds? |numbers? )?(?P<n1>{_NUM}) and (?:bird |number )?(?P<n2>{_NUM})(?= (?:is|are|"
        r"both|off|on|sauced|glazed|basted|brushed)(?: |$))"
        rf"|(?:birds|chickens|numbers|bird) (?P<n3>{_NUM}) and (?:bird |"
        rf"number )?(?P<n4>{_NUM})(?! (?:hundred|point))",
        "range": rf"(?:birds|chickens|numbers) (?P<n1>{_NUM}) (?:to|through|till|up to) (?P<n2>{_NUM})",
        "three": rf"(?:birds|chickens|numbers) (?P<l>(?:{_NUM}) (?:(?:{_NUM}) )+and (?:{_NUM}))",
        "ordinals": rf"(?:the )?(?P<a>{_ORD})(?: {_NOUN})? and (?:the )?(?P<b>{_ORD})(?: {_NOUN}s?| ones)?",
        "is": rf"(?P<n>{_NUM})(?= (?:is|are) )",
        "ordinal": rf"{_FIRST_PART}(?P<o>{_ORD}) {_NOUN}(?: down| along)?(?: (?:on|of) the (?:rod|skewer|line|"
        r"row))?"
        rf"(?: from the {_ENGINE})?|{_FIRST_PART}(?P<o2>{_ORD})(?= {_READS}(?: |$))|"
        rf"{_FIRST_PART}(?P<o3>{_ORD}) from the {_ENGINE}"
        rf"|{_FIRST_PART}(?P<o4>{_ORD})(?= {_HIGH}(?: |$))|(?:on|in|"
        rf"for) the (?P<o5>{_ORD})(?= and |$)",
        "fromfar": rf"{_FIRST_PART}(?:next to|second to|second from) (?:the )?(?:last|end|"
        rf"far end)(?: {_NOUN})?",
        "motor": _MOTOR,
        "far": _FAR,
        "middle": rf"{_FIRST_PART}(?:{_NOUN} )?(?:(?:in|of) (?:the )?)?middle(?: {_NOUN})?"
        rf"|{_FIRST_PART}(?:{_NOUN} )?in the (?:center|centre)|{_FIRST_PART}(?:center|centre|"
        rf"mid) {_NOUN}",
        "hand": rf"{_FIRST_PART}(?:{_NOUN} )?(?:on the )?(?P<h>left|right)(?: hand)?(?: {_NOUN}(?! (?:{_NUM})(?: |$))|"
        rf" side {_NOUN})"
        rf"|{_FIRST_PART}{_NOUN} on the (?P<h2>left|right)(?: hand side| side| end)?",
        "sauce": rf"{_FIRST_PART}(?P<s>{named})(?P<noun> (?:sauced |glazed |coated )?{_NOUN})?"
        rf"|{_FIRST_PART}{_NOUN} (?:with|in|wearing|under|that gets|that has|having|"
        rf"marked) (?:the )?(?P<s2>{named})(?: on it| on)?",
        "nosauce": rf"{_NO_SAUCE}(?P<noun> {_NOUN})?|{_FIRST_PART}(?:naked|bare|unsauced|unglazed|"
        rf"sauceless)(?P<noun2> {_NOUN})",
        "big": _SIZE_BIG,
        "small": _SIZE_SMALL,
        "last": rf"(?:this|that|this here|that there) (?:{_NOUN})(?: here| there)?|she|he|her|him|"
        rf"same (?:{_NOUN})"
        rf"|(?:the )?same bird|the bird|it",
        "other": rf"(?:the |my )?other(?: {_NOUN})?(?= (?:is|has|at|reads|says|shows|gets|one|a hundred|"
        rf"ninety|weighs|just)(?: |$))|(?:the )?other {_NOUN}",
        "others": r"(?:the |my |all the )?(?:others|rest(?: of (?:them|the birds))?(?= (?:is|are|have|at|"
        r"all|got|get)(?: |$))|other (?:two|three|ones|birds)|remaining (?:two|ones|birds))",
        "all": r"(?:they are |them |they |we are |the )?(?:both|all(?: (?:two|three|four|five|six|seven|"
        r"eight)(?! (?:pounds?|kilos?|lbs?|hundred|point|and a|minutes?|degrees)\b))?)"
        r"(?: of)?(?: (?:the|them|these|my|our))?(?: (?:two|three|four)(?= (?:birds|chickens|"
        r"hens)))?(?: birds| chickens| hens)?|(?:the |my |our |these |those )?birds|(?:the |my |"
        r"our )?(?:chickens|hens|chooks|birdies|chickies|ducks|turkeys|fowls?|roasters|poultry|beauties)|"
        r"them all|they all|them|they|these|everybody|everything|(?:the )?(?:whole )?lot|"
        r"every (?:bird|one)|(?:the )?pair|each (?:bird|of them)|the two of them",
        "count": rf"{_FIRST_PART}(?P<c>two|three|four|five|six) (?:birds|chickens|hens|chooks)",
        "ends": r"(?:the )?(?:two (?:on|at) the )?ends|(?:the )?(?:two )?(?:end|outside|outer) (?:ones|"
        r"birds|two)",
        "some": r"(?:the )?first (?P<c>two|three|four)(?: birds| ones)?",
        "lasttwo": r"(?:the )?last two(?: birds| ones)?",
    }
    return tuple((name, re.compile(rf"(?:{one}){_TAIL}")) for name, one in table.items())


def _meant(name: str, found: re.Match[str], context: Context) -> Ref | None:
    birds = context.birds
    groups = {key: value for key, value in found.groupdict().items() if value}
    match name:
        case "number" | "is":
            return Ref((_DIGITS[groups["n"]],), "named")
        case "two":
            return Ref(tuple(_DIGITS[one] for one in groups.values()), "named")
        case "range":
            first, last = (_DIGITS[one] for one in groups.values())
            return Ref(tuple(range(first, last + 1)), "named") if first < last else None
        case "three":
            return Ref(tuple(_DIGITS[one] for one in groups["l"].split() if one != "and"), "named")
        case "ordinals":
            return Ref((_ORDINALS[groups["a"]], _ORDINALS[groups["b"]]), "named")
        case "ordinal":
            return Ref((_ORDINALS[next(iter(groups.values()))],), "named")
        case "fromfar":
            return Ref((birds - 1,), "named") if birds > 1 else None
        case "motor":
            return Ref((1,), "named")
        case "far":
            return Ref((birds,), "named")
        case "middle":
            return Ref(((birds + 1) // 2,) if birds % 2 else (), "named")
        case "hand":
            return _by_hand(next(iter(groups.values())), context)
        case "sauce":
            name_of = groups.get("s") or groups["s2"]
            return _by_sauce(name_of, "noun" in groups or "s2" in groups, context)
        case "nosauce":
            return _by_sauce("plain", "noun" in groups or "noun2" in groups, context)
        case "big" | "small":
            return _by_size(name, context)
        case "other" | "others":
            return Ref((), name)
        case "ends":
            return Ref((1, birds), "named") if birds > 1 else None
        case "count":
            return Ref(tuple(range(1, birds + 1)), "all") if _DIGITS[groups["c"]] == birds else None
        case "some":
            return Ref(tuple(range(1, _DIGITS[groups["c"]] + 1)), "named")
        case "lasttwo":
            return Ref((birds - 1, birds), "named") if birds > 1 else None
        case "all":
            return Ref(tuple(range(1, birds + 1)), "all")
    return Ref((), "last")


def _by_hand(side: str, context: Context) -> Ref:
    if context.motor_side is None:
        return Ref((), "open")
    return Ref((1 if side == context.motor_side else context.birds,), "named")


def _by_sauce(sauce: str, is_named: bool, context: Context) -> Ref:  # noqa: FBT001
    having = tuple(n for n, one in sorted(context.sauces.items()) if one == sauce)
    return Ref(having if len(having) == 1 else (), "named" if is_named else "sauce", sauce)


def _by_size(size: str, context: Context) -> Ref:
    known = context.weights_kg
    if len(known) < context.birds or len(set(known.values())) < 2:
        return Ref((), "open")
    pick = max if size == "big" else min
    return Ref((pick(known, key=lambda n: known[n]),), "named")
