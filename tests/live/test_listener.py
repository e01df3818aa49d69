"""From blocks to turns, with a scripted voice-activity model and scripted ears."""

import threading
from collections.abc import Callable

import numpy as np
import pytest

from assistant.ears.heard import Heard, Outcome
from assistant.live.gate import Gate
from assistant.live.listener import PRESS_OPEN_S, Listener
from assistant.live.turn import Turn, Wiring
from assistant.live.utterance import CHUNK_S, Outlook
from assistant.sound.microphone import Block
from assistant.sound.samples import RATE_HZ, Samples

WAIT_S = 5.0
SPEECH = 8000


class Room:
    """A microphone, a clock and ears under the test's hand."""

    def __init__(self, *, outlook: Outlook = "whole", push_only: bool = False) -> None:
        self.now_s = 100.0
        self.turns: list[Turn] = []
        self.speaking: list[bool] = []
        self.asked: list[tuple[int, bool]] = []
        self.may_hear = threading.Semaphore(0)
        self.begun = threading.Semaphore(0)
        self.heard = threading.Semaphore(0)
        self.outlook: Outlook = outlook
        self.words: Callable[[Samples], str] = lambda samples: f"{len(samples)} samples"
        self.gate = Gate()
        self.noticed: list[float] = []
        self.free = False
        self.outcome: Outcome = "accept"
        self.opens: bool | None = None
        self.openings = threading.Semaphore(0)
        self.cuts: list[bool] = []
        self.own: set[str] = set()
        self.refused: set[str] = set()
        wiring = Wiring(
            vad=lambda chunk: 0.9 if np.abs(chunk).max() > 1000 else 0.02,
            hear=self._hear,
            opens=self._opens,
            outlook=self._outlook,
            on_turn=self.turns.append,
            on_speech=self.speaking.append,
            on_noticed=lambda: self.noticed.append(self.now_s),
            on_cut_in=self.cuts.append,
            is_own=lambda heard: heard.words in self.own,
            is_free=lambda: self.free,
            now=lambda: self.now_s,
        )
        self.listener = Listener(wiring, self.gate, push_only=push_only)

    def _hear(self, samples: Samples, free: bool) -> Heard:
        self.begun.release()
        self.may_hear.acquire()
        self.asked.append((len(samples), free))
        words = self.words(samples)
        return Heard(words, None, 1.0, "refuse" if words in self.refused else self.outcome)

    def _opens(self, _samples: Samples) -> bool:
        self.openings.release()
        return bool(self.opens)

    def _outlook(self, heard: Heard) -> Outlook:
        self.heard.release()
        return self.outlook

    def sound(self, seconds: float, level: int = 0) -> None:
        for _ in range(round(seconds / CHUNK_S)):
            self.now_s += CHUNK_S
            samples = np.full(round(CHUNK_S * RATE_HZ), level, np.int16)
            self.listener.feed(Block(samples, self.now_s))

    def understood(self) -> None:
        """Let one look be answered, and wait until its worth was judged."""
        self.may_hear.release()
        assert self.heard.acquire(timeout=WAIT_S)

    def wait_turns(self, count: int) -> None:
        end = threading.Event()
        for _ in range(500):
            if len(self.turns) >= count:
                return
            end.wait(0.01)
        raise AssertionError(f"{len(self.turns)} turns, expected {count}")


def test_a_whole_command_is_over_within_the_pause_in_which_it_was_understood() -> None:
    room = Room(outlook="whole")
    room.sound(1.0, SPEECH)
    room.sound(0.13)
    room.understood()
    room.sound(0.1)
    room.wait_turns(1)
    turn = room.turns[0]
    assert turn.looks == 1
    assert turn.decided_s - turn.speech_end_s < 0.3
    assert len(room.asked) == 1
    room.listener.close()


