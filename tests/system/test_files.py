"""Only a plain file of the user's own is replaced, whole, and for its owner alone."""

import os
import stat
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from assistant.app import settings
from assistant.board.status_file import replace_text
from assistant.journal import jsonl
from assistant.journal.errors import JournalError
from assistant.journal.reader import JournalReader
from assistant.journal.store import Journal
from assistant.lookback.output import LookbackError, lookback
from assistant.system.files import replacing, write_whole
from tests.journal.evenings import START_S, family_dinner
from tests.reliability.disk import images
from tests.reliability.plain_files import recorded
from tests.reliability.storage import Create, Rename, Step, Sync, SyncFolder, Write

OLD = {"out": b"old"}


def export(path: Path) -> None:
    with Journal(path.parent / "journal.db") as journal:
        journal.append_recorded(journal.begin("dinner", START_S), family_dinner())
        jsonl.export(journal, journal.cooks(), path)


def status(path: Path) -> None:
    replace_text(path, "headline: lid on\n")


def look_back(path: Path) -> None:
    lookback(family_dinner(), path.with_suffix(".csv"), title="dinner")


WRITERS = [export, status, look_back, lambda path: write_whole(path, b"plan")]
NAMES = ["export", "status", "lookback", "whole"]


def target(tmp_path: Path, write: Callable[[Path], None]) -> Path:
    return tmp_path / ("out.csv" if write is look_back else "out")


def link(path: Path) -> None:
    (path.parent / "precious").write_bytes(b"precious")
    path.symlink_to(path.parent / "precious")


@pytest.mark.parametrize("write", WRITERS, ids=NAMES)
@pytest.mark.parametrize("make", [link, Path.mkdir, os.mkfifo], ids=["link", "folder", "pipe"])
def test_what_is_no_plain_file_is_left_alone(
    tmp_path: Path, write: Callable[[Path], None], make: Callable[[Path], None]
) -> None:
    path = target(tmp_path, write)
    make(path)
    kind = stat.S_IFMT(path.lstat().st_mode)
    with pytest.raises((OSError, JournalError, LookbackError)):
        write(path)
    assert stat.S_IFMT(path.lstat().st_mode) == kind
    if make is link:
        assert path.read_bytes() == b"precious"
    assert not [one for one in tmp_path.iterdir() if one.name.startswith(".")]


@pytest.mark.parametrize("write", WRITERS, ids=NAMES)
def test_a_plain_file_is_replaced_for_its_owner_alone(
    tmp_path: Path, write: Callable[[Path], None]
) -> None:
    path = target(tmp_path, write)
    path.write_bytes(b"old")
    path.chmod(0o644)
    write(path)
    assert path.read_bytes() != b"old"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_the_name_beside_cannot_be_guessed(tmp_path: Path) -> None:
    """A link laid in wait under the usual name is not written through."""
    (tmp_path / "out.part").symlink_to(tmp_path / "precious")
    names = set()
    for _ in range(3):
        with replacing(tmp_path / "out") as file:
            names.add(Path(str(file.name)).name if isinstance(file.name, str) else "")
            names |= {one.name for one in tmp_path.iterdir() if one.name.startswith(".out")}
            file.write(b"x")
    assert not (tmp_path / "precious").exists()
    assert len({one for one in names if one}) == 3


def test_a_failure_in_the_middle_keeps_the_old_file(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"old")

    def fail() -> None:
        with replacing(tmp_path / "out") as file:
            file.write(b"half")
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()
    assert (tmp_path / "out").read_bytes() == b"old"
    assert [one.name for one in tmp_path.iterdir()] == ["out"]


def test_a_pipe_as_journal_or_settings_ends_at_once(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with pytest.raises(JournalError, match="not a file"):
        Journal(pipe)
    with pytest.raises(JournalError, match="not a file"):
        JournalReader(pipe)
    with pytest.raises(settings.SettingsError, match="not a file"):
        settings.load(pipe)


def test_what_is_written_is_on_disk_before_it_takes_its_place(tmp_path: Path) -> None:
    """And the new name is on disk when the call returns: a power cut leaves one or the other."""
    path, steps = tmp_path / "out", list[Step]()
    path.write_bytes(b"old")
    path.chmod(0o600)
    with recorded(tmp_path, steps):
        write_whole(path, b"new")
    kinds = [type(step) for step in steps]
    assert kinds == [Create, Write, Sync, Rename, SyncFolder]
    (image,) = {image["out"] for _, _, image in images(steps, chance=Random(1), before=OLD)} - {
        b"old"
    }
    assert image == b"new"
