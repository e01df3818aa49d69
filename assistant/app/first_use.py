"""The first time: four questions, remembered in the cook's settings file.

Enter takes what stands in brackets. Nothing is asked where a settings file exists
or nobody sits at a keyboard.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TextIO

import tomlkit

from assistant.app import settings
from assistant.app.settings import Settings, SettingsError
from assistant.system.files import write_whole
from assistant.system.units import units

TRIES = 3
_HEIGHT = re.compile(r"(-?\d{1,5}(?:\.\d+)?)\s*(ft|foot|feet|m|meters?|metres?)?")
HELLO = (
    "Welcome. Four questions, once; Enter takes what stands in brackets.\n"
    "They are kept in {path}, where you can change them.\n"
)
DONE = (
    "Kept. Say or type: birds on, bird one reads one twenty, what's next, what can I say.",
    "Charcoal burns outdoors only: it gives off carbon monoxide.",
    "Raw poultry: wash hands, keep a clean plate and a second brush.",
    "Read breast and thigh; a forecast is not a reading.",
)
READ = "Enter begins. "


@dataclass(frozen=True, slots=True)
class Question:
    """`text` is asked, `default` taken on Enter; `values` turns an answer into settings,
    `(section, key, value)`, and raises ValueError with what is expected."""

    text: str
    default: str
    values: Callable[[str], tuple[str, str, object]]


def _birds(answer: str) -> tuple[str, str, object]:
    if not answer.isdecimal():
        raise ValueError("a whole number from 1 to 8")
    return ("birds", "count", int(answer))


def _scale(answer: str) -> tuple[str, str, object]:
    letter = answer.strip().upper()[:1]
    if letter not in {"F", "C"}:
        raise ValueError("F or C")
    return ("thermometer", "scale", letter)


def _altitude(answer: str) -> tuple[str, str, object]:
    """Feet or metres, "5300 ft" or "1600 m"; feet where no unit is named."""
    match = _HEIGHT.fullmatch(answer.strip().lower())
    if match is None:
        raise ValueError("a height like 5300 ft or 1600 m")
    unit = "meter" if (match[2] or "ft").startswith("m") else "foot"
    height_m = units().Quantity(float(match[1]), unit).to("meter").magnitude
    return ("place", "altitude_m", round(float(height_m)))


def _band(answer: str) -> tuple[str, str, object]:
    """Two temperatures, "350 to 400 F"."""
    words = answer.upper().replace("-", " ").replace(" TO ", " ").split()
    scale = words.pop() if words and words[-1] in {"F", "C"} else "F"
    if len(words) != 2:
        raise ValueError("two temperatures, like 350 to 400 F")
    return ("grill", "band", [f"{word} {scale}" for word in words])


QUESTIONS = (
    Question("How many birds are usually on your spit, 1 to 8", "2", _birds),
    Question("Does your hand-held thermometer read F or C", "F", _scale),
    Question("How high above the sea do you cook (water boils lower there)", "0 ft", _altitude),
    Question("Between which temperatures do you hold the grill", "350 to 400 F", _band),
)


def is_first_use(stream: TextIO, path: Path | None = None) -> bool:
    """Nobody has answered yet, and somebody can: `stream` is a terminal."""
    return stream.isatty() and not (path or settings.settings_path()).exists()


def first_use(answers: TextIO, out: TextIO, path: Path | None = None) -> Settings:
    """Ask the four questions, keep the answers at `path`, and return the settings.

    An answer that cannot be is asked again, three times at most; then, and at the end
    of `answers`, what stood in brackets is taken. A file that cannot be written is
    told in one line and the settings hold for this time.
    """
    path = path or settings.settings_path()
    print(HELLO.format(path=path), file=out)
    document: dict[str, dict[str, object]] = {}
    for number, question in enumerate(QUESTIONS, 1):
        _ask(number, question, document, answers, out)
    text = tomlkit.dumps(document)
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        write_whole(path, text.encode())
    except OSError as error:
        print(f"{path} cannot be written ({error.strerror}): not remembered.", file=out)
    print("", *DONE, "", sep="\n", file=out)
    print(READ, end="", file=out, flush=True)  # the board would wipe what was not read yet
    answers.readline()
    return settings.parse(text)


def _ask(
    number: int,
    question: Question,
    document: dict[str, dict[str, object]],
    answers: TextIO,
    out: TextIO,
) -> None:
    """Put one answer into the document, checked by the rules of the settings file."""
    for _ in range(TRIES):
        print(f"{number}. {question.text}? [{question.default}] ", end="", file=out, flush=True)
        line = answers.readline()
        answer = line.strip()[:80]
        if not answer:
            break
        try:
            _put(document, question.values(answer))
        except SettingsError as error:
            print(f"   That cannot be: {str(error).split(': ', 1)[-1]}.", file=out)
        except ValueError as error:
            print(f"   Expected {error}.", file=out)
        else:
            return
    _put(document, question.values(question.default))


def _put(document: dict[str, dict[str, object]], setting: tuple[str, str, object]) -> None:
    """Add a setting; SettingsError, and nothing added, where the rules refuse it."""
    section, key, value = setting
    settings.parse(tomlkit.dumps({section: {key: value}}))
    document.setdefault(section, {})[key] = value
