"""The benchmark's floor: what untaught cooks say must not fall below this."""

from collections import Counter

from tests.benchmarks.phrases import LINES, judged, read


def test_most_is_right_and_hardly_anything_misread() -> None:
    lines = [line for path in sorted(LINES.glob("*.tsv")) for line in read(path)]
    meant = Counter(judged(line) for line in lines if line.situation != "S16")
    assert meant["right"] >= 0.9 * meant.total()
    assert meant["misread"] <= 0.02 * meant.total()
