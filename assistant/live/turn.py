"""One turn of the talk, and what the listener is connected to."""

import time
from collections.abc import Callable
from dataclasses import dataclass

from assistant.ears.heard import Heard
from assistant.live.utterance import Outlook
from assistant.sound.samples import Samples


@dataclass(frozen=True, slots=True)
class Turn:
    """One utterance that is over. Times are monotonic seconds: when the last sound
    of speech was captured, when the end was decided. `looks`: how often it was decoded.
    `noticed`: a tone has already told the cook. `free`: no address word was needed, because
    something was asked or a key pressed."""

    heard: Heard
    samples: Samples
    speech_end_s: float
    decided_s: float
    looks: int
    noticed: bool = False
    free: bool = False


@dataclass(slots=True)
class Wiring:
    """What the listener is connected to. All are called from its threads.

    `vad`: probability of speech in one chunk. `hear`: understands samples; the
    flag says that the address word is not needed. `opens`: whether sound that still goes
    on opens with the address word. `on_speech`: the cook began or
    ended speaking. `on_noticed`: a pause after words meant for us, which may yet go
    on; `on_cut_in`: somebody speaks over the program, or does no longer; `is_own`:
    whether words heard over the program's voice are its own; `is_free`
    says whether the address word is not needed now.
    """

    vad: Callable[[Samples], float]
    hear: Callable[[Samples, bool], Heard]
    outlook: Callable[[Heard], Outlook]
    on_turn: Callable[[Turn], None]
    on_speech: Callable[[bool], None]
    on_noticed: Callable[[], None]
    on_cut_in: Callable[[bool], None]
    is_free: Callable[[], bool]
    is_own: Callable[[Heard], bool]
    opens: Callable[[Samples], bool] = lambda _samples: False
    now: Callable[[], float] = time.monotonic
