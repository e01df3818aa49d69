"""The baseline of the hearing benchmark: PocketSphinx with the closed grammar and the
recommended settings, and nothing else. Written apart from the ears, so that it stays as
it is when they change.
"""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from pocketsphinx import Decoder, get_model_path

from assistant.ears.sphinx.pronounce import pronunciation
from assistant.grammar import grammar as cook_grammar
from assistant.grammar.grammar import ADDRESS, Names
from assistant.grammar.jsgf import Grammar, Maybe, Ref, Sequence
from assistant.grammar.network import Network, network_of, read_network
from assistant.sound.samples import Samples
from tests.benchmarks.corpus import FOLDER

_VERSION = 1


def cook_network(names: Names, address: str = ADDRESS) -> Network:
    """Tonight's commands, the address word before them if said."""
    addressed = cook_grammar.fitted(names, lean=True, address=address)
    said = Sequence((Maybe(Ref("address")), Ref("command")))
    return network_of(Grammar("cook", {**addressed.rules, "said": said}, ("said",)))


@dataclass
class Baseline:
    """One decoder; what it heard is kept in the corpus folder under `tag` and a key."""

    network: Network
    tag: str
    given: Mapping[str, str] = field(default_factory=dict)
    _decoder: Decoder | None = field(default=None, init=False)

    @classmethod
    def for_cook(cls, names: Names) -> "Baseline":
        """The baseline of a cook's commands."""
        return cls(cook_network(names), "cook", cook_grammar.pronunciations())

    @classmethod
    def for_grammar(cls, jsgf: str, tag: str) -> "Baseline":
        """The baseline of any grammar."""
        return cls(read_network(jsgf), tag)

    def words(self, key: str, samples: Samples) -> str:
        """What it hears in the utterance; nothing where no whole sentence fits."""
        path = self._path(key)
        if not path.is_file():
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(self._decoded(samples))
        return path.read_text()

    def kept(self, key: str) -> str | None:
        """What it heard before; None where it never listened."""
        path = self._path(key)
        return path.read_text() if path.is_file() else None

    def _path(self, key: str) -> Path:
        name = hashlib.sha256(f"{_VERSION}|{self.tag}|{key}".encode()).hexdigest()[:24]
        return FOLDER / "plain" / f"{name}.txt"

    def _decoded(self, samples: Samples) -> str:
        if len(samples) < 1600:
            return ""
        self._decoder = self._decoder or self._made()
        self._decoder.reinit_feat()
        self._decoder.start_utt()
        self._decoder.process_raw(np.ascontiguousarray(samples).tobytes(), full_utt=True)
        self._decoder.end_utt()
        found = self._decoder.hyp()
        return found.hypstr if found else ""

    def _made(self) -> Decoder:
        decoder = Decoder(
            hmm=get_model_path("en-us/en-us"), dict=get_model_path("en-us/cmudict-en-us.dict"),
            lm=None, cmn="batch", bestpath=False, compallsen=True,
            beam=1e-60, pbeam=1e-60, wbeam=1e-40, loglevel="FATAL",
        )  # fmt: skip
        for word in self.network.words():
            if decoder.lookup_word(word) is None:
                decoder.add_word(word, self.given.get(word) or pronunciation(word), update=True)
        end = len(self.network.arcs)
        moves: list[tuple[int, int, float] | tuple[int, int, float, str]] = []
        for state, row in enumerate(self.network.arcs):
            share = 1.0 / max(1, len(row) + (state in self.network.finals))
            moves += [(state, target, share, word) for word, target in row.items()]
            if state in self.network.finals:
                moves.append((state, end, share))
        decoder.add_fsg("plain", decoder.create_fsg("plain", 0, end, moves))
        decoder.activate_search("plain")
        return decoder
