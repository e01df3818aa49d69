"""The real program, killed: python -m tests.reliability.kills --count 300

`turnspit cook --typed --json` is fed an evening and killed with SIGKILL at a random
instant; then every event it got out on standard output, and every sentence it said, must
follow from what the journal holds, and the program is started again on it.
"""

import argparse
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
from typing import IO

from assistant.cook.vocabulary.codec import event_json
from assistant.cook.vocabulary.events import Recorded, WordsHeard
from assistant.journal.reader import JournalReader
from assistant.session.retold import moments

ROOT = Path(__file__).parents[2]
PROGRAM = (sys.executable, "-m", "assistant")
KILLS_A_JOURNAL = 12  # then a new evening is begun
LINES = 60  # of an evening

Fact = tuple[str, str]  # an event's name and its slots as JSON


@dataclass(slots=True)
class Tally:
    """What was tried and what came of it."""

    kills: int = 0
    facts: int = 0
    sentences: int = 0
    unsaid: int = 0  # committed, and killed before it was acknowledged
    back_s: list[float] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)


def _words(chance: random.Random) -> str:
    """Words that are each recorded at once, with numbers of their own."""
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
        lines = [child.stdout.readline()]
        back_s = time.monotonic() - started
        live = chance.choice([_anywhere, _at_a_sentence])
        lines += live(child.stdin, child.stdout, chance)
        child.kill()
        lines += child.stdout.readlines()
    return [json.loads(line) for line in lines if line.endswith("\n")], back_s


def _anywhere(given: IO[str], out: IO[str], chance: random.Random) -> list[str]:
    """The lines until a random instant of an evening typed in one go."""
    given.write("".join(f"{_words(chance)}\n" for _ in range(LINES)))
    given.flush()
    lines = [out.readline() for _ in range(chance.randint(0, 100))]
    time.sleep(chance.random() * 0.03)
    return lines


def _at_a_sentence(given: IO[str], out: IO[str], chance: random.Random) -> list[str]:
    """The lines until the instant a sentence is said, of an evening typed word by word."""
    lines: list[str] = []
    for _ in range(chance.randint(1, LINES // 4)):
        given.write(f"{_words(chance)}\n")
        given.flush()
        while not lines or '"said"' not in lines[-1]:
            lines.append(out.readline())
            if not lines[-1]:
                return lines
        lines.append("")
    return lines


def on_disk(home: Path) -> tuple[Recorded, ...]:
    """The journal, in order."""
    with JournalReader(home / "turnspit" / "journal.sqlite3") as reader:
        return reader.events(reader.find().id)


def facts(recorded: Sequence[Recorded]) -> list[Fact]:
    """What was recorded, as the lines of standard output tell it."""
    events = (entry.event for entry in recorded)
    named = [event_json(event) for event in events if not isinstance(event, WordsHeard)]
    return [(name, json.dumps(slots)) for name, slots in named]


def told(recorded: Sequence[Recorded], after: int) -> list[str]:
    """What the program may have said of what it recorded after event `after`: no more than
    follows from the journal."""
    later = (moment for moment in moments(recorded) if moment.seq > after)
    lines = (line for moment in later for line in moment.lines)
    return [str(line.fields["text"]) for line in lines if line.kind == "said"]


def run(count: int, seed: int = 1, program: Sequence[str] = PROGRAM) -> Tally:
    """Kill the program `count` times."""
    chance, tally = random.Random(seed), Tally()
    while tally.kills < count:
        with tempfile.TemporaryDirectory() as folder:
            before: tuple[Recorded, ...] = ()
            for _ in range(min(KILLS_A_JOURNAL, count - tally.kills)):
                before = _kill_and_compare(Path(folder), before, chance, program, tally)
    return tally


def _kill_and_compare(
    home: Path, before: tuple[Recorded, ...], chance: random.Random, program: Sequence[str],
    tally: Tally,
) -> tuple[Recorded, ...]:  # fmt: skip
    lines, back_s = kill_once(home, chance, program)
    out = [
        (str(line["name"]), json.dumps(line["fields"])) for line in lines if line["kind"] == "event"
    ]
    said = [str(line["text"]) for line in lines if line["kind"] == "said"]
    now = on_disk(home)
    new = facts(now[len(before) :])
    tally.kills += 1
    tally.facts += len(out)
    tally.sentences += len(said)
    tally.unsaid += len(new) - len(out)
    tally.back_s.append(back_s)
    if tally.kills % 50 == 0:
        print(f"{tally.kills} kills so far, {len(tally.lost)} lost facts", file=sys.stderr)
    if not lines:
        tally.lost.append(f"kill {tally.kills}: the program did not start")
    if now[: len(before)] != before:
        tally.lost.append(f"kill {tally.kills}: facts of an earlier start are gone")
    elif new[: len(out)] != out:
        tally.lost.append(f"kill {tally.kills}: an acknowledged fact is gone")
    elif (kept := told(now, len(before))[: len(said)]) != said:
        more = next((one for one in said if one not in kept), "")
        tally.lost.append(f"kill {tally.kills}: said and not on disk: {more!r}")
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
        f"{tally.kills} kills, {tally.facts} facts acknowledged, {tally.sentences} sentences said, "
        f"{tally.unsaid} facts more on disk than could be told: {len(tally.lost)} kills lost some"
    )
    print(
        f"first words after the start: {statistics.median(tally.back_s):.1f} s at the median, "
        f"{max(tally.back_s):.1f} s at most"
    )
    return 1 if tally.lost else 0


if __name__ == "__main__":
    sys.exit(main())
