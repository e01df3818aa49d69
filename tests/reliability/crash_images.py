"""Every power cut of a short evening: python -m tests.reliability.crash_images

The writes of an evening with a restart and a checkpoint in it are recorded; from
every point of it the disk is rebuilt in every way that `tests.reliability.disk`
knows, opened with the shipping code and compared with what had been acknowledged.
"""

import random
import sys
import tempfile
import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from unittest import mock

from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import Said
from assistant.cook.vocabulary.events import Event, Recorded
from assistant.journal import store
from assistant.journal.errors import JournalError
from assistant.journal.store import Journal
from tests.reliability.disk import Image, images, lay_out
from tests.reliability.storage import Mark, Recorder, Step

COOK = "c" * 32
BEGAN_S = 1_760_000_000.0


@dataclass(frozen=True, slots=True)
class Outcome:
    """`lost`: descriptions of images in which an acknowledged fact was missing or changed."""

    points: int
    images: int
    facts: int
    lost: tuple[str, ...]


def evening() -> list[list[Event]]:
    """What is recorded together, in order: an invented evening of two birds."""
    batches: list[list[Event]] = [
        [ev.CookBegan(zone="Europe/Vienna", birds=2)],
        [ev.BirdWeighed(1, 2.7, pounds=6.0), ev.SauceAssigned(1, "apricot")],
        [ev.FireStarted()],
        [ev.BirdOn(1), ev.BirdOn(2)],
    ]
    for minute in range(40, 100, 10):
        f = 70.0 + minute
        batches += [
            [ev.WordsHeard(f"bird one reads {f:.0f}", confidence=0.9, outcome="accept")],
            [ev.BirdRead(1, f, Said(f, "F")), ev.GrillRead(f + 240.0, Said(f + 240.0, "F"))],
            [ev.PromptSaid(f"check:{minute}", "soon")],
        ]
    return [*batches, [ev.Undone(6)], [ev.CookEnded()]]


def record(folder: Path) -> tuple[list[Step], list[Recorded]]:
    """Live through the evening once; the steps on the disk, and all that was recorded.

    The program is started again in the middle, and the log is moved into the
    main file more often than usual.
    """
    recorder = Recorder(f"recorder-{uuid.uuid4().hex}")
    recorded: list[Recorded] = []
    batches = evening()
    half = len(batches) // 2
    with mock.patch.object(store, "CHECKPOINT_PAGES", 12):
        for part, some in enumerate((batches[:half], batches[half:])):
            with Journal(folder / "journal.db", at_s=BEGAN_S, vfs=recorder.name) as journal:
                if part == 0:
                    journal.begin("family dinner", BEGAN_S, COOK)
                for batch in some:
                    recorded += journal.append(COOK, BEGAN_S + 60.0 * len(recorded), batch)
                    recorder.steps.append(Mark(len(recorded)))
    recorder.unregister()
    return recorder.steps, recorded


def check(image: Image, facts: int, recorded: Sequence[Recorded]) -> str | None:
    """What is wrong with a disk on which so many facts were acknowledged; None if nothing."""
    with tempfile.TemporaryDirectory(dir=memory_folder()) as name:
        folder = Path(name)
        lay_out(image, folder)
        try:
            with Journal(folder / "journal.db") as journal:
                known = any(cook.id == COOK for cook in journal.cooks())
                found = journal.events(COOK) if known else ()
                faults = journal.integrity()
        except JournalError as error:
            return f"does not open: {error}"
    if faults:
        return f"damaged: {faults[0]}"
    if found != tuple(recorded[: len(found)]):
        return "holds something that was never recorded"
    if len(found) < facts:
        return f"holds {len(found)} of {facts} acknowledged facts"
    return None


def run(seed: int = 1, *, first_only: bool = False) -> Outcome:
    """Check every image. `first_only` stops at the first loss (for mutants)."""
    with tempfile.TemporaryDirectory(dir=memory_folder()) as folder:
        steps, recorded = record(Path(folder))
    lost: list[str] = []
    number = 0
    for facts, how, image in images(steps, chance=random.Random(seed)):
        number += 1
        if (fault := check(image, facts, recorded)) is not None:
            lost.append(f"{how}: {fault}")
            if first_only:
                break
    return Outcome(len(steps), number, len(recorded), tuple(lost))


def memory_folder() -> str | None:
    """A file system in memory where there is one: real syncs are not what is tested here."""
    return "/dev/shm" if Path("/dev/shm").is_dir() else None  # noqa: S108 -- only test images


def main() -> int:
    """Print what was tried and what was lost; 1 if anything was."""
    outcome = run()
    for line in outcome.lost[:20]:
        print(line)
    print(
        f"{outcome.points} crash points, {outcome.images} disk images of an evening with "
        f"{outcome.facts} facts: {len(outcome.lost)} images lost facts or did not open"
    )
    return 1 if outcome.lost else 0


if __name__ == "__main__":
    sys.exit(main())
