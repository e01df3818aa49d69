"""The ears of a live cook: kept to tonight's birds and sauces, asked from one thread at a time."""

import threading
from collections.abc import Callable

from assistant.cook.state import MOST_BIRDS, Cook
from assistant.cook.vocabulary.commands import Scale
from assistant.ears.ears import Ears, EarsError
from assistant.ears.heard import Heard
from assistant.grammar.grammar import Names, is_sayable, timer_names
from assistant.live.outlook import is_meant, outlook_of
from assistant.live.utterance import Outlook
from assistant.session.free_words import context_of, heard_by_ear
from assistant.sound.samples import Samples


def names_of(cook: Cook) -> Names:
    """Tonight's names: birds expected, sauces named in the settings or given to a bird,
    and the timers that run."""
    given = [bird.sauce for bird in cook.birds if bird.sauce is not None]
    sauces = dict.fromkeys([*(name for name, _ in cook.sauces), *given])
    sauces.pop("plain", None)
    usual = timer_names()
    timers = dict.fromkeys(one.name for one in cook.timers if one.name and is_sayable(one.name))
    return Names(
        cook.tonight or MOST_BIRDS,
        tuple(sauces),
        tuple(name for name in timers if name not in usual),
    )


def scale_of(cook: Cook) -> Scale:
    """The scale of numbers said without one."""
    return "C" if cook.scale == "C" else "F"


class LiveEars:
    """`Hearing` over `Ears`. `notice` is told in one line what cannot be listened for."""

    def __init__(self, ears: Ears, cook: Cook, notice: Callable[[str], None]) -> None:
        self._ears = ears
        self._notice = notice
        self._lock = threading.Lock()
        self._opened = False  # what was looked at last; at worst the next sound is not looked at
        self._names = names_of(cook)
        self._scale = scale_of(cook)
        self._follow(cook)

    def hear(self, samples: Samples, free: bool) -> Heard:  # noqa: FBT001 -- the listener's form
        """One utterance; `free`: the address word is not needed."""
        with self._lock:
            heard = self._ears.hear(samples, address_required=True, free=free, opened=self._opened)
        return heard_by_ear(heard, self._cook, self._ears.address)

    def opens(self, samples: Samples) -> bool:
        """Whether what is still being spoken opens with the address word."""
        with self._lock:
            self._opened = self._ears.opens(samples)
            return self._opened

    def outlook(self, heard: Heard) -> Outlook:
        """Whether more may follow."""
        return outlook_of(heard, self._names, self._ears.address)

    def is_meant(self, heard: Heard, free: bool) -> bool:  # noqa: FBT001 -- as for hear
        """Whether a refused utterance was meant for the program."""
        return is_meant(heard, free=free, address=self._ears.address)

    def keep_up(self, cook: Cook) -> None:
        """Listen for the birds and sauces the cook has now."""
        wanted, scale = names_of(cook), scale_of(cook)
        if (wanted, scale) != (self._names, self._scale):
            self._names, self._scale = wanted, scale
            with self._lock:
                try:
                    self._ears.set_names(wanted, scale)
                except EarsError as error:
                    self._notice(str(error))
        self._follow(cook)

    def _follow(self, cook: Cook) -> None:
        """Understand a cook's own words by what is known now."""
        self._cook = cook
        self._ears.context = context_of(cook)

    def close(self) -> None:
        """End the recognisers."""
        with self._lock:
            self._ears.close()
