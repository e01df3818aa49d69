"""Learning from past cooks: many teach, one odd one does not wreck it."""

from dataclasses import replace

import numpy as np
import pytest

from assistant.heat.bird import priors
from assistant.heat.bird.evidence import Evidence, Kitchen
from assistant.heat.bird.kitchen import learn
from assistant.heat.bird.roast_time import duration
from tests.heat.bird.scenes import bird, evening

KITCHENS = {"slow": 1.25, "fast": 0.8}


def cooked(pace: float, seed: int) -> Evidence:
    """An evening whose birds take `pace` times the usual: readings along the way."""
    rng = np.random.default_rng(seed)
    pounds = float(rng.uniform(4.5, 6.5))
    usual = duration(pounds * 0.4536, air_c=188.0).done.q50 or 0.0
    done = pace * usual / 60.0 * float(rng.normal(1.0, 0.03))
    shares = ((0.5, 68.0), (0.62, 92.0), (0.75, 120.0), (0.88, 145.0), (1.0, 166.0))
    readings = [(done * t, f + 2.0 + float(rng.normal(0.0, 1.5))) for t, f in shares]
    grill = [(done * t, 370.0 + float(rng.normal(0.0, 5.0))) for t in (0.02, 0.3, 0.6, 0.9)]
    return evening(bird(*readings, pounds=pounds), grill=grill)


def first_forecast(kitchen: Kitchen) -> tuple[float, float]:
    """Middle and width, in minutes, of the time for a 5.5 lb bird."""
    told = duration(5.5 * 0.4536, air_c=188.0, kitchen=kitchen).done
    low, middle, high = ((value or np.nan) / 60.0 for value in (told.q10, told.q50, told.q90))
    return middle, high - low


@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(KITCHENS))
def test_ten_cooks_move_and_narrow_the_first_forecast(name: str) -> None:
    pace = KITCHENS[name]
    world, world_width = first_forecast(Kitchen())
    few, _ = first_forecast(learn([cooked(pace, seed) for seed in range(2)]))
    many, width = first_forecast(learn([cooked(pace, seed) for seed in range(10)]))
    truth = pace * world
    assert abs(many - truth) < 0.5 * abs(world - truth)
    assert abs(many - truth) <= abs(few - truth) + 2.0
    assert width < 0.75 * world_width


@pytest.mark.parametrize("pace", [1.25, 0.75])
def test_three_cooks_halve_a_bias_of_a_quarter(pace: float) -> None:
    """Each cook is foretold by what those before it taught: how much of the world prior's
    bias (log of the time) is left after none, three and nine."""
    cooks = [cooked(pace, seed) for seed in range(9)]
    world, _ = first_forecast(Kitchen())
    left = [
        np.log(first_forecast(learn(cooks[:taught]))[0] / (pace * world)) / -np.log(pace)
        for taught in (0, 3, 9)
    ]
    assert left[0] == pytest.approx(1.0)
    assert abs(left[1]) < 0.5
    assert abs(left[2]) <= abs(left[1])


@pytest.mark.slow
def test_one_odd_cook_cannot_wreck_what_nine_taught() -> None:
    nine = [cooked(0.8, seed) for seed in range(9)]
    good, _ = first_forecast(learn(nine))
    spoiled, _ = first_forecast(learn([*nine, cooked(1.9, 99)]))
    world, _ = first_forecast(Kitchen())
    assert abs(spoiled - good) < 0.35 * abs(world - good)


def test_nothing_read_teaches_nothing() -> None:
    assert learn([]) == Kitchen()
    assert learn([evening(bird())]) == Kitchen()


def test_what_was_learned_is_a_proper_prior() -> None:
    kitchen = learn([cooked(1.0, seed) for seed in range(3)])
    assert kitchen.cooks == 3
    assert [name for name, _, _ in kitchen.shift] == list(priors.NAMES)
    _, cov = priors.shared_prior(kitchen)
    assert np.linalg.eigvalsh(cov).min() > 0.0
    ties = np.array(kitchen.ties)
    np.testing.assert_allclose(ties, ties.T, atol=1e-9)
    np.testing.assert_allclose(np.diag(ties), 1.0)
    assert all(
        sd <= unknown.kitchen * 1.0001
        for (_, _, sd), unknown in zip(kitchen.shift, priors.UNKNOWNS, strict=True)
    )


def test_a_grill_held_hotter_than_its_band_is_learned() -> None:
    """Readings twenty degrees C above the middle of the band, cook after cook."""
    hot = [
        replace(
            one,
            grill=tuple(
                replace(read, temperature_c=read.temperature_c + 22.0) for read in one.grill
            ),
        )
        for one in (cooked(0.9, seed) for seed in range(6))
    ]
    assert learn(hot).grill_shift_c > 8.0
    assert abs(learn([cooked(0.9, seed) for seed in range(6)]).grill_shift_c) < 6.0
