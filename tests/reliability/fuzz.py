"""Hostile input at random: python -m tests.reliability.fuzz --minutes 5"""

import argparse
import itertools
import math
import sys
import time
from collections import Counter

from hypothesis import HealthCheck, Phase, given, seed, settings

from tests.reliability.hostile import TARGETS, Target

ROUND = 200  # inputs of one target at a time,
TURN_S = 4.0  # or as many as are tried in this: one target must not eat the others' time


def attack(
    target: Target,
    number: int,
    inputs: int = ROUND,
    *,
    shrinks: bool = True,
    seconds: float = math.inf,
) -> int:
    """Try so many inputs, the same for the same number, begun within so many seconds; how many.
    Raises what they break, brought down to the least that does (`shrinks`)."""
    tried = 0
    broken = False
    ends = time.monotonic() + seconds
    phases = (Phase.generate, *((Phase.shrink,) if shrinks else ()))

    @seed(number)
    @settings(
        max_examples=inputs, database=None, deadline=None, phases=phases,
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(target.inputs)
    def attempt(value: object) -> None:
        nonlocal tried, broken
        if time.monotonic() > ends and not broken:  # what broke something is shrunk to the end
            return
        tried += 1
        try:
            target.check(value)
        except BaseException:
            broken = True
            raise

    attempt()
    return tried


def main() -> int:
    """Attack until the time is up; print what was tried; 1 if anything broke."""
    parser = argparse.ArgumentParser(prog="python -m tests.reliability.fuzz")
    parser.add_argument("--minutes", type=float, default=5.0)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    ends = time.monotonic() + 60.0 * options.minutes
    tried: Counter[str] = Counter()
    failures: dict[str, str] = {}
    turns = ((number, one) for number in itertools.count(options.seed) for one in TARGETS)
    for number, target in turns:
        if time.monotonic() > ends:
            break
        if target.name in failures:
            continue
        try:
            tried[target.name] += attack(target, number, seconds=TURN_S)
        except BaseException as error:
            if isinstance(error, KeyboardInterrupt):
                raise
            failures[target.name] = f"--seed {number}: {error!r}"
    for name, failure in failures.items():
        print(f"{name}: {failure}")
    print(", ".join(f"{number} {name}" for name, number in tried.items()))
    print(f"{tried.total()} hostile inputs: {len(failures)} failures")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
