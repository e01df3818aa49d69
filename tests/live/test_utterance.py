"""Where an utterance begins, pauses and ends, by the worth of what was said."""

import numpy as np
import pytest

from assistant.live.utterance import CHUNK, CHUNK_S, Outlook, Pauses, Utterance

PAUSES = Pauses()
LOUD, SOFT, QUIET = 0.9, 0.48, 0.05


def chunk(value: int = 0) -> np.ndarray:
    return np.full(CHUNK, value, np.int16)


def fed(utterance: Utterance, *pattern: tuple[float, float]) -> list[str]:
    """Feed (probability, seconds) stretches; the changes that came of them."""
    changes = []
    for probability, seconds in pattern:
        for _ in range(round(seconds / CHUNK_S)):
            change = utterance.add(chunk(), probability)
            if change is not None:
                changes.append(change)
    return changes  # type: ignore[return-value]


def test_one_loud_chunk_is_a_knock_and_two_are_speech() -> None:
    utterance = Utterance(PAUSES)
    assert fed(utterance, (LOUD, CHUNK_S), (QUIET, 0.2)) == []
    assert fed(utterance, (LOUD, 2 * CHUNK_S)) == ["began"]


def test_soft_first_sounds_are_kept() -> None:
    utterance = Utterance(PAUSES)
    for value in range(40):
        utterance.add(chunk(value), QUIET)
    fed(utterance, (LOUD, 0.1))
    before = utterance.samples()[: -round(0.1 / CHUNK_S) * CHUNK]
    assert len(before) >= 0.25 * 16_000
    assert before[-1] == 39


def test_a_short_pause_asks_for_one_look_and_speech_makes_it_stale() -> None:
    utterance = Utterance(PAUSES)
    assert fed(utterance, (LOUD, 0.5), (QUIET, 0.3)) == ["began", "paused"]
    version = utterance.version
    assert fed(utterance, (LOUD, 0.2), (QUIET, 0.3)) == ["resumed", "paused"]
    utterance.judge(version, "whole")
    assert not utterance.is_over


@pytest.mark.parametrize("outlook", ["whole", "open", "hopeless", "partial", "unknown"])
def test_the_pause_that_ends_an_utterance_depends_on_what_was_said(outlook: Outlook) -> None:
    utterance = Utterance(PAUSES)
    fed(utterance, (LOUD, 0.5), (QUIET, PAUSES.look_s + CHUNK_S))
    utterance.judge(utterance.version, outlook)
    waited_s = utterance.pause_s
    while not utterance.is_over:
        utterance.add(chunk(), QUIET)
        waited_s = utterance.pause_s
    assert waited_s == pytest.approx(PAUSES.after(outlook), abs=1.5 * CHUNK_S)


def test_a_whole_command_waits_least_and_half_a_command_most() -> None:
    order: list[Outlook] = ["whole", "open", "hopeless", "partial"]
    waits = [PAUSES.after(outlook) for outlook in order]
    assert waits == sorted(waits)
    assert waits[0] < waits[-1] / 4


def test_a_soft_sound_goes_on_with_speech_but_does_not_end_a_pause() -> None:
    utterance = Utterance(PAUSES)
    fed(utterance, (LOUD, 0.3), (SOFT, 0.3))
    assert utterance.pause_s == 0
    fed(utterance, (QUIET, 0.1), (SOFT, 0.1))
    assert utterance.pause_s > 0.15


def test_an_utterance_that_never_pauses_is_cut_at_the_longest() -> None:
    changes = fed(Utterance(PAUSES), (LOUD, PAUSES.longest_s + 1))
    assert changes[0] == "began"
    assert "full" in changes


def test_silence_at_the_end_is_trimmed_to_a_tail() -> None:
    utterance = Utterance(PAUSES)
    fed(utterance, (LOUD, 1.0), (QUIET, 0.8))
    assert len(utterance.samples()) / 16_000 == pytest.approx(1.25, abs=0.1)


def test_a_cleared_utterance_leaves_nothing_behind() -> None:
    utterance = Utterance(PAUSES)
    fed(utterance, (LOUD, 1.0))
    utterance.clear()
    assert not utterance.is_speech
    assert fed(utterance, (QUIET, 2.0)) == []


def test_where_speech_went_on_after_a_pause_is_remembered() -> None:
    utterance = Utterance(PAUSES)
    fed(utterance, (LOUD, 0.32), (QUIET, CHUNK_S), (LOUD, 0.32), (QUIET, 0.128), (LOUD, 0.32))
    (resumed,) = utterance.resumed
    assert utterance.length_s - resumed * CHUNK_S == pytest.approx(0.32, abs=0.001)
    utterance.clear()
    assert utterance.resumed == ()
