"""How soon the ears decide: `python -m tests.benchmarks.hearing_latency --count 40`.

Development commands are fed to the live listener at the pace of the clock, clean and in
noise. Beside the ears as they are stand ears that wait for both listeners every time.
Times run from the end of the last speech, as the voice-activity model has it.
"""

import argparse
import statistics

from assistant.ears.ears import Ears
from assistant.ears.evidence import Evidence
from assistant.live.turn import Turn
from tests.benchmarks import corpora
from tests.benchmarks.corpora import DEVELOPMENT
from tests.benchmarks.hearing_evidence import Item
from tests.benchmarks.hearing_live import room


class PatientEars(Ears):
    """Ears that do nothing ahead and decide when both listeners have said all they can."""

    def is_enough(self, evidence: Evidence) -> bool:
        """Never, before everybody was asked."""
        return evidence.asked == "closely"

    def hear_ahead(self, samples: object) -> None:
        """Nothing."""


def row(items: list[Item], label: str, kind: type[Ears]) -> str:
    """One line of the table; the last turn of an utterance counts."""
    turns: list[tuple[Item, Turn]] = []
    with room(kind=kind) as listening:
        for item in items:
            said = listening.speak(item.make())
            turns += [(item, said[-1])] if said else []
    waits = sorted(turn.decided_s - turn.speech_end_s for _, turn in turns)
    right = sum(
        turn.heard.command == item.truth and turn.heard.outcome in ("accept", "stress")
        for item, turn in turns
    )
    p95 = waits[round(0.95 * (len(waits) - 1))]
    within = sum(wait <= 0.3 for wait in waits)
    return (
        f"| {label} | {len(items)} | {statistics.median(waits) * 1000:.0f} | {p95 * 1000:.0f} "
        f"| {within} | {right} |"
    )


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--quiet-only", action="store_true", help="no noise")
    asked = parser.parse_args()
    clean = corpora.spoken_commands(asked.count, DEVELOPMENT)
    noises = {"clean": clean}
    if not asked.quiet_only:
        noises["10 dB"] = corpora.in_noise(clean, 10)
    print("| ears | n | median ms | 95th percentile ms | within 300 ms | taken rightly |")
    print("|---|---|---|---|---|---|")
    for noise, items in noises.items():
        print(row(items, f"both always waited for, {noise}", PatientEars), flush=True)
        print(row(items, f"as they are, {noise}", Ears), flush=True)


if __name__ == "__main__":
    main()
