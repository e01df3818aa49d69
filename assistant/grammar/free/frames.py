"""Facts as frames: a template over marked words, and the facts it stands for.

In a template capitals name a class of `lexicon` or `lex`, small words stand for
themselves, `_` for a few plain words, and `B` for any bird. Everything else is as in
regular expressions.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.context import Context
from assistant.grammar.free.figures import Figure
from assistant.grammar.free.lex import Item
from assistant.grammar.free.open_facts import (
    Fact,
    OpenFuel,
    OpenReading,
    VentsChanged,
)
from assistant.grammar.free.refer import Ref
from assistant.grammar.meaning import fahrenheit

MEAT_F = (28.0, 212.0)


class Unclear(Exception):  # noqa: N818
    """A frame fits, but something has to be asked; carries the question and options."""

    def __init__(self, question: str, options: tuple[cmd.Command, ...] = ()) -> None:
        super().__init__(question)
        self.question = question
        self.options = options


@dataclass(frozen=True)
class Got:
    """The items a frame covers, by kind, and what was meant so far."""

    items: tuple[Item, ...]
    context: Context
    earlier: tuple[int, ...]  # birds of the last reference before this frame

    def all(self, kind: str) -> list[Item]:
        """The items of one kind, in order."""
        return [item for item in self.items if item.kind == kind]

    def has(self, *words: str) -> bool:
        """Whether one of the words stands there."""
        return any(item.text in words for item in self.items)

    def figures(self) -> list[Figure]:
        """The numbers, in order."""
        return [item.value for item in self.all("N") if isinstance(item.value, Figure)]

    def refs(self) -> list[Ref]:
        """The birds, in order."""
        return [item.value for item in self.items if isinstance(item.value, Ref)]

    def birds(self) -> tuple[int, ...]:
        """The birds meant; empty where not clear."""
        refs = self.refs()
        for ref in refs:
            if ref.numbers and ref.kind != "all":
                return ref.numbers
        for ref in refs:
            if ref.kind == "all" and ref.numbers:
                return ref.numbers
        if any(ref.kind == "last" for ref in refs):
            if self.earlier:
                return self.earlier
            return (self.context.spoken,) if self.context.spoken else self.only()
        return () if refs else self.only()

    def only(self) -> tuple[int, ...]:
        """The one bird there is, where there is only one."""
        return (1,) if self.context.birds == 1 else ()

    def is_all(self) -> bool:
        """Whether every bird is meant."""
        refs = self.refs()
        return bool(refs) and all(ref.kind == "all" for ref in refs)

    def spot(self) -> cmd.Spot | None:
        """Where it was read."""
        spots = self.all("P")
        return spots[-1].value if spots else None  # type: ignore[return-value]


Build = Callable[[Got], tuple[Fact, ...] | None]


def said(figure: Figure, context: Context) -> cmd.Said:
    """The number with the scale it was meant in."""
    return cmd.Said(figure.value, figure.scale or context.scale)


def _readings(got: Got, figure: Figure, birds: tuple[int, ...]) -> tuple[Fact, ...] | None:
    spoken = said(figure, got.context)
    f = fahrenheit(spoken.number, spoken.scale)
    if not MEAT_F[0] <= f <= MEAT_F[1]:
        return None
    if not birds:
        return (OpenReading(f, spoken, got.spot()),)
    return tuple(cmd.BirdReading(bird, f, spoken, got.spot()) for bird in birds)


def reading(got: Got) -> tuple[Fact, ...] | None:
    """One number, of one bird or several."""
    figures = got.figures()
    return _readings(got, figures[-1], got.birds()) if figures else None


def spot_reading(got: Got) -> tuple[Fact, ...] | None:
    """A spot and a number: of the bird just spoken of, if that was read elsewhere."""
    birds = got.earlier or got.only()
    if not birds and got.context.spoken and got.context.spot not in {None, got.spot()}:
        birds = (got.context.spoken,)
    return _readings(got, got.figures()[-1], birds)


def in_order(got: Got) -> tuple[Fact, ...] | None:
    """A number for each bird, from the motor's end or to it."""
    figures = got.figures()
    if len(figures) != got.context.birds:
        return None
    numbers = list(range(1, len(figures) + 1))
    refs = got.refs()
    if refs and refs[0].numbers == (got.context.birds,):
        numbers.reverse()
    found = [_readings(got, one, (bird,)) for bird, one in zip(numbers, figures, strict=True)]
    return tuple(fact for some in found if some for fact in some)


