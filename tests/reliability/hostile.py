"""Hostile input for every way in, and what must come of it: a clear refusal or a
sound result, never another exception, never a control character on the screen."""

import contextlib
import io
import json
import struct
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache, partial
from pathlib import Path
from typing import Any

import numpy as np
import soundfile
from hypothesis import strategies as st

from assistant.app import rehearse, settings
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.codec import COMMANDS, EVENTS, CodecError, event_from_json
from assistant.grammar.grammar import Names
from assistant.grammar.network import GrammarError, read_network
from assistant.journal import jsonl
from assistant.journal.errors import JournalError
from assistant.journal.resilient import ResilientJournal
from assistant.journal.store import Journal
from assistant.session.line import Line
from assistant.session.log import MemoryLog
from assistant.session.printing import json_text, plain_text
from assistant.session.session import Session
from assistant.session.typed import heard_typed
from assistant.sound.files import SoundError, decode_sound
from assistant.system.clock import VirtualClock
from assistant.voice.silent import SilentSpeaker
from tests.journal.make_fixture import every_event
from tests.reliability.crash_images import memory_folder
from tests.reliability.kitchen import QUESTIONS, SMALL_TALK
from tests.reliability.stand_in import cheap_forecasts

NASTY = (
    "\x00", "\x1b[2J", "\x1b]0;x\x07", "\u202e", "\u2066", "\ud800", "\ufeff", "\U0001f525",
    "%s%n", "{0.__class__}", "$(reboot)", "`id`", "../../etc/passwd", "'; DROP TABLE cooks;--",
    "\u2028", "\x85", "\r", "\u0131", "\ufb00", "\u0663", "1e999", "-0", "9" * 400,
)  # fmt: skip

_COMMON = list(QUESTIONS + SMALL_TALK)
text = st.text(max_size=60) | st.lists(
    st.sampled_from(NASTY) | st.text(max_size=8) | st.sampled_from(_COMMON),
    max_size=5,
).map(" ".join)


@dataclass(frozen=True)
class Target:
    """A way in. `check` raises where the input is not taken as it must be."""

    name: str
    inputs: st.SearchStrategy[Any]
    check: Callable[[Any], None]


@dataclass(frozen=True)
class Flipped:
    """A good file with some bytes changed, cut somewhere, or with more behind it."""

    changes: tuple[tuple[int, int], ...]
    cut: int
    more: bytes

    def of(self, whole: bytes) -> bytes:
        """The file so changed."""
        content = bytearray(whole)
        for place, value in self.changes:
            content[place % len(whole)] = value
        return bytes(content[: self.cut]) + self.more


_changes = st.lists(st.tuples(st.integers(0, 2**16), st.integers(0, 255)), max_size=6).map(tuple)
_flipped = st.builds(
    Flipped, _changes, st.just(2**20) | st.integers(0, 2**15), st.just(b"") | st.binary(max_size=9)
)


def flips(name: str, make: Callable[[], bytes], check: Callable[[bytes], None]) -> Target:
    """A target that is attacked with a good file, changed, and with no file at all."""

    def attempt(made: Flipped | bytes) -> None:
        check(made.of(make()) if isinstance(made, Flipped) else made)

    return Target(name, _flipped | st.binary(max_size=200), attempt)


# ---- recordings ------------------------------------------------------------------


def _wav(rate: int, channels: int, bits: int, form: int, size: int) -> bytes:
    """A header that may promise anything, and a little sound."""
    data = bytes(range(256)) * 4
    head = struct.pack(
        "<HHIIHH", form, channels, rate, rate * channels * bits // 8 & 0xFFFFFFFF,
        channels * bits // 8 & 0xFFFF, bits,
    )  # fmt: skip
    return (
        b"RIFF" + struct.pack("<I", size) + b"WAVEfmt " + struct.pack("<I", len(head)) + head
        + b"data" + struct.pack("<I", size) + data
    )  # fmt: skip


@lru_cache(maxsize=1)
def _flac() -> bytes:
    file = io.BytesIO()
    soundfile.write(file, np.zeros(800, np.float32), 16_000, format="FLAC")
    return file.getvalue()


wavs = st.builds(
    _wav,
    st.sampled_from([0, 1, 8000, 16000, 44100, 192000, 2**31, 2**32 - 1]),
    st.sampled_from([0, 1, 2, 6, 255, 65535]),
    st.sampled_from([0, 1, 8, 16, 24, 32, 64, 65535]),
    st.sampled_from([0, 1, 3, 6, 7, 17, 85, 65534]),
    st.sampled_from([0, 1, 1024, 2**31 - 1, 2**32 - 1]),
)


def check_recording(data: bytes) -> None:
    with contextlib.suppress(SoundError):
        samples = decode_sound(data)
        assert samples.dtype == np.int16
        assert samples.ndim == 1


# ---- files -----------------------------------------------------------------------


def check_script(data: bytes) -> None:
    with tempfile.TemporaryDirectory(dir=memory_folder()) as folder:
        path = Path(folder) / "script.txt"
        path.write_bytes(data)
        try:
            steps = rehearse.read_script(path)
        except rehearse.ScriptError as error:
            _is_one_line(str(error))
            return
        for step in steps:
            if step.recording is not None:
                assert step.recording.is_relative_to(folder)


def check_jsonl(data: bytes) -> None:
    with tempfile.TemporaryDirectory(dir=memory_folder()) as folder:
        path = Path(folder) / "cook.jsonl"
        path.write_bytes(data)
        with Journal(Path(folder) / "journal.db") as journal:
            try:
                jsonl.bring_in(journal, path)
            except JournalError as error:
                _is_one_line(str(error))
                return
            assert journal.integrity() == ()


