"""Where speech begins and ends, in files and in streams of pieces of any size."""

import itertools

import numpy as np
import pytest

from assistant.ears.endpointer import CHUNK, Patience, SpeechEnd, SpeechEvent, spoken_span
from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks.corpus_noise import mixed
from tests.ears.voice_at_hand import needs_voice, say

pytestmark = needs_voice


def quiet(seconds: float) -> Samples:
    rng = np.random.default_rng(3)
    return (8 * rng.standard_normal(int(seconds * RATE_HZ))).astype(np.int16)


def heard(sound: Samples, piece: int, patience: Patience | None = None) -> list[SpeechEvent]:
    end = SpeechEnd(patience or Patience())
    pieces = (sound[n : n + piece] for n in range(0, len(sound), piece))
    return [*itertools.chain.from_iterable(map(end.push, pieces)), *end.flush()]


@pytest.mark.parametrize("piece", [160, CHUNK, 4000, 1_000_000])
def test_pieces_of_any_size_give_the_same_events(piece: int) -> None:
    sound = np.concatenate([quiet(0.5), say("bird two reads one thirty"), quiet(1.0)])
    events = heard(sound, piece)
    assert [e.kind for e in events] == ["started", "paused", "ended"]
    assert [e.at_s for e in events] == [e.at_s for e in heard(sound, 512)]


def test_two_commands_are_two_utterances_and_a_short_pause_is_none() -> None:
    said = say("lid off")
    said = said[spoken_span(said, margin_s=0.0)]
    apart = np.concatenate([quiet(0.5), said, quiet(1.5), said, quiet(1.0)])
    joined = np.concatenate([quiet(0.5), said, quiet(0.25), said, quiet(1.0)])
    assert [e.kind for e in heard(apart, 800)].count("ended") == 2
    assert [e.kind for e in heard(joined, 800)].count("ended") == 1


def test_the_utterance_holds_all_of_the_speech() -> None:
    said = say("grill is three seventy")
    sound = np.concatenate([quiet(1.0), said, quiet(1.0)])
    (ended,) = [e for e in heard(sound, 800) if e.kind == "ended"]
    assert ended.samples is not None
    span = spoken_span(said, margin_s=0.0)
    assert len(ended.samples) >= span.stop - span.start


def test_an_utterance_is_cut_when_the_noise_never_stops() -> None:
    talk = np.tile(say("we talked and talked and nobody listened"), 4)
    events = heard(talk, 800, Patience(longest_s=2.0, hang_s=5.0))
    cut = [e for e in events if e.kind == "ended" and e.cut]
    assert cut
    for event in cut:
        assert event.samples is not None
        assert len(event.samples) <= 2.1 * RATE_HZ


def test_silence_and_knocks_bring_nothing() -> None:
    knock = quiet(2.0)
    knock[8000:8100] = 20000
    assert heard(quiet(3.0), 800) == []
    assert [e for e in heard(knock, 800) if e.kind == "ended"] == []


def test_speech_still_going_on_ends_with_the_stream() -> None:
    said = say("how long for bird two")
    cut = said[: spoken_span(said, margin_s=0.0).stop - 2000]
    assert heard(cut, 800)[-1].kind == "ended"


def test_the_span_of_a_file_runs_from_the_first_word_to_the_last() -> None:
    said = say("bird one is on")
    inner = spoken_span(said, margin_s=0.0)
    sound = np.concatenate([quiet(2.0), said, quiet(2.0)])
    span = spoken_span(sound, margin_s=0.0)
    assert span.start == pytest.approx(inner.start + 2 * RATE_HZ, abs=3 * CHUNK)
    assert span.stop == pytest.approx(inner.stop + 2 * RATE_HZ, abs=3 * CHUNK)


@pytest.mark.parametrize("noise", ["wind", "grill", "pink"])
def test_noise_hides_neither_end_of_the_speech(noise: str) -> None:
    said = say("probe reads one forty five on bird two")
    clean, noisy = spoken_span(said), spoken_span(mixed(said, noise, 10.0, seed=5))
    assert abs(noisy.start - clean.start) < 0.3 * RATE_HZ
    assert abs(noisy.stop - clean.stop) < 0.3 * RATE_HZ


@pytest.mark.parametrize("seconds", [0.0, 0.01, 2.0])
def test_nobody_speaks_in_silence(seconds: float) -> None:
    span = spoken_span(quiet(seconds))
    assert span.start == span.stop
