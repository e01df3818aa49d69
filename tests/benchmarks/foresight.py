"""Forecasts against rules of thumb and an oracle, on simulated kitchens.

    python -m tests.benchmarks.foresight [--fast] [--cooks N] [--figure FILE]

Three invented worlds, a charcoal spit, an indirect grill built unlike it, and one of
printed times and reported curves that nothing is tuned on; then the reported cooks on a
spit. Of each world two splits: `looked-at` gives every rule of thumb its spread (and may
be tuned on in the first two), `scored` is only scored. A case is one core reading of one
bird; forecast is when that bird reaches the mark. Everything is seeded. The oracle knows
the simulator's bodies and today's fire up to the moment, not what is to come.
"""

import argparse
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType

import numpy as np

from assistant.heat.bird.evidence import Kitchen
from tests.benchmarks import (
    curve_sim,
    foresight_cost,
    foresight_figure,
    kitchen_sim,
    kitchen_sim_world,
    spit_sim,
    spit_sim_world,
)
from tests.benchmarks import foresight_rules as rules
from tests.benchmarks.foresight_learning import first_forecasts, learning
from tests.benchmarks.foresight_scores import (
    BINS,
    Array,
    Case,
    by_cook,
    by_time_to_go,
    normal_quantiles,
    quantiles_min,
    score,
    spread,
    stacked,
)
from tests.benchmarks.kitchen_sim import DONE_C, SAUCE_C, Cook
from tests.heat.bird.spit_reports import REPORTS, foretold

LOOKED_AT, SCORED = 1_000, 5_300_000  # the scored seeds are new since the widths were last set
SPIT_LOOKED_AT, SPIT_SCORED = 2_000, 8_100_000
CURVES_LOOKED_AT, CURVES_SCORED = 9_000, 9_400_000
SCORED_HOUSES = 530_000
RULES = ("minutes per pound", "last two readings", "exponential approach", "oracle")


@dataclass(frozen=True)
class World:
    """A simulated world: its name, modules and seeds."""

    name: str
    sim: ModuleType
    drawing: ModuleType
    looked_at: int
    scored: int

    def cooks(self, first_seed: int, count: int) -> list[Cook]:
        """Evenings simulated from these seeds."""
        found: list[Cook] = self.sim.cook_all(
            [self.drawing.draw_evening(first_seed + i) for i in range(count)]
        )
        return found


INDIRECT = World("indirect grill", kitchen_sim, kitchen_sim_world, LOOKED_AT, SCORED)
SPIT = World("charcoal spit", spit_sim, spit_sim_world, SPIT_LOOKED_AT, SPIT_SCORED)
CURVES = World("reported curves", curve_sim, curve_sim, CURVES_LOOKED_AT, CURVES_SCORED)
WORLDS = (CURVES, SPIT, INDIRECT)


def on_spit(cook: Cook) -> bool:
    """Whether its birds hang on a spit."""
    return "spit" in cook.evidence(0.0).heat


def rule_points(cook: Cook, bird: int, now_s: float, mark: str) -> dict[str, float]:
    """Minutes to go by each rule of thumb; where a rule has no answer, minutes per pound."""
    told = cook.evidence(now_s).birds[bird]
    mark_f = {"done": DONE_C, "sauce": SAUCE_C}[mark] * 1.8 + 32.0
    to_come = 0.0 if len(told.on_heat) > 1 or mark == "sauce" else rules.OFF_S
    readings = [(r.at_s, r.temperature_c * 1.8 + 32.0) for r in told.readings]
    air = [value * 1.8 + 32.0 for at, value in cook.grill if at <= now_s]
    by_weight = rules.minutes_per_pound(told.kind, told.mass_kg, spit=on_spit(cook))
    if mark == "sauce":
        by_weight = 0.8 * (by_weight - rules.OFF_S)
    line = rules.last_two(readings, mark_f, to_come)
    bend = rules.exponential(readings, float(np.mean(air)) if air else 375.0, mark_f, to_come)
    answers = zip(RULES, (by_weight, line, bend), strict=False)
    return {
        name: max(((by_weight if at is None else at) - now_s) / 60.0, 0.0) for name, at in answers
    }


