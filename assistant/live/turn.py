"""One turn of the talk, and what the listener is connected to."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from assistant.ears.heard import Heard
from assistant.live.utterance import Outlook
from assistant.sound.samples import Samples


@dataclass(frozen=True, slots=True)
class Turn:
    """One utterance that is over. Times are monotonic seconds: when the last sound
    of speech was captured, when the end was decided. `looks`: how often it was decoded.
    `noticed`: a tone has already told the cook. `free`: no address word was needed."""

    heard: Heard
    samples: Samples
    speech_end_s: float
    decided_s: float
    looks: int
    noticed: bool = False
    free: bool = False


class AddressSpotter(Protocol):
    """Knows early whether the address word was said (see `assistant.ears.spotter`)."""

    @property
    def found(self) -> bool:
        """Whether it was in what was fed since `begin`."""
        ...

    def begin(self) -> None:
        """Another utterance begins."""
        ...

    def feed(self, samples: Samples) -> None:
        """The next samples of the utterance."""
        ...


@dataclass(slots=True)
class Wiring:
    """What the listener is connected to. All are called from its threads.

    `vad`: probability of speech in one chunk. `hear`: understands samples; the
    flag says that the address word is not needed, the function whether the answer is
    still wanted. `ahead`: is given the utterance so far, now and then while somebody
    speaks, for work that need not wait. `on_speech`: the cook began or
    ended speaking. `on_noticed`: a pause after words meant for us, which may yet go
    on; `on_cut_in`: the address word fell while the program spoke; `is_free` says
    whether the address word is not needed now.
    """

    vad: Callable[[Samples], float]
    hear: Callable[[Samples, bool, Callable[[], bool]], Heard]
    outlook: Callable[[Heard], Outlook]
    on_turn: Callable[[Turn], None]
    on_speech: Callable[[bool], None]
    on_noticed: Callable[[], None]
    on_cut_in: Callable[[], None]
    is_free: Callable[[], bool]
    spotter: AddressSpotter
    ahead: Callable[[Samples], None] = lambda _samples: None
    now: Callable[[], float] = time.monotonic
