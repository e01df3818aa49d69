"""The recogniser: Whisper tiny.en, fitted to commands in noise, held to the grammar.

Lives in a child process (see child.py), one utterance at a time.
"""

from collections.abc import Callable
from functools import partial
from zipfile import BadZipFile

from assistant.ears.evidence import BENT, Evidence
from assistant.ears.heard import Sentence
from assistant.ears.neighbours import neighbours
from assistant.ears.prepared import Prepared
from assistant.ears.weights import ADDRESSED
from assistant.ears.whisper.files import ModelMissing, check_file, check_model, find_model
from assistant.ears.whisper.fitting import FITTING_SHA256, fitting_path
from assistant.ears.whisper.free import Free
from assistant.ears.whisper.guided import UNBEGUN, Begun, Guide
from assistant.ears.whisper.model import Memory, Whisper, log_mel
from assistant.ears.whisper.opening import Opening
from assistant.sound.samples import Samples

SHORTEST = 1600
OPENING = 32000
"""Samples that the address word lies in, looked at first in a sound of more than `LONG`."""
LONG = 48000


class WhisperRecogniser:
    """Utterances to evidence, for one grammar at a time."""

    def __init__(self, grammar: Prepared, *, is_fitted: bool = True) -> None:
        """Without `is_fitted` the model hears as it came, which is for comparing. Raises
        ModelMissing."""
        folder = find_model()
        check_model(folder)
        if is_fitted:
            check_file(fitting_path(), FITTING_SHA256)
        try:
            self._whisper = Whisper(folder, fitting_path() if is_fitted else None)
        except (OSError, EOFError, BadZipFile, ValueError, KeyError) as error:
            raise ModelMissing(
                f"Whisper cannot be loaded ({error}); install Turnspit again"
            ) from error
        self._is_fitted = is_fitted
        self.set_grammar(grammar)

    def set_grammar(self, grammar: Prepared) -> None:
        """Use another grammar from the next utterance on."""
        self._guide = Guide(self._whisper, grammar.network, grammar.names)
        self._free = Free(self._guide)
        self._writes = grammar.is_open and self._is_fitted
        self._address = grammar.address
        self._opening = Opening(self._whisper, [grammar.address]) if grammar.address else None

    def recognise(
        self,
        samples: Samples,
        only_addressed: bool = False,  # noqa: FBT001, FBT002 -- Child.call has no keywords
        opened: bool = False,  # noqa: FBT001, FBT002 -- as above
    ) -> Evidence:
        """The sentences of the grammar most likely said, best first, with the sound-alikes
        of the best; and what it writes in any words, where those could explain the sound
        much better. With `only_addressed` nothing more is done with a sound that does not
        open with the address word: most of what is said at a table is over with that, and a
        long sound with a look at its beginning, unless that was found `opened` before."""
        if len(samples) < SHORTEST:
            return Evidence()
        if only_addressed and not opened and len(samples) > LONG:
            opening = self.opening(samples)
            if opening is not None and opening < ADDRESSED:
                return Evidence(opening=opening)
        memory = self._whisper.encode(log_mel(samples))
        opening = self._opens(memory)
        if only_addressed and opening is not None and opening < ADDRESSED:
            return Evidence(opening=opening)
        begun = self._begun(memory, opening)
        found = self._guide.sentences(memory, begun)
        if not found:
            return Evidence(opening=opening)
        could_be_bent = self._writes and max(one.score for one in found) < -BENT
        free = self._free.sentences(memory, begun) if could_be_bent else []
        alike = partial(self._sound_alikes, memory, begun)
        return Evidence(
            (*found, *alike(found, self._guide.network.accepts)),
            (*free, *alike(free, lambda _words: True)),
            opening=opening,
        )

    def opening(self, samples: Samples) -> float | None:
        """How well the sound opens with the address word, by its first seconds alone."""
        if len(samples) < SHORTEST:
            return None
        return self._opens(self._whisper.encode(log_mel(samples[:OPENING])))

    def _begun(self, memory: Memory, opening: float | None) -> Begun:
        """The address word, where it opens the sound: a decoder that has to guess how to write
        a word that it was never taught stumbles over what comes after it."""
        if self._opening is None or opening is None or opening < ADDRESSED:
            return UNBEGUN
        written = self._opening.likeliest(memory, self._guide.opened(memory))
        return Begun(tuple(self._address.split()), written)

    def _opens(self, memory: Memory) -> float | None:
        if self._opening is None:
            return None
        return self._opening.scores(memory, self._guide.opened(memory))[0]

    def _sound_alikes(
        self, memory: Memory, begun: Begun, found: list[Sentence], accepts: Callable[[str], bool]
    ) -> list[Sentence]:
        """Those of the best that were not found by themselves, with their scores."""
        known = {one.words for one in found}
        alike = neighbours(found[0].words, accepts) if found else ()
        return self._guide.score(memory, [words for words in alike if words not in known], begun)

    def close(self) -> None:
        """Nothing to release: the arrays end with the process."""
