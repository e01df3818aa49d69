"""What can be asked of cooks in the journal: replay, watch, look-back, history, keeping them."""

import sys
import time
import uuid
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from assistant.app import settings
from assistant.app.replay import (
    Moment,
    moments,
    parse_moment,
    replay,
    scrub,
    view_after,
    view_at,
)
from assistant.app.watch import running, watch
from assistant.board.display import open_display
from assistant.board.lines import facts
from assistant.board.view import BoardView
from assistant.cook.rules.fold import fold
from assistant.cook.vocabulary.events import CookEnded, Recorded
from assistant.journal import learning, rescue
from assistant.journal.errors import DamagedJournalError, HeldError
from assistant.journal.jsonl import export
from assistant.journal.reader import CookInfo, JournalReader
from assistant.journal.store import Journal, clean_name
from assistant.lookback.history import Wanted, forget, merge_file, past_cooks
from assistant.lookback.history_print import history_json, history_picture, history_table
from assistant.lookback.output import lookback
from assistant.session.line import Line
from assistant.session.printing import plain_text, printer
from assistant.session.view import TALK
from assistant.sound.player import DevicePlayer, SilentPlayer
from assistant.system.places import journal_path
from assistant.voice.chosen import chosen_synth
from assistant.voice.speaker import QueueSpeaker
from assistant.voice.synth import Voice

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


def watch_cook(*, as_json: bool, plain: bool, now: Callable[[], float]) -> None:
    """Show the cook that another Turnspit runs: its board on a terminal, else its lines.

    `now`: epoch seconds. Raises JournalError.
    """
    with _reading() as journal:
        cook = running(journal)
        if as_json or plain or not sys.stdout.isatty():
            print(f"looking on at {title_of(cook)}; Ctrl-C stops looking", file=sys.stderr)
            watch(journal, cook, printer(sys.stdout, as_json=as_json), time.sleep)
            return
        display = open_display(sys.stdout, invites="looking on; Ctrl-C stops")

        def show(line: Line) -> None:
            text = plain_text(line) if line.kind in TALK else None
            if text is not None:
                display.line(text)

        def refresh(steps: Sequence[Moment]) -> None:
            display.show(view_after(steps, max(now(), steps[-1].at_s)))

        try:
            watch(journal, cook, show, time.sleep, refresh)
        finally:
            display.close()


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
    speaker = QueueSpeaker(Voice(chosen_synth(settings.load().voice)), player, lambda _: None)
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
    progress: Callable[[int, int], None], say: Callable[[str], None],
) -> str:  # fmt: skip
    """Past cooks side by side, and what the kitchen learned from them.

    Scores worked out here are kept for the next time, where no cook is running. `say` is
    told of what is left out.
    """
    with _reading() as journal, ExitStack() as stack:
        keep = None
        with suppress(HeldError):
            keep = stack.enter_context(Journal(journal_path()))
        cooks = past_cooks(
            keep or journal, wanted, keep=keep, progress=progress,
            left_out=lambda cook: say(_left_out(cook)),
        )  # fmt: skip
        kitchen = learning.kitchen_of(journal)
    if picture is not None:
        history_picture(cooks, picture, zone)
    if as_json:
        return history_json(cooks).rstrip("\n")
    return "\n".join([history_table(cooks, zone), "", *learning.kitchen_lines(kitchen)])


def keep_rehearsal(script: str, recorded: Sequence[Recorded], now_s: float) -> str:
    """Put a rehearsal of `script` into the journal, marked as one: it ends with its last
    line and teaches the kitchen nothing. Raises JournalError."""
    last = recorded[-1]
    if fold(recorded).is_running:
        recorded = [*recorded, Recorded(last.seq + 1, last.at_s, CookEnded())]
    cook = CookInfo(
        uuid.uuid4().hex, clean_name(f"rehearsal {script}"), "A rehearsal, not a cook.",
        recorded[0].at_s,
    )  # fmt: skip
    with _writing(now_s) as journal:
        journal.merge(cook, recorded)
        learning.exclude(journal, cook.id)
    return f'kept as "{cook.name}"; try: turnspit lookback "{cook.name}"'


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


def _left_out(cook: CookInfo) -> str:
    return f"{title_of(cook)} is damaged and left out; to mend it: turnspit cooks mend"


def export_to(which: str | None, out: Path, say: Callable[[str], None]) -> str:
    """Write one cook, or all, as JSON lines. Of all, one that is damaged is left out, and
    `say` is told: nothing altered is passed on as true."""
    with _reading() as journal:
        cooks = list(journal.cooks()) if which is None else [journal.find(which)]
        for cook in cooks if which is None else ():
            try:
                journal.events(cook.id)
            except DamagedJournalError:
                say(_left_out(cook))
                cooks = [one for one in cooks if one != cook]
        export(journal, cooks, out)
        return f"{len(cooks)} cooks in {out}"


def mend(now_s: float) -> str:
    """Put a damaged journal aside and carry over what can be read, in every cook."""
    path = journal_path()
    found = rescue.mend(path, at_s=now_s)
    return "nothing is damaged" if found is None else str(found)


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
