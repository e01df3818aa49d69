"""Which bird is meant: by number, place, sauce, size, or as the one just spoken of."""

import re
from dataclasses import dataclass
from functools import lru_cache

from assistant.grammar.free.context import Context
from assistant.grammar.free.figures import figure_at

_DIGITS = {w: n for n, w in enumerate("one two three four five six seven eight".split(), 1)}  # noqa: SIM905
_ORDINALS = {
    w: n
    for n, w in enumerate("first second third fourth fifth sixth seventh eighth".split(), 1)  # noqa: SIM905
}
_NOUN = (
    r"(?:one|bird|chicken|hen|chook|roaster|fella|fellow|lad|guy|boy|girl|beast|yin|duck|turkey)"
)
_NUM = "|".join(_DIGITS)
_ORD = "|".join(_ORDINALS)
_FIRST_PART = r"(?:the |that |this |my |on the |in the )?"
_MOTOR = (
    rf"{_FIRST_PART}(?:{_NOUN} )?(?:at |on |to |that is )?(?:by|next to|next|nearest|closest to|beside|nearest to|"
    rf"near|close to|alongside|right by|up by|over by) (?:the )?motor(?: end| side)?(?: {_NOUN})?"
    rf"|{_FIRST_PART}(?:{_NOUN} )?(?:at the |on the |from the )?(?:motor|near)(?: end| side)(?: {_NOUN})?"
    rf"|{_FIRST_PART}motor {_NOUN}"
)
_FAR = (
    rf"{_FIRST_PART}(?:{_NOUN} )?(?:(?:down |over |out |away )*(?:at |on |by |to )?(?:the )?(?:far|other|opposite) (?:end|side)"
    rf"|furthest(?: out| away| end)?|farthest(?: out| away)?|far away|farther)(?: {_NOUN})?"
    rf"(?: from the motor)?|{_FIRST_PART}far {_NOUN}|{_FIRST_PART}(?:last|end) {_NOUN}"
    rf"(?: down)?(?: there)?(?: (?:on|at) the end)?|{_FIRST_PART}{_NOUN} (?:on|at) the end"
    rf"|{_FIRST_PART}{_NOUN} (?:furthest|farthest)(?: away)?(?: from the motor)?"
)
_SIZE_BIG = (
    rf"{_FIRST_PART}(?:big|bigger|biggest|large|larger|fat|fatter|heavy|heavier|heaviest) {_NOUN}"
)
_SIZE_SMALL = rf"{_FIRST_PART}(?:wee|little|small|smaller|smallest|tiny|littlest|lighter|light|skinny) {_NOUN}"
_TAIL = r"(?= |$)"


@dataclass(frozen=True, slots=True)
class Ref:
    """Birds meant. `numbers` empty: not clear. `kind`: "named"; "sauce" (by the bare
    name of a sauce); "all"; "last" (this one, she); "open" (not clear, and no pronoun)."""

    numbers: tuple[int, ...]
    kind: str
    sauce: str | None = None


def ref_at(words: tuple[str, ...], at: int, context: Context) -> tuple[int, Ref] | None:
    """The longest reference beginning at this word, and where it ends."""
    best = _longest(words[at : at + 14], at, context)
    if best is not None and words[best[0] - 1] == "one" and best[0] - at > 1:
        figure = figure_at(words, best[0] - 1)  # "the harissa one thirty" is at 130
        if figure is not None and figure.value > 100 and words[best[0]] != "one":
            best = _longest(words[at : best[0] - 1], at, context)
    return best


def _longest(words: tuple[str, ...], at: int, context: Context) -> tuple[int, Ref] | None:
    text = " ".join(words)
    best: tuple[int, Ref] | None = None
    for name, pattern in _patterns(context.names or tuple(sorted(set(context.sauces.values())))):
        found = pattern.match(text)
        if found is None:
            continue
        size = len(found.group().split())
        if best is None or size > best[0] - at:
            ref = _meant(name, found, context)
            if ref is not None:
                best = (at + size, ref)
    return best


