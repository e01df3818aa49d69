"""The reach of the fire's advice, on a few of the evenings that the benchmark counts."""

import numpy as np

from tests.benchmarks.fire_tended import COOKS, HOURS, Tending, table

EVENINGS = range(2000, 2010)


def test_little_is_said_and_nothing_in_a_steady_band() -> None:
    found = [Tending(one, "voice alone").run() for one in EVENINGS]
    assert 0 < sum(one.said for one in found) <= len(found) * HOURS
    assert sum(one.said_steady for one in found) == 0


def test_a_cook_who_looks_has_a_better_fire_than_one_who_tends_nothing() -> None:
    """The same kettles; how it compares with advice at every reading takes more evenings."""
    looks, nothing = (
        np.mean([Tending(one, cook).run().out_min for one in EVENINGS])
        for cook in ("looks as he tells it too", "tends nothing")
    )
    assert looks < 0.7 * nothing


def test_the_table_has_a_row_a_cook() -> None:
    assert [row.split(" | ")[0] for row in table(2).splitlines()[2:]] == [f"| {c}" for c in COOKS]
