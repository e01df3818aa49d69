"""Each script beside this file is an evening in the cook's own words.

A line `# says: TEXT` holds when a sentence with TEXT is said after the line of the script
above it and before the next one; `# silent: TEXT` when none is; `# never: TEXT` when no
sentence of the whole evening has it.
"""

import re
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import pytest

from assistant.app.rehearse import read_script, rehearse
from assistant.cook.vocabulary.events import CookBegan
from assistant.session.line import Line
from assistant.voice.silent import SilentSpeaker

SCRIPTS = sorted(Path(__file__).parent.glob("*.txt"))
_WANTED = re.compile(r"#\s*(says|silent|never):\s*(\S.*)")
_TIMED = re.compile(r"(\d+):(\d\d):(\d\d)\s")
_BEGAN = re.compile(r"#\s*outside:\s*(\d+) F")


@dataclass
class Script:
    """What an evening must say (or not) from one moment to the next, and at no time."""

    wanted: list[tuple[float, float, str, str]] = field(default_factory=list)
    never: list[str] = field(default_factory=list)


def read(path: Path) -> Script:
    """The expectations of a script, each with the time it stands for."""
    text = path.read_text(encoding="utf-8").splitlines()
    times = [_seconds(line) for line in text]
    found = Script()
    for number, line in enumerate(text):
        match = _WANTED.match(line)
        if match is None:
            continue
        kind, words = match.groups()
        if kind == "never":
            found.never.append(words)
            continue
        from_s = max((one for one in times[:number] if one is not None), default=0.0)
        later = [one for one in times[number:] if one is not None]
        found.wanted.append((from_s, later[0] if later else from_s + 60.0, kind, words))
    return found


def _seconds(line: str) -> float | None:
    match = _TIMED.match(line)
    if match is None:
        return None
    hours, minutes, seconds = (int(part) for part in match.groups())
    return 3600.0 * hours + 60.0 * minutes + seconds


@cache
def said_in(path: Path) -> tuple[Line, ...]:
    """Every sentence of the evening."""
    lines: list[Line] = []
    warm = _BEGAN.search(path.read_text(encoding="utf-8"))
    begin = CookBegan(outside_f=float(warm[1])) if warm else None
    rehearse(read_script(path), lines.append, SilentSpeaker(), begin=begin)
    return tuple(line for line in lines if line.kind == "said")


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_the_evening_says_what_it_must_and_nothing_it_must_not(path: Path) -> None:
    script, said = read(path), said_in(path)
    assert script.wanted
    for from_s, until_s, kind, words in script.wanted:
        texts = [str(one.fields["text"]) for one in said if from_s <= one.t < until_s]
        there = any(words in text for text in texts)
        assert there == (kind == "says"), (
            f"{path.name} at {from_s:.0f} s: {kind} {words!r}: {texts}"
        )
    whole = " ".join(str(one.fields["text"]) for one in said)
    for words in (*script.never, "safe"):
        assert words not in whole
