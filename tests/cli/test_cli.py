"""The command line, as a person types it: real processes, real exit statuses."""

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest

from assistant.cook.rules.fold import fold
from assistant.journal.store import Journal

TEN = [
    "bird one weighs five pounds eight ounces", "bird two weighs 4 lb", "bird one gets apricot",
    "bird two gets harissa", "dinner at six thirty", "birds on", "grill is three seventy",
    "bird one reads forty one", "added twelve briquettes", "lid off",
]  # fmt: skip


def _turnspit(*words: str, home: Path, typed: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "assistant", *words],
        input=typed, capture_output=True, text=True, timeout=100, env=_env(home), check=False,
    )  # fmt: skip


def _env(home: Path) -> dict[str, str]:
    kept = {"PATH": os.environ["PATH"], "HOME": str(home), "TZ": "UTC"}
    return {**kept, "XDG_DATA_HOME": str(home / "data"), "XDG_CONFIG_HOME": str(home / "config")}


def _state(home: Path) -> object:
    with Journal(home / "data" / "turnspit" / "journal.sqlite3") as journal:
        state = fold(journal.events(journal.find("last").id))
    return (state.birds, state.fire, state.serve_s, state.timers)


def test_a_typed_cook_killed_after_its_last_read_back_goes_on_as_it_was(tmp_path: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "assistant", "cook", "--typed", "--json"],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=_env(tmp_path),
    ) as cook:  # fmt: skip
        assert cook.stdin is not None
        assert cook.stdout is not None
        cook.stdin.write("\n".join(TEN) + "\n")
        cook.stdin.flush()
        replies = 0
        while replies < len(TEN):
            line = json.loads(cook.stdout.readline())
            replies += line["kind"] == "said" and line["urgency"] == "reply"
        cook.send_signal(signal.SIGKILL)
    before = _state(tmp_path)
    again = _turnspit("cook", "--typed", "--json", home=tmp_path, typed="last reading bird one\n")
    said = [line["text"] for line in map(json.loads, again.stdout.splitlines())
            if line["kind"] == "said"]  # fmt: skip
    assert again.returncode == 0, again.stderr
    assert any("41" in text for text in said)
    assert _state(tmp_path) == before


@pytest.mark.parametrize(
    ("words", "status"),
    [
        (["rehearse", "none.txt"], 2), (["plan", "--serve", "25:99", "--bird", "4 lb"], 2),
        (["plan", "--serve", "19:00", "--bird", "a swan"], 2), (["hear", "none.wav"], 1),
        (["nonsense"], 2), (["replay", "christmas"], 1), (["lookback", "christmas"], 1),
    ],
)  # fmt: skip
def test_what_cannot_be_done_is_told_in_plain_words_and_by_the_exit_status(
    tmp_path: Path, words: list[str], status: int
) -> None:
    done = _turnspit(*words, home=tmp_path)
    assert done.returncode == status
    assert "Traceback" not in done.stderr
    assert done.stderr.strip()


def test_a_bad_script_line_is_named_in_one_line(tmp_path: Path) -> None:
    script = tmp_path / "script.txt"
    script.write_text("00:00:00 birds on\n00:01:00 dance\n")
    done = _turnspit("rehearse", str(script), home=tmp_path)
    assert done.returncode == 2
    assert done.stderr.strip().splitlines()[-1].startswith("Error: line 2: ")
    assert done.stdout == ""


def test_a_folder_nothing_can_be_written_to_is_one_clear_line(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("a file where a folder should be")
    done = _turnspit("cook", "--typed", home=tmp_path, typed="birds on\n")
    assert done.returncode == 1
    assert done.stderr.startswith("Error: ")
    assert len(done.stderr.strip().splitlines()) == 1


def test_a_corrupt_settings_file_is_named_with_its_line(tmp_path: Path) -> None:
    folder = tmp_path / "config" / "turnspit"
    folder.mkdir(parents=True)
    (folder / "cook.toml").write_text("[birds]\ncount = 90\n")
    done = _turnspit("cook", "--typed", home=tmp_path, typed="birds on\n")
    assert done.returncode == 1
    assert "line 2" in done.stderr


def test_json_output_is_json_on_every_line(tmp_path: Path) -> None:
    script = tmp_path / "script.txt"
    script.write_text("00:00:00 birds on\n00:40:00 bird one reads 112\n00:41:00 what's next\n")
    done = _turnspit("rehearse", str(script), "--json", home=tmp_path)
    assert done.returncode == 0
    kinds = {json.loads(line)["kind"] for line in done.stdout.splitlines()}
    assert {"heard", "event", "said", "forecast", "next_check"} <= kinds


@pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="no espeak-ng on this machine")
def test_speech_that_could_not_be_written_is_told_once_and_by_the_exit_status(
    tmp_path: Path,
) -> None:
    script = tmp_path / "script.txt"
    script.write_text("00:00:00 birds on\n00:40:00 bird one reads 112\n")
    command = [sys.executable, "-m", "assistant", "rehearse", str(script)]
    full_disk = ["sh", "-c", 'ulimit -f 0; exec "$@"', "sh"]
    done = subprocess.run(
        [*full_disk, *command, "--say-to", str(tmp_path / "spoken")],
        capture_output=True, text=True, timeout=100, env=_env(tmp_path), check=False,
    )  # fmt: skip
    assert done.returncode == 1
    assert len(done.stderr.strip().splitlines()) == 1


def test_a_plan_writes_a_calendar_only_when_asked_and_is_kept_for_the_cook(tmp_path: Path) -> None:
    """Dinner three hours from now, kept; then the typed cook starts from it."""
    at = datetime.fromtimestamp(time.time() + 4 * 3600, UTC)  # noqa: TID251 -- a real process
    asked = ("plan", "--serve", f"{at:%Y-%m-%d %H:%M}", "--bird", "4 lb with apricot")
    plain = _turnspit(*asked, home=tmp_path)
    assert plain.returncode == 0, plain.stderr
    assert not list(tmp_path.rglob("*.ics"))
    calendar = tmp_path / "dinner.ics"
    kept = _turnspit(*asked, "--keep", "--calendar", str(calendar), home=tmp_path)
    assert kept.returncode == 0, kept.stderr
    assert calendar.read_bytes().startswith(b"BEGIN:VCALENDAR")
    cook = _turnspit("cook", "--typed", "--json", home=tmp_path, typed="which sauce\n")
    told = [line["text"] for line in map(json.loads, cook.stdout.splitlines())
            if line["kind"] == "said"]  # fmt: skip
    assert told[0].startswith("As planned: dinner at ")
    assert any("apricot" in text for text in told[1:])
    again = _turnspit("cook", "--typed", "--json", home=tmp_path, typed="end cook\n")
    assert "As planned" not in again.stdout


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--serve", "2020-01-01 18:00", "--bird", "4 lb"), "has gone by"),
        (("--serve", "19:00", "--bird", "60 lb"), "a bird weighs 0.2 to 15 kg"),
        (("--serve", "19:00", "--bird", "4 lb", "--side", "soup"), "is not a side dish"),
        (("--serve", "19:00"), "give --bird once for each, or --guests"),
        (("--serve", "soon", "--bird", "4 lb"), '"tomorrow 18:30"'),
    ],
)
def test_a_plan_that_cannot_be_is_one_clear_line(
    tmp_path: Path, words: tuple[str, ...], says: str
) -> None:
    done = _turnspit("plan", *words, home=tmp_path)
    assert done.returncode == 2
    assert says in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1
