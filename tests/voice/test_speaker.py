"""The speaker thread: order, hushing, waiting for the cook, and what became of each speech."""

import threading

import numpy as np
import pytest

from assistant.sound.player import SilentPlayer
from assistant.sound.samples import Sound
from assistant.voice.speaker import (
    LONGEST_QUEUE,
    PATIENCE_S,
    QueueSpeaker,
    Spoken,
    may_start,
)
from assistant.voice.speech import Speech, Urgency
from assistant.voice.synth import Voice, VoiceError

WAIT_S = 5.0


class HandPlayer:
    """A player whose sounds last until the test lets them end."""

    def __init__(self) -> None:
        self.playing = threading.Semaphore(0)
        self.go_on = threading.Semaphore(0)
        self.free = False
        self.cut = threading.Event()

    def play(self, sound: Sound, gain_db: float = 0.0) -> bool:
        self.cut.clear()
        self.playing.release()
        if not self.free:
            self.go_on.acquire()
        return not self.cut.is_set()

    def duck(self, *, down: bool) -> None:
        """The voice is turned down, or up again."""

    def hush(self) -> None:
        self.cut.set()
        self.go_on.release()

    def close(self) -> None:
        self.free = True
        self.go_on.release()


def voice() -> Voice:
    return Voice(lambda text, wpm: Sound(np.ones(len(text), np.int16), 1000))


class Story:
    """What the speaker reported, in order."""

    def __init__(self) -> None:
        self.events: list[Spoken] = []

    def __call__(self, spoken: Spoken) -> None:
        self.events.append(spoken)

    def texts(self, what: str) -> list[str]:
        return [
            e.item if isinstance(e.item, str) else e.item.text
            for e in self.events
            if e.what == what
        ]


def say(speaker: QueueSpeaker, text: str, urgency: Urgency) -> None:
    speaker.say(Speech(text, text, urgency))


def test_the_most_urgent_goes_first_and_equals_keep_their_order() -> None:
    story, player = Story(), HandPlayer()
    speaker = QueueSpeaker(voice(), player, story)
    say(speaker, "first", "reply")
    assert player.playing.acquire(timeout=WAIT_S)
    for text, urgency in (
        ("wood", "convenient"), ("sauce", "soon"), ("reply 1", "reply"), ("fire", "now"),
        ("reply 2", "reply"),
    ):  # fmt: skip
        say(speaker, text, urgency)  # type: ignore[arg-type]
    player.free = True
    player.go_on.release()
    assert speaker.wait_idle(WAIT_S)
    speaker.close()
    assert story.texts("ended") == ["first", "fire", "reply 1", "reply 2", "sauce", "wood"]


def test_a_tone_goes_before_all_words() -> None:
    story, player = Story(), HandPlayer()
    speaker = QueueSpeaker(voice(), player, story)
    say(speaker, "first", "reply")
    assert player.playing.acquire(timeout=WAIT_S)
    say(speaker, "fire", "now")
    speaker.tone("heard")
    player.free = True
    player.go_on.release()
    assert speaker.wait_idle(WAIT_S)
    speaker.close()
    assert story.texts("ended") == ["first", "heard", "fire"]


def test_hush_cuts_what_plays_and_drops_what_waits_except_what_must_be_said_now() -> None:
    story, player = Story(), HandPlayer()
    speaker = QueueSpeaker(voice(), player, story)
    say(speaker, "long story. with two sentences.", "reply")
    assert player.playing.acquire(timeout=WAIT_S)
    say(speaker, "wood", "convenient")
    say(speaker, "fire", "now")
    player.free = True
    speaker.hush()
    assert speaker.wait_idle(WAIT_S)
    speaker.close()
    assert story.texts("cut") == ["long story. with two sentences."]
    assert story.texts("ended") == ["fire"]


