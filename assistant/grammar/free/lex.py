"""Free words to a row of marked items: birds, numbers, times, weights and key words."""

import re
from dataclasses import dataclass, replace

from assistant.grammar.free.context import Context
from assistant.grammar.free.figures import Figure, figure_at
from assistant.grammar.free.lexicon import LONGEST, PHRASES, SPOTS, THINGS
from assistant.grammar.free.refer import Ref, ref_at

_CLASS_OF = {"last": "IT", "all": "ALL", "sauce": "SAUCY"}
_POUNDS = {"pound", "pounds", "pounder", "lb", "lbs"}
_OUNCES = {"ounce", "ounces"}
_KILOS = {"kilo", "kilos", "kilograms", "kilogram", "kg"}
_MINUTES = {"minute", "minutes", "min", "mins"}
_HOURS = {"hour", "hours"}
_SPANS = {
    "half an hour": 30.0, "a half an hour": 30.0, "a half hour": 30.0, "half hour": 30.0,
    "quarter of an hour": 15.0, "a quarter of an hour": 15.0, "quarter hour": 15.0,
    "three quarters of an hour": 45.0, "an hour and a half": 90.0, "hour and a half": 90.0,
    "an hour and a quarter": 75.0, "an hour": 60.0, "one hour": 60.0, "a minute": 1.0,
    "a couple of minutes": 2.0, "a couple of hours": 120.0, "a couple hours": 120.0,
}  # fmt: skip
_SHARES = {
    "wide": 1.0, "wide open": 1.0, "fully open": 1.0, "full open": 1.0, "all the way open": 1.0,
    "all the way": 1.0, "full": 1.0, "fully": 1.0, "half": 0.5, "half way": 0.5, "halfway": 0.5,
    "half open": 0.5, "a quarter": 0.25, "quarter": 0.25, "one quarter": 0.25, "a third": 1 / 3,
    "one third": 1 / 3, "third": 1 / 3, "two thirds": 2 / 3, "three quarters": 0.75,
    "three quarter": 0.75,
}  # fmt: skip
_PARTS = {"half": 0.5, "a half": 0.5, "half a": 0.5, "quarter": 0.25}


_TWELVES = {"noon": 720, "midnight": 0}


@dataclass(frozen=True, slots=True)
class Item:
    """One stretch of words and what it stands for; `kind` "" for a plain word."""

    kind: str
    text: str
    value: object = None
    start: int = 0
    end: int = 0


def lexed(words: tuple[str, ...], context: Context) -> tuple[Item, ...]:
    """The items of the words, the longest first where several could begin."""
    items: list[Item] = []
    at = 0
    while at < len(words):
        item = _item(words, at, context)
        items.append(item)
        at = item.end
    return _moves(_joined(items))


def _item(words: tuple[str, ...], at: int, context: Context) -> Item:
    found: list[tuple[int, int, str, object]] = []  # end, rank, kind, value
    ref = ref_at(words, at, context)
    if ref is not None:
        found.append((ref[0], 4, _CLASS_OF.get(ref[1].kind, "R"), ref[1]))
    figure = figure_at(words, at)
    if figure is not None and figure.end < len(words) and words[figure.end] in THINGS:
        found.append((figure.end + 1, 3, "THINGS", None))
    if figure is not None and not (figure.value == 1 and figure.end == at + 1):
        found.append((figure.end, 2, "N", figure))
    if figure is not None or words[at] in {"a", "an", "half", "quarter", "three", "hour"}:
        found += _measures(words, at, figure)
    if words[at] in _TWELVES:
        found.append((at + 1, 3, "CLOCK", _TWELVES[words[at]]))
    found += _phrases(words, at)
    if not found:
        return Item("", words[at], None, at, at + 1)
    end, _, kind, value = max(found, key=lambda one: (one[0], one[1]))
    return Item(kind, "_".join(words[at:end]), value, at, end)


def _phrases(words: tuple[str, ...], at: int) -> list[tuple[int, int, str, object]]:
    found: list[tuple[int, int, str, object]] = []
    for size in range(min(LONGEST, len(words) - at), 0, -1):
        some = words[at : at + size]
        text = " ".join(some)
        if text in SPOTS:
            found.append((at + size, 3, "P", SPOTS[text]))
        if text in _SHARES:
            found.append((at + size, 1, "SHARE", _SHARES[text]))
        if some in PHRASES:
            found.append((at + size, 2, PHRASES[some], text))
    return found


def _measures(
    words: tuple[str, ...], at: int, figure: Figure | None
) -> list[tuple[int, int, str, object]]:
    """Spans of time, weights and times of day that begin here."""
    found: list[tuple[int, int, str, object]] = []
    for size in range(5, 1, -1):
        text = " ".join(words[at : at + size])
        if text in _SPANS:
            found.append((at + size, 3, "DURATION", _SPANS[text]))
    clock = re.match(
        r"(?:a )?(half|quarter|twenty five|twenty|ten|five) (past |to |till |of |after )?"
        r"(one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)(?= |$)",
        " ".join(words[at : at + 6]),
    )
    if clock and (clock[2] or clock[1] == "half"):
        hour = figure_at((clock[3],), 0)
        shift = {"half": 30, "quarter": 15, "twenty five": 25, "twenty": 20, "ten": 10, "five": 5}
        sign = -1 if (clock[2] or "").strip() in {"to", "till", "of"} else 1
        assert hour is not None
        found.append(
            (
                at + len(clock.group().split()),
                3,
                "CLOCK",
                60 * int(hour.value) + sign * shift[clock[1]],
            )
        )
    if figure is not None:
        after = words[figure.end] if figure.end < len(words) else ""
        if after in _MINUTES:
            found.append((figure.end + 1, 3, "DURATION", figure.value))
        if after in _HOURS:
            more = words[figure.end + 1 : figure.end + 4] == ("and", "a", "half")
            found.append(
                (figure.end + (4 if more else 1), 3, "DURATION", 60 * figure.value + 30 * more)
            )
        if after in _KILOS:
            found.append(_kilos(words, figure))
        if after in _POUNDS:
            found.append(_pounds(words, figure))
        if after == "o'clock":
            found.append((figure.end + 1, 3, "CLOCK", 60 * int(figure.value)))
        if after == "percent":
            found.append((figure.end + 1, 3, "SHARE", figure.value / 100.0))
    return found


