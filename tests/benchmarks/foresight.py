"""Forecasts against rules of thumb and an oracle, on simulated kitchens.

    python -m tests.benchmarks.foresight [--fast] [--cooks N] [--figure PATH]

Two splits: `looked-at` may be tuned on and gives every rule of thumb its spread,
`scored` is only scored. A case is one core reading of one bird; forecast is when
that bird's coldest spot reaches the mark. Everything is seeded.
"""

import argparse
import sys
import time
from collections.abc import Sequence

import numpy as np

from assistant.heat.ensemble import ensemble, weighted_quantiles
from assistant.heat.evidence import Evidence, Kitchen
from tests.benchmarks import foresight_rules as rules
from tests.benchmarks.foresight_scores import (
    BINS,
    LEVELS,
    Array,
    Case,
    by_time_to_go,
    normal_quantiles,
    score,
    spread,
    stacked,
)
from tests.benchmarks.kitchen_sim import DONE_C, SAUCE_C, Cook, cook_all, oracle_done_s
from tests.benchmarks.kitchen_sim_world import draw_evening

LOOKED_AT, SCORED = 1_000, 900_000
NEVER_S = 9 * 3600.0
RULES = ("minutes per pound", "last two readings", "exponential approach", "oracle")


def quantiles_min(evidence: Evidence, now_s: float, index: int, mark: str) -> Array:
    """Our 99 quantiles of the minutes to go."""
    cloud = ensemble(evidence, now_s)
    times = cloud.done_s[index] if mark == "done" else cloud.sauce_s[index]
    times = np.where(np.isnan(times), now_s + NEVER_S, times)
    found = weighted_quantiles(times, cloud.weight, tuple(LEVELS))
    return np.maximum((np.array(found) - now_s) / 60.0, 0.0)


def rule_points(cook: Cook, bird: int, now_s: float, mark: str) -> dict[str, float]:
    """Minutes to go by each rule of thumb; where a rule has no answer, minutes per pound."""
    told = cook.evidence(now_s).birds[bird]
    mark_f = {"done": DONE_C, "sauce": SAUCE_C}[mark] * 1.8 + 32.0
    sauced = len(told.on_heat) > 1
    to_come = 0.0 if sauced or mark == "sauce" else rules.OFF_S
    readings = [(r.at_s, r.temperature_c * 1.8 + 32.0) for r in told.readings]
    air = [value * 1.8 + 32.0 for at, value in cook.grill if at <= now_s]
    by_weight = rules.minutes_per_pound(told.kind, told.mass_kg, sauced)
    if mark == "sauce":
        by_weight = 0.8 * (by_weight - rules.OFF_S)
    line = rules.last_two(readings, mark_f, to_come)
    bend = rules.exponential(readings, float(np.mean(air)) if air else 375.0, mark_f, to_come)
    answers = zip(RULES, (by_weight, line, bend), strict=False)
    return {
        name: max(((by_weight if at is None else at) - now_s) / 60.0, 0.0) for name, at in answers
    }


def cases_of(cooks: Sequence[Cook], mark: str) -> list[Case]:
    """All cases of these cooks: one for every reading before the mark."""
    cases = []
    foretold = oracle_done_s(cooks)
    for number, (cook, (sauce_s, done_s)) in enumerate(zip(cooks, foretold, strict=True)):
        truth_s = cook.done_s if mark == "done" else cook.sauce_s
        for shot, (bird, at_s, _) in enumerate(cook.readings):
            if not at_s < truth_s[bird]:
                continue
            points = rule_points(cook, bird, at_s, mark)
            oracle_s = (done_s if mark == "done" else sauce_s)[shot]
            points["oracle"] = max((oracle_s - at_s) / 60.0, 0.0)
            ours = quantiles_min(cook.evidence(at_s), at_s, bird, mark)
            cases.append(Case(number, (truth_s[bird] - at_s) / 60.0, points, ours))
        if sys.stderr.isatty():
            sys.stderr.write(f"\r{mark}: cook {number + 1} of {len(cooks)} ")
    return cases


