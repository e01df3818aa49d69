"""What is heard through its own voice, and what becomes of it without the canceller."""

import sys

import pytest

from assistant.ears.heard import Heard
from assistant.live.duplex import Duplex
from assistant.live.gate import Gate
from assistant.live.options import LiveSettings


def test_without_the_library_one_line_says_so_and_it_is_half_duplex(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "pywebrtc_audio", None)
    lines: list[str] = []
    duplex = Duplex(LiveSettings(), lines.append)
    gate = Gate(duplex.hears_through)
    gate.started()
    assert not gate.lets_through(10.0)
    assert len(lines) == 1
    assert "what is said while it speaks is not heard" in lines[0]
    assert "pip install" in lines[0]


def test_a_headset_needs_none() -> None:
    duplex = Duplex(LiveSettings(full_duplex=True), pytest.fail)
    assert duplex.hears_through()


def test_its_own_words_are_known_and_no_others() -> None:
    duplex = Duplex(LiveSettings(full_duplex=True), pytest.fail)
    duplex.says("Bottom vent two thirds. Next: read the grill.")
    for words, own in (
        ("bottom vent two thirds", True),
        ("vent two", True),
        ("bottom vent one third", False),
        ("juniper bottom vent two thirds", False),
        ("two third", False),
        ("", False),
    ):
        assert duplex.is_own(Heard(words, None, 1.0, "accept")) is own, words
