"""Two hundred evenings with faults and restarts, each from its seed."""

from collections import Counter

import pytest

from tests.reliability import patches, simulate
from tests.reliability.checks import BrokenError

CHUNK = 25


@pytest.mark.slow
@pytest.mark.parametrize("first", range(1, 201, CHUNK))
def test_evenings_hold_what_must_hold(first: int) -> None:
    total: Counter[str] = Counter()
    for seed in range(first, first + CHUNK):
        total += simulate.live(seed, real=False)[1]
    assert total["facts"] > 1000
    for fault in ("killed", "power_cut", "disk_full", "misheard", "prompts after a restart"):
        assert total[fault], f"{fault} never happened: the evenings are too tame"


@pytest.mark.parametrize("seed", [7, 21, 101])
def test_the_same_seed_gives_the_same_journal_byte_for_byte(seed: int) -> None:
    assert simulate.live(seed, real=False) == simulate.live(seed, real=False)


def test_another_seed_gives_another_journal() -> None:
    assert simulate.live(7, real=False)[0] != simulate.live(8, real=False)[0]


@pytest.mark.slow
def test_an_evening_with_real_forecasts_holds_what_must_hold() -> None:
    assert simulate.live(100, real=True)[1]["facts"]


def live_through_forty() -> None:
    for seed in range(1, 41):
        simulate.live(seed, real=False)


def test_a_prompt_that_is_dropped_on_restart_is_caught() -> None:
    caught = r"was dropped|due and not said"
    with patches.prompt_dropped(), pytest.raises(BrokenError, match=caught):
        live_through_forty()


def test_a_skipped_commit_is_caught_by_a_killed_evening() -> None:
    with patches.commit_skipped(), pytest.raises(BrokenError, match=r"are lost|something else"):
        live_through_forty()


def test_a_sync_that_is_turned_off_is_caught_by_a_power_cut() -> None:
    with patches.sync_off(), pytest.raises(BrokenError, match=r"are lost|something else"):
        live_through_forty()


@pytest.mark.parametrize("seed", [421, 494, 918])
def test_the_latest_of_several_fresh_files_is_gone_on_with(seed: int) -> None:
    """Found by seed: restarted on a full disk after a second fresh file was begun."""
    simulate.live(seed, real=False)
