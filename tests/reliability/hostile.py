"""Hostile input for every way in, and what must come of it: a clear refusal or a
sound result, never another exception, never a control character on the screen."""

import contextlib
import io
import json
import struct
import tempfile
from functools import lru_cache, partial
from pathlib import Path

import numpy as np
import soundfile
from hypothesis import strategies as st

from assistant.app import rehearse, settings
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.codec import COMMANDS, EVENTS, CodecError, event_from_json
from assistant.grammar.grammar import Names
from assistant.session.line import Line
from assistant.session.log import MemoryLog
from assistant.session.printing import json_text, plain_text
from assistant.session.session import Session
from assistant.session.typed import heard_typed
from assistant.sound.files import SoundError, decode_sound
from assistant.system.clock import VirtualClock
from assistant.voice.silent import SilentSpeaker
from tests.reliability import hostile_grammar, hostile_import, hostile_journal
from tests.reliability.crash_images import memory_folder
from tests.reliability.hostile_inputs import COMMON, Target, flips, is_one_line, text
from tests.reliability.stand_in import cheap_forecasts

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
            is_one_line(str(error))
            return
        for step in steps:
            if step.recording is not None:
                assert step.recording.is_relative_to(folder)


def check_settings(data: str) -> None:
    try:
        settings.parse(data)
    except settings.SettingsError as error:
        is_one_line(str(error))


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
        is_one_line(str(error))
        return
    for name in made.sauces:
        assert name.isascii()
        assert name.replace(" ", "").replace("'", "").replace("-", "").isalpha()


def check_event(made: tuple[str, object]) -> None:
    with contextlib.suppress(CodecError):
        event_from_json(*made)


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
TARGETS = (
    *hostile_import.TARGETS,
    *hostile_journal.TARGETS,
    *hostile_grammar.TARGETS,
    Target("recording headers", wavs, check_recording),
    flips("recordings", partial(_wav, 16000, 1, 16, 1, 1024), check_recording),
    flips("compressed recordings", _flac, check_recording),
    Target("scripts", _script, check_script),
    flips("script files", lambda: _SCRIPT, check_script),
    Target("settings", _toml, check_settings),
    Target("typed lines", st.lists(text | st.sampled_from(COMMON), max_size=8), check_typed),
    Target("sauce names", st.lists(text | _near_names, max_size=3), check_names),
    Target("events", st.tuples(st.sampled_from(_event_names) | text, _slots), check_event),
)
