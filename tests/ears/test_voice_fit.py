"""A fitting follows the size of a voice, and is kept, used and removed."""

import shutil

import numpy as np
import pytest
import soxr
from click.testing import CliRunner

from assistant.cli import main
from assistant.ears import voice_fit
from assistant.ears.heard import RATE_HZ, Samples
from assistant.ears.prepared import for_cook
from assistant.ears.sphinx import Sphinx
from assistant.ears.voice_fit import PHRASES, UnfitError, VoiceFit, fit
from assistant.language.grammar import Names
from assistant.language.parse import parse
from tests.benchmarks.corpus import say

needs_flite = pytest.mark.skipif(shutil.which("flite") is None, reason="needs flite")


def read(phrase: str, size: float) -> Samples:
    """The phrase from a throat of another size: every frequency times `size`."""
    said = say(phrase, "awb").astype(np.float32)
    resized: Samples = soxr.resample(said, RATE_HZ * size, RATE_HZ).astype(np.int16)
    return resized


@pytest.fixture(autouse=True)
def own_folder(tmp_path: object, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))


@needs_flite
@pytest.mark.slow
@pytest.mark.parametrize(("size", "low", "high"), [(0.82, 0.76, 0.94), (1.25, 1.06, 1.30)])
def test_a_deep_voice_and_a_high_one_are_bent_back(size: float, low: float, high: float) -> None:
    made = fit([(read(phrase, size), phrase) for phrase in PHRASES[:5]])
    assert low <= made.warp <= high
    assert made.gain > 0


@needs_flite
@pytest.mark.slow
def test_other_words_than_those_to_be_read_make_no_fitting() -> None:
    wrong = [(read(PHRASES[(n + 5) % 12], 1.0), PHRASES[n]) for n in range(4)]
    with pytest.raises(UnfitError, match="of 4 phrases"):
        fit(wrong)


@needs_flite
def test_bending_changes_how_well_the_words_fit_and_can_be_undone() -> None:
    sphinx = Sphinx(for_cook(Names(2), "F", "juniper").network)
    sound = read("bird two reads one thirty", 0.82)
    before = sphinx.score(sound, "bird two reads one thirty")
    sphinx.warp(0.82)
    bent = sphinx.score(sound, "bird two reads one thirty")
    sphinx.warp(1.0)
    assert sphinx.score(sound, "bird two reads one thirty") == before
    assert before is not None
    assert bent is not None
    assert bent > before


def test_what_is_kept_is_listened_with_until_it_is_removed() -> None:
    assert for_cook(Names(2), "F", "juniper").listening.warp == 1.0
    voice_fit.keep(VoiceFit(1.18, 12, 40.0))
    assert for_cook(Names(2), "F", "juniper").listening.warp == 1.18
    assert CliRunner().invoke(main, ["fit-voice", "--forget"]).output == "The fitting is removed.\n"
    assert for_cook(Names(2), "F", "juniper").listening.warp == 1.0


@pytest.mark.parametrize("text", ["", "{}", "[1]", '{"warp": 9, "phrases": 12, "gain": 1}', "null"])
def test_a_damaged_fitting_is_as_none(text: str) -> None:
    voice_fit.voice_path().parent.mkdir(parents=True, exist_ok=True)
    voice_fit.voice_path().write_text(text)
    assert voice_fit.kept() is None


def test_every_phrase_to_be_read_is_a_command() -> None:
    assert len({type(parse(phrase, Names(3))) for phrase in PHRASES}) >= 8
    assert CliRunner().invoke(main, ["fit-voice", "--phrases"]).output.splitlines() == list(PHRASES)


def test_too_few_recordings_and_nobody_there_to_read_are_told_in_one_line(
    tmp_path: object,
) -> None:
    asked = CliRunner().invoke(main, ["fit-voice", __file__])
    assert asked.exit_code == 1
    assert asked.output == "Error: 1 recordings: give 12, a phrase each, in order\n"
    assert CliRunner().invoke(main, ["fit-voice"]).exit_code == 2