def grill(got: Got) -> tuple[Fact, ...] | None:
    """The grill's own temperature."""
    figures = got.figures()
    figure = figures[-1]
    if len(figures) == 2 and got.has("between"):
        figure = Figure(0, (figures[0].value + figures[1].value) / 2, figure.scale)
    spoken = said(figure, got.context)
    f = fahrenheit(spoken.number, spoken.scale)
    return (cmd.GrillReading(f, spoken),) if 90 <= f <= 700 else None


def fuel(got: Got) -> tuple[Fact, ...] | None:
    """Charcoal by count, on both sides where each side was said."""
    figures = got.figures()
    each = 2 if got.all("SIDE") else 1
    if not figures:
        return (OpenFuel(),)
    if got.has("left", "right") and len(figures) == 2:
        return (cmd.FuelAdded(figures[0].value + figures[1].value),)
    if each == 2 and len(figures) == 2 and figures[0].value == 2 * figures[1].value:
        return (cmd.FuelAdded(figures[0].value),)
    count = figures[0].value * each
    lump = any(item.text.startswith(("lump", "pieces_of_lump")) for item in got.all("FUEL"))
    return (
        (cmd.FuelAdded(count, "lump" if lump else None),)
        if len(figures) == 1 and count <= 99
        else None
    )


def chimney(got: Got) -> tuple[Fact, ...] | None:
    """Charcoal by the chimney."""
    shares = [item.value for item in got.all("SHARE")]
    figures = got.figures()
    count = float(shares[0]) if shares else figures[0].value if figures else 1.0  # type: ignore[arg-type]
    return (cmd.FuelAdded(count, "chimney"),)


def wood(_: Got) -> tuple[Fact, ...] | None:
    """Wood for smoke."""
    return (cmd.WoodAdded(),)


def lid_off(_: Got) -> tuple[Fact, ...] | None:
    """The lid is off."""
    return (cmd.LidOff(),)


def lid_on(_: Got) -> tuple[Fact, ...] | None:
    """The lid is on."""
    return (cmd.LidOn(),)


def vents(got: Got) -> tuple[Fact, ...] | None:
    """A vent's opening, or that it was opened or shut a bit."""
    words = "_".join(item.text for item in got.items)
    low = any(one in words for one in ("bottom", "lower", "intake"))
    high = any(one in words for one in ("top", "upper", "exhaust"))
    which: cmd.Vent = "both" if low == high else "bottom" if low else "top"
    shares = [item.value for item in got.all("SHARE")]
    if got.all("MORE") or got.all("LESS") or got.all("BIT"):
        is_less = got.all("LESS") or got.all("SHUT") or got.has("closed", "shut", "down")
        return (VentsChanged(which, "less" if is_less else "more"),)
    if shares:
        share = float(shares[0])  # type: ignore[arg-type]
        return (
            cmd.Vents(which, 1.0 - share if got.all("SHUT") and not got.all("OPEN") else share),
        )
    if got.all("SHUT"):
        return (cmd.Vents(which, 0.0),)
    return (cmd.Vents(which, 1.0),) if got.all("OPEN") else None


