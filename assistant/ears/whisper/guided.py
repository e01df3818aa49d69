"""Whisper held to a grammar: beam search over what may be said next.

Free decoding writes "Bird to read 86"; the same model asked only for words the
grammar allows finds the sentence. Log-probabilities are taken over the grammar's
tokens and a background of common words, so that speech the grammar does not
cover still costs, without the sum over all 51 864 tokens at every step.
"""

from dataclasses import dataclass, field
from functools import cached_property, reduce

import numpy as np

from assistant.ears.heard import Sentence
from assistant.ears.whisper.files import Floats
from assistant.ears.whisper.model import Memory, Past, Whisper
from assistant.grammar.network import Network

BEAMS = 12
BACKGROUND = 8000
"""How many of the commonest tokens stand for everything else."""

LONGEST = 60

PIECE_FLOOR = -1.0
"""Log-probability that a later piece of an uncommon name's spelling counts for at least:
the model hears how a name begins, but has to guess how it is written."""


@dataclass(frozen=True)
class Begun:
    """How a sentence is known to begin: its words, and the tokens that they were written in.
    They cost nothing, and all that follows is weighed as what comes after them."""

    words: tuple[str, ...] = ()
    tokens: tuple[int, ...] = ()


UNBEGUN = Begun()


@dataclass(frozen=True)
class _Path:
    """A beginning: `state` of the network after `words`, then part of a word."""

    words: tuple[str, ...]
    state: int
    begun: tuple[int, ...] = ()
    score: float = 0.0
    tokens: int = 0


