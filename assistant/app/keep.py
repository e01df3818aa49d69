"""What can be asked of cooks in the journal: replay, watch, look-back, history, keeping them."""

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from assistant.app.replay import moments, parse_moment, replay, scrub, view_at
from assistant.app.watch import running, watch
from assistant.board.lines import facts
from assistant.board.view import BoardView
from assistant.journal import learning
from assistant.journal.errors import HeldError
from assistant.journal.jsonl import export
from assistant.journal.reader import CookInfo, JournalReader
from assistant.journal.store import Journal
from assistant.lookback.history import Wanted, forget, merge_file, past_cooks
from assistant.lookback.history_print import history_json, history_picture, history_table
from assistant.lookback.output import lookback
from assistant.session.printing import printer
from assistant.sound.player import DevicePlayer, SilentPlayer
from assistant.system.places import journal_path
from assistant.voice.speaker import QueueSpeaker
from assistant.voice.synth import Voice, find_synth

LONGEST_SPEECH_S = 60.0


@contextmanager
def _reading() -> Iterator[JournalReader]:
    with JournalReader(journal_path()) as journal:
        yield journal


@contextmanager
def _writing(now_s: float) -> Iterator[Journal]:
    with Journal(journal_path(), at_s=now_s) as journal:
        yield journal


def title_of(cook: CookInfo) -> str:
    """A cook's name, or the start of its id."""
    return cook.name or cook.id[:8]


def replay_cook(
    which: str, *, speed: float | None, since: str, at: str | None, aloud: bool, steps: bool,
    as_json: bool,
) -> None:  # fmt: skip
    """Print (and speak) a past cook. `speed` None: without pauses. `at`: state and
    forecast at that moment only. `steps`: by event, on keys typed.

    Raises JournalError, VoiceError, ValueError for a moment that is none.
    """
    with _reading() as journal:
        cook = journal.find(which)
        recorded, start = journal.events(cook.id), learning.start_of(journal, cook.id)
    show = printer(sys.stdout, as_json=as_json)
    if at is not None:
        view = view_at(recorded, parse_moment(at), start)
        if view is None:
            raise ValueError(f"the cook had not begun at {at}")
        _tell(view)
    elif steps:
        scrub(recorded, iter(sys.stdin), show, _tell, start)
    else:
        with _voice(aloud=aloud) as speaker:
            replay(
                moments(recorded, start), show, speaker=speaker,
                settle=(lambda: None) if speaker is None else lambda: _settle(speaker),
                sleep=None if speed is None else time.sleep,
                speed=speed or 1.0, from_s=parse_moment(since),
            )  # fmt: skip


def watch_cook(*, as_json: bool) -> None:
    """Print the lines of the cook that another Turnspit runs. Raises JournalError."""
    with _reading() as journal:
        cook = running(journal)
        print(f"looking on at {title_of(cook)}; Ctrl-C stops looking", file=sys.stderr)
        watch(journal, cook, printer(sys.stdout, as_json=as_json), time.sleep)


def _settle(speaker: QueueSpeaker) -> None:
    speaker.wait_idle(LONGEST_SPEECH_S)


def _tell(view: BoardView) -> None:
    for topic, text in facts(view).items():
        print(f"{topic}: {text}")


@contextmanager
def _voice(*, aloud: bool) -> Iterator[QueueSpeaker | None]:
    if not aloud:
        yield None
        return
    from assistant.sound.devices import names

    player = DevicePlayer(lambda _: None) if names("output") else SilentPlayer()
    speaker = QueueSpeaker(Voice(find_synth()), player, lambda _: None)
    try:
        yield speaker
    finally:
        speaker.close()


def look_back(which: str, out: Path) -> None:
    """Write the look-back of a cook; the ending of `out` picks the form."""
    with _reading() as journal:
        cook = journal.find(which)
        recorded, start = journal.events(cook.id), learning.start_of(journal, cook.id)
    lookback(recorded, out, title=title_of(cook), note=cook.note, start=start)


def history(
    wanted: Wanted, *, zone: str, as_json: bool, picture: Path | None,
    progress: Callable[[int, int], None],
) -> str:  # fmt: skip
    """Past cooks side by side, and what the kitchen learned from them.

    Scores worked out here are kept for the next time, where no cook is running.
    """
    with _reading() as journal, ExitStack() as stack:
        keep = None
        with suppress(HeldError):
            keep = stack.enter_context(Journal(journal_path()))
        cooks = past_cooks(keep or journal, wanted, keep=keep, progress=progress)
        kitchen = learning.kitchen_of(journal)
    if picture is not None:
        history_picture(cooks, picture, zone)
    if as_json:
        return history_json(cooks).rstrip("\n")
    return "\n".join([history_table(cooks, zone), "", *learning.kitchen_lines(kitchen)])


def rename(which: str, name: str, now_s: float) -> str:
    """Give a cook a name."""
    with _writing(now_s) as journal:
        cook = journal.find(which)
        journal.rename(cook.id, name)
        return f"{title_of(cook)} is now called {name}"


def note(which: str, text: str, now_s: float) -> str:
    """Keep what the table said."""
    with _writing(now_s) as journal:
        cook = journal.find(which)
        journal.set_note(cook.id, text)
        return f"noted with {title_of(cook)}"


def delete(which: str, now_s: float) -> str:
    """Forget a cook for good."""
    with _writing(now_s) as journal:
        return f"{title_of(forget(journal, which))} is deleted"


def export_to(which: str | None, out: Path) -> str:
    """Write one cook, or all, as JSON lines."""
    with _reading() as journal:
        cooks = journal.cooks() if which is None else (journal.find(which),)
        export(journal, cooks, out)
        return f"{len(cooks)} cooks in {out}"


def import_from(path: Path, now_s: float) -> str:
    """Bring in the cooks of an export; doing it twice is once."""
    with _writing(now_s) as journal:
        found = merge_file(journal, path)
        return f"{found.cooks} cooks read, {found.new} new events, {found.known} known already"


def teach(which: str, now_s: float, *, teaches: bool) -> str:
    """Let a cook teach the kitchen, or not."""
    with _writing(now_s) as journal:
        cook = journal.find(which)
        (learning.include if teaches else learning.exclude)(journal, cook.id)
        return f"{title_of(cook)} {'teaches' if teaches else 'no longer teaches'} the kitchen"


def reset_kitchen(now_s: float) -> str:
    """Forget what was learned; the cooks stay."""
    with _writing(now_s) as journal:
        learning.reset(journal, now_s)
        return "the kitchen starts anew; the cooks are kept"
