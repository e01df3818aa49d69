"""Damage in an evening long past, and in the log: named, mended, and never passed on as true."""

import struct
from pathlib import Path

import apsw
import pytest
from click.testing import CliRunner

from assistant.app import check
from assistant.cli.main import main
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import Said
from assistant.journal import learning, rescue, wal
from assistant.journal.errors import DamagedJournalError
from assistant.journal.reader import JournalReader
from assistant.journal.resilient import ResilientJournal
from assistant.journal.store import Journal
from assistant.system import places
from tests.journal.evenings import START_S, family_dinner

DAY_S = 86400.0
ALTERED = "UPDATE events SET slots = replace(slots, '118', '165') WHERE cook = 1"


@pytest.fixture
def altered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Two evenings; somebody made a reading of the first one a better one."""
    for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path))
    path = places.journal_path()
    with Journal(path) as journal:
        for name in ("windy", "calm"):
            journal.append_recorded(journal.begin(name, START_S), family_dinner())
    connection = apsw.Connection(str(path))
    connection.execute(ALTERED)
    assert connection.changes() > 0
    connection.close()
    return path


def run(*words: str) -> tuple[int, str, str]:
    done = CliRunner().invoke(main, [*words])
    return done.exit_code, done.stdout, done.stderr


def test_check_names_a_mend_that_mends(altered: Path) -> None:
    found = check.check_journal(altered)
    assert (found.state, found.fix.split("#")[0].split()) == (
        "broken", ["turnspit", "cooks", "mend"]
    )  # fmt: skip
    code, _, told = run("cooks", "mend")
    assert code == 0
    assert "could not be read" in told
    assert check.check_journal(altered).state == "works"
    assert run("cooks", "mend")[2] == "nothing is damaged\n"


def test_history_goes_on_without_the_damaged_cook_and_says_which(altered: Path) -> None:
    code, shown, told = run("history")
    assert code == 0
    assert "calm" in shown
    assert "windy" not in shown
    assert told == "windy is damaged and left out; to mend it: turnspit cooks mend\n"


def test_the_kitchen_learns_from_the_others(altered: Path) -> None:
    with Journal(altered) as journal:
        assert learning.relearn(journal).cooks == 1


def test_an_export_never_passes_an_altered_fact_on_as_true(altered: Path, tmp_path: Path) -> None:
    out = tmp_path / "all.jsonl"
    code, _, told = run("cooks", "export", "windy", "--out", str(out))
    assert code == 1
    assert "not what was written" in told
    assert not out.exists()
    code, _, told = run("cooks", "export", "--out", str(out))
    assert code == 0
    assert told.splitlines()[0].startswith("windy is damaged and left out")
    assert '"windy"' not in out.read_text()
    assert '"calm"' in out.read_text()


# ---- a flipped bit in the write-ahead log ----------------------------------------


def cut_off(path: Path, facts: int = 40) -> tuple[str, list[bytes]]:
    """A journal as a killed program leaves it: `facts` in its log. The id, and both files."""
    with Journal(path) as journal:
        cook = journal.begin("dinner", START_S)
        for number in range(facts):
            read = ev.GrillRead(350.0 + number, Said(350.0 + number, "F"))
            journal.append(cook, START_S + number, [read])
        files = [Path(f"{path}{part}").read_bytes() for part in ("", "-wal")]
    for part, data in zip(("", "-wal"), files, strict=True):
        Path(f"{path}{part}").write_bytes(data)
    return cook, files


def flip(path: Path, at: int) -> None:
    data = bytearray(path.read_bytes())
    data[at] ^= 0x10
    path.write_bytes(data)


def frame_at(number: int, page_bytes: int = 4096) -> int:
    return wal.HEADER + number * (wal.FRAME + page_bytes)


PLACES = {
    "header": 13, "salt of a frame": frame_at(20) + 9, "sum of a frame": frame_at(20) + 17,
    "an empty place of a page": frame_at(20) + wal.FRAME + 1500,
}  # fmt: skip


@pytest.mark.parametrize("at", PLACES.values(), ids=list(PLACES))
def test_a_flipped_bit_in_the_log_loses_no_fact_behind_it(tmp_path: Path, at: int) -> None:
    path = tmp_path / "journal.db"
    cook, _ = cut_off(path)
    flip(Path(f"{path}-wal"), at)
    seen = 0
    if at > wal.HEADER:  # else nothing at all is seen
        with JournalReader(path) as journal:
            seen = len(journal.events(cook))
    assert seen < 40
    (fault, *_) = rescue.findings(path)
    assert f"{40 - seen} events recorded after that place are not seen" in fault
    with pytest.raises(DamagedJournalError, match="cooks mend"):
        Journal(path)  # whoever wrote on would write over them
    with ResilientJournal.open(path, at_s=START_S + DAY_S) as journal:
        (news,) = journal.news()
        assert f"{40 - seen} lay behind the damage" in news.text
        facts = [one.event for one in journal.resume(cook)]
    assert [one.temperature for one in facts if isinstance(one, ev.GrillRead)] == [
        350.0 + number for number in range(40)
    ]
    assert rescue.findings(path) == ()


def test_a_fact_that_the_flip_reached_is_counted_and_the_others_are_kept(tmp_path: Path) -> None:
    path = tmp_path / "journal.db"
    cook, (_, log) = cut_off(path, facts=120)
    flip(Path(f"{path}-wal"), log.rindex(b"360.0"))  # in the last image of its page
    with ResilientJournal.open(path, at_s=START_S + DAY_S) as journal:
        (news,) = journal.news()
        facts = journal.resume(cook)
    assert "1 could not be read" in news.text
    kept = [one.event.temperature for one in facts if isinstance(one.event, ev.GrillRead)]
    assert kept == [350.0 + number for number in range(120) if number != 10]


def test_what_a_power_cut_leaves_is_no_damage(tmp_path: Path) -> None:
    """A last commit that is cut off, or torn, was never read back."""
    path = tmp_path / "journal.db"
    _, (_, log) = cut_off(path)
    frames = (len(log) - wal.HEADER) // (wal.FRAME + 4096)
    for data in (
        log[: frame_at(frames - 1) + 2000],
        log[: frame_at(frames - 1)] + bytes(wal.FRAME + 4096),
        log[: frame_at(frames - 1) + 2000] + bytes(2120),
    ):
        Path(f"{path}-wal").write_bytes(data)
        wal.check(path)


def test_our_sums_are_sqlites(tmp_path: Path) -> None:
    path = tmp_path / "journal.db"
    cut_off(path)
    log = wal.read(path)
    assert log is not None
    assert log.has_header
    assert all(log.whole)
    assert len(log.commits) >= 40
    assert struct.unpack(">I", log.data[8:12]) == (log.page_bytes,)
