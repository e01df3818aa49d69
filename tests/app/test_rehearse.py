"""Rehearsals: scripts read with care, run on the virtual clock."""

import json
import os
import subprocess
import sys
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from assistant.app.rehearse import START_S, ScriptError, read_script, rehearse, starts_s
from assistant.journal.learning import choices, kitchen_of
from assistant.journal.reader import JournalReader
from assistant.session.line import Line
from assistant.voice.silent import SilentSpeaker


def _script(folder: Path, text: str) -> Path:
    path = folder / "script.txt"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("00:00:00 birds on\n\n# fine\n0:40 bird one reads 118\n", "line 4: expected HH:MM:SS"),
        ("00:00:00 sing me a song\n", "line 1: "),
        ("01:00:00 birds on\n00:30:00 lid off\n", "line 2: its time is before"),
        ("00:00:00 @../secret.wav\n", "line 1: ../secret.wav lies outside"),
        ("00:00:00 @none.wav\n", "line 1: no recording named none.wav"),
        ("00:00:00 bird one reads 9000\n", "line 1: "),
        ("# only a comment\n", "no lines to rehearse"),
        ("", "no lines to rehearse"),
    ],
)
def test_a_bad_line_stops_with_its_number_and_what_was_expected(
    tmp_path: Path, text: str, says: str
) -> None:
    with pytest.raises(ScriptError) as caught:
        read_script(_script(tmp_path, text))
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)


def test_a_script_that_is_not_text_is_refused_in_one_line(tmp_path: Path) -> None:
    path = tmp_path / "script.txt"
    path.write_bytes(b"\xff\xfe\x00\x80")
    with pytest.raises(ScriptError, match="not UTF-8"):
        read_script(path)


COOK = """
00:00:00 bird one weighs six pounds
00:00:10 bird one gets harissa
00:05:00 birds on
00:06:00 grill is three seventy
00:45:00 bird one reads 118
01:00:00 bird one reads 130
"""


def test_every_event_that_changes_a_forecast_is_followed_by_both_marks_of_every_bird(
    tmp_path: Path,
) -> None:
    lines: list[Line] = []
    rehearse(read_script(_script(tmp_path, COOK)), lines.append, SilentSpeaker())
    forecasts = [line for line in lines if line.kind == "forecast"]
    assert {(line.fields["bird"], line.fields["mark"]) for line in forecasts} == {
        (1, "sauce"),
        (1, "done"),
    }
    for line in forecasts:
        quantiles = line.fields["quantiles"]
        assert isinstance(quantiles, dict)
        assert quantiles["0.1"] <= quantiles["0.5"] <= quantiles["0.9"]
    assert len(forecasts) >= 2 * 4  # on, grill, two readings
    assert {"heard", "event", "said", "forecast", "next_check"} <= {line.kind for line in lines}


def test_a_rehearsal_is_the_same_every_time(tmp_path: Path) -> None:
    steps = read_script(_script(tmp_path, COOK))
    runs: list[list[Line]] = [[], []]
    for lines in runs:
        rehearse(steps, lines.append, SilentSpeaker())
    assert runs[0] == runs[1]


def test_the_sauce_prompt_follows_the_reading_that_reaches_the_mark(tmp_path: Path) -> None:
    lines: list[Line] = []
    rehearse(read_script(_script(tmp_path, COOK)), lines.append, SilentSpeaker())
    prompted = [line for line in lines if line.kind == "event" and "sauce:1" in str(line.fields)]
    assert [3600.0 <= line.t <= 3660.0 for line in prompted] == [True]


HEAVY = "00:00:00 bird one weighs 5 pounds\n"
COOKED = "00:00:10 bird one is on\n00:01:00 grill is 370\n"