def test_speech_that_goes_on_makes_the_first_understanding_stale() -> None:
    room = Room(outlook="whole")
    room.sound(1.0, SPEECH)
    room.sound(0.13)
    room.sound(0.5, SPEECH)
    room.may_hear.release()  # for the stale look, where it had begun
    room.sound(0.13)
    room.understood()
    room.sound(0.1)
    room.wait_turns(1)
    room.listener.close()
    assert len(room.turns) == 1
    assert room.asked[-1][0] > 1.5 * RATE_HZ
    assert room.turns[0].looks == 2


def test_half_a_sentence_is_given_time_to_go_on() -> None:
    room = Room(outlook="partial")
    room.sound(1.0, SPEECH)
    room.sound(0.13)
    room.understood()
    room.sound(0.5)
    assert room.turns == []
    room.sound(0.5)
    room.wait_turns(1)
    assert room.turns[0].looks == 1
    room.listener.close()


def test_slow_ears_still_answer_once_and_the_next_utterance_is_not_lost() -> None:
    room = Room()
    room.sound(1.0, SPEECH)
    room.sound(1.2)
    room.sound(0.6, SPEECH)
    room.sound(1.2)
    room.may_hear.release(4)
    room.wait_turns(2)
    lengths = [len(turn.samples) for turn in room.turns]
    assert lengths[0] > lengths[1]
    room.listener.close()
    assert len(room.turns) == 2


def test_the_speaker_is_held_from_the_first_word_to_the_last() -> None:
    room = Room(outlook="whole")
    room.sound(0.5, SPEECH)
    assert room.speaking == [True]
    room.sound(0.13)
    room.understood()
    room.sound(0.1)
    room.wait_turns(1)
    assert room.speaking == [True, False]
    room.listener.close()


def test_what_is_captured_while_it_speaks_is_never_heard() -> None:
    room = Room()
    room.gate.started()
    room.sound(1.0, SPEECH)
    room.sound(1.0)
    room.gate.ended(room.now_s)
    room.sound(0.2, SPEECH)  # its own last echo, inside the settling time
    room.sound(1.5)
    room.may_hear.release(3)
    room.listener.close()
    assert room.turns == []
    assert room.asked == []


def test_a_word_cut_off_by_the_gate_is_dropped() -> None:
    room = Room()
    room.sound(0.5, SPEECH)
    room.gate.started()
    room.sound(0.1, SPEECH)
    assert room.speaking == [True, False]
    room.gate.ended(room.now_s)
    room.sound(2.0)
    room.may_hear.release(2)
    room.listener.close()
    assert room.turns == []


def test_a_key_frees_the_next_words_from_the_address_word_for_a_while() -> None:
    room = Room(outlook="whole")
    room.listener.press()
    room.listener.let_go()
    room.sound(0.5, SPEECH)
    room.sound(0.13)
    room.understood()
    room.sound(0.1)
    room.wait_turns(1)
    room.sound(PRESS_OPEN_S + 1)
    room.sound(0.5, SPEECH)
    room.sound(0.13)
    room.understood()
    assert [free for _, free in room.asked] == [True, False]
    room.listener.close()


def test_push_to_talk_is_deaf_until_a_key_is_pressed_and_ends_when_it_comes_up() -> None:
    room = Room(push_only=True)
    room.sound(1.0, SPEECH)
    room.sound(1.0)
    room.listener.press()
    room.sound(0.6, SPEECH)
    room.listener.release()
    room.may_hear.release(2)
    room.wait_turns(1)
    room.sound(1.0, SPEECH)
    room.sound(1.0)
    room.listener.close()
    assert len(room.turns) == 1
    assert room.asked[0][1]


def test_a_lost_microphone_drops_the_half_heard_words() -> None:
    room = Room()
    room.sound(0.5, SPEECH)
    room.listener.forget()
    room.sound(1.5)
    room.may_hear.release(2)
    room.listener.close()
    assert room.turns == []


