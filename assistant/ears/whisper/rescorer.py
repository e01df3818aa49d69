"""The second listener: Whisper tiny.en, fitted to commands in noise, held to the grammar.

Lives in a child process (see child.py), one utterance at a time.
"""

from zipfile import BadZipFile

from assistant.ears.whisper.files import JudgeMissing, check_model, find_model
from assistant.ears.whisper.fitting import fitting_path
from assistant.ears.whisper.free import Free
from assistant.ears.whisper.guided import Guide, Sentence
from assistant.ears.whisper.model import Memory, Whisper, log_mel
from assistant.grammar.network import Network
from assistant.sound.samples import Samples

SHORTEST = 1600


class Judge:
    """`listen` to an utterance, then `score` more sentences against the same sound."""

    def __init__(
        self, network: Network, names: frozenset[str] = frozenset(), *, is_fitted: bool = True
    ) -> None:
        """`names`: words of tonight that nobody can have taught it to spell. Without
        `is_fitted` the model hears as it came, which is for comparing. Raises JudgeMissing
        (whisper_model)."""
        folder = find_model()
        check_model(folder)
        try:
            self._whisper = Whisper(folder, fitting_path() if is_fitted else None)
        except (OSError, EOFError, BadZipFile, ValueError, KeyError) as error:
            raise JudgeMissing(
                f"the second listener cannot be loaded ({error}); install Turnspit again"
            ) from error
        self.set_grammar(network, names)
        self._memory: Memory | None = None

    def set_grammar(self, network: Network, names: frozenset[str] = frozenset()) -> None:
        """Use another grammar from the next utterance on."""
        self._guide = Guide(self._whisper, network, names)
        self._free = Free(self._guide)

    def listen(self, samples: Samples) -> list[Sentence]:
        """The sentences of the grammar most likely said, best first."""
        self._memory = None
        if len(samples) < SHORTEST:
            return []
        self._memory = self._whisper.encode(log_mel(samples))
        return self._guide.sentences(self._memory)

    def freely(self) -> list[Sentence]:
        """What was said in any words, best first, of the utterance last listened to."""
        return self._free.sentences(self._memory) if self._memory else []

    def score(self, sentences: list[str]) -> list[Sentence]:
        """Forced scores of sentences against the utterance last listened to; none
        when there was none."""
        return self._guide.score(self._memory, sentences) if self._memory else []

    def close(self) -> None:
        """Nothing to release: the arrays end with the process."""
