"""Facts of fire and grill from the words of a frame."""

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.figures import Figure
from assistant.grammar.free.got import Got, said
from assistant.grammar.free.of_birds import MEAT_F
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.meaning import fahrenheit


def grill(got: Got) -> tuple[Fact, ...] | None:
    """The grill's own temperature."""
    figures = got.figures()
    figure = figures[-1]
    if len(figures) == 2 and got.has("between"):
        figure = Figure(0, (figures[0].value + figures[1].value) / 2, figure.scale)
    spoken = said(figure, got.context)
    f = fahrenheit(spoken.number, spoken.scale)
    # A dial named reads what it reads, however unlikely: that is asked about.
    is_dial = any("dial" in one.text or "gauge" in one.text for one in got.all("GRILL"))
    least_f = MEAT_F[0] if is_dial else 90
    return (cmd.GrillReading(f, spoken),) if least_f <= f <= 700 else None


def hot(got: Got) -> tuple[Fact, ...] | None:
    """A number too hot for meat, of nothing named: it can only be the grill's."""
    facts = None if got.named else grill(got)
    is_hot = facts is not None and all(
        isinstance(one, cmd.GrillReading) and one.temperature > MEAT_F[1] for one in facts
    )
    return facts if is_hot else None


_LAID = ("put", "put_in", "popped", "placed", "laid", "tossed", "threw", "putting", "gone_on",
         "went_on", "going_on", "goes_on", "in_there",
         "bunged",
         "dropped_in", "lumped")  # fmt: skip


def stoked(got: Got) -> tuple[Fact, ...] | None:
    """The fire fed, by a count where one was said."""
    if got.figures():
        return fuel(got)
    return None if got.has(*_LAID) else (cmd.FuelAdded(),)


def fuel(got: Got) -> tuple[Fact, ...] | None:
    """Charcoal by count, on both sides where each side was said."""
    figures = got.figures()
    each = 2 if got.all("SIDE") else 1
    if not figures:
        return (cmd.FuelAdded(kind=_kind(got)),)
    if got.has("left", "right") and len(got.all("VAGUE")) + len(figures) > 1 and got.all("VAGUE"):
        return (cmd.FuelAdded(kind=_kind(got)),)
    if got.has("left", "right") and len(figures) == 2:
        return (cmd.FuelAdded(figures[0].value + figures[1].value),)
    if each == 2 and len(figures) == 2:  # "six each side, twelve in all", or the other way round
        most, least = sorted((one.value for one in figures), reverse=True)
        return (cmd.FuelAdded(most, _kind(got)),) if most == 2 * least else None
    count = figures[0].value * each
    return (cmd.FuelAdded(count, _kind(got)),) if len(figures) == 1 and count <= 99 else None


def _kind(got: Got) -> cmd.FuelKind | None:
    return "lump" if any("lump" in item.text for item in got.all("FUEL")) else None


def chimney(got: Got) -> tuple[Fact, ...] | None:
    """Charcoal by the chimney."""
    shares = [item.value for item in got.all("SHARE")]
    figures = got.figures()
    if shares and got.items[0].kind != "SHARE" and got.has("and"):  # "a chimney and a half"
        count = (figures[0].value if figures else 1.0) + float(shares[0])  # type: ignore[arg-type]
        return (cmd.FuelAdded(count, "chimney"),)
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


_PARTLY = (  # neither wide open nor shut
    "cracked", "cracking", "widened", "choked", "choking", "throttled", "damped", "dampened",
    "restricted", "narrowed", "pinched", "tightened", "squeezed",
)  # fmt: skip


def left_vents(got: Got) -> tuple[Fact, ...] | None:
    """ "I left the top vent wide open": how it is; "leave it" would be a wish."""
    return vents(got) if any(item.text.startswith("left") for item in got.items) else None


def _is_up_to(got: Got) -> bool:
    """Whether a vent was moved "to a quarter", not by one."""
    texts = [item.text for item in got.items]
    shares = [at for at, item in enumerate(got.items) if item.kind == "SHARE"]
    return any(
        texts[at - 1] in {"to", "at"} or texts[at - 1].endswith("_to") for at in shares if at
    )


def vents(got: Got) -> tuple[Fact, ...] | None:
    """A vent's opening, or that it was opened or shut a bit."""
    words = "_".join(item.text for item in got.items)
    low = any(one in words for one in ("bottom", "lower", "intake", "inlet", "below", "underneath"))
    high = any(one in words for one in ("top", "upper", "exhaust", "lid", "chimney"))
    which: cmd.Vent = "both" if low == high else "bottom" if low else "top"
    shares = [item.value for item in got.all("SHARE")]
    if got.has("reopened", "reopen", "back") and not shares:
        return (cmd.Vents(which, change="back"),)
    if got.all("MORE") or got.all("LESS") or got.all("BIT"):
        is_less = got.all("LESS") or got.all("SHUT") or got.has("closed", "shut", "down")
        if got.has("more") and got.has(*_PARTLY):
            is_less = True
        return (cmd.Vents(which, change="less" if is_less else "more"),)
    if shares:
        share = float(shares[-1 if got.has("from") else 0])  # type: ignore[arg-type]
        is_shut_by = got.all("SHUT") and not got.all("OPEN") and not _is_up_to(got)
        return (cmd.Vents(which, 1.0 - share if is_shut_by else share),)
    if got.has(*_PARTLY) or got.has("up", "down"):
        return (cmd.Vents(which, change="less" if got.all("SHUT") or got.has("down") else "more"),)
    if got.all("SHUT"):
        return (cmd.Vents(which, 0.0),)
    return (cmd.Vents(which, 1.0),) if got.all("OPEN") else None