def check_journal_file(data: bytes) -> None:
    with tempfile.TemporaryDirectory(dir=memory_folder()) as folder:
        path = Path(folder) / "journal.db"
        path.write_bytes(data)
        try:
            with ResilientJournal.open(path, at_s=0.0) as journal:
                found = journal.unfinished()
                events = journal.resume(found.id) if found else ()
        except JournalError as error:
            _is_one_line(str(error))
            return
        written = _kept_events()
        for entry in events:
            is_placeholder = isinstance(entry.event, ev.WordsHeard) and not entry.event.words
            assert is_placeholder or entry.event == written[entry.seq - 1]


@lru_cache(maxsize=1)
def _exported() -> bytes:
    return _kept(".jsonl")


@lru_cache(maxsize=1)
def _journal() -> bytes:
    return _kept(".db")


def _kept_events() -> list[ev.Event]:
    """One of every event, and the end taken back: the cook is unfinished."""
    events = every_event()
    return [*events, ev.Undone(1 + events.index(ev.CookEnded()))]


def _kept(suffix: str) -> bytes:
    """A journal with one of every event, unfinished, or its export."""
    with tempfile.TemporaryDirectory(dir=memory_folder()) as folder:
        path = Path(folder) / "kept.db"
        with Journal(path) as journal:
            cook = journal.begin("kept", 1.0, "abc")
            journal.append(cook, 2.0, _kept_events())
            jsonl.export(journal, journal.cooks(), path.with_suffix(".jsonl"))
        return path.with_suffix(suffix).read_bytes()


def check_settings(data: str) -> None:
    try:
        settings.parse(data)
    except settings.SettingsError as error:
        _is_one_line(str(error))


# ---- words -----------------------------------------------------------------------


def check_typed(lines: list[str]) -> None:
    shown: list[Line] = []
    with cheap_forecasts():
        clock = VirtualClock(1_790_524_800.0)
        session = Session(MemoryLog(), clock, SilentSpeaker(), shown.append)
        session.begin(ev.CookBegan(birds=2))
        for words in lines:
            session.hear(heard_typed(words, "F"))
            clock.run_until(clock.now() + 7.0)
        clock.close()
    for line in shown:
        if line.kind in {"said", "heard", "refused"}:
            plain = plain_text(line)
            assert plain is None or plain.isprintable(), ascii(plain)
            json.loads(json_text(line).encode("utf-8"))


def check_names(names: list[str]) -> None:
    try:
        made = Names(2, tuple(names))
    except ValueError as error:
        _is_one_line(str(error))
        return
    for name in made.sauces:
        assert name.isascii()
        assert name.replace(" ", "").replace("'", "").replace("-", "").isalpha()


def check_grammar(data: str) -> None:
    try:
        read_network(data)
    except GrammarError as error:
        _is_one_line(str(error))


def check_event(made: tuple[str, object]) -> None:
    with contextlib.suppress(CodecError):
        event_from_json(*made)


def _is_one_line(message: str) -> None:
    assert message.isprintable(), ascii(message)
    assert 0 < len(message) < 1000


# ---- all of them -----------------------------------------------------------------

_json = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | text,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(text, inner, max_size=3),
    max_leaves=6,
)
_slot_names = sorted({name for kind in EVENTS.values() for name in kind.__dataclass_fields__})
_slots = st.dictionaries(st.sampled_from(_slot_names), _json, max_size=5) | _json
_event_names = sorted(EVENTS.keys() | COMMANDS.keys())
_near_names = st.from_regex(r"[a-z' -]{1,12}", fullmatch=True)
_TIMES = ("0:00:00  ", "00:10:00 ", "99:59:59\t", "", "0:0:0 ", "#", "@")
_SCRIPT = b"0:00:00  fire is lit\n# then\n0:10:00  birds on\n1:00:00  bird one reads 118\n"
_script = st.lists(st.tuples(st.sampled_from(_TIMES), text).map("".join)).map(
    lambda rows: "\n".join(rows).encode("utf-8", "surrogatepass")
)
_toml = st.lists(
    st.sampled_from(["[birds]", "[grill]", "[place]", "[sauce]", "[thermometer]", "count = 3",
                     "kind = 'duck'", "band = [350, 400]", "scale = 'C'", "x = 1979-05-27",
                     "done_mark = nan", "band = [1e999, -inf]", "a.b.c = {d = [[]]}"]) | text
).map("\n".join)  # fmt: skip
_GRAMMAR = b"""#JSGF V1.0;
grammar g;
public <a> = <b> [ up | down ] /0.5/ two {t} | x*;
<b> = y+;
"""
_jsgf = text | st.lists(
    st.sampled_from(["#JSGF V1.0;", "grammar g;", "public <a> =", "<a>", "<b>", "(", ")", "[", "]",
                     "|", "*", "+", "/9/", "{t}", ";", "word", "//", "/*"]) | text, max_size=20
).map(" ".join)  # fmt: skip

TARGETS = (
    Target("recording headers", wavs, check_recording),
    flips("recordings", partial(_wav, 16000, 1, 16, 1, 1024), check_recording),
    flips("compressed recordings", _flac, check_recording),
    Target("scripts", _script, check_script),
    flips("script files", lambda: _SCRIPT, check_script),
    flips("imports", _exported, check_jsonl),
    flips("journals", _journal, check_journal_file),
    Target("settings", _toml, check_settings),
    Target("typed lines", st.lists(text | st.sampled_from(_COMMON), max_size=8), check_typed),
    Target("sauce names", st.lists(text | _near_names, max_size=3), check_names),
    Target("grammars", _jsgf, check_grammar),
    flips("grammar files", lambda: _GRAMMAR, lambda data: check_grammar(data.decode("latin-1"))),
    Target("events", st.tuples(st.sampled_from(_event_names) | text, _slots), check_event),
)
