"""The four questions of the first use."""

import io
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.app import settings
from assistant.app.first_use import QUESTIONS, first_use, is_first_use


def ask(path: Path, text: str) -> tuple[settings.Settings, str]:
    out = io.StringIO()
    return first_use(io.StringIO(text), out, path), out.getvalue()


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_answers_are_remembered_as_settings(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "cook.toml"
    found, out = ask(path, "3\nC\n1600 m\n180 to 200 C\n")
    assert settings.load(path) == found
    assert (found.birds, found.scale, found.altitude_m) == (3, "C", 1600)
    assert (round(found.band_low_f), round(found.band_high_f)) == (356, 392)
    assert path.stat().st_mode & 0o077 == 0
    assert "Kept." in out
    assert out.count("?") == len(QUESTIONS) == 4


@pytest.mark.parametrize("text", ["", "\n\n\n\n", "x\nx\nx\nx\nx\nx\nx\nx\nx\nx\nx\nx\n"])
def test_no_answers_and_nonsense_take_what_stands_in_brackets(tmp_path: Path, text: str) -> None:
    found, _ = ask(tmp_path / "cook.toml", text)
    assert (found.birds, found.scale, found.altitude_m) == (2, "F", 0)
    assert (found.band_low_f, found.band_high_f) == (350.0, 400.0)


def test_an_answer_that_cannot_be_is_asked_again_with_what_is_allowed(tmp_path: Path) -> None:
    found, out = ask(tmp_path / "cook.toml", "12\n4\nF\n5300 ft\n400 to 350\n325-375\n")
    assert found.birds == 4
    assert "a whole number from 1 to 8" in out
    assert found.altitude_m == 1615
    assert (found.band_low_f, found.band_high_f) == (325.0, 375.0)


def test_a_folder_that_cannot_be_written_is_one_line_and_the_answers_hold(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    found, out = ask(tmp_path / "file" / "cook.toml", "5\n")
    assert found.birds == 5
    assert "cannot be written" in out


@given(answers=st.text(max_size=200))
def test_no_answer_breaks_it(tmp_path_factory: pytest.TempPathFactory, answers: str) -> None:
    path = tmp_path_factory.mktemp("first") / "cook.toml"
    found, _ = ask(path, answers)
    assert settings.load(path) == found


def test_questions_are_asked_only_at_a_terminal_and_only_once(tmp_path: Path) -> None:
    path = tmp_path / "cook.toml"
    assert is_first_use(Terminal(), path)
    assert not is_first_use(io.StringIO(), path)
    ask(path, "")
    assert not is_first_use(Terminal(), path)


def test_the_cautions_of_the_first_minute_are_told(tmp_path: Path) -> None:
    _, out = ask(tmp_path / "cook.toml", "")
    assert "outdoors only" in out
    assert "carbon monoxide" in out
    assert "Raw poultry" in out


def test_the_cautions_stand_until_they_were_read_and_are_not_broken_up(tmp_path: Path) -> None:
    """The board would wipe them: Enter begins; each caution is one line."""
    answers = io.StringIO("\n\n\n\n\nbirds on\n")
    out = io.StringIO()
    first_use(answers, out, tmp_path / "cook.toml")
    assert out.getvalue().rstrip().endswith("Enter begins.")
    assert answers.readline() == "birds on\n"
    assert "Raw poultry: wash hands, keep a clean plate and a second brush." in out.getvalue()
