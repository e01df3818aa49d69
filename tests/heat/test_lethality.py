"""Lethality against the printed table and the two closed-form integrals."""

import math

import numpy as np
import pytest

from assistant.heat import lethality
from tests.heat.tables import rows

TABLE = rows("fsis_chicken_lethality", "a")


def test_the_table_is_the_printed_one() -> None:
    for row in TABLE:
        seconds = lethality.SECONDS_BY_DEG_F[int(row["deg_F"])][int(row["fat_pct"]) - 1]
        assert seconds == float(row["seconds"])
    assert len(TABLE) == 360


@pytest.mark.parametrize("row", [row for row in TABLE if row["fat_pct"] in {"1", "12"}
                                 and float(row["seconds"]) > 0],
                         ids=lambda row: f"{row['deg_F']}F-{row['fat_pct']}%")  # fmt: skip
def test_a_whole_degree_gives_its_printed_time(row: dict[str, str]) -> None:
    seconds = lethality.seconds_for_seven_log(float(row["deg_F"]), int(row["fat_pct"]))
    assert seconds == pytest.approx(float(row["seconds"]))


def test_between_rows_the_logarithm_is_interpolated() -> None:
    low, middle, high = (lethality.seconds_for_seven_log(f, 1) for f in (140.0, 140.5, 141.0))
    assert middle == pytest.approx(math.sqrt(low * high))


def test_a_zero_of_the_table_still_takes_seconds() -> None:
    """The fit at 165 F needs 4 to 5 s; a printed zero is a convention."""
    assert 3.5 < lethality.seconds_for_seven_log(165.0, 1) < 5.5
    assert 3.5 < lethality.seconds_for_seven_log(165.0, 12) < 6.0


def test_below_the_table_nothing_is_counted() -> None:
    assert lethality.seconds_for_seven_log(135.9) == math.inf
    assert lethality.log10_reduction([0.0, 36_000.0], [130.0, 130.0]) == 0.0


def test_a_column_the_table_lacks_is_an_error() -> None:
    with pytest.raises(ValueError, match="12"):
        lethality.seconds_for_seven_log(150.0, 20)


@pytest.mark.parametrize("row", rows("lethality_test_cases", "b"),
                         ids=lambda row: f"{row['case']} to {row['end_temp_F']}")  # fmt: skip
def test_integral_of_one_d_and_z_meets_the_closed_form(row: dict[str, str]) -> None:
    end, minutes = float(row["end_temp_F"]), float(row["minutes"])
    start = 130.0 if float(row["rate_F_per_min"]) else end
    reached = lethality.log10_reduction_dz(
        [0.0, 60.0 * minutes], [start, end], 60.0 * float(row["D140_min"]),
        float(row["z_F"]), 140.0,
    )  # fmt: skip
    assert reached == pytest.approx(float(row["log10_reduction"]), abs=2e-3)


def test_holding_for_the_printed_time_is_seven_log() -> None:
    assert lethality.log10_reduction([0.0, 2100.0], [140.0, 140.0], 12) == pytest.approx(7.0)


def test_a_slow_ramp_adds_up_as_the_table_says() -> None:
    """Half a degree a minute from 136 F, against a fine sum over the table."""
    at_s = np.linspace(0.0, 1800.0, 31)
    core_f = 136.0 + at_s / 120.0
    fine = np.linspace(136.0, 151.0, 20_001)
    rate = [1.0 / lethality.seconds_for_seven_log(float(f), 12) for f in fine]
    wanted = 7.0 * np.trapezoid(rate, fine) * 120.0
    assert lethality.log10_reduction(list(at_s), list(core_f), 12) == pytest.approx(
        wanted, rel=0.01
    )
