"""The ears of a live cook: what they are asked."""

import numpy as np

from assistant.cook.rules.fold import fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary.events import CookBegan, Recorded
from assistant.ears.heard import Heard
from assistant.grammar.grammar import ADDRESS
from assistant.live.hearing import LiveEars

SOUND = np.zeros(64_000, np.int16)


class Asked:
    """Stands for the ears."""

    address = ADDRESS

    def __init__(self) -> None:
        self.found = True
        self.opened: list[bool] = []

    def opens(self, _samples: np.ndarray) -> bool:
        return self.found

    def hear(self, _samples: np.ndarray, *, opened: bool, **_: bool) -> Heard:
        self.opened.append(opened)
        return Heard("", None, 0.0, "refuse")


def test_the_beginning_of_an_utterance_is_not_looked_at_again_once_it_was() -> None:
    ears = Asked()
    live = LiveEars(ears, fold([Recorded(1, 0.0, CookBegan(birds=2))], Cook()), lambda _: None)  # type: ignore[arg-type]
    live.hear(SOUND, False)
    live.opens(SOUND)
    live.hear(SOUND, False)
    ears.found = False
    live.opens(SOUND)
    live.hear(SOUND, False)
    assert ears.opened == [False, True, False]
