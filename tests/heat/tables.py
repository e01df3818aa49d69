"""Published tables beside the tests, as rows of strings."""

import csv
from pathlib import Path

REFERENCES = Path(__file__).parent.parent / "references"


def rows(name: str, marks: str = "a a2 b") -> list[dict[str, str]]:
    """Rows of a table whose marks may be asserted; comment lines are left out."""
    lines = (REFERENCES / f"{name}.csv").read_text(encoding="utf-8").splitlines()
    table = csv.DictReader(line for line in lines if not line.startswith("#"))
    allowed = set(marks.split())
    return [row for row in table if set(row.get("mark", "b").split(",")) <= allowed]