@pytest.mark.parametrize("size", [100, 511, 512, 700, 1600])
def test_blocks_of_any_size_make_the_same_turn(size: int) -> None:
    room = Room(outlook="whole")
    sound = np.concatenate([np.full(16_000, SPEECH), np.zeros(20_000)]).astype(np.int16)
    room.may_hear.release(2)
    for start in range(0, len(sound), size):
        room.now_s += len(sound[start : start + size]) / RATE_HZ
        room.listener.feed(Block(sound[start : start + size], room.now_s))
    room.wait_turns(1)
    room.listener.close()
    assert room.turns[0].speech_end_s == pytest.approx(101.0, abs=0.04)


def test_a_command_that_more_may_follow_is_noticed_before_it_is_over() -> None:
    room = Room(outlook="open")
    room.sound(1.0, SPEECH)
    spoken_s = room.now_s
    room.sound(0.1)
    room.understood()
    room.sound(0.1)
    assert len(room.noticed) == 1
    assert room.noticed[0] - spoken_s == pytest.approx(room.listener.pauses.notice_s, abs=0.04)
    assert room.turns == []
    room.sound(0.3)
    room.wait_turns(1)
    assert room.turns[0].noticed
    room.listener.close()


def test_what_was_understood_of_half_a_sentence_is_no_notice_of_the_whole() -> None:
    room = Room(outlook="open")
    room.sound(1.0, SPEECH)
    room.sound(0.1)
    room.understood()
    room.sound(0.5, SPEECH)
    room.sound(0.2)
    assert room.noticed == []
    room.may_hear.release(2)
    room.listener.close()


def test_table_talk_is_not_noticed() -> None:
    room = Room(outlook="hopeless")
    room.outcome = "refuse"
    room.sound(1.0, SPEECH)
    room.sound(0.15)
    room.understood()
    room.sound(1.0)
    room.wait_turns(1)
    assert room.noticed == []
    assert not room.turns[0].noticed
    room.listener.close()


def test_an_answer_to_a_question_needs_no_address_word() -> None:
    room = Room()
    room.free = True
    room.sound(1.0, SPEECH)
    room.sound(0.3)
    assert len(room.noticed) == 1
    room.understood()
    room.listener.close()
    assert room.asked[0][1]


def test_what_follows_in_the_same_breath_needs_no_address_word() -> None:
    room = Room()
    for pause_s in (0.4, 1.2):
        room.sound(1.0, SPEECH)
        room.sound(0.1)
        room.understood()
        room.sound(pause_s)
    room.sound(1.0, SPEECH)
    room.sound(0.1)
    room.understood()
    room.sound(0.1)
    room.wait_turns(3)
    room.listener.close()
    assert [free for _, free in room.asked] == [False, True, False]
    assert not any(turn.free for turn in room.turns)  # refused, it was talk, not an answer


def test_what_follows_talk_needs_the_address_word() -> None:
    room = Room()
    room.outcome = "refuse"
    for _ in range(2):
        room.sound(1.0, SPEECH)
        room.sound(0.1)
        room.understood()
        room.sound(0.4)
    room.listener.close()
    assert [free for _, free in room.asked] == [False, False]


def test_idle_means_that_nothing_said_is_still_in_work() -> None:
    room = Room()
    assert room.listener.wait_idle(WAIT_S)
    room.sound(1.0, SPEECH)
    room.sound(1.2)
    assert not room.listener.wait_idle(0.05)
    room.may_hear.release(2)
    assert room.listener.wait_idle(WAIT_S)
    assert len(room.turns) == 1
    room.listener.close()


def test_speaking_over_the_program_for_300_ms_turns_it_down_until_the_end() -> None:
    room = Room(outlook="whole")
    room.gate = room.listener.gate = Gate(lambda: True)
    room.gate.started()
    room.sound(0.26, SPEECH)
    assert room.cuts == []
    room.sound(0.14, SPEECH)
    assert room.cuts == [True]
    room.sound(0.13)
    room.understood()
    room.sound(0.1)
    room.wait_turns(1)
    room.listener.close()
    assert room.cuts == [True, False]


