"""Starting a cook while another is open."""

import io
from pathlib import Path

import pytest

from assistant.app.open_cook import opened_as_asked
from assistant.app.settings import SettingsError
from assistant.cook.vocabulary import events as ev
from assistant.journal.resilient import ResilientJournal
from assistant.session.opening import open_cook


class Keyboard(io.StringIO):
    """Somebody types."""

    def isatty(self) -> bool:
        return True


BEGAN = ev.CookBegan(birds=2, sauces=(("apricot", "high"),))


@pytest.fixture
def journal(tmp_path: Path) -> ResilientJournal:
    """A cook of two birds, one of them with apricot, begun at a thousand seconds."""
    journal = ResilientJournal.open(tmp_path / "journal.sqlite3", at_s=1000.0)
    open_cook(journal, 1000.0).log.append(1000.0, (BEGAN,))
    return journal


@pytest.mark.parametrize("asked", [(None, ()), (2, ()), (2, ("apricot",))])
def test_a_cook_started_alike_goes_on_without_a_question(
    journal: ResilientJournal, asked: tuple[int | None, tuple[str, ...]]
) -> None:
    assert not opened_as_asked(journal, 1100.0, None, asked, Keyboard()).is_new


@pytest.mark.parametrize("asked", [(3, ()), (None, ("harissa",))])
def test_other_birds_or_sauces_are_asked_about(
    journal: ResilientJournal,
    asked: tuple[int | None, tuple[str, ...]],
    capsys: pytest.CaptureFixture[str],
) -> None:
    goes_on = opened_as_asked(journal, 1100.0, None, asked, Keyboard("what?\ngo on\n"))
    shown = capsys.readouterr().out
    assert "is still open" in shown
    assert shown.count("Go on with it, or end it and begin a new one?") == 2
    assert not goes_on.is_new
    new = opened_as_asked(journal, 1200.0, None, asked, Keyboard("new\n"))
    assert new.is_new
    assert [cook.ended_s for cook in journal.cooks() if cook.events] == [1200.0]


def test_where_nobody_can_answer_it_says_what_to_do(journal: ResilientJournal) -> None:
    with pytest.raises(SettingsError, match="with 2 birds, not 3") as refused:
        opened_as_asked(journal, 1100.0, None, (3, ()), io.StringIO("birds on\n"))
    assert "turnspit cook" in str(refused.value)
