"""Recordings to lines: one utterance a file, one JSON-ready dict a line."""

import dataclasses
import time
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

from assistant.ears.ears import Ears
from assistant.ears.endpointer import spoken_span
from assistant.ears.heard import EngineName, Heard
from assistant.grammar.free.open_facts import Fact, fact_json
from assistant.grammar.grammar import Names
from assistant.sound.files import SoundError, read_sound
from assistant.sound.samples import RATE_HZ, Samples

NOBODY = "nobody speaks in it"


def lines_of(
    ears: Ears, paths: Iterable[Path], lines: Callable[[Path, Samples], Iterable[dict[str, Any]]]
) -> Iterator[dict[str, Any]]:
    """The `lines` of every recording in order; for one that cannot be read a line whose
    "error" says why. The ears are closed afterwards."""
    try:
        for path in paths:
            try:
                samples = read_sound(path)
            except SoundError as error:
                refused = Heard("", None, 0.0, "refuse", reason=str(error))
                yield {**line(path, refused), "error": str(error)}
            else:
                yield from lines(path, samples)
    finally:
        ears.close()


def hear_files(
    paths: Iterable[Path], *, names: Names | None = None, grammar: str | None = None,
    engine: EngineName | None = None, address_required: bool = False,
    notice: Callable[[str], None] = lambda _line: None,
) -> Iterator[dict[str, Any]]:  # fmt: skip
    """One line for each recording, in order; see the command-line contract for its keys.

    `grammar` is JSGF text: then words only, no commands. Raises EarsError (ears.py) or
    GrammarError (network.py) before the first line.
    """
    asked = Names() if names is None and grammar is None else names
    ears = Ears(None if grammar else asked, jsgf=grammar, engine=engine, notice=notice)

    def one(path: Path, samples: Samples) -> tuple[dict[str, Any], ...]:
        return (line(path, hear_recording(ears, samples, address_required=address_required)),)

    return lines_of(ears, paths, one)


def hear_recording(ears: Ears, samples: Samples, *, address_required: bool = False) -> Heard:
    """The whole spoken span of a recording as one utterance."""
    began = time.perf_counter()
    span = spoken_span(samples)
    heard = (
        ears.hear(samples[span], address_required=address_required)
        if span.stop > span.start
        else Heard("", None, 0.0, "refuse", reason=NOBODY, engine=ears.engine_name)
    )
    compute_s = time.perf_counter() - began
    return dataclasses.replace(heard, audio_s=len(samples) / RATE_HZ, compute_s=compute_s)


def line(path: Path, heard: Heard) -> dict[str, Any]:
    """The JSON line of one recording. What would be asked back counts as heard, with
    `outcome` saying so and `asks` the question, where the words themselves leave it open."""
    facts = [] if heard.outcome == "refuse" else [fact_json(fact) for fact in _facts(heard)]
    understood = heard.understood
    return {
        "file": str(path),
        "words": heard.words,
        "command": facts[0]["command"] if facts else None,
        "slots": facts[0]["slots"] if facts else {},
        "facts": facts,
        "confidence": round(heard.confidence, 4),
        "rejected": heard.reason if heard.outcome == "refuse" else None,
        "outcome": heard.outcome,
        "asks": understood.question if understood is not None else None,
        "alternatives": [fact_json(one) for one in heard.alternatives],
        "audio_s": round(heard.audio_s, 3),
        "compute_s": round(heard.compute_s, 3),
    }


def _facts(heard: Heard) -> tuple[Fact, ...]:
    """All that was heard; of commands to ask between the likeliest."""
    if heard.understood is not None:
        return heard.understood.facts
    clear = (heard.command, *heard.more) if heard.command is not None else ()
    return (*heard.alternatives[:1], *clear)