def test_while_the_program_is_silent_nothing_is_turned_down() -> None:
    room = Room(outlook="whole")
    room.sound(1.0, SPEECH)
    room.sound(0.13)
    room.understood()
    room.sound(0.1)
    room.wait_turns(1)
    room.listener.close()
    assert room.cuts == []


def test_speech_is_judged_by_what_is_free_of_the_own_voice_and_heard_from_the_rest() -> None:
    room = Room(outlook="whole")
    loud, quiet = np.full(512, SPEECH, np.int16), np.zeros(512, np.int16)
    for _ in range(20):
        room.listener.feed(Block(loud, room.now_s, quiet))
    assert room.speaking == []
    for _ in range(20):
        room.listener.feed(Block(quiet, room.now_s, loud))
    assert room.speaking[:1] == [True]
    room.listener.close()


def test_a_soft_voice_is_made_louder_by_one_gain_for_the_whole_utterance() -> None:
    """A gain that moves within the first word spoils the word."""
    room = Room(outlook="whole")
    room.sound(0.1)
    room.sound(2.0, 1200)
    room.sound(0.13)
    room.understood()
    room.sound(0.1)
    room.wait_turns(1)
    room.listener.close()
    said = room.turns[0].samples
    assert room.listener.level.gain_db > 3
    assert set(said[said > 0].tolist()) == {said.max()}
    assert said.max() > 1.4 * 1200


@pytest.mark.parametrize("opens", [True, False])
def test_the_tone_need_not_wait_for_the_words(opens: bool) -> None:
    """What opened with the address word is known to be meant while it is still being said: the
    tone comes a notice after its end though nothing was understood yet. Other talk has none."""
    room = Room()
    room.opens = opens
    room.sound(1.6, 8000)
    assert room.openings.acquire(timeout=WAIT_S)
    assert room.listener.wait_idle(WAIT_S)
    ended_s = room.now_s
    room.sound(0.3)
    assert room.begun.acquire(timeout=WAIT_S)
    assert not room.asked  # the words are still being looked for
    assert [round(at_s - ended_s, 2) for at_s in room.noticed] == ([0.13] if opens else [])
    room.may_hear.release()
    room.listener.close()


@pytest.mark.parametrize(("spoken_s", "slowly"), [(1.25, False), (1.75, True)])
def test_the_tone_after_a_short_command_and_a_slow_word_need_not_wait_either(
    spoken_s: float, slowly: bool
) -> None:
    """The address word is looked for as soon as it can be over, and once more."""
    room = Room()
    room.opens = not slowly
    room.sound(1.2, SPEECH)
    assert room.openings.acquire(timeout=WAIT_S)
    assert room.listener.wait_idle(WAIT_S)
    room.opens = True
    room.sound(spoken_s - 1.2, SPEECH)
    assert room.listener.wait_idle(WAIT_S)
    assert room.openings.acquire(blocking=False) == slowly
    ended_s = room.now_s
    room.sound(0.3)
    assert [round(at_s - ended_s, 2) for at_s in room.noticed] == [0.13]
    room.may_hear.release()
    room.listener.close()


def test_its_own_words_heard_over_its_own_voice_are_refused() -> None:
    for over, outcome in ((True, "refuse"), (False, "accept")):
        room = Room(outlook="whole")
        room.gate = room.listener.gate = Gate(lambda: True)
        room.words = lambda samples: "grill three seventy"
        room.own = {"grill three seventy"}
        if over:
            room.gate.started()
        room.sound(1.0, SPEECH)
        room.sound(0.13)
        room.understood()
        room.sound(0.6)
        room.wait_turns(1)
        room.listener.close()
        assert room.turns[0].heard.outcome == outcome


def spoken_into(room: Room) -> None:
    """A second of its own voice is left over, then a command after a short pause."""
    room.gate = room.listener.gate = Gate(lambda: True)
    room.gate.started()
    room.sound(1.0, SPEECH)
    room.sound(0.1)
    room.sound(1.0, 2 * SPEECH)
    room.sound(0.6)


