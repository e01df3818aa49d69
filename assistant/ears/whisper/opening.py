"""Whether an utterance opens with the address word, heard by itself.

An acoustic match: the log-probability that the listener would write just this word first,
whatever follows, summed over the ways it could write it. The grammar has no say in it, so
that it cannot bend talk into an addressed command; and any word has a score, with nothing
to be fitted for it.
"""

from collections.abc import Sequence

import numpy as np

from assistant.ears.whisper.files import Floats, Vocabulary
from assistant.ears.whisper.guided import BACKGROUND
from assistant.ears.whisper.model import Memory, Past, Whisper

_PART = 3
"""Letters that each half of a compound has at least."""


def spellings(vocabulary: Vocabulary, word: str) -> list[tuple[int, ...]]:
    """The tokens of an address of one or two words, and of a compound parted ("pepper corn")
    where both halves are common words."""
    ways = [vocabulary.encode(word)]
    if " " not in word:
        for place in range(_PART, len(word) - _PART + 1):
            halves = vocabulary.encode(f"{word[:place]} {word[place:]}")
            if len(halves) == 2:
                ways.append(halves)
    return ways


class Opening:
    """The match of some words, each in all its spellings."""

    def __init__(self, whisper: Whisper, words: Sequence[str]) -> None:
        self._whisper, self._words = whisper, tuple(words)
        ways = [spellings(whisper.vocabulary, word) for word in words]
        self._word_of = [n for n, spelt in enumerate(ways) for _ in spelt]
        self._spelt = [tokens for spelt in ways for tokens in spelt]
        own = {token for tokens in self._spelt for token in tokens}
        known = sorted(own | set(range(BACKGROUND)))
        self._column = {token: n for n, token in enumerate(known)}
        self._embeddings = np.ascontiguousarray(whisper.embeddings[known].astype(np.float32).T)

    def scores(self, memory: Memory, opened: tuple[Floats, Past]) -> list[float]:
        """The log-probability of each word; `opened`: what all sentences begin from."""
        worth = np.full(self._word_of[-1] + 1, -np.inf)
        for word, score in zip(self._word_of, self._ways(memory, opened), strict=True):
            worth[word] = np.logaddexp(worth[word], score)
        return [float(score) for score in worth]

    def likeliest(self, memory: Memory, opened: tuple[Floats, Past]) -> tuple[int, ...]:
        """The tokens of the likeliest word, as it is likeliest written here."""
        return self._spelt[int(np.argmax(self._ways(memory, opened)))]

    def _ways(self, memory: Memory, opened: tuple[Floats, Past]) -> list[float]:
        """The log-probability of every spelling."""
        hidden, past = opened
        longest = max(map(len, self._spelt))
        rows = np.repeat(self._log_probabilities(hidden), len(self._spelt), axis=0)[:, None]
        if longest > 1:
            fed = [[*tokens, *(longest - len(tokens)) * (0,)][:-1] for tokens in self._spelt]
            states, _ = self._whisper.step(fed, past, memory)
            rows = np.concatenate([rows, self._log_probabilities(states)], axis=1)
        columns = [[self._column[token] for token in tokens] for tokens in self._spelt]
        return [
            float(row[np.arange(len(own)), own].sum())
            for row, own in zip(rows, columns, strict=True)
        ]

    def _log_probabilities(self, hidden: Floats) -> Floats:
        logits = hidden @ self._embeddings
        logits -= logits.max(axis=-1, keepdims=True)
        found: Floats = logits - np.log(np.exp(logits).sum(axis=-1, keepdims=True))
        return found