def test_nothing_is_said_over_the_cook_until_patience_ends() -> None:
    clock = [100.0]
    story, player = Story(), HandPlayer()
    player.free = True
    speaker = QueueSpeaker(voice(), player, story, now=lambda: clock[0])
    speaker.hold(cook_speaks=True)
    say(speaker, "sauce", "soon")
    say(speaker, "fire", "now")
    assert not speaker.wait_idle(0.05)
    assert story.events == []
    clock[0] += PATIENCE_S["now"]
    speaker.hold(cook_speaks=True)  # still speaking: the first moment counts
    assert not speaker.wait_idle(0.3)
    assert story.texts("ended") == ["fire"]
    speaker.hold(cook_speaks=False)
    assert speaker.wait_idle(WAIT_S)
    speaker.close()
    assert story.texts("ended") == ["fire", "sauce"]


@pytest.mark.parametrize("urgency", PATIENCE_S)
def test_when_the_cook_is_silent_nothing_waits(urgency: Urgency) -> None:
    assert may_start(urgency, None)
    assert not may_start(urgency, 0.0)
    assert may_start(urgency, PATIENCE_S[urgency])


def test_an_urgent_prompt_waits_at_most_five_seconds() -> None:
    assert PATIENCE_S["now"] == 5.0


def test_without_a_device_every_speech_is_reported_unsaid() -> None:
    story = Story()
    speaker = QueueSpeaker(voice(), SilentPlayer(), story)
    say(speaker, "fire", "now")
    assert speaker.wait_idle(WAIT_S)
    speaker.close()
    assert story.events[-1] == Spoken("unsaid", Speech("fire", "fire", "now"), "no speaker")


def test_a_failing_engine_does_not_stop_the_speaker() -> None:
    def broken(text: str, words_per_minute: int) -> Sound:
        raise VoiceError("espeak-ng failed: status 1")

    story, player = Story(), HandPlayer()
    player.free = True
    speaker = QueueSpeaker(Voice(broken), player, story)
    say(speaker, "hello", "reply")
    speaker.tone("heard")
    say(speaker, "again", "reply")
    assert speaker.wait_idle(WAIT_S)
    speaker.close()
    assert story.texts("unsaid") == ["hello", "again"]
    assert story.texts("ended") == ["heard"]
    assert {e.why for e in story.events if e.what == "unsaid"} == {"espeak-ng failed: status 1"}


def test_the_queue_is_bounded_and_drops_the_least_urgent() -> None:
    story, player = Story(), HandPlayer()
    speaker = QueueSpeaker(voice(), player, story)
    speaker.hold(cook_speaks=True)
    say(speaker, "fire", "now")
    for number in range(LONGEST_QUEUE + 3):
        say(speaker, f"wood {number}", "convenient")
    speaker.close()
    dropped = [f"wood {LONGEST_QUEUE - 1 + number}" for number in range(4)]
    assert story.texts("dropped") == dropped


def test_a_prompt_that_gave_way_to_the_cook_is_said_anew_and_an_answer_is_not() -> None:
    player, story = HandPlayer(), Story()
    speaker = QueueSpeaker(voice(), player, story)
    say(speaker, "glaze bird one", "soon")
    assert player.playing.acquire(timeout=WAIT_S)
    speaker.give_way()
    assert player.playing.acquire(timeout=WAIT_S)  # from its beginning
    player.free = True
    player.go_on.release()
    assert speaker.wait_idle(WAIT_S)
    assert story.texts("cut") == story.texts("ended") == ["glaze bird one"]
    player.free = False
    say(speaker, "an answer", "reply")
    assert player.playing.acquire(timeout=WAIT_S)
    while player.playing.acquire(timeout=0.2):
        pass
    speaker.give_way()
    assert speaker.wait_idle(WAIT_S)
    assert story.texts("cut") == ["glaze bird one", "an answer"]
    speaker.close()


def test_what_must_be_said_now_gives_way_to_nobody() -> None:
    player, story = HandPlayer(), Story()
    speaker = QueueSpeaker(voice(), player, story)
    say(speaker, "bird one is burning", "now")
    assert player.playing.acquire(timeout=WAIT_S)
    speaker.give_way()
    player.free = True
    player.go_on.release()
    assert speaker.wait_idle(WAIT_S)
    assert story.texts("ended") == ["bird one is burning"]
    assert story.texts("cut") == []
    speaker.close()
