"""What shares a spit: stops for sauce, and the order in which birds leave it."""

from hypothesis import given
from hypothesis import strategies as st

from assistant.cook.rules.stops import NEAR_S, Pull, Wanted, pulls, sauce_stops, spit_order, way_of

MIN = 60.0


def test_both_are_sauced_in_one_stop_and_the_sugary_one_last() -> None:
    """Apricot burns and herb butter does not: one stop, herb butter first."""
    found = sauce_stops(
        [Wanted(1, 10 * MIN, 30 * MIN, "high"), Wanted(2, 5 * MIN, 25 * MIN, "none")]
    )
    assert [one.birds for one in found] == [(2, 1)]
    assert found[0].at_s == 10 * MIN
    assert found[0].closes_s == 25 * MIN


def test_windows_that_never_meet_are_two_stops() -> None:
    found = sauce_stops([Wanted(1, 60 * MIN, 80 * MIN), Wanted(2, 20 * MIN, 40 * MIN)])
    assert [(one.birds, one.at_s) for one in found] == [((2,), 20 * MIN), ((1,), 60 * MIN)]


@given(
    st.dictionaries(
        st.integers(1, 8),
        st.tuples(
            st.floats(0, 9000), st.floats(0, 3600), st.sampled_from(["none", "some", "high"])
        ),
        min_size=1,
    )
)
def test_every_bird_is_sauced_once_within_its_window(birds: dict) -> None:  # type: ignore[type-arg]
    wanted = [Wanted(n, opens, opens + long, sugar) for n, (opens, long, sugar) in birds.items()]
    found = sauce_stops(wanted)
    numbers = [number for stop in found for number in stop.birds]
    assert sorted(numbers) == sorted(birds)
    by_number = {one.bird: one for one in wanted}
    for stop in found:
        for number in stop.birds:
            assert by_number[number].opens_s - NEAR_S <= stop.at_s <= by_number[number].closes_s


def test_both_done_within_ten_minutes_come_off_at_once() -> None:
    assert pulls({1: 60 * MIN, 2: 68 * MIN}) == (Pull(68 * MIN, (1, 2)),)


def test_the_far_one_is_pulled_first() -> None:
    found = pulls({1: 100 * MIN, 2: 70 * MIN})
    assert found == (Pull(70 * MIN, (2,)), Pull(100 * MIN, (1,)))
    assert way_of(found) == "far_first"


def test_the_motor_end_waits_for_the_far_end() -> None:
    assert pulls({1: 70 * MIN, 2: 100 * MIN}) == (Pull(100 * MIN, (1, 2)),)
    assert way_of(pulls({1: 70 * MIN, 2: 100 * MIN})) == "together"


def test_nine_minutes_again_and_again_is_not_together() -> None:
    """Each within ten minutes of the next, the first would wait for eighteen."""
    found = pulls({3: 60 * MIN, 2: 69 * MIN, 1: 78 * MIN})
    assert [one.birds for one in found] == [(2, 3), (1,)]


def test_the_slowest_sits_at_the_motor() -> None:
    assert spit_order({1: 70.0, 2: 100.0, 3: 70.0}) == (2, 1, 3)
