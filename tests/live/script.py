"""What is said in the live test: commands of an invented family dinner, and table talk."""

from dataclasses import dataclass

ADDRESS = "turnspit"


@dataclass(frozen=True)
class Said:
    """A line for the mouth. `means`: the command's name and slots; None for table talk.
    `over`: it is said into the answer to the line before, at the level of that answer."""

    words: str
    means: tuple[str, dict[str, object]] | None
    over: bool = False

    @property
    def spoken(self) -> str:
        """As the mouth says it."""
        return self.words if self.means is None else f"{ADDRESS} {self.words}"


def _talk(words: str) -> Said:
    return Said(words, None)


def _over(words: str, name: str, **slots: object) -> Said:
    return Said(words, (name, slots), over=True)


OPENING = (
    Said("fire lit", ("fire_lit", {})),
    Said(
        "bird one weighs five pounds eight ounces",
        ("bird_weight", {"bird": 1, "pounds": 5.0, "ounces": 8.0}),
    ),
    Said("birds on", ("birds_on", {})),
)  # fmt: skip

ROUND = (
    Said("grill is three seventy", ("grill_reading", {"temperature": 370.0})),
    _talk("well I think the potatoes need a little longer"),
    Said("how long has it been", ("ask_elapsed", {})),
    _over("grill is three eighty", "grill_reading", temperature=380.0),
    Said("bottom vent two thirds", ("vents", {"which": "bottom", "opening": 2 / 3})),
    Said("what's next", ("ask_next", {})),
    _talk("did your sister call about the weekend"),
    Said("added twelve briquettes", ("fuel_added", {"count": 12.0})),
    Said("how is the fire", ("ask_fire", {})),
    _over("bottom vent one third", "vents", which="bottom", opening=1 / 3),
    Said("remind me in two minutes", ("timer_set", {"minutes": 2.0})),
    _talk("the children are asking for something to drink"),
    Said("how long for bird two", ("ask_when", {"bird": 2})),
    _over("what's next", "ask_next"),
    Said("how long for bird three", ("ask_when", {"bird": 3})),
    _over("added eight briquettes", "fuel_added", count=8.0),
    Said("got it", ("acknowledge", {})),
    Said("say again", ("repeat", {})),
    Said("scratch that", ("undo", {})),
)


def lines(count: int) -> list[Said]:
    """That many lines: the opening, then rounds of the middle of a cook."""
    rounds = [*OPENING]
    while len(rounds) < count:
        rounds += ROUND
    return rounds[:count]
