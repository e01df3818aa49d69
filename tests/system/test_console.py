"""Nothing that a terminal could act on gets past the edge, whoever prints it."""

import io
import json
import sys
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.system.console import UNREAD, guarded, outlive_readers, raw, visible

HOSTILE = st.text(
    st.sampled_from("\x00\x07\x08\x1b\r\x7f\x85\x9b\u200e\u202e\u2066\u2028\ud800\U000e0001")
    | st.characters(),
    max_size=40,
)


class Terminal(io.TextIOWrapper):
    """A terminal in UTF-8 that keeps what reached it."""

    def __init__(self, encoding: str = "utf-8") -> None:
        super().__init__(io.BytesIO(), encoding=encoding, newline="\n")

    def seen(self) -> str:
        self.flush()
        kept = self.buffer
        assert isinstance(kept, io.BytesIO)
        return kept.getvalue().decode(self.encoding)


@given(HOSTILE, st.sampled_from(["utf-8", "ascii", "latin-1"]))
def test_what_is_printed_holds_nothing_a_terminal_acts_on(text: str, encoding: str) -> None:
    out, err = Terminal(encoding), Terminal(encoding)
    before = sys.stdout, sys.stderr
    sys.stdout, sys.stderr = out, err
    try:
        with guarded():
            print(text)
            print(text, file=sys.stderr)
    finally:
        sys.stdout, sys.stderr = before
    for seen in (out.seen(), err.seen()):
        assert all(unicodedata.category(one)[0] != "C" for one in seen if one not in "\n\t")
        assert not {"\u2028", "\u2029"} & set(seen)


@given(HOSTILE)
def test_a_json_line_stays_one_and_says_the_same(text: str) -> None:
    shown = visible(json.dumps(text, ensure_ascii=False))
    assert json.loads(shown) == text
    assert all(one.isprintable() or unicodedata.category(one) == "Zs" for one in shown)


def test_plain_words_in_any_language_stay_as_they_are() -> None:
    assert visible("crème, 130 °F, ½ lb\n\tдичь 鶏 🔥") == "crème, 130 °F, ½ lb\n\tдичь 鶏 🔥"


def test_there_is_no_way_around_but_for_the_board(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = Terminal()
    monkeypatch.setattr(sys, "stdout", terminal)
    with guarded():
        assert not hasattr(sys.stdout, "buffer")
        assert raw(sys.stdout) is terminal
    assert sys.stdout is terminal


class Gone(Terminal):
    """Nobody reads it."""

    def write(self, _: str) -> int:
        raise BrokenPipeError(32, "Broken pipe")


def test_a_cook_goes_on_when_nobody_reads_and_says_so_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    err = Terminal()
    monkeypatch.setattr(sys, "stdout", Gone())
    monkeypatch.setattr(sys, "stderr", err)
    with guarded():
        with pytest.raises(BrokenPipeError):  # a command whose reader has seen enough
            print("one")
        outlive_readers()
        print("two")
        print("three")
    assert err.seen() == UNREAD + "\n"
