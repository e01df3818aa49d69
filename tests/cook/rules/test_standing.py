"""Where dinner stands, what is worth telling, and the order birds come off."""

import pytest

from assistant.cook.planning.plan import PlannedBird
from assistant.cook.rules.standing import is_really_late, pull_order, standing, worth_telling
from assistant.heat.bird.evidence import Quantiles

SERVE_S = 1_790_535_600.0


def flock(*masses_kg: float) -> list[PlannedBird]:
    return [PlannedBird(number, kg) for number, kg in enumerate(masses_kg, 1)]


def test_pull_order_is_by_time_then_place() -> None:
    """Earliest first; what is within five minutes comes off together, from the motor."""
    assert pull_order([(1, 5000.0), (2, 4000.0), (3, 3900.0)]) == (2, 3, 1)
    assert pull_order([(1, float("inf")), (2, 4000.0)]) == (2, 1)


def q(minutes: float) -> Quantiles:
    at = SERVE_S + 60 * minutes
    return Quantiles(at - 300, at, at + 600)


def test_standing_names_the_bird_that_decides() -> None:
    """Off 30 and 10 min before dinner: the later bird decides, with its whole rest, as
    the carving is called."""
    found = standing(SERVE_S, list(zip(flock(1.5, 2.0), [q(-30), q(-10)], strict=True)))
    assert found is not None
    assert found.bird == 2
    # off -10, rest 15, carving 3 + 2 * 4 = 11
    assert found.late_s == pytest.approx(16 * 60)


def test_standing_on_time() -> None:
    """Off with room for rest and carving: not late, the slack is negative lateness."""
    found = standing(SERVE_S, [(flock(1.5)[0], q(-40))])
    assert found is not None
    assert found.late_s == pytest.approx(-18 * 60)


def test_standing_waits_for_every_forecast() -> None:
    """A bird that cannot be forecast leaves the table time open."""
    assert standing(SERVE_S, [(flock(1.5)[0], Quantiles(None, None, None))]) is None
    assert standing(SERVE_S, []) is None


def test_it_is_late_only_when_nine_times_in_ten_it_would_be() -> None:
    surely, perhaps = (standing(SERVE_S, [(flock(1.5)[0], q(minutes))]) for minutes in (0, -20))
    assert surely is not None
    assert perhaps is not None
    assert is_really_late(surely, SERVE_S)
    assert not is_really_late(perhaps, SERVE_S)


@pytest.mark.parametrize(
    ("late_min", "told_min", "tell"),
    [
        (10, None, False),  # within a quarter of an hour of the plan
        (20, None, True),
        (25, 20, False),  # told, and little has changed since
        (36, 20, True),
        (0, 20, True),  # good news after bad is worth it
        (8, 20, False),  # a little less late is not
        (9, 40, True),
        (-15, None, False),  # early: the rest takes it up
        (-25, None, False),
        (-35, None, True),
    ],
)
def test_worth_telling(late_min: float, told_min: float | None, tell: bool) -> None:
    """Only what moved by a quarter of an hour or more, and early only when it is a lot."""
    told_s = None if told_min is None else 60.0 * told_min
    assert worth_telling(60.0 * late_min, told_s) is tell