@dataclass
class Guide:
    """A grammar prepared for one Whisper model. `names` are words of tonight that nobody
    can have taught it to spell."""

    whisper: Whisper
    network: Network
    names: frozenset[str] = frozenset()
    beams: int = BEAMS
    spellings: dict[str, tuple[int, ...]] = field(default_factory=dict, init=False)
    _kept: tuple[Memory, Begun, Floats, Past] | None = field(default=None, init=False)

    def __post_init__(self) -> None:
        vocabulary = self.whisper.vocabulary
        self.spellings = {word: vocabulary.encode_word(word) for word in self.network.words()}
        self.end = vocabulary.tokens["<|endoftext|>"]

    @cached_property
    def columns(self) -> tuple[dict[int, int], Floats]:
        """Token -> column, and the embeddings of the columns' tokens (width, columns)."""
        own = {token for spelling in self.spellings.values() for token in spelling}
        tokens = sorted(own | {self.end} | set(range(BACKGROUND)))
        embeddings = self.whisper.embeddings[tokens].astype(np.float32)
        return {token: n for n, token in enumerate(tokens)}, np.ascontiguousarray(embeddings.T)

    def _opening(self) -> list[int]:
        tokens = self.whisper.vocabulary.tokens
        return [tokens["<|startoftranscript|>"], tokens["<|notimestamps|>"]]

    def opened(self, memory: Memory, begun: Begun = UNBEGUN) -> tuple[Floats, Past]:
        """What all sentences go on from; kept for the sound last asked about."""
        if self._kept is None or self._kept[0] is not memory or self._kept[1] != begun:
            tokens = [*self._opening(), *begun.tokens]
            self._kept = (memory, begun, *self.whisper.open(tokens, memory))
        return self._kept[2:]

    def log_probabilities(self, hidden: Floats) -> Floats:
        """(n, width) to (n, columns)."""
        logits = hidden @ self.columns[1]
        logits -= logits.max(axis=-1, keepdims=True)
        log_probabilities: Floats = logits - np.log(np.exp(logits).sum(axis=-1, keepdims=True))
        return log_probabilities

    def sentences(self, memory: Memory, begun: Begun = UNBEGUN) -> list[Sentence]:
        """The sentences of the grammar most likely said, best sum first; of those that open
        with the words `begun`, which must be how some sentence does."""
        hidden, past = self.opened(memory, begun)
        state = reduce(lambda at, word: self.network.arcs[at][word], begun.words, 0)
        paths, done = [_Path(begun.words, state)], list[Sentence]()
        for _ in range(LONGEST):
            rows = self.log_probabilities(hidden)
            grown = self._grown(paths, rows, done)
            bar = sorted((s.score for s in done), reverse=True)[: self.beams]
            enough = len(bar) == self.beams
            grown = [g for g in grown if not enough or g[2].score > bar[-1]][: self.beams]
            if not grown:
                break
            paths = [path for _, _, path in grown]
            past = past.pick([beam for beam, _, _ in grown])
            fed, past = self.whisper.step([[token] for _, token, _ in grown], past, memory)
            hidden = fed[:, 0]
        return sorted(done, key=lambda s: -s.score)

    def _grown(
        self, paths: list[_Path], rows: Floats, done: list[Sentence]
    ) -> list[tuple[int, int, _Path]]:
        """Every one-token growth as (beam, token, path), best first; ends go to `done`."""
        column = self.columns[0]
        grown: list[tuple[int, int, _Path]] = []
        for beam, path in enumerate(paths):
            row = rows[beam]
            count = path.tokens + 1
            if not path.begun and path.state in self.network.finals:
                score = path.score + float(row[column[self.end]])
                done.append(Sentence(" ".join(path.words), score, count))
            for word, target in self.network.arcs[path.state].items():
                spelling, k = self.spellings[word], len(path.begun)
                if len(spelling) <= k or spelling[:k] != path.begun:
                    continue
                score = path.score + self._worth(word, k, float(row[column[spelling[k]]]))
                if len(spelling) == k + 1:
                    longer = _Path((*path.words, word), target, (), score, count)
                else:
                    longer = _Path(path.words, path.state, spelling[: k + 1], score, count)
                grown.append((beam, spelling[k], longer))
        unique = {(g[2].words, g[2].begun): g for g in grown}
        return sorted(unique.values(), key=lambda g: -g[2].score)

    def score(self, memory: Memory, sentences: list[str], begun: Begun = UNBEGUN) -> list[Sentence]:
        """Forced scores of given sentences, in the order given, all in one pass. All of them
        open with the words `begun`."""
        if not sentences:
            return []
        hidden, past = self.opened(memory, begun)
        spelt = [
            [(word, self._spelling(word)) for word in words.split()[len(begun.words) :]]
            for words in sentences
        ]
        said = [[token for _, spelling in one for token in spelling] for one in spelt]
        longest = max(map(len, said))
        padded = [tokens + [self.end] * (longest - len(tokens)) for tokens in said]
        fed, _ = self.whisper.step(padded, past.pick([0] * len(said)), memory)
        column, scored = self.columns[0], []
        for n, (words, tokens) in enumerate(zip(sentences, said, strict=True)):
            states = np.concatenate([hidden, fed[n, : len(tokens)]])
            known = [column[token] for token in [*tokens, self.end]]
            found = self.log_probabilities(states)[np.arange(len(known)), known]
            pieces = [(word, k) for word, spelling in spelt[n] for k in range(len(spelling))]
            worth = [self._worth(*piece, float(x)) for piece, x in zip(pieces, found, strict=False)]
            scored.append(Sentence(words, sum(worth) + float(found[-1]), len(known)))
        return scored

    def _spelling(self, word: str) -> tuple[int, ...]:
        """In tokens that have a column: a word outside the grammar may have to be pieced
        together, as free decoding does."""
        vocabulary, column = self.whisper.vocabulary, self.columns[0]
        spelt = self.spellings.get(word) or vocabulary.encode_word(word)
        if all(token in column for token in spelt):
            return spelt
        left, pieced = "Ġ" + word, list[int]()
        while left:
            ends = range(len(left), 0, -1)
            known = (vocabulary.tokens.get(left[:end], -1) for end in ends)
            token = next(token for token in known if token in column)
            pieced.append(token)
            left = left[len(vocabulary.pieces[token]) :]
        return tuple(pieced)

    def _worth(self, word: str, piece: int, log_probability: float) -> float:
        """What a piece of a word's spelling counts."""
        is_guess = piece > 0 and word in self.names
        return max(PIECE_FLOOR, log_probability) if is_guess else log_probability
