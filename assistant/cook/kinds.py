"""What differs between the pieces that go on a spit: marks, rest, carving. Pure."""

from dataclasses import dataclass


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
    typical_kg: float


KINDS = {
    kind.name: kind
    for kind in (
        Kind("chicken", 165.0, 130.0, 15.0, 4.0, 1.8),
        Kind("hen", 165.0, 130.0, 5.0, 1.0, 0.6),
        Kind("duck", 165.0, 130.0, 15.0, 5.0, 2.3),
        Kind("turkey", 165.0, 130.0, 20.0, 12.0, 5.5),
        Kind("roast", 145.0, 115.0, 15.0, 6.0, 2.0),
    )
}


def kind_of(name: str) -> Kind:
    """Return the kind. Raises ValueError naming the kinds there are."""
    if name not in KINDS:
        raise ValueError(f"{name!r} is not a kind of bird; it is one of {', '.join(KINDS)}")
    return KINDS[name]
