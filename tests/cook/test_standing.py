"""Where dinner stands, what is worth telling, and the order birds come off."""

import pytest

from assistant.cook.plan import PlannedBird
from assistant.cook.standing import pull_order, standing, worth_telling
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
    """Off 30 and 10 min before dinner: the later bird decides and is 6 min late with
    half its rest: 7 min of carving for one... here 11 for two."""
    found = standing(SERVE_S, list(zip(flock(1.5, 2.0), [q(-30), q(-10)], strict=True)))
    assert found is not None
    assert found.bird == 2
    # off -10, full rest 15, carving 3 + 2 * 4 = 11: +16; half the rest forgone: +8.5
    assert found.late_s == pytest.approx(8.5 * 60)


def test_standing_on_time() -> None:
    """Off with room for rest and carving: not late, the slack is negative lateness."""
    found = standing(SERVE_S, [(flock(1.5)[0], q(-40))])
    assert found is not None
    assert found.late_s == pytest.approx(-18 * 60)


def test_standing_waits_for_every_forecast() -> None:
    """A bird that cannot be forecast leaves the table time open."""
    assert standing(SERVE_S, [(flock(1.5)[0], Quantiles(None, None, None))]) is None
    assert standing(SERVE_S, []) is None


@pytest.mark.parametrize(
    ("late_min", "told_min", "tell"),
    [
        (5, None, False),  # within ten minutes of the plan
        (20, None, True),
        (25, 20, False),  # told, and little has changed since
        (31, 20, True),
        (0, 20, True),  # good news after bad is worth it
        (8, 20, False),  # a little less late is not
        (15, 40, True),
        (-15, None, False),  # early: the rest takes it up
        (-25, None, False),
        (-35, None, True),
    ],
)
def test_worth_telling(late_min: float, told_min: float | None, tell: bool) -> None:
    """Only what moved by ten minutes or more, and early only when it is a lot."""
    told_s = None if told_min is None else 60.0 * told_min
    assert worth_telling(60.0 * late_min, told_s) is tell