@pytest.mark.parametrize("opens", [True, False])
def test_a_command_that_its_own_voice_ran_into_is_looked_for_further_in(opens: bool) -> None:
    room = Room(outlook="hopeless")
    room.opens = opens
    room.words = lambda samples: "birds on" if samples[len(samples) // 3] > SPEECH else "left over"
    room.refused = {"left over"}
    spoken_into(room)
    room.may_hear.release(9)
    room.wait_turns(1)
    room.listener.close()
    heard = room.turns[-1].heard
    assert heard.outcome == ("accept" if opens else "refuse")
    if opens:
        assert heard.words == "birds on"
        assert room.asked[-1][0] < 1.5 * RATE_HZ


def test_what_is_left_of_its_own_voice_ends_as_soon_as_it_is_known_to_be_no_command() -> None:
    """Else it would run into the next words of the cook."""
    waits = []
    for over in (True, False):
        room = Room(outlook="hopeless")
        room.outcome = "refuse"
        room.gate = room.listener.gate = Gate(lambda: True)
        if over:
            room.gate.started()
        room.sound(1.0, SPEECH)
        room.sound(0.1)
        room.understood()
        room.sound(0.6)
        room.wait_turns(1)
        room.listener.close()
        waits.append(room.turns[0].decided_s - room.turns[0].speech_end_s)
    assert waits[0] < 0.2 < room.listener.pauses.hopeless_s <= waits[1]


@pytest.mark.parametrize("goes_on_s", [0.0, 0.4])
def test_what_is_left_of_its_own_question_is_no_answer_to_it(goes_on_s: float) -> None:
    """No tone, no "not understood": unless somebody goes on speaking when it is silent."""
    room = Room(outlook="hopeless")
    room.free, room.outcome = True, "refuse"
    room.gate = room.listener.gate = Gate(lambda: True)
    room.gate.started()
    room.sound(0.6, SPEECH)
    room.gate.ended(room.now_s)
    room.sound(0.256, SPEECH if goes_on_s else 0)  # the room settles
    room.sound(goes_on_s, SPEECH)
    room.sound(0.16)
    room.may_hear.release(4)
    assert room.listener.wait_idle(WAIT_S)
    room.sound(0.6)
    room.wait_turns(1)
    room.listener.close()
    is_answer = goes_on_s > 0
    assert bool(room.noticed) == is_answer
    assert room.turns[0].free == is_answer
    assert room.asked[0][1] == is_answer


def test_a_question_is_answered_once_though_understanding_lags_behind() -> None:
    """What was said while the answer waited to be understood was no answer: it needs the
    address word, or talk would be met with "nothing is waiting for an answer"."""
    room = Room()
    room.free = True
    for _ in range(2):
        room.sound(0.6, SPEECH)
        room.sound(1.2)
    room.may_hear.release(4)
    room.wait_turns(2)
    room.listener.close()
    assert [turn.free for turn in room.turns] == [True, False]
    assert [free for _, free in room.asked] == [True, False]


def test_utterances_nobody_came_to_understand_are_counted() -> None:
    room = Room()
    for _ in range(8):
        room.sound(0.6, SPEECH)
        room.sound(1.2)
    assert room.listener.lost >= 2
    room.may_hear.release(16)
    room.listener.close()


def test_what_follows_in_the_same_breath_is_no_follow_on_where_the_program_itself_speaks() -> None:
    room = Room(outlook="whole")
    room.gate = room.listener.gate = Gate(lambda: True)
    room.sound(1.0, SPEECH)
    room.sound(0.13)
    room.understood()
    room.sound(0.1)
    room.wait_turns(1)
    room.gate.started()
    room.sound(0.6, SPEECH)
    room.sound(0.13)
    room.understood()
    room.sound(0.1)
    room.wait_turns(2)
    room.listener.close()
    assert [free for _, free in room.asked] == [False, False]
