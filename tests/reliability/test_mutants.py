"""One-line bugs are caught by the tests meant for them.

All of them, by night and by hand: `python -m tests.reliability.mutants`.
"""

from collections import Counter
from pathlib import Path

import pytest

from tests.reliability.mutants import ROOT, fate, scratch_copy
from tests.reliability.one_line import MUTANTS, Mutant

SAMPLE = MUTANTS[7::20]


def test_each_bug_still_has_its_line_and_its_test() -> None:
    """At least forty, on every topic; none is stale."""
    assert len(MUTANTS) >= 40
    for one in MUTANTS:
        text = (ROOT / one.file).read_text(encoding="utf-8")
        assert text.count(one.old) == 1, f"{one.file}: {one.old!r}"
        assert one.new not in {one.old}
        assert (ROOT / one.tests.split()[0]).is_file()
    topics = {"commit", "fsync", "merge", "rescue", "seals", "limits", "clock", "sockets", "modes",
              "wording"}  # fmt: skip
    assert topics <= set(Counter(one.about for one in MUTANTS))


@pytest.fixture(scope="module")
def tree(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return scratch_copy(tmp_path_factory.mktemp("mutants"))


@pytest.mark.parametrize("mutant", SAMPLE, ids=lambda one: one.about)
def test_a_sample_is_caught(mutant: Mutant, tree: Path) -> None:
    assert fate(mutant, tree) == "caught"


def test_a_change_that_breaks_nothing_survives(tree: Path) -> None:
    """Else every mutant would seem caught."""
    old, new = '"""Framed messages', '"""The framed messages'
    harmless = Mutant("none", "assistant/system/wire.py", old, new,
                      "tests/system/test_wire.py")  # fmt: skip
    assert fate(harmless, tree) == "SURVIVED"
