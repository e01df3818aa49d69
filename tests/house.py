"""How large each room is, and how much tests say of it: python -m tests.house

Lines as they stand, blank ones and comments with them. A room's tests are those of its own
folder; what holds several rooms to their word (reliability, listening, fitting, the files
beside the folders) is counted in the last row alone. Benchmarks are not tests.
"""

import sys
from collections.abc import Iterable
from pathlib import Path

ROOT = Path(__file__).parents[1]
LONGEST = 300
"""Lines of a module: more is two."""


def lines(paths: Iterable[Path]) -> int:
    """Of all these files."""
    return sum(path.read_text(encoding="utf-8").count("\n") for path in paths)


def rooms() -> dict[str, tuple[int, int]]:
    """Room -> lines of it, lines of its own tests."""
    return {
        room.name: (lines(room.rglob("*.py")), lines((ROOT / "tests" / room.name).rglob("*.py")))
        for room in sorted((ROOT / "assistant").iterdir())
        if (room / "__init__.py").is_file()
    }


def all_tests() -> int:
    """Lines of every test, benchmarks left out."""
    return lines(path for path in (ROOT / "tests").rglob("*.py") if "benchmarks" not in path.parts)


def too_long() -> list[str]:
    """The modules that should be two."""
    counted = ((path, lines([path])) for path in (ROOT / "assistant").rglob("*.py"))
    return sorted(f"{path.relative_to(ROOT)}: {n}" for path, n in counted if n > LONGEST)


def main() -> int:
    """Print a row for each room; 1 if a module is too long."""
    found = rooms()
    print(f"{'room':<10}{'lines':>7}{'tests':>7}{'ratio':>7}")
    for name, (source, tests) in found.items():
        print(f"{name:<10}{source:>7}{tests:>7}{tests / source:>7.2f}")
    source, tests = sum(one for one, _ in found.values()), all_tests()
    print(f"{'all':<10}{source:>7}{tests:>7}{tests / source:>7.2f}")
    for line in too_long():
        print(f"longer than {LONGEST} lines: {line}")
    return 1 if too_long() else 0


if __name__ == "__main__":
    sys.exit(main())
