"""Fit PocketSphinx's sound model to speech that noise suppression has been through.

    PYTHONPATH=. .venv/bin/python models/fit_first_listener.py

Sentences that no corpus of the hearing benchmark holds are said by five voices (never
rms, awb or kal, which only test) and put in generated noise (never the kitchen
recording, which only tests). PocketSphinx aligns the clean sound; the features of the
noisy and of the cleaned sound then move the means and the mixture weights by maximum a
posteriori (Gauvain and Lee 1994, "Maximum a posteriori estimation for multivariate
Gaussian mixture observations"), the model as it came being the prior. Only the means are
kept: moved weights helped no further with voices the fitting had not heard.

The file that lies here came from the same steps, the clean sound counted beside the noisy
and the cleaned, run on 585 sentences (23 minutes) of the second listener's training set:
502 said by joe, slt, festival-ked and festival-slt, 83 by espeak-ng voices and by blends
of Kokoro-82M's.
"""

import argparse
import random
import struct
import tempfile
from itertools import islice
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from pocketsphinx import Decoder, get_model_path

from assistant.ears.sphinx.denoise import denoised
from assistant.grammar.grammar import pronunciations
from assistant.sound.samples import Samples
from tests.benchmarks import corpora
from tests.benchmarks.corpora import DEVELOPMENT
from tests.benchmarks.corpus import say, voices
from tests.benchmarks.corpus_chatter import chatter
from tests.benchmarks.corpus_commands import commands
from tests.benchmarks.corpus_noise import mixed

Floats = NDArray[np.float32]
VOICES = ("joe", "joe-fast", "slt", "festival-ked", "festival-slt")
NOISES = ("babble", "wind", "grill", "pink")
SEED = 3
TALK_SHARE = 0.3
PRIOR = 30.0
"""How many frames the model as it came counts for, for every Gaussian and every state."""

ROUNDS = 2
BOOKS, STREAMS, GAUSSIANS, WIDTH = 42, 3, 128, 13
_MODEL = Path(get_model_path("en-us/en-us"))
_STEP = np.log(1.0001) * 1024
"""What one step of a kept mixture weight is worth, in nats."""


def sentences(count: int) -> list[tuple[str, str]]:
    """(words, voice): commands and talk that no benchmark says."""
    spoken = voices(VOICES)
    said = corpora.spoken_sentences()
    drawn = [c.words for c in commands(2 * count, spoken, SEED) if c.words not in said]
    talk = list(islice(chatter(DEVELOPMENT), int(TALK_SHARE * count)))
    words = [*drawn[: count - len(talk)], *talk]
    random.Random(SEED).shuffle(words)  # noqa: S311 -- a repeatable order, nothing secret
    return [(line, spoken[n % len(spoken)]) for n, line in enumerate(words)]


# ---- the model's files --------------------------------------------------------------


def read_gaussians(name: str) -> tuple[bytes, Floats]:
    """Head of the file, and (books, streams, Gaussians, width) numbers."""
    raw = (_MODEL / name).read_bytes()
    size = BOOKS * STREAMS * GAUSSIANS * WIDTH
    start = raw.index(b"endhdr\n") + 7 + 4 * (1 + 3 + STREAMS + 1)
    numbers = np.frombuffer(raw, "<f4", size, start)
    return raw[:start], numbers.reshape(BOOKS, STREAMS, GAUSSIANS, WIDTH).copy()


def write_gaussians(path: Path, head: bytes, numbers: Floats) -> None:
    """The same kind of file, with its checksum (rotate by 20 and add, word by word)."""
    data = numbers.astype("<f4").tobytes()
    total = 0
    for word in np.frombuffer(head[head.index(b"endhdr\n") + 11 :] + data, "<u4").tolist():
        total = ((total << 20 | total >> 12) + word) & 0xFFFFFFFF
    path.write_bytes(head + data + struct.pack("<I", total))


def read_mixtures() -> Floats:
    """(states, streams, Gaussians) weights."""
    raw = (_MODEL / "sendump").read_bytes()
    states = len(raw) // (STREAMS * GAUSSIANS)
    kept = np.frombuffer(raw, np.uint8, offset=len(raw) - states * STREAMS * GAUSSIANS)
    weights = np.exp(-kept.reshape(STREAMS, GAUSSIANS, states) * _STEP).transpose(2, 0, 1)
    return np.asarray(weights / weights.sum(-1, keepdims=True), np.float32)


def phone_names() -> list[str]:
    """Phones in the order of their codebooks."""
    raw = (_MODEL / "mdef").read_bytes()
    at = 12 + struct.unpack_from("<i", raw, 8)[0]
    count = struct.unpack_from("<i", raw, at)[0]
    return [name.decode() for name in raw[at + 40 :].split(b"\0", count)[:count]]


# ---- sound to frames ----------------------------------------------------------------


