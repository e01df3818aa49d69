"""Lethality against the printed table and the two closed-form integrals."""

import math

import numpy as np
import pytest

from assistant.heat.bird import lethality
from assistant.heat.bird.heat_had import log10_reduction_had
from tests.heat.bird.scenes import bird, evening
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


def test_rates_of_an_array_are_those_of_the_table() -> None:
    core_f = np.array([120.0, 135.9, 136.0, 143.3, 155.5, 161.0, 164.0, 170.0])
    rates = lethality.rate_per_s((core_f - 32.0) / 1.8, 5)
    wanted = [7.0 / lethality.seconds_for_seven_log(float(f), 5) for f in core_f]
    np.testing.assert_allclose(rates[[0, 1, 3, 4, 5, 6, 7]],
                               np.array(wanted)[[0, 1, 3, 4, 5, 6, 7]], rtol=1e-6)  # fmt: skip


def test_a_forecast_bird_has_had_nothing_early_and_seven_log_when_done() -> None:
    told = evening(bird((60.0, 118.0), (75.0, 145.0), (90.0, 163.0)))
    early = log10_reduction_had(told, 1, 30.0 * 60.0)
    late = log10_reduction_had(told, 1, 90.0 * 60.0, until_s=130.0 * 60.0)
    assert early == (0.0, 0.0, 0.0)
    assert list(late) == sorted(late)
    assert late[1] > 7.0
    with pytest.raises(KeyError):
        log10_reduction_had(told, 9, 3600.0)