def _of_birds(make: Callable[[int | None], Fact]) -> Build:
    def build(got: Got) -> tuple[Fact, ...] | None:
        if got.is_all():
            return (make(None),)
        birds = got.birds()
        if not birds:
            options = tuple(make(n) for n in range(1, got.context.birds + 1))
            raise Unclear("Which bird?", options)  # type: ignore[arg-type]
        return tuple(make(bird) for bird in birds)

    return build


def _off_and_read(got: Got) -> tuple[Fact, ...] | None:
    off = _of_birds(cmd.BirdsOff)(got)
    read = reading(got)
    return (*off, *read) if off and read else None


def weight(got: Got) -> tuple[Fact, ...] | None:
    """A bird's weight; after one in pounds a bare number is pounds as well."""
    birds = got.birds()
    weights = got.all("WEIGHT")
    if weights:
        unit, whole, ounces = weights[-1].value  # type: ignore[misc]
    else:
        unit, whole, ounces = "lb", got.figures()[-1].value, None
        if not 1 <= whole <= 30:
            return None
    if not birds:
        raise Unclear("Which bird weighs that?")
    if unit == "kg":
        return tuple(cmd.BirdWeight(bird, kilograms=whole) for bird in birds)
    return tuple(cmd.BirdWeight(bird, whole, ounces) for bird in birds)


def weights(got: Got) -> tuple[Fact, ...] | None:
    """Several weights of which only the first names the unit."""
    refs = [ref for ref in got.refs() if ref.kind != "last"]
    amounts = [item for item in got.items if item.kind in {"WEIGHT", "N"}]
    if len(refs) != len(amounts) or not all(len(ref.numbers) == 1 for ref in refs):
        return None
    facts: list[Fact] = []
    for ref, item in zip(refs, amounts, strict=True):
        part = Got((Item("R", "", ref), item), got.context, ())
        facts += weight(part) or ()
    return tuple(facts)


def sauce(got: Got) -> tuple[Fact, ...] | None:
    """Which sauce a bird gets."""
    refs = got.refs()
    names = [ref for ref in refs if ref.sauce]
    if not names:
        return None
    name = names[-1]
    others = [ref for ref in refs if ref is not name] or refs
    birds = Got(tuple(Item("R", "", one) for one in others), got.context, got.earlier).birds()
    if not birds or (len(birds) > 1 and not got.is_all()):
        return None
    return tuple(cmd.BirdSauce(bird, name.sauce or "plain") for bird in birds)


def sauced(got: Got) -> tuple[Fact, ...] | None:
    """Birds that were sauced."""
    return _of_birds(cmd.Sauced)(got)


def serve(got: Got) -> tuple[Fact, ...] | None:
    """When to eat."""
    spans = got.all("DURATION")
    if spans:
        return (cmd.ServeIn(float(spans[0].value)),)  # type: ignore[arg-type]
    clocks = got.all("CLOCK")
    if clocks:
        return (cmd.ServeAt(int(clocks[0].value)),)  # type: ignore[call-overload]
    value = got.figures()[0].value
    if len(got.figures()) == 2:
        value = 100 * value + got.figures()[1].value
    hour, minute = (value, 0) if value <= 24 else divmod(value, 100)
    if value != int(value) or not (1 <= hour <= 23 and minute < 60):
        return None
    return (cmd.ServeAt(int(60 * hour + minute), vague=hour <= 12),)


def late(got: Got) -> tuple[Fact, ...] | None:
    """Dinner is put back."""
    spans = got.all("DURATION")
    return (cmd.Hold(float(spans[0].value)),) if spans else None  # type: ignore[arg-type]


