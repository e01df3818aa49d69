"""The boiling point against the steam tables, and what a bath check concludes."""

import csv
from pathlib import Path

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from assistant.heat.boiling import (
    altitude_at,
    bath_check,
    boiling_point_at,
    boiling_point_at_pressure,
    pressure_at,
)

REFERENCES = Path(__file__).parent.parent / "references"


def rows(name: str) -> list[dict[str, str]]:
    with (REFERENCES / name).open(encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize("row", rows("boiling_point_altitude.csv"), ids=lambda r: r["altitude_m"])
def test_altitude_table(row: dict[str, str]) -> None:
    """Within 0.01 C of the table at every altitude, its pressure within 5 Pa."""
    altitude_m = float(row["altitude_m"])
    assert row["mark"] == "b"
    assert pressure_at(altitude_m) == pytest.approx(float(row["pressure_Pa"]), abs=5)
    assert boiling_point_at(altitude_m) == pytest.approx(float(row["boil_C_IAPWS95"]), abs=0.01)


@pytest.mark.parametrize("row", rows("boiling_point_pressure.csv"), ids=lambda r: r["pressure_Pa"])
def test_pressure_table(row: dict[str, str]) -> None:
    """Within 0.01 C of the table at every station pressure."""
    pressure_pa = float(row["pressure_Pa"])
    assert boiling_point_at_pressure(pressure_pa) == pytest.approx(float(row["boil_C"]), abs=0.01)


@given(st.floats(50_000, 110_000))
def test_agrees_with_the_full_equation_of_state(pressure_pa: float) -> None:
    """Within 0.01 C of IAPWS-95 between the rows as well."""
    exact_c = PropsSI("T", "P", pressure_pa, "Q", 0, "Water") - 273.15
    assert boiling_point_at_pressure(pressure_pa) == pytest.approx(exact_c, abs=0.01)


def test_ice_is_the_same_anywhere() -> None:
    """A thermometer reading 1.5 C in ice water gets -1.5 C at any altitude."""
    low, high = bath_check("ice", 1.5), bath_check("ice", 1.5, altitude_m=2500)
    assert low == high
    assert low.correction_c == pytest.approx(-1.5)
    assert low.trust == "correct"


def test_boiling_check_uses_the_altitude() -> None:
    """94.6 C in boiling water at 1609 m is right; at the sea it would be 5.4 C low."""
    assert bath_check("boiling", 94.6, altitude_m=1609.344).trust == "good"
    assert bath_check("boiling", 94.6).correction_c == pytest.approx(5.37, abs=0.02)


def test_station_pressure_beats_altitude() -> None:
    """980 hPa of weather at sea level boils at 99.04 C."""
    assert bath_check("boiling", 99.0, 0.0, 98_000).true_c == pytest.approx(99.042, abs=0.01)


def test_a_wild_check_is_doubted() -> None:
    """A thermometer 12 C off is told apart from one that needs a correction."""
    assert bath_check("ice", 12.0).trust == "doubtful"


@pytest.mark.parametrize("altitude_m", [-600.0, 9500.0])
def test_altitude_out_of_range(altitude_m: float) -> None:
    """The message names the value and the limits."""
    with pytest.raises(ValueError, match="between -500 and 9000 m"):
        pressure_at(altitude_m)


@pytest.mark.parametrize("pressure_pa", [1013.25, 200_000.0])
def test_pressure_out_of_range(pressure_pa: float) -> None:
    """A pressure given in hPa instead of Pa is caught."""
    with pytest.raises(ValueError, match="between 300 and 1100 hPa"):
        boiling_point_at_pressure(pressure_pa)


@pytest.mark.parametrize("row", rows("boiling_point_altitude.csv"), ids=lambda r: r["pressure_Pa"])
def test_a_barometer_stands_for_an_altitude(row: dict[str, str]) -> None:
    """The standard altitude of a station pressure, within half a metre; and so the
    boiling point within 0.01 C."""
    altitude_m = altitude_at(float(row["pressure_Pa"]))
    assert altitude_m == pytest.approx(float(row["altitude_m"]), abs=0.5)
    assert boiling_point_at(altitude_m) == pytest.approx(float(row["boil_C_IAPWS95"]), abs=0.01)
