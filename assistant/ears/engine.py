"""The first listener, as it runs in its child process: one engine, two fronts.

The plain sound is always decoded, quickly; PocketSphinx also hears a cleaned copy with
a sound model fitted to such sound, and there scores every sound of the model, so that
a sentence can be compared with a loop of phones. Noise suppression helps it in noise and
costs it a little in quiet.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from assistant.ears.heard import Hypothesis
from assistant.ears.sphinx.decoder import Sphinx, fitted_to_cleaned_sound
from assistant.ears.sphinx.denoise import SETTLE_S, Ahead, available, denoised
from assistant.ears.vosk.decoder import Vosk
from assistant.grammar.network import Network
from assistant.sound.samples import RATE_HZ, Samples

CLEANED = "cleaned"
"""Suffix of the engine's name on hypotheses from the cleaned sound."""


@dataclass(frozen=True)
class Listening:
    """What to listen for: the network of the grammar, phones for words a dictionary may
    lack, and the same grammar as a JSON list of phrases for Vosk."""

    network: Network
    pronunciations: Mapping[str, str] = field(default_factory=dict)
    phrases: str = "[]"


class Engine:
    """PocketSphinx, or Vosk when given a model folder."""

    def __init__(self, listening: Listening, vosk: Path | None = None) -> None:
        """Raises UnknownWordsError or VoskUnusableError (see the engines)."""
        self._network = listening.network
        self._cleans = vosk is None and available()
        self._quick = self._careful = None
        if vosk is None:
            network, phones = listening.network, listening.pronunciations
            self._quick = Sphinx(network, phones, {"compallsen": False})
            self._careful = Sphinx(network, phones, fitted_to_cleaned_sound())
        self._vosk = Vosk(vosk, json.loads(listening.phrases)) if vosk else None
        self._ahead: Ahead | None = None
        self.name = "vosk" if vosk else "sphinx"

    def listen_to(self, listening: Listening) -> None:
        """Use another grammar from the next utterance on; the old one stays on error."""
        if self._vosk:
            self._vosk.set_phrases(json.loads(listening.phrases))
        for sphinx in filter(None, (self._quick, self._careful)):
            sphinx.set_grammar(listening.network, listening.pronunciations)
        self._network = listening.network

    def hear_ahead(self, samples: Samples) -> None:
        """Clean what an utterance has said so far, to be told again as it grows: then
        `look_closer` has only its end left to clean. May be left out."""
        if not self._cleans or len(samples) < SETTLE_S * RATE_HZ:
            return
        if self._ahead is None or not self._ahead.goes_with(samples):
            self._ahead = Ahead(samples)
        self._ahead.cleaned(samples)

    def _cleaned(self, samples: Samples) -> Samples:
        ahead = self._ahead
        known = ahead is not None and ahead.goes_with(samples)
        return ahead.cleaned(samples) if ahead and known else denoised(samples)

    def recognise(self, samples: Samples) -> tuple[Hypothesis, ...]:
        """The hypothesis from the plain sound; the quick half."""
        if self._vosk:
            return tuple(filter(None, map(self._sentence, self._vosk.recognise(samples))))
        assert self._quick is not None
        return self._quick.recognise(samples, with_ratio=False)

    def look_closer(
        self, samples: Samples, found: tuple[Hypothesis, ...]
    ) -> tuple[Hypothesis, ...]:
        """What was `found`, with its ratio to a loop of phones, and the hypothesis from
        the cleaned sound; the slow half, for what is not clear without it."""
        careful = self._careful
        if not careful:
            return found
        rated = tuple(replace(h, ratio=careful.ratio_of(samples, h.words)) for h in found)
        if not self._cleans:
            return rated
        cleaned = careful.recognise(self._cleaned(samples), with_ratio=not rated)
        return rated + tuple(replace(h, engine=f"{h.engine} {CLEANED}") for h in cleaned)

    def _sentence(self, found: Hypothesis) -> Hypothesis | None:
        """The longest run of Vosk's words that is a sentence: it recombines words, and
        likes to put a stray one at an edge. None where more than half would be lost."""
        said = found.words.split()
        for length in range(len(said), len(said) // 2 - 1, -1):
            for start in range(len(said) - length + 1):
                words = " ".join(said[start : start + length])
                if length and self._network.accepts(words):
                    return replace(found, words=words)
        return None

    def close(self) -> None:
        """Nothing to release: the engine ends with its process."""
