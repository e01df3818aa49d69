"""A command left unfinished is refused: in a scratch copy, by the type checker, place by place.

Its rule in the grammar and its place on the card are asked for by tests/grammar/test_grammar.py
and tests/sentences/test_card.py.
"""

import ast
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
COMMAND = '''
@dataclass(frozen=True, slots=True)
class SpitOff:
    """The motor is off."""

    NAME: ClassVar[str] = "spit_off"
    CARD: ClassVar[str] = "Fire"


'''
EVENT = '''
@dataclass(frozen=True, slots=True)
class SpitTurnedOff:
    """The motor was turned off."""

    NAME: ClassVar[str] = "spit_off"


'''
# What a command and its event need, and the function the checker names when it is missing.
NEEDED_BY_THE_COMMAND = {
    "what it does": ("assistant/cook/rules/fire.py", "decide_fire"),
    "whether it may be idle": ("assistant/cook/rules/fire.py", "fire_is_idle"),
    "its words": ("assistant/grammar/sayback.py", "_of_fire"),
    "its read-back": ("assistant/sentences/fire.py", "fire_told"),
}
NEEDED_BY_THE_EVENT = {
    "how it is folded": ("assistant/cook/rules/fire.py", "step_fire"),
    "how it is named when it is taken back": ("assistant/sentences/fire.py", "fire_fact"),
    "whether people see it": ("assistant/session/printing.py", ""),
}


def inserted(path: Path, before: str, text: str, *, union: str, name: str) -> None:
    source = path.read_text(encoding="utf-8")
    assert before in source
    assert union in source
    source = source.replace(before, text + before, 1)
    path.write_text(source.replace(union, f"{union}{name} | ", 1), encoding="utf-8")


@pytest.fixture(scope="module")
def complaints(tmp_path_factory: pytest.TempPathFactory) -> set[tuple[str, str]]:
    """Where mypy complains of a copy with a new fire command and event that nothing knows yet."""
    scratch = tmp_path_factory.mktemp("unfinished")
    shutil.copytree(ROOT / "assistant", scratch / "assistant",
                    ignore=shutil.ignore_patterns("__pycache__"))  # fmt: skip
    shutil.copy(ROOT / "pyproject.toml", scratch)
    if (ROOT / ".mypy_cache").exists():  # what did not change need not be read again
        shutil.copytree(ROOT / ".mypy_cache", scratch / ".mypy_cache")
    fire = scratch / "assistant/cook/vocabulary/fire.py"
    inserted(fire, "FireCommand = ", COMMAND, union="FireCommand = ", name="SpitOff")
    inserted(fire, "FireEvent = ", EVENT, union="FireEvent = (\n    ", name="SpitTurnedOff")
    found = subprocess.run(
        [sys.executable, "-m", "mypy", "--no-error-summary", "assistant"], cwd=scratch,
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    errors = [line for line in found.stdout.splitlines() if ": error:" in line]
    return {place(scratch, line) for line in errors}


def place(scratch: Path, complaint: str) -> tuple[str, str]:
    """The file and the function ("" for none) that a complaint is about."""
    path, line, _ = complaint.split(":", 2)
    tree = ast.parse((scratch / path).read_text(encoding="utf-8"))
    inside = [
        node.name
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef)
        and node.end_lineno is not None
        and node.lineno <= int(line) <= node.end_lineno
    ]
    return path, inside[-1] if inside else ""


@pytest.mark.slow
@pytest.mark.timeout(400)
@pytest.mark.parametrize("what", [*NEEDED_BY_THE_COMMAND, *NEEDED_BY_THE_EVENT])
def test_the_type_checker_names_every_piece_that_is_missing(
    complaints: set[tuple[str, str]], what: str
) -> None:
    assert {**NEEDED_BY_THE_COMMAND, **NEEDED_BY_THE_EVENT}[what] in complaints
