"""What ten cooks in one kitchen do for the first forecast of the next one."""

from dataclasses import dataclass, replace

import numpy as np

from assistant.heat.bird.evidence import Evidence, Kitchen
from assistant.heat.bird.kitchen import learn
from tests.benchmarks.foresight_scores import LEVELS, Array, Score, quantiles_min, score
from tests.benchmarks.kitchen_sim import Cook, cook_all
from tests.benchmarks.kitchen_sim_world import draw_evening, draw_house

PAST, NEXT = 10, 4
TELLS_LATER_S = 600.0


@dataclass(frozen=True)
class Learned:
    """Scores of the first forecasts with the world prior, after ten cooks, and after ten
    of which one has weights written down in the wrong unit."""

    world: Score
    ten: Score
    odd: Score


def first_forecasts(cooks: list[Cook], kitchen: Kitchen) -> tuple[Array, Array]:
    """Our quantiles when the birds go on (nothing read yet), and the truth; minutes."""
    quantiles, truth = [], []
    for cook in cooks:
        evidence = replace(cook.evidence(0.0), kitchen=kitchen, grill=())
        for bird, done_s in enumerate(cook.done_s):
            quantiles.append(quantiles_min(evidence, 0.0, bird, "done"))
            truth.append(done_s / 60.0)
    return np.array(quantiles).reshape(-1, LEVELS.size), np.array(truth)


def spoiled(cook: Evidence) -> Evidence:
    """A cook whose pounds were taken for kilograms."""
    return replace(
        cook,
        birds=tuple(
            replace(bird, mass_kg=None if bird.mass_kg is None else bird.mass_kg * 2.2)
            for bird in cook.birds
        ),
    )


def learning(first_seed: int, houses: int) -> Learned:
    """Ten chickens' evenings in each of some kitchens, and four more to be foretold."""
    evenings = []
    for number in range(houses):
        house = draw_house(np.random.default_rng(first_seed + number))
        seeds = range(first_seed * 10 + number * 100, first_seed * 10 + number * 100 + PAST + NEXT)
        evenings += [draw_evening(seed, house, "chicken") for seed in seeds]
    cooks = cook_all(evenings)
    found: dict[str, list[tuple[Array, Array]]] = {"world": [], "ten": [], "odd": []}
    for number in range(houses):
        mine = cooks[number * (PAST + NEXT) : (number + 1) * (PAST + NEXT)]
        past = [cook.evidence(max(cook.done_s) + TELLS_LATER_S) for cook in mine[:PAST]]
        kitchens = {
            "world": Kitchen(), "ten": learn(past), "odd": learn([*past[:-1], spoiled(past[-1])]),
        }  # fmt: skip
        for name, kitchen in kitchens.items():
            found[name].append(first_forecasts(mine[PAST:], kitchen))
    return Learned(
        **{
            name: score(*(np.concatenate(part) for part in zip(*pairs, strict=True)))
            for name, pairs in found.items()
        }
    )
