"""PocketSphinx with a closed grammar: the recogniser that works right after install."""

import math
from collections.abc import Mapping

import numpy as np
from pocketsphinx import Decoder, get_model_path

from assistant.ears.heard import Hypothesis, Samples
from assistant.ears.pronounce import pronunciation

_LOG_BASE = 1024
"""PocketSphinx's integer log-likelihoods times its base, as natural logs."""

SHORTEST = 1600
_SEARCH, _PHONES, _ONE = "command", "phones", "one"


class UnknownWordsError(ValueError):
    """The grammar holds words that the dictionary lacks; `words` names them."""

    def __init__(self, words: tuple[str, ...]) -> None:
        super().__init__(f"no pronunciation is known for: {', '.join(words)}; choose another name")
        self.words = words


def _new_decoder() -> Decoder:
    """Settings found by measurement: wide beams, no second pass over the word
    lattice (it breaks closed grammars), and scores over every sound model, so that
    a grammar and the phone loop can be compared."""
    return Decoder(
        hmm=get_model_path("en-us/en-us"), dict=get_model_path("en-us/cmudict-en-us.dict"),
        lm=None, cmn="batch", bestpath=False, compallsen=True,
        beam=1e-60, pbeam=1e-60, wbeam=1e-40, loglevel="FATAL",
    )  # fmt: skip


class Sphinx:
    """One decoder with the grammar of tonight; `recognise` gives one hypothesis."""

    name = "sphinx"

    def __init__(
        self, jsgf: str, words: frozenset[str], pronunciations: Mapping[str, str] | None = None
    ) -> None:
        """`words` are all words of the grammar; `pronunciations` gives phones
        (ARPAbet, blank between) for those the dictionary lacks; others are derived.

        Raises UnknownWordsError when some word cannot be pronounced.
        """
        self._decoder = _new_decoder()
        self._decoder.add_allphone_file(_PHONES, get_model_path("en-us/en-us-phone.lm.bin"))
        self.set_grammar(jsgf, words, pronunciations)

    def set_grammar(
        self, jsgf: str, words: frozenset[str], pronunciations: Mapping[str, str] | None = None
    ) -> None:
        """Use another grammar from the next utterance on; the old one stays on error."""
        lacking = sorted(word for word in words if not self.knows(word))
        phones = {word: (pronunciations or {}).get(word) or pronunciation(word) for word in lacking}
        silent = tuple(word for word in lacking if not phones[word])
        if silent:
            raise UnknownWordsError(silent)
        for word in lacking:
            self._decoder.add_word(word, phones[word], update=True)
        self._decoder.add_jsgf_string(_SEARCH, jsgf)

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
        ratio = self._ratio(samples, score) if with_ratio else None
        return (Hypothesis(words, score, self.name, ratio),)

    def score(self, samples: Samples, sentence: str) -> float | None:
        """Log-likelihood of `sentence` itself; None where it cannot be aligned."""
        self._decoder.add_jsgf_string(_ONE, f"#JSGF V1.0; grammar one; public <s> = {sentence};")
        found = self._decode(samples, _ONE)
        return found[1] if found else None

    def close(self) -> None:
        """Nothing to release: the decoder ends with its process."""

    def _ratio(self, samples: Samples, score: float) -> float | None:
        phones = self._decode(samples, _PHONES)
        return None if phones is None else (score - phones[1]) / max(1, self._decoder.n_frames())

    def _decode(self, samples: Samples, search: str) -> tuple[str, float] | None:
        if len(samples) < SHORTEST:
            return None
        self._decoder.activate_search(search)
        self._decoder.start_utt()
        self._decoder.process_raw(np.ascontiguousarray(samples).tobytes(), full_utt=True)
        self._decoder.end_utt()
        hypothesis = self._decoder.hyp()
        if hypothesis is None or not hypothesis.hypstr:
            return None
        return hypothesis.hypstr, math.log(max(hypothesis.best_score, 1e-300)) * _LOG_BASE
