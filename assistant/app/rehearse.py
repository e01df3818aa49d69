"""Rehearsals: a scripted cook on the virtual clock, as fast as it can run."""

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.ears.heard import Heard
from assistant.grammar.free.context import Context
from assistant.grammar.free.understand import understand
from assistant.grammar.grammar import Names
from assistant.grammar.parse import NotUnderstood, parse
from assistant.session.free_words import context_of, heard_by_ear
from assistant.session.line import Line
from assistant.session.log import Log, MemoryLog
from assistant.session.session import Session
from assistant.session.typed import heard_typed
from assistant.system.clock import VirtualClock
from assistant.voice.speech import Speaker

START_S = 1_790_524_800.0  # 2026-09-27 16:00 UTC: a Sunday afternoon, always the same
START_HOUR = 16
MAX_SCRIPT_BYTES = 8_000_000
BARE = 1.0  # words that refer and tell nothing else cost less than this
TAIL_S = 60.0  # what follows at once from the last line is still said
_LINE = re.compile(r"(\d{1,3}):([0-5]\d):([0-5]\d)\s+(\S.*)")


class ScriptError(ValueError):
    """A script that cannot be run; the text names the line and what was expected."""


@dataclass(frozen=True, slots=True)
class Step:
    """One script line: at `at_s` seconds of the cook, words or a recording. `command`: what
    the grammar makes of the words; None for words of the cook's own, which mean what the
    evening makes of them when they are said."""

    line: int
    at_s: float
    words: str
    command: cmd.Command | None
    recording: Path | None = None


Hear = Callable[[Path, Session], Heard]


def read_script(path: Path, scale: cmd.Scale = "F") -> tuple[Step, ...]:
    """The steps of a script file, whose thermometers read `scale`. Raises `ScriptError`."""
    try:
        if path.stat().st_size > MAX_SCRIPT_BYTES:
            raise ScriptError(f"{path}: larger than {MAX_SCRIPT_BYTES // 1_000_000} MB")
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise ScriptError(f"{path}: cannot be read ({error.strerror})") from error
    except UnicodeDecodeError as error:
        raise ScriptError(f"{path}: not UTF-8 text; save it as UTF-8") from error
    steps: list[Step] = []
    for number, raw in enumerate(text.splitlines(), 1):
        content = raw.split("#", 1)[0].strip()
        if not content:
            continue
        named = [one.command.sauce for one in steps if isinstance(one.command, cmd.BirdSauce)]
        step = _step(number, content, path.parent, Context(8, names=tuple(named), scale=scale))
        if steps and step.at_s < steps[-1].at_s:
            raise ScriptError(f"line {number}: its time is before the line above; put it in order")
        steps.append(step)
    if not steps:
        raise ScriptError(f"{path}: no lines to rehearse; expected lines like 0:00:00  birds on")
    return tuple(steps)


def _step(number: int, content: str, folder: Path, context: Context) -> Step:
    match = _LINE.fullmatch(content)
    if match is None:
        raise ScriptError(f"line {number}: expected HH:MM:SS and words, as in 00:40:00 birds on")
    hours, minutes, seconds, words = match.groups()
    at_s = 3600.0 * int(hours) + 60 * int(minutes) + int(seconds)
    if words.startswith("@"):
        return Step(number, at_s, words, None, _recording(number, words[1:], folder))
    try:
        return Step(
            number, at_s, words, parse(words, Names(), scale=context.scale, open_names=True)
        )
    except NotUnderstood as error:
        found = understand(words, context)
        is_answer = found.help is not None and found.cost < BARE  # a bird alone
        answers = understand(words, replace(context, asked=(cmd.EndCook(),)))
        if found.outcome != "refuse" or is_answer or answers.outcome != "refuse":
            return Step(number, at_s, words, None)
        raise ScriptError(f"line {number}: {error}") from error


def _recording(number: int, name: str, folder: Path) -> Path:
    """A recording named in a script; it stays inside the script's folder."""
    path = (folder / name).resolve()
    if not path.is_relative_to(folder.resolve()):
        raise ScriptError(f"line {number}: {name} lies outside the script's folder")
    if not path.is_file():
        raise ScriptError(f"line {number}: no recording named {name} beside the script")
    return path


def starts_s(zone: str, before_s: float | None = None) -> float:
    """When a rehearsal begins, epoch seconds: at four in the afternoon by the clocks of
    `zone`, on that Sunday or, with `before_s`, on the last day on which that has been."""
    place = ZoneInfo(zone)
    day = datetime.fromtimestamp(START_S if before_s is None else before_s, place)
    start = day.replace(hour=START_HOUR, minute=0, second=0, microsecond=0)
    if before_s is not None and start.timestamp() > before_s:
        start -= timedelta(days=1)
    return start.timestamp()


@contextmanager
def hearing(steps: tuple[Step, ...], notice: Callable[[str], None]) -> Iterator[Hear | None]:
    """Ears for the recordings a script names, with the script's own sauces; None if none.

    Raises `EarsError` (a name no recogniser knows); hearing raises `SoundError`.
    """
    if all(step.recording is None for step in steps):
        yield None
        return
    from assistant.ears.ears import Ears
    from assistant.ears.hear_files import hear_recording
    from assistant.sound.files import read_sound

    named = [step.command.sauce for step in steps if isinstance(step.command, cmd.BirdSauce)]
    sauces = tuple(dict.fromkeys(name for name in named if name != "plain"))
    ears = Ears(Names(birds=8, sauces=sauces), notice=notice)

    def hear(recording: Path, session: Session) -> Heard:
        ears.prior, ears.context = session.prior, context_of(session.state)
        heard = hear_recording(ears, read_sound(recording))
        return heard_by_ear(heard, session.state)

    try:
        yield hear
    finally:
        ears.close()


def rehearse(
    steps: tuple[Step, ...],
    show: Callable[[Line], None],
    speaker: Speaker,
    *,
    begin: ev.CookBegan | None = None,
    log: Log | None = None,
    hear: Hear | None = None,
    start_s: float = START_S,
) -> Session:
    """Run the steps; the session as it stands after the last.

    `hear` turns a recording into what was heard; needed only where a step names one.
    """
    clock = VirtualClock(start_s)
    session = Session(log if log is not None else MemoryLog(), clock, speaker, show)
    session.begin(begin if begin is not None else ev.CookBegan())
    for step in steps:
        clock.run_until(start_s + step.at_s)
        if step.recording is not None:
            if hear is None:
                raise ScriptError(f"line {step.line}: no ears to hear a recording with")
            session.hear(hear(step.recording, session))
        elif step.command is not None and not isinstance(step.command, cmd.Number):
            session.hear(Heard(step.words, step.command, 1.0, "accept"))
        else:
            session.hear(heard_typed(step.words, session.state.scale, session.state))
    if session.state.is_running:
        clock.run_until(start_s + steps[-1].at_s + TAIL_S)
    clock.close()
    return session
