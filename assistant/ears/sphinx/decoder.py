"""PocketSphinx with a closed grammar: the recogniser that works right after install."""

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

import numpy as np

from assistant.ears.heard import Hypothesis
from assistant.ears.sphinx.pronounce import pronunciation
from assistant.grammar.network import Network
from assistant.sound.samples import Samples
from assistant.system.parts import load
from assistant.system.places import shipped

_LOG_BASE = 1024
"""PocketSphinx's integer log-likelihoods times its base, as natural logs."""

SHORTEST = 1600
_SEARCH, _PHONES, _ONE = "command", "phones", "one"


class UnknownWordsError(ValueError):
    """The grammar holds words that the dictionary lacks; `words` names them."""

    def __init__(self, words: tuple[str, ...]) -> None:
        super().__init__(f"no pronunciation is known for: {', '.join(words)}; choose another name")
        self.words = words


_SETTINGS: Mapping[str, object] = {
    "lm": None, "cmn": "batch", "bestpath": False, "compallsen": True,
    "beam": 1e-60, "pbeam": 1e-60, "wbeam": 1e-40, "loglevel": "FATAL",
}  # fmt: skip
"""Found by measurement: wide beams, no second pass over the word lattice (it breaks
closed grammars), and scores over every sound model, so that a grammar and the phone
loop can be compared."""


def _new_decoder(settings: Mapping[str, object]) -> Any:
    """A PocketSphinx decoder. Raises PartMissing."""
    library = load("pocketsphinx")
    model = {
        "hmm": library.get_model_path("en-us/en-us"),
        "dict": library.get_model_path("en-us/cmudict-en-us.dict"),
    }
    return library.Decoder(**{**model, **_SETTINGS, **settings})


def fitted_to_cleaned_sound() -> Mapping[str, str]:
    """Settings for sound that noise suppression has been through: the model's means, moved
    by `models/fit_first_listener.py`; none where they are missing."""
    means = shipped("models") / "first_listener.means"
    return {"mean": str(means)} if means.is_file() else {}


class Sphinx:
    """One decoder with the grammar of tonight; `recognise` gives one hypothesis."""

    name = "sphinx"

    def __init__(
        self,
        network: Network,
        pronunciations: Mapping[str, str] | None = None,
        settings: Mapping[str, object] = MappingProxyType({}),
    ) -> None:
        """`pronunciations` gives phones (ARPAbet, blank between) for words that the
        dictionary may lack; for the rest they are derived. `settings` are PocketSphinx's
        own, in place of the measured ones.

        Raises UnknownWordsError when some word cannot be pronounced.
        """
        self._decoder = _new_decoder(settings)
        phones = load("pocketsphinx").get_model_path("en-us/en-us-phone.lm.bin")
        self._decoder.add_allphone_file(_PHONES, phones)
        self.set_grammar(network, pronunciations)

    def set_grammar(
        self, network: Network, pronunciations: Mapping[str, str] | None = None
    ) -> None:
        """Use another grammar from the next utterance on; the old one stays on error."""
        lacking = sorted(word for word in network.words() if not self.knows(word))
        phones = {word: (pronunciations or {}).get(word) or pronunciation(word) for word in lacking}
        silent = tuple(word for word in lacking if not phones[word])
        if silent:
            raise UnknownWordsError(silent)
        for word in lacking:
            self._decoder.add_word(word, phones[word], update=True)
        self._add(_SEARCH, network)

    def _add(self, name: str, network: Network) -> None:
        """The network as it stands, deterministic and minimal: PocketSphinx's own
        reading of the JSGF text decodes five times as slowly, no better."""
        end = len(network.arcs)
        moves: list[tuple[int, int, float] | tuple[int, int, float, str]] = []
        for state, row in enumerate(network.arcs):
            share = 1.0 / max(1, len(row) + (state in network.finals))
            moves += [(state, target, share, word) for word, target in row.items()]
            if state in network.finals:
                moves.append((state, end, share))
        self._decoder.add_fsg(name, self._decoder.create_fsg(name, 0, end, moves))

    def knows(self, word: str) -> bool:
        """Whether the dictionary has the (lower-case) word."""
        return self._decoder.lookup_word(word) is not None

    def recognise(self, samples: Samples, *, with_ratio: bool = True) -> tuple[Hypothesis, ...]:
        """The best sentence of the grammar, with its ratio to the phone loop; empty
        when no whole sentence fits or the sound is too short to hold one."""
        found = self._decode(samples, _SEARCH)
        if found is None:
            return ()
        words, score = found
        ratio = self.ratio(samples, score) if with_ratio else None
        return (Hypothesis(words, score, self.name, ratio),)

    def score(self, samples: Samples, sentence: str) -> float | None:
        """Log-likelihood of `sentence` itself; None where it cannot be aligned."""
        arcs = [{word: n + 1} for n, word in enumerate(sentence.split())]
        self._add(_ONE, Network((*arcs, {}), frozenset([len(arcs)])))
        found = self._decode(samples, _ONE)
        return found[1] if found else None

    def ratio_of(self, samples: Samples, sentence: str) -> float | None:
        """Log-likelihood ratio per frame of `sentence` against a loop of phones."""
        score = self.score(samples, sentence)
        return None if score is None else self.ratio(samples, score)

    def close(self) -> None:
        """Nothing to release: the decoder ends with its process."""

    def ratio(self, samples: Samples, score: float) -> float | None:
        """Log-likelihood ratio per frame of a sentence's score against a loop of phones."""
        phones = self._decode(samples, _PHONES)
        return None if phones is None else (score - phones[1]) / max(1, self._decoder.n_frames())

    def _decode(self, samples: Samples, search: str) -> tuple[str, float] | None:
        if len(samples) < SHORTEST:
            return None
        self._decoder.activate_search(search)
        self._decoder.reinit_feat()  # or the last utterance's cepstral mean colours this one
        self._decoder.start_utt()
        self._decoder.process_raw(np.ascontiguousarray(samples).tobytes(), full_utt=True)
        self._decoder.end_utt()
        hypothesis = self._decoder.hyp()
        if hypothesis is None or not hypothesis.hypstr:
            return None
        return hypothesis.hypstr, math.log(max(hypothesis.best_score, 1e-300)) * _LOG_BASE
