"""Thermal properties against the printed equations and CoolProp."""

import pytest
from CoolProp import CoolProp

from assistant.heat.bird import properties
from tests.heat.tables import rows

NAMES = {"carb": "carbohydrate"}
TABLES = {
    "thermal_conductivity": (properties.CONDUCTIVITY_W_MK, "L", 1.0),
    "density": (properties.DENSITY_KG_M3, "D", 1.0),
    "specific_heat": (properties.SPECIFIC_HEAT_KJ_KGK, "C", 1000.0),
}
FLUIDS = {
    "protein": "FoodProtein", "fat": "FoodFat", "carbohydrate": "FoodCarbohydrate",
    "fibre": "FoodFiber", "ash": "FoodAsh", "water": "FoodWater",
}  # fmt: skip


@pytest.mark.parametrize(
    "row", rows("choi_okos", "a b"), ids=lambda row: f"{row['component']}-{row['property']}"
)
def test_component_equations_are_the_printed_ones(row: dict[str, str]) -> None:
    table, _, _ = TABLES[row["property"]]
    name = NAMES.get(row["component"], row["component"])
    printed = tuple(float(row[c]) for c in ("c0", "c1", "c2"))
    if (name, row["property"]) == ("water", "specific_heat"):
        # The other print, which liquid water obeys.
        (other,) = rows("choi_okos", "a2")
        printed = tuple(float(other[c]) for c in ("c0", "c1", "c2"))
    assert table[name] == pytest.approx(printed, rel=1e-9)


@pytest.mark.parametrize("component", sorted(FLUIDS))
@pytest.mark.parametrize("kind", sorted(TABLES))
@pytest.mark.parametrize("at_c", [5.0, 40.0, 75.0])
def test_components_agree_with_coolprop(component: str, kind: str, at_c: float) -> None:
    table, key, scale = TABLES[kind]
    ours = scale * properties.component(table, component, at_c)
    theirs = CoolProp.PropsSI(
        key, "T", at_c + 273.15, "P", 101325.0, f"INCOMP::{FLUIDS[component]}"
    )
    # CoolProp has water's other specific heat, 1.1 % lower.
    tolerance = 0.013 if (component, kind) == ("water", "specific_heat") else 1e-3
    assert ours == pytest.approx(theirs, rel=tolerance)


COMPOSITIONS = {
    "breast meat raw (05062)": {"water": 73.9, "protein": 22.5, "fat": 2.62, "ash": 1.0},
    "thigh meat only raw (05096)": {"water": 76.22, "protein": 19.66, "fat": 4.12, "ash": 1.0},
    "whole meat+skin raw (05006)": {"water": 65.99, "protein": 18.6, "fat": 15.06, "ash": 0.79},
}


@pytest.mark.parametrize("row", [
    row for row in rows("chicken_properties_computed", "b") if row["food"] in COMPOSITIONS
], ids=lambda row: f"{row['food']} {row['t_C']}")  # fmt: skip
def test_mixtures_of_chicken_match_the_computed_table(row: dict[str, str]) -> None:
    mixed = properties.mix(COMPOSITIONS[row["food"]], float(row["t_C"]))
    assert mixed.density == pytest.approx(float(row["rho_kg_m3"]), rel=1e-3)
    assert mixed.specific_heat == pytest.approx(
        1000.0 * float(row["cp_kJ_kgK_water4.1762"]), rel=1e-3
    )
    assert mixed.conductivity_parallel == pytest.approx(float(row["k_parallel"]), rel=2e-3)
    assert mixed.conductivity_series == pytest.approx(float(row["k_series"]), rel=2e-3)


def test_lean_chicken_lies_where_white_meat_was_measured() -> None:
    """Sweat, Haugh and Stadelman 1973: k = 0.476 + 0.00060 t, 0 to 20 C."""
    meat = properties.lean_chicken()
    for at_c in (0.0, 10.0, 20.0):
        assert meat.conductivity(at_c) == pytest.approx(0.476 + 0.0006 * at_c, rel=0.07)
    assert 1.1e-7 < meat.conductivity(40.0) / meat.rho_cp < 1.45e-7


def test_an_unknown_component_is_an_error() -> None:
    with pytest.raises(KeyError):
        properties.mix({"gold": 100.0}, 20.0)