@lru_cache(maxsize=32)
def _patterns(sauces: tuple[str, ...]) -> tuple[tuple[str, re.Pattern[str]], ...]:
    named = "|".join(re.escape(one) for one in sorted({*sauces, "plain"}, key=len, reverse=True))
    table = {
        "number": rf"{_FIRST_PART}(?:bird|number|chicken|hen|bird number) (?P<n>{_NUM})",
        "two": rf"(?:birds? |numbers? )?(?P<n1>{_NUM}) and (?:bird |number )?(?P<n2>{_NUM})(?= (?:is|are|both|off|on)(?: |$))",
        "is": rf"(?P<n>{_NUM})(?= (?:is|are) )",
        "ordinal": rf"{_FIRST_PART}(?P<o>{_ORD}) {_NOUN}(?: down| along)?(?: from the motor)?"
        rf"|{_FIRST_PART}(?P<o2>{_ORD})(?= is )|{_FIRST_PART}(?P<o3>{_ORD}) from the motor",
        "fromfar": rf"{_FIRST_PART}(?:next to|second to|second from) (?:the )?(?:last|end|far end)(?: {_NOUN})?",
        "motor": _MOTOR,
        "far": _FAR,
        "middle": rf"{_FIRST_PART}(?:{_NOUN} )?(?:in the )?middle(?: {_NOUN})?"
        rf"|{_FIRST_PART}(?:center|centre) {_NOUN}",
        "hand": rf"{_FIRST_PART}(?:{_NOUN} )?(?:on the )?(?P<h>left|right)(?: hand)?(?: {_NOUN}| side {_NOUN})"
        rf"|{_FIRST_PART}{_NOUN} on the (?P<h2>left|right)",
        "sauce": rf"{_FIRST_PART}(?P<s>{named})(?P<noun> {_NOUN})?",
        "big": _SIZE_BIG,
        "small": _SIZE_SMALL,
        "last": rf"(?:this|that|this here|that there) (?:{_NOUN})|she|he|her|him|same (?:{_NOUN})"
        rf"|(?:the )?same bird|the bird|it",
        "other": rf"(?:the )?other {_NOUN}",
        "all": r"(?:they are |them |they |we are |the )?(?:both|all(?: (?:two|three|four|five|six|seven|eight))?)"
        r"(?: of)?(?: (?:the|them|these|my))?(?: (?:two|three|four))?(?: birds| chickens)?|(?:the |my |these )?birds|(?:the |my )?chickens|"
        r"them all|they all|them|they|these|everybody|everything|(?:the )?(?:whole )?lot|every bird|(?:the )?pair|each bird",
        "ends": r"(?:the )?(?:two (?:on|at) the )?ends|(?:the )?(?:two )?(?:end|outside|outer) (?:ones|birds|two)",
        "some": rf"(?:the )?first (?P<c>{_NUM})(?: birds| ones)?",
    }
    return tuple((name, re.compile(rf"(?:{one}){_TAIL}")) for name, one in table.items())


def _meant(name: str, found: re.Match[str], context: Context) -> Ref | None:
    birds = context.birds
    groups = {key: value for key, value in found.groupdict().items() if value}
    match name:
        case "number" | "is":
            return Ref((_DIGITS[groups["n"]],), "named")
        case "two":
            return Ref((_DIGITS[groups["n1"]], _DIGITS[groups["n2"]]), "named")
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
            return _by_sauce(groups["s"], "noun" in groups, context)
        case "big" | "small":
            return _by_size(name, context)
        case "other":
            others = [n for n in range(1, birds + 1) if n != context.spoken]
            return Ref((others[0],) if len(others) == 1 else (), "open")
        case "ends":
            return Ref((1, birds), "named") if birds > 1 else None
        case "some":
            return Ref(tuple(range(1, _DIGITS[groups["c"]] + 1)), "named")
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