def cases_of(cooks: Sequence[Cook], world: World = INDIRECT) -> list[Case]:
    """All cases of these cooks, for both marks: one for every reading before the mark."""
    cases = []
    told_by_oracle = world.sim.oracle_done_s(cooks)
    for number, (cook, times) in enumerate(zip(cooks, told_by_oracle, strict=True)):
        for shot, (bird, at_s, _) in enumerate(cook.readings):
            evidence = cook.evidence(at_s)
            for mark, truth_s, oracle_s in (
                ("sauce", cook.sauce_s[bird], times[0][shot]),
                ("done", cook.done_s[bird], times[1][shot]),
            ):
                if not at_s < truth_s:
                    continue
                points = rule_points(cook, bird, at_s, mark)
                points["oracle"] = max((oracle_s - at_s) / 60.0, 0.0)
                ours = quantiles_min(evidence, at_s, bird, mark)
                read = len(evidence.birds[bird].readings)
                cases.append(Case(number, mark, (truth_s - at_s) / 60.0, points, ours, read))
        if sys.stderr.isatty():
            sys.stderr.write(f"\rcook {number + 1} of {len(cooks)} ")
    return cases


def rule_quantiles(cases: Sequence[Case], learned: Sequence[Case], name: str) -> Array:
    """A rule's points with the spread its errors had on the looked-at split."""
    truth = np.array([case.to_go for case in learned])
    points = np.array([case.points[name] for case in learned])
    at = np.array([case.points[name] for case in cases])
    return normal_quantiles(at, spread(points, truth, at))


def table(title: str, cases: Sequence[Case], learned: Sequence[Case]) -> None:
    """Print one split's table."""
    ours, truth = stacked(cases)
    methods = {"ours": ours} | {name: rule_quantiles(cases, learned, name) for name in RULES}
    cooks = len({case.cook for case in cases})
    print(f"\n{title}: {len(cases)} readings of {cooks} cooks; minutes")
    head = "interval   CRPS  median    p90   bias  last30   50%   80%   95%"
    bins = "  ".join(f"{low:.0f}-{high:.0f} min" for low, high in BINS)
    print(f"{'':22}{head}   median/p90 error at {bins}")
    found = {}
    for name, quantiles in methods.items():
        s = score(quantiles, truth)
        parts = "  ".join(f"{a:4.1f}/{b:5.1f}" for a, b, _ in by_time_to_go(quantiles, truth))
        held = " ".join(f"{100 * share:4.0f}%" for share in s.coverage.values())
        print(
            f"{name:22}{s.interval:8.1f}{s.crps:7.2f}{s.median:8.1f}{s.p90:7.1f}{s.bias:7.1f}"
            f"{s.late_median:8.1f}  {held}   {parts}"
        )
        found[name] = s.interval
    print("PIT histogram of ours (10 bins):", *score(ours, truth).pit)
    best = min(found[name] for name in RULES if name != "oracle")
    print(
        f"interval score: ours / best rule of thumb {found['ours'] / best:.2f}, "
        f"ours / oracle {found['ours'] / found['oracle']:.2f}"
    )
    below, above = truth < ours[:, 9], truth > ours[:, 89]
    low, high = by_cook(cases, (~(below | above)).astype(float))
    print(
        f"80 % interval holds {100 * (1 - below.mean() - above.mean()):.0f} % [{100 * low:.0f}-"
        f"{100 * high:.0f}]; earlier {100 * below.mean():.0f} %, later {100 * above.mean():.0f} %"
    )
    number = np.array([case.number for case in cases])
    for part, chosen in (
        ("after the first reading", number == 1), ("after the second", number == 2),
        ("in the last 30 min", truth <= BINS[0][1]),
    ):  # fmt: skip
        if chosen.any():
            kept = {name: score(q[chosen], truth[chosen]).interval for name, q in methods.items()}
            best = min(kept[name] for name in RULES if name != "oracle")
            print(
                f"{part}: ours / best rule {kept['ours'] / best:.2f}, oracle / best rule "
                f"{kept['oracle'] / best:.2f} ({chosen.sum()} readings)"
            )


