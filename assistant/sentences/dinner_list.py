"""The shopping and kit list of a dinner, to print and tick off."""

from math import ceil

from assistant.cook.planning.whole_dinner import Dinner
from assistant.system.units import pounds

SALT_TSP_A_LB = 1.0  # kosher salt; common practice, no source
SAUCE_CUP_A_BIRD = 0.5  # common practice, no source


def dinner_list(dinner: Dinner) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return the headings and what stands under each."""
    return (
        ("Buy", (*_birds(dinner), *_larder(dinner), *_charcoal(dinner))),
        ("Lay out", _kit(dinner)),
    )


def list_text(dinner: Dinner) -> str:
    """Return the list with boxes to tick, at most 80 columns."""
    lines = []
    for heading, items in dinner_list(dinner):
        lines += [heading, *(f"  [ ] {item}" for item in items), ""]
    return "\n".join(lines).rstrip()


def _birds(dinner: Dinner) -> tuple[str, ...]:
    groups: dict[tuple[str, float], int] = {}
    for bird in dinner.order.birds:
        key = (bird.kind, round(bird.mass_kg, 3))
        groups[key] = groups.get(key, 0) + 1
    return tuple(
        f"{count} {kind}{'s' if count > 1 else ''} of {pounds(mass_kg):.3g} lb ({mass_kg:.2f} kg)"
        for (kind, mass_kg), count in groups.items()
    )


def _larder(dinner: Dinner) -> tuple[str, ...]:
    total_lb = sum(pounds(bird.mass_kg) for bird in dinner.order.birds)
    items = [f"kosher salt, {ceil(SALT_TSP_A_LB * total_lb)} teaspoons (1 a pound)"]
    for sauce in _sauces(dinner):
        count = sum(bird.sauce == sauce for bird in dinner.order.birds)
        items.append(
            f"{sauce} sauce, {SAUCE_CUP_A_BIRD * count:g} cup for {count}, and some for the table"
        )
    if not _sauces(dinner) and any(bird.sauced for bird in dinner.order.birds):
        items.append("sauces, half a cup a bird, and some for the table")
    items += [f"for {side.name}" for side in dinner.order.sides]
    return (*items, "kitchen string, foil")


def _charcoal(dinner: Dinner) -> tuple[str, ...]:
    fuel = dinner.fuel
    return (
        f"charcoal, {ceil(fuel.high)} briquettes to be sure ({fuel.chimneys[2]:.1f} chimneys,"
        f" {fuel.high * 0.025:.1f} kg),",
        "lighter cubes; on a gas grill a spare bottle instead",
    )


def _kit(dinner: Dinner) -> tuple[str, ...]:
    sauces = _sauces(dinner)
    brushes = [f"a brush for {sauce}" for sauce in sauces] or ["a brush for each sauce"]
    if not any(bird.sauced for bird in dinner.order.birds):
        brushes = []
    return (
        "instant-read thermometer, checked in ice water; fresh battery",
        "grill thermometer, away from the coals",
        "spit, forks with tight screws, motor and its cord",
        "a trial weight to balance the loaded spit (turnspit balance)",
        "spare string, scissors",
        *brushes,
        "a clean brush for the end: the others touch raw poultry",
        "heat-proof gloves; thin ones for raw poultry",
        "drip pan, chimney, tongs, long matches",
        "raw tray, and a clean board and plate for the table",
        "soap and towel by the grill",
        "metal can with a lid for the ash, bucket of sand",
        *(f"pan or tray for {side.name}" for side in dinner.order.sides),
    )


def _sauces(dinner: Dinner) -> tuple[str, ...]:
    return tuple(dict.fromkeys(bird.sauce for bird in dinner.order.birds if bird.sauce))