def _kilos(words: tuple[str, ...], figure: Figure) -> tuple[int, int, str, object]:
    """ "Two kilos", "two kilos and a half", "two kilos three" for two point three."""
    at = figure.end + 1
    if words[at : at + 3] == ("and", "a", "half"):
        return at + 3, 3, "WEIGHT", ("kg", figure.value + 0.5, None)
    more = figure_at(words, at) if at < len(words) else None
    if more is not None and more.end == len(words):
        part = more.value / (10 if more.value < 10 else 1000)
        if part < 1:
            return more.end, 3, "WEIGHT", ("kg", round(figure.value + part, 3), None)
    return at, 3, "WEIGHT", ("kg", figure.value, None)


def _pounds(words: tuple[str, ...], figure: Figure) -> tuple[int, int, str, object]:
    at = figure.end + 1
    start = at + (words[at : at + 1] == ("and",))
    if words[start : start + 2] == ("a", "half"):
        return start + 2, 3, "WEIGHT", ("lb", figure.value + 0.5, None)
    ounces = figure_at(words, start) if start < len(words) else None
    if ounces is not None and ounces.value < 16:
        end = ounces.end
        named = words[end : end + 1] and words[end] in _OUNCES
        if named or end == len(words) or words[end] in {"and", "bird", "lid"}:
            return end + bool(named), 3, "WEIGHT", ("lb", figure.value, ounces.value)
    return at, 3, "WEIGHT", ("lb", figure.value, None)


_NO_SAUCE = {"no", "without", "with", "naked", "unsauced", "unglazed"}
_BETWEEN = {"at", "down", "on", "in", "by", "over", "up", "out", "there", "that", "is", "the"}


def _joined(items: list[Item]) -> tuple[Item, ...]:
    """Birds named twice ("the little one down at the far end"), and two joined by "and"."""
    done: list[Item] = []
    for item in items:
        gap = len(done) - 1
        while gap >= 0 and done[gap].kind == "":
            gap -= 1
        before = done[gap] if gap >= 0 else None
        between = [one.text for one in done[gap + 1 :]]
        if (
            before is not None and item.kind in {"R", "SAUCY"} and before.kind in {"R", "SAUCY"}
            and not {*item.text.split("_"), *before.text.split("_")} & _NO_SAUCE
            and isinstance(before.value, Ref) and isinstance(item.value, Ref)
        ):  # fmt: skip
            both = _one_bird(before.value, item.value, between)
            if both is not None:
                del done[gap:]
                done.append(Item("R", f"{before.text}_{item.text}", both, before.start, item.end))
                continue
        done.append(item)
    return tuple(done)


def _one_bird(one: Ref, two: Ref, between: list[str]) -> Ref | None:
    if between == ["and"] and one.numbers and two.numbers and one.kind == two.kind == "named":
        return Ref(tuple(dict.fromkeys((*one.numbers, *two.numbers))), "named")
    if two.kind == "open" and one.numbers and set(between) <= {"is", "a", "my", "the", "our"}:
        return Ref(one.numbers, "named", one.sauce)  # "bird three is a big girl"
    if set(between) <= _BETWEEN - {"is"}:
        if not one.numbers and two.numbers and one.sauce is None:
            return Ref(two.numbers, "named", two.sauce)
        if one.numbers == two.numbers and one.numbers:
            return Ref(one.numbers, "named", one.sauce or two.sauce)
        if one.numbers and not two.numbers and two.sauce is None and between:
            return Ref(one.numbers, "named", one.sauce)
    return None


_MOVED = frozenset(
    "up down risen gained dropped fallen climbed by another lost rose".split()  # noqa: SIM905
)
_APART = frozenset(
    "behind ahead under over higher lower hotter cooler short apart off more less".split()  # noqa: SIM905
)
MOST_MOVED = 40  # degrees; above it "up one eighteen" tells where it stands


def _moves(items: tuple[Item, ...]) -> tuple[Item, ...]:
    """ "Come up ten degrees": a change, and no reading."""
    done = list(items)
    kinds = {item.kind for item in items}
    for at, item in enumerate(items[1:], 1):
        if items[at - 1].text in {"a", "an"} and item.value == Ref((), "open"):
            done[at] = replace(item, kind="", value=None)  # "six pounds, a big lad"
        if item.text in {"behind", "late", "later"} and not kinds & {"DURATION", "SERVE"}:
            done[at] = replace(item, kind="")  # one bird behind another
        then = items[at + 1].text if at + 1 < len(items) else ""
        if (
            isinstance(item.value, Figure) and item.value.value <= MOST_MOVED
            and item.text.endswith(("degrees", "degree"))
            and (items[at - 1].text in _MOVED or then in _APART)
        ):  # fmt: skip
            done[at] = Item("BIT", item.text, None, item.start, item.end)
    return tuple(done)


def marked(items: tuple[Item, ...]) -> str:
    """The items as one line for templates: "text:KIND " each."""
    return "".join(f"{item.text}:{item.kind} " for item in items)