def _done_ranges(lines: list[Line]) -> list[float]:
    """Width of each forecast of bird one's done time, in seconds, in order."""
    return [
        quantiles["0.9"] - quantiles["0.1"]
        for line in lines
        if line.kind == "forecast" and (line.fields["bird"], line.fields["mark"]) == (1, "done")
        and isinstance(quantiles := line.fields["quantiles"], dict)
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("script", "says"),
    [
        (COOKED + "00:40:00 bird one reads 100\n", "Bird 1, 100."),
        (HEAVY + COOKED + "00:40:00 bird one reads 400\n", "No meat reads 400. Read it again."),
        (HEAVY + COOKED + "00:40:00 bird one reads 110\n00:50:00 bird one reads 90\n",
         "It was 110. Bird 1, 90, is that right?"),
        (HEAVY + "00:00:10 bird one is on\n00:40:00 bird one reads 100\n", "Bird 1, 100."),
    ],
    ids=["no weight", "400 F", "falling", "no grill reading"],
)  # fmt: skip
def test_a_poor_evening_ends_in_a_forecast_or_a_question(
    tmp_path: Path, script: str, says: str
) -> None:
    lines: list[Line] = []
    rehearse(read_script(_script(tmp_path, script)), lines.append, SilentSpeaker())
    said = [str(line.fields["text"]) for line in lines if line.kind == "said"]
    assert any(text.startswith(says) for text in said)
    assert all(width > 60.0 for width in _done_ranges(lines))
    assert _done_ranges(lines)


def test_a_reading_that_contradicts_the_one_before_leaves_the_forecast_wider(
    tmp_path: Path,
) -> None:
    """After 105 F at 40 minutes: 122 F at an hour goes on like that, 108 F does not."""
    widths = []
    for later in (122, 108):
        readings = f"00:40:00 bird one reads 105\n01:00:00 bird one reads {later}\n"
        lines: list[Line] = []
        script = _script(tmp_path, HEAVY + COOKED + readings)
        rehearse(read_script(script), lines.append, SilentSpeaker())
        widths.append(_done_ranges(lines)[-1])
    assert widths[1] > 1.1 * widths[0]


def test_a_rehearsal_begins_at_four_by_the_kitchens_own_clocks() -> None:
    assert starts_s("UTC") == START_S
    at = datetime.fromtimestamp(starts_s("America/Denver"), ZoneInfo("America/Denver"))
    assert (at.hour, at.minute, at.strftime("%A")) == (16, 0, "Sunday")
    assert 0.0 <= START_S + 7200 - starts_s("UTC", START_S + 7200) == 7200.0
    assert starts_s("UTC", START_S - 60) == START_S - 86400


def _turnspit(home: Path, *words: str) -> subprocess.CompletedProcess[str]:
    environ = {"PATH": os.environ["PATH"], "HOME": str(home), "TZ": "UTC"}
    environ |= {"XDG_DATA_HOME": str(home / "data"), "XDG_CONFIG_HOME": str(home / "config")}
    command = [sys.executable, "-m", "assistant", *words]
    return subprocess.run(command, capture_output=True, text=True, env=environ, check=True)


def test_a_rehearsal_reads_cook_toml_and_can_be_kept_for_the_look_back(tmp_path: Path) -> None:
    """Kept, it is marked, it has ended though the script does not say so, and it
    teaches the kitchen nothing."""
    settings = tmp_path / "config" / "turnspit" / "cook.toml"
    settings.parent.mkdir(parents=True)
    settings.write_text('[thermometer]\nscale = "C"\n[sauces]\nhoneycomb = "high"\n')
    script = _script(
        tmp_path,
        "00:00:00 bird one gets honeycomb\n00:05:00 birds on\n00:40:00 bird one reads forty\n",
    )
    done = _turnspit(tmp_path, "rehearse", str(script), "--json", "--keep")
    lines = [json.loads(line) for line in done.stdout.splitlines()]
    events = {one["name"]: one["fields"] for one in lines if one["kind"] == "event"}
    assert events["bird_reading"]["temperature"] == pytest.approx(104.0)
    assert events["bird_sauce"]["sugar"] == "high"
    assert 'turnspit lookback "rehearsal script"' in done.stderr
    with JournalReader(tmp_path / "data" / "turnspit" / "journal.sqlite3") as journal:
        assert journal.unfinished() is None
        kept = journal.find("rehearsal script")
        assert choices(journal).excluded == (kept.id,)
        assert kitchen_of(journal).cooks == 0
    assert "rehearsal script" in _turnspit(tmp_path, "history").stdout
    assert "Bird 1, 40." in _turnspit(tmp_path, "replay", "rehearsal script").stdout