_ON = _of_birds(cmd.BirdsOn)
_OFF = _of_birds(cmd.BirdsOff)
_COUNT = "(N|VAGUE)"
_TABLE: tuple[tuple[str, Build], ...] = (
    ("B _ ((IT|ALL) _ )?N", reading),
    ("B _ ON N", reading),
    ("B _ ((IT|ALL) _ )?N _ P", reading),
    ("B _ P _ (IT _ )?N", reading),
    ("P _ (ON _ )?B _ (IT _ )?N", reading),
    ("B _ (IT _ )?P _ (IT _ )?N", reading),
    ("P _ N _ (ON _ )?B", reading),
    ("N _ P _ (ON _ )?B", reading),
    ("N _ (ON _ )?B", reading),
    ("N _ (ON _ )?B _ P", reading),
    ("IT _ N _ P _ (ON _ )?B", reading),
    ("IT _ N _ (ON _ )?B", reading),
    ("B _ N _ NO _ ((NO|NOT|N) _ )?(IT _ )?N", reading),
    ("P _ (IT _ )?N", spot_reading),
    ("N _ P", spot_reading),
    ("IT _ N", reading),
    ("N", reading),
    ("(in order _ )?(IT _ )?N _ N( _ N)?( _ N)?( _ N)?( _ N)?( _ B _ B)?", in_order),
    ("(IT _ )?N _ N( _ N)?( _ N)?( _ N)? _ starting _ (B|from the motor)", in_order),
    ("P _ (B _ )?N _ N( _ N)?( _ N)?", in_order),
    ("B _ B _ N _ N( _ N)?( _ N)?( _ N)?", in_order),
    ("(GRILL|LID) _ (GRILL _)?N (RISING)?", grill),
    ("LID _ GRILL _ N", grill),
    ("N _ (on|in|by|at) _ ON? _ (GRILL|LID)( _ GRILL)?", grill),
    ("N _ ON the (GRILL|LID)( _ GRILL)?", grill),
    ("N _ (ON )?(the )?GRILL", grill),
    ("GRILL _ (ON _ )?(GRILL _ )?(SHARE _ )?between N and N", grill),
    (f"(ADD _)?{_COUNT} _ (MORE _)?(FUEL _)(ON _)?(ADD _)?(SIDE)?", fuel),
    (f"(ADD _)?{_COUNT} _ (MORE _)?(FUEL _)?(ON _)?(ADD _)?SIDE( _ ADD)?( _ ON)?", fuel),
    ("N _ ON _ N SIDE", fuel),
    (f"(ADD _)(ON _)?{_COUNT} _ (MORE _)?(FUEL _)?(ON _)?", fuel),
    ("N _ ADD _ ON", fuel),
    ("N (MORE _)ON", fuel),
    (f"(ADD _)(ON _)?{_COUNT} _ (MORE _)?(FUEL _)?(ON _)?(SIDE)?", fuel),
    ("(ADD _)(MORE _)(FUEL)( _ ON)?", fuel),
    ("(ADD _)?N _ FUEL _ ON the left _ N _ ON the right", fuel),
    ("(ADD _)?(ON _)?(SHARE _|N _)?CHIMNEY _ (FUEL _)?(ADD _)?(ON)?", chimney),
    ("ADD _ (SHARE _|N _)?CHIMNEY _ ON", chimney),
    ("(ADD _)(ON _)?((VAGUE|BIT) _)?(FUEL _)?(of _)?WOOD( _ ADD)?( _ ON)?", wood),
    ("(VAGUE|BIT) _ (FUEL _)?(of _)?WOOD( _ ON)?", wood),
    ("(FUEL _)?(of _)?WOOD _ (ADD|ON|added)", wood),
    ("LID _ (OFF|OPEN|up)", lid_off),
    ("(OPEN|took|lifted|pulled|lifting|got) _ (OPEN _)?(OFF _)?LID( _ OFF)?", lid_off),
    ("LID _ (ON|SHUT|down)", lid_on),
    ("(SHUT|ADD) _ LID( _ (ON|SHUT))?", lid_on),
    ("VENT _ (OPEN _)?(SHUT _)?SHARE _ (OPEN)?", vents),
    ("VENT _ SHARE _ OPEN _ (top and bottom)?", vents),
    (
        "(OPEN|SHUT) _ (OPEN _)?VENT _ (OPEN|SHUT|MORE|LESS|SHARE)?( _ (MORE|LESS|SHARE|OPEN))?",
        vents,
    ),
    ("(OPEN|SHUT) _ (OPEN _)?VENT _ (MORE|LESS|BIT)", vents),
    ("(OPEN|SHUT) _ BIT _ VENT", vents),
    ("VENT _ (OPEN|SHUT|MORE|LESS|BIT)( _ (MORE|LESS|BIT))?", vents),
    ("(MORE|LESS) _ VENT", vents),
    ("B _ ON( the spit| the heat)?", _ON),
    ("(ADD|got|have) _ B _ ON", _ON),
    ("B _ NOT _ ADD _ IT _ ON", _ON),
    ("B _ OFF( _ the GRILL)?", _OFF),
    ("(took|pulled|lifted|taken|taking|pulling|got|lifting) _ B _ (OFF)( _ the GRILL)?", _OFF),
    ("(removed|removing|pulled) _ B", _OFF),
    ("(took|pulled|lifted|taken|pulling) _ OFF _ B", _OFF),
    ("B _ OFF _ at N( _ P)?", _off_and_read),
    ("B _ (ALL _ )?SAUCED( _ ON)?", sauced),
    ("(SAUCED) _ B( _ ON)?", sauced),
    ("B _ (VAGUE _)?(SAUCE _)(ON)?", sauced),
    ("(SAUCE) _ (ON _ )?B", sauced),
    ("(ADD|gave|given|got) _ (SAUCE|coat) _ (of SAUCE _)?(ON _ )?B", sauced),
    ("gave _ B _ (SAUCE|coat)( of SAUCE)?", sauced),
    ("B _ (WEIGH _)?(IT _)?WEIGHT", weight),
    ("WEIGHT _ B", weight),
    ("B _ WEIGH _ N", weight),
    ("B _ (WEIGH _)?WEIGHT _ B _ (N|WEIGHT)( _ B _ (N|WEIGHT))?( _ B _ (N|WEIGHT))?", weights),
    (
        "R _ (gets|takes|getting|as|my|wants|having|with|for) _ (R|SAUCY)( SAUCE)?",
        sauce,
    ),
    ("R _ SAUCY", sauce),
    ("R is R", sauce),
    ("(leaving|making|giving|keeping) _ R", sauce),
    ("leaving _ R _ SAUCY", sauce),
    ("SERVE _ (SERVE _)?N N", serve),
    ("SERVE _ (SERVE _)?(N|CLOCK|DURATION)", serve),
    ("(want|need) _ SERVE _ (N|CLOCK|DURATION)", serve),
    ("(N|CLOCK|DURATION) _ SERVE", serve),
    ("(SERVE _)?LATE _ (SERVE _)?DURATION", late),
    ("SERVE _ DURATION _ LATE", late),
    ("(running|are|is|they|guests|LATE|everybody) _ DURATION _ LATE", late),
    ("LATE _ (SERVE _)?(LATE _)?DURATION", late),
    ("LATE _ DURATION _ SERVE", late),
)


def _compiled(template: str) -> re.Pattern[str]:
    def token(found: re.Match[str]) -> str:
        word = found.group()
        if word == "_":
            return r"(?:[^:~]+:(?:BIT|WANT)?~){0,6}?"
        if word == "B":
            return r"(?:[^:~]+:(?:R|SAUCY|IT|ALL)~)"
        if word.isupper():
            return rf"(?:[^:~]+:{word}~)"
        return rf"(?:{word}:[^~]*~)"

    pattern = re.sub(r"[A-Za-z']+|_", token, template).replace(" ", "")
    return re.compile(pattern.replace("~", " "))


@lru_cache(maxsize=1)
def frames() -> tuple[tuple[re.Pattern[str], Build], ...]:
    """The frames, compiled."""
    return tuple((_compiled(template), build) for template, build in _TABLE)
