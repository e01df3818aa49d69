"""Facts of birds from the words of a frame: readings, weights, sauces, on and off."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.figures import Figure
from assistant.grammar.free.got import Build, Got, Unclear, said
from assistant.grammar.free.lex import Item
from assistant.grammar.free.open_facts import Fact, OpenReading
from assistant.grammar.meaning import fahrenheit

MEAT_F = (28.0, 212.0)
MOST_SAID_F = 250.0  # of a bird named, in a scale named: doubted later, but heard
SAME_F = 0.6  # a number said again


def _readings(got: Got, figure: Figure, birds: tuple[int, ...]) -> tuple[Fact, ...] | None:
    spoken = said(figure, got.context)
    f = fahrenheit(spoken.number, spoken.scale)
    most_f = MOST_SAID_F if birds and figure.scale else MEAT_F[1]
    if not MEAT_F[0] <= f <= most_f:
        return None
    if not birds:
        return (OpenReading(f, spoken, got.spot()),)
    return tuple(cmd.BirdReading(bird, f, spoken, got.spot()) for bird in birds)


def reading(got: Got) -> tuple[Fact, ...] | None:
    """One number, of one bird or several."""
    figures = got.figures()
    return _readings(got, figures[-1], got.birds()) if figures else None


def both_spots(got: Got) -> tuple[Fact, ...] | None:
    """One number read at two spots: "bird two, breast and thigh both one sixty six"."""
    birds, figures = got.birds(), got.figures()
    found = _readings(got, figures[-1], birds) if birds and figures else None
    spots: dict[Any, None] = dict.fromkeys(item.value for item in got.all("P"))
    if not found or len(spots) < 2:
        return None
    read = [one for one in found if isinstance(one, cmd.BirdReading)]
    return tuple(replace(one, spot=spot) for one in read for spot in spots)


def denied(got: Got) -> tuple[Fact, ...] | None:
    """The first number, not the second: a correction where the second is on record."""
    meant, wrong = (said(one, got.context) for one in got.figures())
    birds = got.birds()
    readings = _readings(got, got.figures()[0], birds)
    last_f = got.context.last_f.get(birds[0]) if len(birds) == 1 else None
    if readings is None or last_f is None or got.context.spoken != birds[0]:
        return readings
    if abs(fahrenheit(wrong.number, wrong.scale) - last_f) > SAME_F:
        return readings
    return (cmd.Correct(fahrenheit(meant.number, meant.scale), meant, birds[0]),)


def between(got: Got) -> tuple[Fact, ...] | None:
    """A number between two: of the grill the middle will do, of a bird it is asked for."""
    facts = _readings(got, got.figures()[-1], got.birds())
    if facts is None:
        return None
    raise Unclear("What does it read?")


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
    if len(refs) == 1 and 1 < len(refs[0].numbers) != got.context.birds:
        return None
    if refs and refs[0].numbers == (got.context.birds,):
        numbers.reverse()
    found = [_readings(got, one, (bird,)) for bird, one in zip(numbers, figures, strict=True)]
    return tuple(fact for some in found if some for fact in some) if all(found) else None


def from_an_end(got: Got) -> tuple[Fact, ...] | None:
    """ "From the motor end, one twenty nine, one thirty three"."""
    is_told = any(item.text.startswith(("from", "starting_from")) for item in got.all("R"))
    birds = got.refs()[0].numbers if got.refs() else ()
    return in_order(got) if is_told or 1 < len(birds) == got.context.birds else None


def of_birds(make: Callable[[int | None], Fact]) -> Build:
    """Of every bird, of those meant, or asked which."""

    def build(got: Got) -> tuple[Fact, ...] | None:
        if got.has("no_sauce", "no_glaze", "without_sauce", "without_glaze"):
            return None
        if make is cmd.BirdsOn and got.has("still"):
            return ()  # nothing has happened
        if got.is_all():
            return (make(None),)
        birds = got.birds()
        if make is cmd.BirdsOn and birds and all(one.kind == "sauce" for one in got.refs()):
            name = got.refs()[0].sauce
            both = (cmd.BirdsOn(birds[0]), cmd.Sauced(birds[0]))
            raise Unclear(f"Is bird {birds[0]} on the spit, or sauced with {name}?", both)
        if not birds:
            options = tuple(make(n) for n in range(1, got.context.birds + 1))
            raise Unclear("Which bird?", options)  # type: ignore[arg-type]
        return tuple(make(bird) for bird in birds)

    return build


def nothing(_: Got) -> tuple[Fact, ...] | None:
    """Words beside a fact that tell none: "but not the other one yet"."""
    return ()


def gone_on(got: Got) -> tuple[Fact, ...] | None:
    """Birds that have "gone on"."""
    return of_birds(cmd.BirdsOn)(got) if got.has("gone_on", "went_on", "going_on") else None


def off_and_read(got: Got) -> tuple[Fact, ...] | None:
    """A bird off at a temperature."""
    off = of_birds(cmd.BirdsOff)(got)
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
    units = [item.value[0] for item in amounts if item.kind == "WEIGHT"]  # type: ignore[index]
    for ref, item in zip(refs, amounts, strict=True):
        if item.kind == "N" and units and isinstance(item.value, Figure):
            item = Item("WEIGHT", "", (units[0], item.value.value, None))  # noqa: PLW2901
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


def unsauced(got: Got) -> tuple[Fact, ...] | None:
    """ "No sauce for the third"."""
    return sauce(got) if got.has("no_sauce", "no_glaze", "no_sauce_on", "no_glaze_on") else None


def plain(got: Got) -> tuple[Fact, ...] | None:
    """ "Bird three's not getting any sauce": not that it was not sauced yet."""
    to_come = got.has(
        "getting",
        "get",
        "having",
        "taking",
        "needing",
        "gets",
        "need",
        "going",
        "goes",
        "go",
        "stays",
        "tonight",
        "today",
    )
    birds = got.birds()
    return tuple(cmd.BirdSauce(bird, "plain") for bird in birds) if to_come and birds else None


def sauced(got: Got) -> tuple[Fact, ...] | None:
    """Birds that were sauced."""
    return of_birds(cmd.Sauced)(got)


def sauced_with(got: Got) -> tuple[Fact, ...] | None:
    """A bird that was sauced with what it gets tonight; asked where that is another sauce."""
    names = [ref for ref in got.refs() if ref.sauce]
    others = [ref for ref in got.refs() if not names or ref is not names[-1]]
    if not others:
        return None
    name = next((ref for ref in names if ref.kind == "sauce"), names[-1] if names else None)
    others = [ref for ref in got.refs() if ref is not name]
    birds = Got(tuple(Item("R", "", one) for one in others), got.context, got.earlier).birds()
    if name is None or not birds or name.sauce == "plain":
        return None
    known = {got.context.sauces.get(bird) for bird in birds}
    if known <= {name.sauce, None}:
        return (cmd.Sauced(None),) if got.is_all() else tuple(cmd.Sauced(bird) for bird in birds)
    if len(birds) != 1:
        return None
    options = (cmd.Sauced(birds[0]), cmd.BirdSauce(birds[0], name.sauce or "plain"))
    raise Unclear(
        f"Is bird {birds[0]} sauced with {name.sauce}, or does it get {name.sauce}?", options
    )
