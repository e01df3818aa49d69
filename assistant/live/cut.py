"""A long recording cut into utterances as the live loop cuts them, without its clock.

The loop looks at the sound at a short pause and waits as long as what it understood is worth;
understanding takes no time here, and is only asked once a pause could end the utterance.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any, Protocol

import numpy as np

from assistant.ears.ears import Ears
from assistant.ears.hear_files import line, lines_of
from assistant.ears.heard import EngineName, Heard
from assistant.grammar.grammar import Names
from assistant.live.outlook import outlook_of
from assistant.live.utterance import (
    BEGIN_CHUNKS,
    CHUNK,
    CHUNK_S,
    SAME_BREATH_S,
    Outlook,
    Pauses,
    Utterance,
)
from assistant.sound.microphone_level import Level, amplified, heard_block, levelled
from assistant.sound.samples import RATE_HZ, Samples
from assistant.sound.speech_chance import speech_chance


@dataclass(frozen=True, slots=True)
class Piece:
    """One utterance of a recording, in seconds from its beginning, and what was heard."""

    start_s: float
    end_s: float
    heard: Heard


class Hear(Protocol):
    """Understands the sound of one utterance."""

    def __call__(self, samples: Samples, follows: bool) -> Heard:  # noqa: FBT001 -- one fact
        """`follows`: it needs no address word."""
        ...


def pieces(
    samples: Samples,
    hear: Hear,
    outlook: Callable[[Heard], Outlook],
    pauses: Pauses | None = None,
    judged: Samples | None = None,
) -> Iterator[Piece]:
    """The utterances of a recording, in order; its end ends the last one. `hear` is told
    whether the words follow in the breath of a command that was taken. `judged`: as long,
    by which speech is told from what is none (see `Block`)."""
    vad, level = speech_chance(), Level()
    pauses = pauses or Pauses()
    utterance = Utterance(pauses)
    found: tuple[int, Heard] | None = None
    taken_s, follows = -np.inf, False
    both = np.stack([samples, samples if judged is None else judged])
    padded = np.pad(both, ((0, 0), (0, -len(samples) % CHUNK)))
    for n, start in enumerate(range(0, padded.shape[1], CHUNK), 1):
        chunk = padded[0, start : start + CHUNK]
        judging = amplified(padded[1, start : start + CHUNK], level.gain_db)
        change = utterance.add(chunk, vad(judging))
        if change == "began":
            follows = (n - BEGIN_CHUNKS) * CHUNK_S - taken_s <= SAME_BREATH_S
        speaks = utterance.is_speech and utterance.pause_s == 0
        level = heard_block(level, chunk, is_speech=speaks)
        is_new = found is None or found[0] != utterance.version
        if utterance.is_speech and is_new and utterance.pause_s >= pauses.whole_s:
            found = (utterance.version, hear(levelled(utterance.samples(), level.gain_db), follows))
            utterance.judge(utterance.version, outlook(found[1]))
        if change == "full" or utterance.is_over:
            piece = _piece(utterance, found, partial(hear, follows=follows), n * CHUNK_S, level)
            if piece.heard.outcome != "refuse":
                taken_s = n * CHUNK_S - utterance.pause_s
            yield piece
            utterance.clear()
    if utterance.is_speech:
        last = partial(hear, follows=follows)
        yield _piece(utterance, found, last, padded.shape[1] / RATE_HZ, level)


def _piece(
    utterance: Utterance,
    found: tuple[int, Heard] | None,
    hear: Callable[[Samples], Heard],
    now_s: float,
    level: Level,
) -> Piece:
    said = levelled(utterance.samples(), level.gain_db)
    known = found is not None and found[0] == utterance.version
    heard = found[1] if found is not None and known else hear(said)
    start_s, length_s = max(0.0, now_s - utterance.length_s), len(said) / RATE_HZ
    return Piece(start_s, start_s + length_s, replace(heard, audio_s=length_s))


def hear_cut(
    paths: Iterable[Path], names: Names, *, engine: EngineName | None = None,
    address_required: bool = False, notice: Callable[[str], None] = lambda _line: None,
) -> Iterator[dict[str, Any]]:  # fmt: skip
    """One line for each utterance of each recording, as `hear_files` gives for a whole one,
    with `start_s` and `end_s`. Raises EarsError (ears.py) before the first line."""
    ears = Ears(names, engine=engine, notice=notice)

    def hear(samples: Samples, follows: bool) -> Heard:  # noqa: FBT001 -- as `pieces` asks
        return ears.hear(samples, address_required=address_required, free=follows)

    def cut(path: Path, samples: Samples) -> Iterator[dict[str, Any]]:
        for piece in pieces(samples, hear, lambda heard: outlook_of(heard, names)):
            times = {"start_s": round(piece.start_s, 3), "end_s": round(piece.end_s, 3)}
            yield {**line(path, piece.heard), **times}

    return lines_of(ears, paths, cut)