def by_weight_min(cooks: Sequence[Cook]) -> Array:
    """Minutes a pound of every bird as it goes on."""
    return np.array(
        [
            rules.minutes_per_pound(bird.kind, bird.mass_kg, spit=on_spit(cook)) / 60.0
            for cook in cooks for bird in cook.evidence(0.0).birds
        ]
    )  # fmt: skip


def before_reading(world: World, title: str, cooks: list[Cook], looked: list[Cook]) -> None:
    """Print the score of forecasts made when the birds go on, beside minutes a pound."""
    quantiles, truth = first_forecasts(cooks, Kitchen())
    s = score(quantiles, truth)
    points, learned = (by_weight_min(part) for part in (cooks, looked))
    took = np.array([done_s / 60.0 for cook in looked for done_s in cook.done_s])
    rule = score(normal_quantiles(points, spread(learned, took, points)), truth)
    print(
        f"before any reading, {world.name}, {title} split: interval {s.interval:.1f} "
        f"({s.interval / rule.interval:.2f} of minutes a pound), CRPS {s.crps:.2f}, "
        f"median error {s.median:.1f}, bias {s.bias:.1f}, 80 % holds {100 * s.coverage[80]:.0f} %"
    )


def judged(world: World, count: int, *, scored: bool) -> list[tuple[str, list[Cook], list[Case]]]:
    """Print a world's tables; its splits, the scored one last."""
    looked = world.cooks(world.looked_at, count)
    learned = cases_of(looked, world)
    splits = [("looked-at", looked, learned)]
    if scored:
        cooks = world.cooks(world.scored, count)
        splits.append(("SCORED", cooks, cases_of(cooks, world)))
    for mark in ("done", "sauce"):
        for title, _, cases in splits:
            chosen, spreads = ([c for c in part if c.mark == mark] for part in (cases, learned))
            table(f"{world.name}, {mark} mark, {title} split", chosen, spreads)
    print()
    for title, cooks, _ in splits:
        before_reading(world, title, cooks, looked)
    return splits


def reports() -> None:
    """Print first forecasts beside reported cooks on a motor-driven spit."""
    found = [foretold(row) for row in REPORTS]
    held = sum(one.low <= one.took <= one.high for one in found)
    bias = np.mean([np.log(one.took / one.middle) for one in found])
    print(f"\nreported spit cooks: {held} of {len(found)} within the 80 % interval of the first")
    print(f"forecast; reported times are {np.exp(bias):.2f} of its middle (tests/references)")


def learned_kitchens(houses: int) -> None:
    """Print what ten cooks in one kitchen are worth."""
    found = learning(SCORED_HOUSES, houses)
    print(f"\nfirst forecast of an evening, {houses} kitchens, 4 evenings each (scored seeds)")
    for title, s in (
        ("world prior", found.world),
        ("after ten cooks", found.ten),
        ("after ten, one of them odd", found.odd),
    ):
        print(
            f"{title:28}interval {s.interval:5.1f}, CRPS {s.crps:5.2f}, median error "
            f"{s.median:4.1f}, 80 % holds {100 * s.coverage[80]:.0f} %"
        )
    print(
        f"better by {100 * (1 - found.ten.interval / found.world.interval):.0f} % (interval), "
        f"with the odd cook by {100 * (1 - found.odd.interval / found.world.interval):.0f} %"
    )


def main() -> None:
    """Run both splits and print the tables."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--fast", action="store_true", help="a tenth of the cooks")
    parser.add_argument("--cooks", type=int, default=200, help="cooks in each split")
    parser.add_argument("--looked-at-only", action="store_true", help="leave the scored split")
    parser.add_argument("--figure", type=Path, help="write the calibration picture there")
    arguments = parser.parse_args()
    count = max(arguments.cooks // 10, 5) if arguments.fast else arguments.cooks
    began = time.process_time()
    for world in WORLDS:
        splits = judged(world, count, scored=not arguments.looked_at_only)
    reports()
    if not arguments.looked_at_only:
        learned_kitchens(max(count // 16, 2))
    print()
    foresight_cost.report()
    if arguments.figure is not None:
        foresight_figure.draw(splits[-1][2], splits[-1][0], arguments.figure)
    print(f"\n{time.process_time() - began:.0f} s of processor time for {count} cooks a split")


if __name__ == "__main__":
    main()
