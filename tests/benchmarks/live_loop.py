"""The live loop on a virtual sound card: `python -m tests.benchmarks.live_loop --minutes 15`.

Speaks a cook to the running program, with grill noise and table talk, kills and
restarts the sound server twice, and prints what was understood, what it did by
itself, how long tone and words took, and what it cost.
"""

import argparse
import sys
from math import isfinite
from os import cpu_count, getloadavg

import numpy as np

from tests.live.live_run import REPLY_S, Outcome, Spoken, run
from tests.live.replies import recognised_back
from tests.live.sound_server import NoSoundServerError

LINE_S = REPLY_S + 0.8


def delays(values: list[float]) -> str:
    """Median and 95th percentile in milliseconds."""
    if not values:
        return "none"
    middle, high = np.quantile(values, [0.5, 0.95])
    return f"{middle * 1000:.0f} and {high * 1000:.0f} ms (n = {len(values)})"


def share(part: list[Spoken], of: list[Spoken]) -> str:
    """Percent, and both counts."""
    return f"{100 * len(part) / max(1, len(of)):.1f} % ({len(part)} of {len(of)})"


def report(outcome: Outcome) -> str:
    """The table."""
    meant = [one for one in outcome.spoken if one.line.means is not None]
    over = [one for one in meant if one.line.over]
    commands = [one for one in meant if not one.line.over]
    understood = [one for one in commands if one.understood]
    tones = [one.tone_s for one in understood if one.tone_s is not None]
    words = [one.words_s for one in understood if one.words_s is not None]
    talk = len(outcome.spoken) - len(meant)
    right, recorded = recognised_back([one for one in outcome.spoken if not one.line.over])
    returns = ", ".join(
        f"{seconds:.1f} s" if isfinite(seconds) else "never" for seconds in outcome.returns_s
    )
    silent = outcome.silent_cpu_s / outcome.silent_s * 600
    rows = (
        ("commands understood", share(understood, commands), "97 %"),
        ("said into its own speech, as loud as that",
         share([one for one in over if one.understood], over), "85 %"),
        ("reactions to itself or to nothing", f"{len(outcome.self_triggers)}", "0"),
        (f"answers to {talk} lines of table talk", f"{len(outcome.false_answers)}", "0"),
        ("from the last sound of speech to the tone, median and 95th percentile", delays(tones),
         "300 and 600 ms"),
        ("the same to the words", delays(words), "450 and 600 ms"),
        ("listening again after the sound server died and came back", returns or "not tried", ""),
        ("replies recognised back", f"{right} of {recorded} recorded", ""),
        ("processor", f"{outcome.cpu_s / outcome.minutes / 60:.2f} cores in all; {silent:.0f} "
         "core-seconds in 10 minutes of silence", ""),
        ("memory of all processes", f"{outcome.memory_mb:.0f} MB", ""),
        ("length, and load of the machine by others and this", f"{outcome.minutes:.1f} min, "
         f"{getloadavg()[2]:.1f} of {cpu_count()} cores", ""),
    )  # fmt: skip
    lines = ["| what | measured | goal |", "|---|---|---|"]
    return "\n".join(lines + [f"| {' | '.join(row)} |" for row in rows])


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
    for line in (*outcome.self_triggers, *outcome.false_answers):
        print(f"nobody asked: {line}", file=sys.stderr)
    for text in outcome.errors:
        print(f"it wrote: {text}", file=sys.stderr)
    print(report(outcome))


if __name__ == "__main__":
    main()
