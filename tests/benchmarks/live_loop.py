"""The live loop on a virtual sound card: `python -m tests.benchmarks.live_loop --minutes 15`.

Speaks a cook to the running program, with grill noise and table talk, kills and
restarts the sound server twice, and prints what was understood, what it did by
itself, how long tone and words took, and what it cost.
"""

import argparse
import sys

import numpy as np

from tests.live.live_run import REPLY_S, Outcome, run
from tests.live.replies import recognised_back
from tests.live.sound_server import NoSoundServerError

LINE_S = REPLY_S + 2.2
TONE_GOAL_S, WORDS_GOAL_S = 0.45, 0.65


def delays(values: list[float]) -> str:
    """Median and 95th percentile in milliseconds."""
    if not values:
        return "none"
    middle, high = np.quantile(values, [0.5, 0.95])
    return f"median {middle * 1000:.0f} ms, 95th percentile {high * 1000:.0f} ms (n={len(values)})"


def report(outcome: Outcome) -> str:
    """The figures, a line each."""
    over = [one for one in outcome.spoken if one.line.over]
    commands = [one for one in outcome.spoken if one.line.means is not None and not one.line.over]
    heard_over = [one for one in over if one.understood]
    understood = [one for one in commands if one.understood]
    tones = [one.tone_s for one in understood if one.tone_s is not None]
    words = [one.words_s for one in understood if one.words_s is not None]
    talk = len(outcome.spoken) - len(commands) - len(over)
    right, recorded = recognised_back([one for one in outcome.spoken if not one.line.over])
    returns = ", ".join(f"{seconds:.2f} s" for seconds in outcome.returns_s) or "not tried"
    silent = outcome.silent_cpu_s / outcome.silent_s * 600
    return "\n".join(
        (
            f"minutes                      {outcome.minutes:.1f}",
            f"commands understood          {len(understood)} of {len(commands)}",
            f"  said into its own speech   {len(heard_over)} of {len(over)}, as loud as it",
            f"reactions to {talk} lines of talk and to itself   {len(outcome.self_triggers)}",
            f"replies recognised back       {right} of {recorded} recorded",
            f"speech to tone               {delays(tones)}; goal {TONE_GOAL_S * 1000:.0f}",
            f"speech to words              {delays(words)}; goal {WORDS_GOAL_S * 1000:.0f}",
            f"listening again after the sound server's return: {returns}",
            f"processor                    {outcome.cpu_s / outcome.minutes / 60:.2f} cores in all;"
            f" {silent:.0f} core-seconds in 10 minutes of silence",
            f"memory                       {outcome.memory_mb:.0f} MB, all processes",
        )
    )


def main() -> None:
    """Run and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--minutes", type=float, default=15.0)
    parser.add_argument("--small", action="store_true", help="the profile for small machines")
    options = parser.parse_args()
    count = max(6, round(options.minutes * 60 / LINE_S))
    try:
        outcome = run(
            count,
            *(["--small"] if options.small else []),
            silent_s=20.0,
            progress=lambda text: print(text, file=sys.stderr, flush=True),
        )
    except NoSoundServerError as error:
        sys.exit(f"no virtual sound card here: {error}")
    for one in outcome.spoken:
        if one.line.means is not None:
            print(one.summary(), file=sys.stderr)
    for line in outcome.self_triggers:
        print(f"by itself: {line}", file=sys.stderr)
    print(report(outcome))


if __name__ == "__main__":
    main()
