"""What past cooks in one kitchen do for the first forecast of the next one."""

from dataclasses import dataclass, replace

import numpy as np

from assistant.heat.bird.evidence import Evidence, Kitchen, Span
from assistant.heat.bird.kitchen import learn
from tests.benchmarks.foresight_scores import LEVELS, Array, Score, quantiles_min, score
from tests.benchmarks.kitchen_sim import Cook, cook_all
from tests.benchmarks.kitchen_sim_world import draw_evening, draw_house

PAST, NEXT = 10, 4
SLOW = 1.25  # a kitchen whose clock runs so: a bias of the prior
TELLS_LATER_S = 600.0
DEVELOPMENT_HOUSES, HOUSES = 41_000, 8


@dataclass(frozen=True)
class Learned:
    """Scores of the first forecasts with the world prior, after ten cooks, and after ten
    of which one has weights written down in the wrong unit."""

    world: Score
    ten: Score
    odd: Score


@dataclass(frozen=True)
class Prequential:
    """First forecasts of ten cooks in turn, each after those before it, over kitchens: the
    mean log of forecast over truth by number of cooks before, plain and where all takes
    1.25 times as long; and their interval scores, minutes."""

    bias: tuple[float, ...]
    slow_bias: tuple[float, ...]
    interval: tuple[float, ...]


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


def slowed(cook: Evidence) -> Evidence:
    """The same cook, all of it taking `SLOW` times as long."""

    def span(one: Span) -> Span:
        return Span(SLOW * one.start_s, None if one.end_s is None else SLOW * one.end_s)

    birds = tuple(
        replace(
            bird,
            on_heat=tuple(span(one) for one in bird.on_heat),
            readings=tuple(replace(one, at_s=SLOW * one.at_s) for one in bird.readings),
        )
        for bird in cook.birds
    )
    return replace(
        cook, birds=birds, grill=tuple(replace(one, at_s=SLOW * one.at_s) for one in cook.grill),
        fuel_added_s=tuple(SLOW * at_s for at_s in cook.fuel_added_s),
    )  # fmt: skip


def prequential(first_seed: int, houses: int) -> Prequential:
    """Ten chickens' evenings in each of some kitchens, each foretold after those before."""
    bias, slow_bias, intervals = (np.zeros((houses, PAST)) for _ in range(3))
    for number in range(houses):
        house = draw_house(np.random.default_rng(first_seed + number))
        seeds = range(first_seed * 10 + number * 100, first_seed * 10 + number * 100 + PAST)
        cooks = cook_all([draw_evening(seed, house, "chicken") for seed in seeds])
        told = [cook.evidence(max(cook.done_s) + TELLS_LATER_S) for cook in cooks]
        for place, cook in enumerate(cooks):
            foretold, truth = first_forecasts([cook], learn(told[:place]))
            bias[number, place] = np.mean(np.log(foretold[:, 49] / truth))
            intervals[number, place] = score(foretold, truth).interval
            kitchen = learn([slowed(one) for one in told[:place]])
            foretold, truth = first_forecasts([cook], kitchen)
            slow_bias[number, place] = np.mean(np.log(foretold[:, 49] / (SLOW * truth)))
    means = (
        tuple(float(one) for one in part.mean(axis=0)) for part in (bias, slow_bias, intervals)
    )
    return Prequential(*means)


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


def main() -> None:
    """Print the prequential scores of ten cooks."""
    found = prequential(DEVELOPMENT_HOUSES, HOUSES)
    print(f"first forecasts of ten cooks in turn, {HOUSES} kitchens of the indirect grill")
    print(f"{'cooks before':28}" + "".join(f"{n:7d}" for n in range(PAST)))
    for title, values in (
        ("interval score, minutes", found.interval),
        ("log bias", found.bias),
        ("log bias, all 1.25 as slow", found.slow_bias),
    ):
        print(f"{title:28}" + "".join(f"{value:7.2f}" for value in values))


if __name__ == "__main__":
    main()
