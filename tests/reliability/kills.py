"""The real program, killed: python -m tests.reliability.kills --count 300

`turnspit cook --typed --json` is fed an evening and killed with SIGKILL at a
random instant; then the journal is opened and compared with every event that was
acknowledged on standard output, and the program is started again on it.
"""

import argparse
import itertools
import json
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from assistant.cook.codec import event_json
from assistant.journal.reader import JournalReader

ROOT = Path(__file__).parents[2]
PROGRAM = (sys.executable, "-m", "assistant")
KILLS_A_JOURNAL = 12  # then a new evening is begun
PATIENCE_S = 60.0

Fact = tuple[str, str]  # an event's name and its slots as JSON


@dataclass(slots=True)
class Tally:
    """What was tried and what came of it."""

    kills: int = 0
    facts: int = 0
    read_backs: int = 0
    unsaid: int = 0  # committed, and killed before it was acknowledged
    back_s: list[float] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)


def script(chance: random.Random, lines: int = 60) -> str:
    """Words that are each recorded at once, with numbers of their own."""
    return "\n".join(_words(chance) for _ in range(lines)) + "\n"


def _words(chance: random.Random) -> str:
    bird = chance.randint(1, 4)
    pounds, ounces = chance.randint(2, 9), chance.randint(1, 15)
    return chance.choice([
        f"bird {bird} weighs {pounds} pounds {ounces} ounces",
        f"bird {bird} gets {chance.choice(['apricot', 'harissa', 'plain'])}",
        f"remind me in {chance.randint(5, 90)} minutes",
        f"bottom vent {chance.choice(['half', 'open', 'two thirds', 'a third'])}",
        f"grill is {chance.randint(200, 420)}", f"added {chance.randint(2, 40)} briquettes",
        "scratch that", "lid off", "lid on", "added wood",
    ])  # fmt: skip


def kill_once(
    home: Path, chance: random.Random, program: Sequence[str]
) -> tuple[list[dict[str, object]], float]:
    """Start the program on `home`, kill it somewhere; the lines it got out, and how
    long the first of them took."""
    environment = os.environ | {
        "XDG_DATA_HOME": str(home), "XDG_CONFIG_HOME": str(home / "config"),
        "PYTHONUNBUFFERED": "1",
    }  # fmt: skip
    started = time.monotonic()
    with subprocess.Popen(
        [*program, "cook", "--typed", "--json"],
        cwd=ROOT, env=environment, text=True, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
    ) as child:  # fmt: skip
        assert child.stdin is not None
        assert child.stdout is not None
        child.stdin.write(script(chance))
        child.stdin.flush()
        lines = [child.stdout.readline()]
        back_s = time.monotonic() - started
        lines += [child.stdout.readline() for _ in range(chance.randint(0, 100))]
        time.sleep(chance.random() * 0.03)
        child.kill()
        lines += child.stdout.readlines()
    return [json.loads(line) for line in lines if line.endswith("\n")], back_s


def on_disk(home: Path) -> list[Fact]:
    """The facts of the journal, in order."""
    with JournalReader(home / "turnspit" / "journal.sqlite3") as reader:
        events = [entry.event for entry in reader.events(reader.find().id)]
    named = [event_json(event) for event in events]
    return [(name, json.dumps(slots)) for name, slots in named if name != "heard"]


def run(count: int, seed: int = 1, program: Sequence[str] = PROGRAM) -> Tally:
    """Kill the program `count` times."""
    chance, tally = random.Random(seed), Tally()
    while tally.kills < count:
        with tempfile.TemporaryDirectory() as folder:
            before: list[Fact] = []
            for _ in range(min(KILLS_A_JOURNAL, count - tally.kills)):
                before = _kill_and_compare(Path(folder), before, chance, program, tally)
    return tally


def _kill_and_compare(
    home: Path, before: list[Fact], chance: random.Random, program: Sequence[str], tally: Tally
) -> list[Fact]:
    lines, back_s = kill_once(home, chance, program)
    said = [
        (str(line["name"]), json.dumps(line["fields"])) for line in lines if line["kind"] == "event"
    ]
    now = on_disk(home)
    tally.kills += 1
    tally.facts += len(said)
    tally.read_backs += sum(
        line["kind"] == "said" and earlier["kind"] == "event"
        for earlier, line in itertools.pairwise(lines)
    )
    tally.unsaid += len(now) - len(before) - len(said)
    tally.back_s.append(back_s)
    if tally.kills % 50 == 0:
        print(f"{tally.kills} kills so far, {len(tally.lost)} lost facts", file=sys.stderr)
    if not lines:
        tally.lost.append(f"kill {tally.kills}: the program did not start")
    if now[: len(before)] != before:
        tally.lost.append(f"kill {tally.kills}: facts of an earlier start are gone")
    elif now[len(before) : len(before) + len(said)] != said:
        tally.lost.append(f"kill {tally.kills}: an acknowledged fact is gone")
    return now


def main() -> int:
    """Print what was tried and what was lost; 1 if anything was."""
    parser = argparse.ArgumentParser(prog="python -m tests.reliability.kills")
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    tally = run(options.count, options.seed)
    for line in tally.lost[:20]:
        print(line)
    print(
        f"{tally.kills} kills, {tally.facts} facts acknowledged, {tally.read_backs} read back, "
        f"{tally.unsaid} more on disk before they could be said: {len(tally.lost)} kills lost facts"
    )
    print(
        f"first words after the start: {statistics.median(tally.back_s):.1f} s at the median, "
        f"{max(tally.back_s):.1f} s at most"
    )
    return 1 if tally.lost else 0


if __name__ == "__main__":
    sys.exit(main())