class Front:
    """PocketSphinx's own features, and its alignment of words to states."""

    def __init__(self, folder: str) -> None:
        self._folder = Path(folder)
        self._decoder = Decoder(
            hmm=str(_MODEL), dict=get_model_path("en-us/cmudict-en-us.dict"), lm=None,
            bestpath=False, compallsen=True, beam=1e-60, pbeam=1e-60, wbeam=1e-40,
            loglevel="FATAL", mfclogdir=folder,
        )  # fmt: skip
        for word, phones in pronunciations().items():
            if self._decoder.lookup_word(word) is None:
                self._decoder.add_word(word, phones, update=True)

    def features(self, samples: Samples) -> Floats:
        """(frames, streams, width): cepstra less their mean, and two differences."""
        self._run(samples, no_search=True)
        (path,) = self._folder.glob("*.mfc")
        cepstra = np.frombuffer(path.read_bytes()[4:], ">f4").reshape(-1, WIDTH)
        path.unlink()
        heard = cepstra[cepstra[:, 0] >= 0]
        padded = np.pad(cepstra - heard.mean(0), ((3, 3), (0, 0)), mode="edge")
        n = len(cepstra)

        def at(shift: int) -> Floats:
            return padded[3 + shift : 3 + shift + n]

        second = (at(3) - at(-1)) - (at(1) - at(-3))
        return np.stack([at(0), at(2) - at(-2), second], 1).astype(np.float32)

    def states(self, samples: Samples, words: str) -> list[tuple[int, str]] | None:
        """State and phone of every frame; None where a word is unknown or nothing fits."""
        if any(self._decoder.lookup_word(word) is None for word in words.split()):
            return None
        try:
            self._decoder.set_align_text(words)
            self._run(samples)
            self._decoder.set_alignment()
            self._run(samples)
        except RuntimeError:
            return None
        finally:
            for path in self._folder.glob("*.mfc"):
                path.unlink()
        return [
            (int(state.name), phone.name)
            for word in self._decoder.get_alignment()
            for phone in word
            for state in phone
            for _ in range(state.duration)
        ]

    def _run(self, samples: Samples, *, no_search: bool = False) -> None:
        self._decoder.reinit_feat()
        self._decoder.start_utt()
        self._decoder.process_raw(samples.tobytes(), no_search=no_search, full_utt=True)
        self._decoder.end_utt()


def frames(count: int) -> tuple[Floats, NDArray[np.int64], NDArray[np.int64]]:
    """Features of noisy and of cleaned sound, with the state and the codebook of each."""
    book = {name: n for n, name in enumerate(phone_names())}
    found: list[Floats] = []
    states: list[tuple[int, int]] = []
    with tempfile.TemporaryDirectory() as folder:
        front = Front(folder)
        for n, (words, voice) in enumerate(sentences(count)):
            rng = np.random.default_rng((SEED, n))
            clean = (say(words, voice) * 10 ** rng.uniform(-0.7, 0.0)).astype(np.int16)
            aligned = front.states(clean, words)
            if aligned is None:
                continue
            noise, snr_db = NOISES[int(rng.integers(len(NOISES)))], float(rng.uniform(3, 20))
            noisy = mixed(clean, noise, snr_db, int(rng.integers(1_000_000)))
            for sound in (noisy, denoised(noisy)):
                heard = front.features(sound)[: len(aligned)]
                found.append(heard)
                states += [(state, book[phone]) for state, phone in aligned[: len(heard)]]
    state, codebook = np.array(states).T
    return np.concatenate(found), state, codebook


# ---- maximum a posteriori -----------------------------------------------------------


def moved(
    heard: Floats,
    states: NDArray[np.int64],
    means: Floats,
    variances: Floats,
    weights: Floats,
    first_means: Floats,
    first_weights: Floats,
) -> tuple[Floats, Floats]:
    """Means (streams, Gaussians, width) of one codebook and the weights of all states,
    after one round over the codebook's frames."""
    shares = np.empty((len(heard), STREAMS, GAUSSIANS), np.float32)
    for s in range(STREAMS):
        inverse = 1.0 / variances[s]
        shares[:, s] = -0.5 * (
            np.log(variances[s]).sum(-1) + heard[:, s] ** 2 @ inverse.T
            - 2 * heard[:, s] @ (means[s] * inverse).T + (means[s] ** 2 * inverse).sum(-1)
        )  # fmt: skip
    shares += np.log(np.maximum(weights[states], 1e-10))
    shares = np.exp(shares - shares.max(-1, keepdims=True))
    shares /= shares.sum(-1, keepdims=True)
    total = np.einsum("nsg->sg", shares)[..., None]
    sums = np.stack([shares[:, s].T @ heard[:, s] for s in range(STREAMS)])
    new_weights = weights.copy()
    for state in np.unique(states):
        its = shares[states == state]
        new_weights[state] = (PRIOR * first_weights[state] + its.sum(0)) / (PRIOR + len(its))
    return (PRIOR * first_means + sums) / (PRIOR + total), new_weights


def main() -> None:
    """Make the sound, fit, and write the means."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=600, help="sentences")
    parser.add_argument("--out", type=Path, default=Path(__file__).parent / "first_listener.means")
    asked = parser.parse_args()
    heard, states, books = frames(asked.count)
    head, first_means = read_gaussians("means")
    variances = np.maximum(read_gaussians("variances")[1], 1e-4)
    first_weights = read_mixtures()
    means, weights = first_means.copy(), first_weights.copy()
    for _ in range(ROUNDS):
        for book in np.unique(books):
            its = np.flatnonzero(books == book)
            means[book], weights = moved(
                heard[its], states[its], means[book], variances[book], weights,
                first_means[book], first_weights,
            )  # fmt: skip
    write_gaussians(asked.out, head, means)
    print(f"{len(states)} frames; {asked.out} written")


if __name__ == "__main__":
    main()
