"""Vosk with a list of phrases, where a model folder is found (models/README.md).

Vosk estimates word pairs from the phrases, so its words recombine: what it returns is
parsed like anybody's, and a sentence outside the grammar counts as nothing heard.
"""

import json
import math
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from assistant.ears.evidence import Evidence
from assistant.ears.heard import Sentence
from assistant.ears.prepared import Prepared
from assistant.ears.vosk.model_finder import check_folder
from assistant.sound.samples import RATE_HZ, Samples
from assistant.system import parts

SHORTEST = 1600
_UNKNOWN = ("[unk]", "<UNK>", "<unk>")


class VoskUnusableError(ValueError):
    """The model folder cannot be used; the message is one clear line."""


class UnknownWordsError(ValueError):
    """Words that the model's vocabulary lacks; the message names them."""

    def __init__(self, words: tuple[str, ...]) -> None:
        super().__init__(f"Vosk's model does not know: {', '.join(words)}")


class VoskRecogniser:
    """One model; a recogniser object is made for every utterance, since changing the
    grammar of a running one aborts the process."""

    def __init__(self, grammar: Prepared, folder: Path) -> None:
        """Raises VoskUnusableError, or UnknownWordsError for words the model lacks."""
        try:
            vosk = parts.load("vosk")
        except parts.PartMissing as error:
            raise VoskUnusableError(str(error)) from error
        trouble = check_folder(folder).trouble
        if trouble:
            raise VoskUnusableError(trouble)
        vosk.SetLogLevel(-1)
        self._new = vosk.KaldiRecognizer
        self._model = vosk.Model(model_path=str(folder))
        self._unknown = next((word for word in _UNKNOWN if self._knows(word)), None)
        self.set_grammar(grammar)

    def _knows(self, word: str) -> bool:
        return int(self._model.vosk_model_find_word(word)) >= 0

    def set_grammar(self, grammar: Prepared) -> None:
        """Listen for another grammar from the next utterance on; the old one stays on error."""
        self._phrases = self._listed(json.loads(grammar.phrases))
        self._network = grammar.network

    def _listed(self, phrases: Iterable[str]) -> str:
        wanted = list(dict.fromkeys(phrases))
        words = {word for phrase in wanted for word in phrase.split()}
        missing = tuple(sorted(word for word in words if not self._knows(word)))
        if missing:
            raise UnknownWordsError(missing)
        if not wanted:
            raise VoskUnusableError("there is nothing to listen for")  # "[]" kills the process
        return json.dumps([*wanted, *filter(None, (self._unknown,))], ensure_ascii=False)

    def opening(self, _samples: Samples) -> float | None:
        """How well a sound opens with the address word: Vosk cannot tell."""
        return None

    def recognise(self, samples: Samples, *_: bool) -> Evidence:
        """The sentence found, unknown words left out; its score is the sum of its words' log
        confidences. Empty where no sentence of known words was found."""
        nothing = Evidence(engine="vosk")
        if len(samples) < SHORTEST:
            return nothing
        recogniser = self._new(self._model, RATE_HZ, self._phrases)
        recogniser.SetWords(True)  # noqa: FBT003 -- Vosk's own signature
        recogniser.AcceptWaveform(samples.tobytes())
        found = json.loads(recogniser.FinalResult()).get("result", [])
        known = [entry for entry in found if entry["word"] != self._unknown]
        if not known or len(known) < len(found) / 2:
            return nothing
        score = sum(math.log(max(entry["conf"], 1e-3)) for entry in known)
        words = " ".join(entry["word"] for entry in known)
        sentence = self._sentence(Sentence(words, score, len(known)))
        return nothing if sentence is None else replace(nothing, sentences=(sentence,))

    def _sentence(self, found: Sentence) -> Sentence | None:
        """The longest run of the words that is a sentence: Vosk recombines words, and likes
        to put a stray one at an edge. None where more than half would be lost."""
        said = found.words.split()
        for length in range(len(said), len(said) // 2 - 1, -1):
            for start in range(len(said) - length + 1):
                words = " ".join(said[start : start + length])
                if length and self._network.accepts(words):
                    return replace(found, words=words)
        return None

    def close(self) -> None:
        """Nothing to release: the model ends with its process."""
