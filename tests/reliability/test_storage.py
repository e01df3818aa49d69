"""What was acknowledged survives a power cut at any instant and any failing call."""

import pytest

from tests.reliability import crash_images, faults, patches, rescues


def test_no_power_cut_loses_an_acknowledged_fact() -> None:
    outcome = crash_images.run(first_only=True)
    assert outcome.lost == ()
    assert outcome.images > 400


def test_a_skipped_commit_is_caught() -> None:
    with patches.commit_skipped():
        assert crash_images.run(first_only=True).lost


def test_a_sync_that_is_turned_off_is_caught() -> None:
    with patches.sync_off():
        assert crash_images.run(first_only=True).lost


def test_no_power_cut_of_a_rescue_loses_what_could_be_read() -> None:
    outcome = rescues.run(first_only=True)  # the first that is lost will do
    assert outcome.lost == ()
    assert outcome.images > 300


@pytest.mark.slow
def test_no_failing_call_loses_a_fact_or_stops_the_evening() -> None:
    tally = faults.run(step=6)
    assert tally.lost == []
    assert tally.runs > 200
    assert tally.kept_in_memory > 30