def rule_quantiles(cases: Sequence[Case], learned: Sequence[Case], name: str) -> Array:
    """A rule's points with the spread its errors had on the looked-at split."""
    truth = np.array([case.to_go for case in learned])
    points = np.array([case.points[name] for case in learned])
    at = np.array([case.points[name] for case in cases])
    return normal_quantiles(at, spread(points, truth, at))


def table(title: str, cases: Sequence[Case], learned: Sequence[Case]) -> dict[str, float]:
    """Print one split's table; returns the mean interval scores by method."""
    ours, truth = stacked(cases)
    methods = {"ours": ours} | {name: rule_quantiles(cases, learned, name) for name in RULES}
    cooks = len({case.cook for case in cases})
    print(f"\n{title}: {len(cases)} readings of {cooks} cooks; minutes")
    head = "interval   CRPS  median    p90   bias  last30   50%   80%   95%"
    print(f"{'':22}{head}   " + "  ".join(f"{low:.0f}-{high:.0f} min" for low, high in BINS))
    found = {}
    for name, quantiles in methods.items():
        s = score(quantiles, truth)
        bins = "  ".join(f"{a:4.1f}/{b:5.1f}" for a, b, _ in by_time_to_go(quantiles, truth))
        print(
            f"{name:22}{s.interval:8.1f}{s.crps:7.2f}{s.median:8.1f}{s.p90:7.1f}{s.bias:7.1f}"
            f"{s.late_median:8.1f}  " + " ".join(f"{100 * c:4.0f}%" for c in s.coverage.values())
            + f"   {bins}"
        )  # fmt: skip
        found[name] = s.interval
    print("PIT histogram of ours (10 bins):", *score(ours, truth).pit)
    best = min(found[name] for name in RULES if name != "oracle")
    print(f"ours / best rule of thumb {found['ours'] / best:.2f}, "
          f"ours / oracle {found['ours'] / found['oracle']:.2f}")  # fmt: skip
    return found


def first_forecasts(cooks: Sequence[Cook], kitchen: Kitchen) -> tuple[Array, Array]:
    """Our quantiles when the birds go on, and the truth; minutes."""
    from dataclasses import replace

    quantiles, truth = [], []
    for cook in cooks:
        evidence = replace(cook.evidence(0.0), kitchen=kitchen, grill=())
        for bird, done_s in enumerate(cook.done_s):
            quantiles.append(quantiles_min(evidence, 0.0, bird, "done"))
            truth.append(done_s / 60.0)
    return np.array(quantiles), np.array(truth)


def main() -> None:
    """Run both splits and print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--fast", action="store_true", help="a tenth of the cooks")
    parser.add_argument("--cooks", type=int, default=200, help="cooks in each split")
    parser.add_argument("--looked-at-only", action="store_true", help="leave the scored split")
    parser.add_argument("--marks", nargs="*", default=["done", "sauce"])
    arguments = parser.parse_args()
    count = arguments.cooks // 10 if arguments.fast else arguments.cooks
    began = time.process_time()
    looked = cook_all([draw_evening(LOOKED_AT + i) for i in range(count)])
    scored = None
    if not arguments.looked_at_only:
        scored = cook_all([draw_evening(SCORED + i) for i in range(count)])
    for mark in arguments.marks:
        learned = cases_of(looked, mark)
        table(f"{mark} mark, looked-at split", learned, learned)
        if scored is not None:
            table(f"{mark} mark, SCORED split", cases_of(scored, mark), learned)
    for title, cooks in (("looked-at", looked), ("scored", scored)):
        if cooks is not None:
            s = score(*first_forecasts(cooks, Kitchen()))
            print(f"\nbefore any reading, {title} split: interval {s.interval:.1f}, CRPS "
                  f"{s.crps:.2f}, median error {s.median:.1f}, bias {s.bias:.1f}, 80 % holds "
                  f"{100 * s.coverage[80]:.0f} %")  # fmt: skip
    print(f"\n{time.process_time() - began:.0f} s of processor time")


if __name__ == "__main__":
    main()
