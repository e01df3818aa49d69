"""How the hearing benchmark counts and cuts talk."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from assistant.cook.vocabulary.commands import Command
from assistant.ears.heard import Heard, Outcome
from assistant.grammar.free.context import Understood
from assistant.grammar.parse import parse
from assistant.live.utterance import CHUNK_S
from assistant.sound.samples import RATE_HZ
from tests.benchmarks.corpus_commands import TONIGHT
from tests.benchmarks.hearing_talk import utterances
from tests.benchmarks.hearing_tally import Tally, is_wrong_number, most_per_hour, rate

READ = parse("bird two reads one thirty", TONIGHT)
ELSE = parse("bird two reads one thirteen", TONIGHT)
SPOT = parse("bird two thigh one thirty", TONIGHT)
UNDO = parse("undo", TONIGHT)


def test_bounds_are_the_exact_poisson_ones() -> None:
    """No event in an hour bounds the rate by 3.00, one by 4.74 (tables of the Poisson law)."""
    assert most_per_hour(0, 1.0) == pytest.approx(2.996, abs=0.001)
    assert most_per_hour(1, 10.0) == pytest.approx(0.4744, abs=0.0001)


def test_shares_carry_wilson_intervals() -> None:
    """Twenty of twenty leave room for 16 % of errors."""
    assert rate(20, 20) == "100.0 [84-100]"
    assert rate(0, 0) == "-"


def test_a_wrong_number_is_a_reading_nobody_made() -> None:
    """Another number or another command's reading counts; a spot alone or no reading do not."""
    assert is_wrong_number(ELSE, READ)
    assert is_wrong_number(READ, UNDO)
    assert not is_wrong_number(READ, READ)
    assert not is_wrong_number(SPOT, READ)
    assert not is_wrong_number(UNDO, READ)
    assert not is_wrong_number(None, READ)


def taken(command: Command) -> Heard:
    """Taken without a question."""
    return Heard("", command, 0.9, "accept", understood=Understood((command,), "accept"))


def test_an_outcome_is_counted_once_and_as_what_it_was() -> None:
    """Accepted wrongly is silent; the right one among those asked about is right after it."""
    tally = Tally()
    tally.add(taken(ELSE), ELSE, READ)
    tally.add(Heard("", None, 0.5, "ask", (ELSE, READ)), READ, READ)
    tally.add(replace(taken(READ), outcome="stress"), None, READ)
    tally.add(Heard("", READ, 0.1, "refuse"), None, READ)
    assert (tally.n, tally.exact, tally.asked_right) == (4, 1, 2)
    assert (tally.silent_number, tally.silent_wrong, tally.asked, tally.refused) == (1, 1, 1, 1)
    assert (tally.plain_exact, tally.plain_number, tally.plain_wrong) == (1, 1, 1)


def chances(*parts: tuple[float, float]) -> NDArray[np.float64]:
    """Voice-activity chances from (seconds, chance) parts."""
    return np.concatenate([np.full(round(s / CHUNK_S), chance) for s, chance in parts])


def cut(parts: NDArray[np.float64], outcome: Outcome) -> tuple[list[slice], list[bool]]:
    """The spans of the utterances when everything heard has the outcome."""
    frees: list[bool] = []

    def hear(_span: slice, free: bool) -> Heard:
        frees.append(free)
        command = None if outcome == "refuse" else UNDO
        return Heard("undo", command, 0.9, outcome)

    return [span for span, _ in utterances(parts, hear)], frees


TWO_PHRASES = chances((0.5, 0.0), (1.0, 0.9), (0.3, 0.0), (1.0, 0.9), (1.5, 0.0))


def test_talk_goes_on_over_a_short_pause() -> None:
    """What is refused is hopeless: 0.3 s of silence does not end it, half a second does."""
    spans, _ = cut(TWO_PHRASES, "refuse")
    assert len(spans) == 1
    assert (spans[0].stop - spans[0].start) / RATE_HZ > 2.3


def test_a_whole_command_ends_at_a_short_pause() -> None:
    """The live loop acts on a whole command at once, so talk is cut there as well."""
    spans, _ = cut(TWO_PHRASES, "accept")
    assert len(spans) == 2
    assert spans[0].stop < spans[1].stop


def test_after_an_ask_back_the_next_utterance_needs_no_address() -> None:
    """As in a live cook, where a question is open then."""
    _, frees = cut(TWO_PHRASES, "ask")
    assert frees == [False, True]
