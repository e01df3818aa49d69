"""Somebody speaking into the program's own voice."""

from dataclasses import dataclass, replace

from assistant.ears.heard import Heard
from assistant.live.jobs import Job
from assistant.live.turn import Wiring
from assistant.live.utterance import CHUNK

CUT_IN_S = 0.3  # of speech over the program's own voice, before that is turned down
CLEAR_S = 0.2  # of speech in silence: that was no own voice
OWN_VOICE = "the program's own voice"
MOST_BEGINNINGS = 4  # looked at in one utterance
SHORTEST = 16 * CHUNK  # samples: half a second holds no address word and command
LEAD = 6 * CHUNK  # before speech goes on: a soft first sound


@dataclass(slots=True)
class CutIn:
    """Counts, within one utterance, the seconds spoken while the program spoke too."""

    over_s: float = 0.0
    clear_s: float = 0.0

    def add(self, seconds: float, *, speaks: bool, sounds: bool) -> None:
        """So long, somebody speaks (or not) and the program sounds (or not)."""
        if speaks and sounds:
            self.over_s += seconds
        elif speaks:
            self.clear_s += seconds

    @property
    def is_over(self) -> bool:
        """Whether any of the utterance was said over the program's voice."""
        return self.over_s > 0

    @property
    def is_clear(self) -> bool:
        """Whether it cannot all have been the program's voice."""
        return not self.is_over or self.clear_s >= CLEAR_S

    @property
    def is_cut_in(self) -> bool:
        """Whether that was enough to be no remainder of the own voice."""
        return self.over_s >= CUT_IN_S


def heard_over(job: Job, heard: Heard, wiring: Wiring) -> Heard:
    """What was said over the program's own voice, where the whole was `heard`.

    What is left of that voice may pass for speech and run into a command, which then does not
    open with the address word: where speech went on after a pause the command may begin. The
    program's own words are refused.
    """
    if heard.outcome != "accept":
        heard = _further_in(job, wiring) or heard
    if wiring.is_own(heard):
        return replace(heard, command=None, more=(), outcome="refuse", reason=OWN_VOICE)
    return heard


def _further_in(job: Job, wiring: Wiring) -> Heard | None:
    for chunk in job.resumed[:MOST_BEGINNINGS]:
        part = job.samples[max(0, chunk * CHUNK - LEAD) :]
        if len(part) >= SHORTEST and wiring.opens(part):
            heard = wiring.hear(part, False)  # noqa: FBT003 -- no address word is not enough
            return heard if heard.outcome != "refuse" else None
    return None
