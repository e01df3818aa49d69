"""Vosk with a list of phrases, where a model folder is found (models/README.md).

Vosk estimates word pairs from the phrases, so its words recombine: what it returns is
parsed like anybody's, and a sentence outside the grammar counts as nothing heard.
"""

import json
import math
from collections.abc import Iterable
from pathlib import Path

from assistant.ears.heard import Hypothesis
from assistant.ears.sphinx.decoder import SHORTEST, UnknownWordsError
from assistant.ears.vosk.model_finder import check_folder
from assistant.sound.samples import RATE_HZ, Samples

_UNKNOWN = ("[unk]", "<UNK>", "<unk>")


class VoskUnusableError(ValueError):
    """The model folder cannot be used; the message is one clear line."""


class Vosk:
    """One model; a recogniser object is made for every utterance, since changing the
    grammar of a running one aborts the process."""

    name = "vosk"

    def __init__(self, folder: Path, phrases: Iterable[str]) -> None:
        """Raises VoskUnusableError, or UnknownWordsError for words the model lacks."""
        try:
            import vosk
        except ImportError as error:
            raise VoskUnusableError(f"vosk cannot be loaded ({error}): pip install vosk") from error

        trouble = check_folder(folder).trouble
        if trouble:
            raise VoskUnusableError(trouble)
        vosk.SetLogLevel(-1)
        self._new = vosk.KaldiRecognizer
        self._model = vosk.Model(model_path=str(folder))
        self._unknown = next((word for word in _UNKNOWN if self.knows(word)), None)
        self.set_phrases(phrases)

    def knows(self, word: str) -> bool:
        """Whether the model's vocabulary has the word."""
        return int(self._model.vosk_model_find_word(word)) >= 0

    def set_phrases(self, phrases: Iterable[str]) -> None:
        """Listen for these from the next utterance on; the old ones stay on error."""
        wanted = list(dict.fromkeys(phrases))
        words = {word for phrase in wanted for word in phrase.split()}
        missing = tuple(sorted(word for word in words if not self.knows(word)))
        if missing:
            raise UnknownWordsError(missing)
        if not wanted:
            raise VoskUnusableError("there is nothing to listen for")  # "[]" kills the process
        listed = [*wanted, self._unknown] if self._unknown else wanted
        self._phrases = json.dumps(listed, ensure_ascii=False)

    def recognise(self, samples: Samples) -> tuple[Hypothesis, ...]:
        """The words found, unknown ones left out; `score` is the mean log confidence of
        a word times their number. Empty when no known word was found."""
        if len(samples) < SHORTEST:
            return ()
        recogniser = self._new(self._model, RATE_HZ, self._phrases)
        recogniser.SetWords(True)  # noqa: FBT003 -- Vosk's own signature
        recogniser.AcceptWaveform(samples.tobytes())
        found = json.loads(recogniser.FinalResult()).get("result", [])
        known = [entry for entry in found if entry["word"] != self._unknown]
        if not known or len(known) < len(found) / 2:
            return ()
        score = sum(math.log(max(entry["conf"], 1e-3)) for entry in known)
        return (Hypothesis(" ".join(entry["word"] for entry in known), score, self.name),)

    def close(self) -> None:
        """Nothing to release: the model ends with its process."""
