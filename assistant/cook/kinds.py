"""What differs between the pieces that go on a spit: marks, rest, carving. Pure."""

from dataclasses import dataclass

from assistant.cook.guidance import POULTRY_F, TURKEY_REST_MIN, WHOLE_CUT_F
from assistant.heat.bird.priors import TYPICAL_MASS_KG


@dataclass(frozen=True, slots=True)
class Kind:
    """Defaults of one kind of piece.

    `done_mark_f`: poultry 165 F in every part; whole cuts of beef, pork, veal and
    lamb 145 F, then at least 3 min of rest (USDA FSIS). `rest_min`: twenty minutes
    for turkey is USDA advice; FSIS asks none for other poultry, so the rest is
    common practice, no source. `carve_min` is a piece, common practice.
    """

    name: str
    done_mark_f: float
    sauce_mark_f: float
    rest_min: float
    carve_min: float

    @property
    def typical_kg(self) -> float:
        """The mass of one that nobody weighed, as the forecasts take it."""
        return TYPICAL_MASS_KG[self.name]


KINDS = {
    kind.name: kind
    for kind in (
        Kind("chicken", POULTRY_F, 130.0, 15.0, 4.0),
        Kind("hen", POULTRY_F, 130.0, 5.0, 1.0),
        Kind("duck", POULTRY_F, 130.0, 15.0, 5.0),
        Kind("turkey", POULTRY_F, 130.0, TURKEY_REST_MIN, 12.0),
        Kind("roast", WHOLE_CUT_F, 115.0, 15.0, 6.0),
    )
}


def kind_of(name: str) -> Kind:
    """Return the kind. Raises ValueError naming the kinds there are."""
    if name not in KINDS:
        raise ValueError(f"{name!r} is not a kind of bird; it is one of {', '.join(KINDS)}")
    return KINDS[name]
