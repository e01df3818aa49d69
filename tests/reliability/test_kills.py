"""The real program, killed at random instants."""

import sys

import pytest

from tests.reliability import kills


@pytest.mark.slow
def test_a_killed_program_loses_nothing_it_acknowledged() -> None:
    tally = kills.run(6)
    assert tally.lost == []
    assert tally.facts > 20


@pytest.mark.slow
def test_a_skipped_commit_is_caught_by_a_kill() -> None:
    program = (sys.executable, "-m", "tests.reliability.mutated", "commit_skipped")
    assert any(kills.run(1, seed, program).lost for seed in range(8))


@pytest.mark.slow
def test_a_sentence_said_before_its_commit_is_caught_by_a_kill() -> None:
    program = (sys.executable, "-m", "tests.reliability.mutated", "said_first")
    lost = (one for seed in range(8) for one in kills.run(6, seed, program).lost)
    assert "said and not on disk" in next(lost)
