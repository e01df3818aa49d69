"""What the listener hands to the thread that understands, and the push-to-talk key."""

from dataclasses import dataclass

from assistant.sound.samples import Samples


@dataclass(slots=True)
class Job:
    """Sound to be understood: an utterance so far, or (`is_final`) over, or (`only_opening`)
    its beginning, for the address word alone. `version` is the utterance's (utterance.py),
    `number` counts utterances; it began at `began_s`. `free`, `follows`: no address word is
    needed, since something was asked or (`by_key`) a key pressed, or in the breath of a command;
    `over`: some of it was said over the program's own voice, `clear`: not all; `resumed`: see
    Utterance. `looks`, `noticed`, `speech_end_s`: as of a Turn."""

    samples: Samples
    version: int
    free: bool
    follows: bool
    over: bool
    speech_end_s: float
    is_final: bool = False
    looks: int = 1
    noticed: bool = False
    only_opening: bool = False
    number: int = 0
    began_s: float = float("inf")
    by_key: bool = False
    clear: bool = True
    resumed: tuple[int, ...] = ()


@dataclass(slots=True)
class Key:
    """Push to talk: `until_s` opens a window, `held` keeps it open."""

    until_s: float = float("-inf")
    held: bool = False
