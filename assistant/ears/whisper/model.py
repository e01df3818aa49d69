"""Whisper tiny.en in numpy: log-mel features, encoder, and a decoder that can be
asked for the score of any next word, which is what judging candidates needs.

Radford et al. 2022, "Robust Speech Recognition via Large-Scale Weak Supervision".
The fixed 30 s window is not used: features end shortly after the speech does.
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.ears.whisper.files import Floats, read_vocabulary, read_weights
from assistant.ears.whisper.fitting import fitted
from assistant.sound.samples import RATE_HZ, Samples

MELS = 80
FFT, HOP = 400, 160
PAD_S = 0.6
"""Silence added after the speech: without an end to hear, the decoder invents one."""

LONGEST_S = 29.0


def mel_filters() -> Floats:
    """Slaney's mel filter bank, (80, 201): area-normalised triangles to 8 kHz."""

    def to_mel(hz: Floats) -> Floats:
        return np.where(
            hz < 1000.0, hz * 3 / 200, 15 + np.log(np.maximum(hz, 1e-9) / 1000) * 27 / np.log(6.4)
        )

    def to_hz(mel: Floats) -> Floats:
        return np.where(mel < 15.0, mel * 200 / 3, 1000 * np.exp(np.log(6.4) / 27 * (mel - 15)))

    bins = np.linspace(0.0, RATE_HZ / 2, FFT // 2 + 1)
    edges = to_hz(np.linspace(0.0, to_mel(np.array([RATE_HZ / 2.0]))[0], MELS + 2))
    rising = (bins - edges[:-2, None]) / (edges[1:-1] - edges[:-2])[:, None]
    falling = (edges[2:, None] - bins) / (edges[2:] - edges[1:-1])[:, None]
    area = (2.0 / (edges[2:] - edges[:-2]))[:, None]
    filters: Floats = (np.maximum(0.0, np.minimum(rising, falling)) * area).astype(np.float32)
    return filters


_FILTERS = mel_filters()
_WINDOW = np.hanning(FFT + 1)[:-1].astype(np.float32)


def log_mel(samples: Samples) -> Floats:
    """(80, frames) features of int16 samples, `PAD_S` of silence appended."""
    wave = samples[: int(LONGEST_S * RATE_HZ)].astype(np.float32) / 32768.0
    padded = np.pad(wave, (0, int(PAD_S * RATE_HZ)))
    framed = np.pad(padded, FFT // 2, mode="reflect")
    frames = np.lib.stride_tricks.sliding_window_view(framed, FFT)[::HOP]
    frames = frames[: len(padded) // HOP // 2 * 2]
    power = np.abs(np.fft.rfft(frames * _WINDOW, axis=1).astype(np.complex64)) ** 2
    mel = np.log10(np.maximum(_FILTERS @ power.T, 1e-10))
    scaled: Floats = ((np.maximum(mel, mel.max() - 8.0) + 4.0) / 4.0).astype(np.float32)
    return scaled


def _norm(x: Floats, gamma: Floats, beta: Floats) -> Floats:
    centred = x - x.mean(axis=-1, keepdims=True)
    spread = np.sqrt(np.mean(centred * centred, axis=-1, keepdims=True) + 1e-5)
    normed: Floats = centred / spread * gamma + beta
    return normed


def _gelu(x: Floats) -> Floats:
    inner = x * x
    inner *= 0.044715
    inner += 1.0
    inner *= x
    inner *= 0.7978845608
    np.tanh(inner, out=inner)
    inner += 1.0
    inner *= x
    inner *= 0.5
    return inner


def _softmax(x: Floats) -> Floats:
    """Over the last axis, in place."""
    x -= x.max(axis=-1, keepdims=True)
    np.exp(x, out=x)
    x /= x.sum(axis=-1, keepdims=True)
    return x


def _scores(q: Floats, k: Floats) -> Floats:
    """How much each query (..., n, d) looks at each key (..., m, d), before the softmax."""
    scores: Floats = q @ np.swapaxes(k, -1, -2)
    scores *= q.shape[-1] ** -0.5
    return scores


def _attend(q: Floats, k: Floats, v: Floats) -> Floats:
    """Heads-first attention: q (heads, n, d), k and v (heads, m, d)."""
    mixed: Floats = _softmax(_scores(q, k)) @ v
    return mixed


def _causal(n: int) -> Floats:
    """What keeps n tokens fed at once from looking at later ones."""
    return np.triu(np.full((n, n), -1e9, np.float32), 1)


@dataclass(frozen=True)
class Memory:
    """What the decoder keeps of one utterance: cross-attention keys and values, one
    (heads, frames, d) pair a layer."""

    keys: tuple[Floats, ...]
    values: tuple[Floats, ...]


@dataclass(frozen=True)
class Past:
    """Self-attention keys and values so far, a pair for each layer: those of the opening,
    (heads, m, d), which all beams share, and each beam's own, (heads, beams, n, d)."""

    opening: tuple[tuple[Floats, Floats], ...]
    own: tuple[tuple[Floats, Floats], ...] = ()

    @property
    def length(self) -> int:
        """Tokens seen."""
        own = self.own[0][0].shape[2] if self.own else 0
        return int(self.opening[0][0].shape[1] + own)

    def pick(self, beams: list[int]) -> "Past":
        """The past of the given beams, in that order; repeats allowed."""
        return Past(self.opening, tuple((k[:, beams], v[:, beams]) for k, v in self.own))


_EMBEDDINGS = "decoder/embeddings/weight"


class Whisper:
    """The model's arithmetic. Not thread-safe only in the way numpy is not."""

    def __init__(self, folder: Path, fitting: Path | None = None) -> None:
        """`fitting` is merged into the weights (fitting.py). Raises ValueError or KeyError
        for files that do not belong together."""
        self.vocabulary = read_vocabulary(folder / "vocabulary.txt")
        raw = read_weights(folder / "model.bin", frozenset({_EMBEDDINGS}))
        if fitting is not None:
            raw = fitted(raw, fitting)
        self._heads = int(raw["decoder/num_heads"])
        # The embeddings are only looked up, never multiplied whole: they stay in their file.
        self.embeddings = raw.pop(_EMBEDDINGS)
        self._w = {name: np.asarray(array, np.float32) for name, array in raw.items()}
        self._layers = sum(
            name.endswith("/ffn/linear_1/bias") and "decoder" in name for name in raw
        )
        conv = self._w["encoder/conv1/weight"], self._w["encoder/conv2/weight"]
        self._convs = [weight.reshape(weight.shape[0], -1).T.copy() for weight in conv]

    def _linear(self, name: str, x: Floats) -> Floats:
        """x is (n, width). The weights come first: with few rows that is twice as quick."""
        return (self._w[f"{name}/weight"] @ x.T).T + self._w[f"{name}/bias"]

    def _normed(self, name: str, x: Floats) -> Floats:
        return _norm(x, self._w[f"{name}/layer_norm/gamma"], self._w[f"{name}/layer_norm/beta"])

    def _split(self, x: Floats) -> Floats:
        """(n, width) to (heads, n, d)."""
        return x.reshape(len(x), self._heads, -1).swapaxes(0, 1)

    def _join(self, x: Floats) -> Floats:
        return x.swapaxes(0, 1).reshape(x.shape[1], -1)

    def _feed_forward(self, name: str, x: Floats) -> Floats:
        inner = _gelu(self._linear(f"{name}/ffn/linear_0", self._normed(f"{name}/ffn", x)))
        return x + self._linear(f"{name}/ffn/linear_1", inner)

    def _convolved(self, x: Floats, which: int, stride: int) -> Floats:
        """(frames, channels) through a kernel of 3, then the activation."""
        padded = np.pad(x, ((1, 1), (0, 0)))
        taken = np.lib.stride_tricks.sliding_window_view(padded, 3, axis=0)[::stride]
        flat = taken.reshape(taken.shape[0], -1)
        return _gelu(flat @ self._convs[which] + self._w[f"encoder/conv{which + 1}/bias"])

    def encode(self, features: Floats) -> Memory:
        """One utterance's features (80, frames) as the decoder's memory."""
        x = self._convolved(self._convolved(features.T, 0, 1), 1, 2)
        x = x + _positions(x.shape[0], x.shape[1])
        for layer in range(self._layers):
            name = f"encoder/layer_{layer}"
            attention = f"{name}/self_attention"
            q, k, v = np.split(
                self._linear(f"{attention}/linear_0", self._normed(attention, x)), 3, -1
            )
            mixed = self._join(_attend(self._split(q), self._split(k), self._split(v)))
            x = self._feed_forward(name, x + self._linear(f"{attention}/linear_1", mixed))
        x = _norm(x, self._w["encoder/layer_norm/gamma"], self._w["encoder/layer_norm/beta"])
        pairs = [
            np.split(self._linear(f"decoder/layer_{n}/attention/linear_1", x), 2, -1)
            for n in range(self._layers)
        ]
        return Memory(
            tuple(self._split(k) for k, _ in pairs), tuple(self._split(v) for _, v in pairs)
        )

    def open(self, tokens: list[int], memory: Memory) -> tuple[Floats, Past]:
        """Feed what comes before every sentence; the hidden state (1, width) after its
        last token, and the past that all sentences share."""
        x = self._embedded(np.array(tokens), np.arange(len(tokens)))
        mask, opening = _causal(len(tokens)), list[tuple[Floats, Floats]]()
        for layer in range(self._layers):
            q, k, v = self._queries_keys_values(layer, x)
            opening.append((k, v))
            if layer == self._layers - 1:  # nobody looks at what it says of earlier tokens
                x, q, mask = x[-1:], q[:, -1:], mask[-1:]
            mixed = _softmax(_scores(q, k) + mask) @ v
            x = self._rest_of_layer(layer, x, mixed, memory)
        return self._last_norm(x), Past(tuple(opening))

    def step(self, tokens: list[list[int]], past: Past, memory: Memory) -> tuple[Floats, Past]:
        """Feed `tokens` (beams x n) after `past`; the hidden states (beams, n, width),
        which `@ embeddings.T` turns into logits, and the longer past."""
        beams, n = len(tokens), len(tokens[0])
        x = self._embedded(np.array(tokens).ravel(), np.tile(past.length + np.arange(n), beams))
        own = list[tuple[Floats, Floats]]()
        for layer in range(self._layers):
            q, k, v = self._queries_keys_values(layer, x)
            k, v = (part.reshape(self._heads, beams, n, -1) for part in (k, v))
            if past.own:
                k = np.concatenate([past.own[layer][0], k], axis=2)
                v = np.concatenate([past.own[layer][1], v], axis=2)
            own.append((k, v))
            mixed = _attend_past(q, past.opening[layer], (k, v), n)
            x = self._rest_of_layer(layer, x, mixed, memory)
        return self._last_norm(x).reshape(beams, n, -1), Past(past.opening, tuple(own))

    def _embedded(self, tokens: NDArray[np.intp], places: NDArray[np.intp]) -> Floats:
        found = self.embeddings[tokens].astype(np.float32)
        embedded: Floats = found + self._w["decoder/position_encodings/encodings"][places]
        return embedded

    def _queries_keys_values(self, layer: int, x: Floats) -> tuple[Floats, Floats, Floats]:
        own = f"decoder/layer_{layer}/self_attention"
        q, k, v = np.split(self._linear(f"{own}/linear_0", self._normed(own, x)), 3, -1)
        return self._split(q), self._split(k), self._split(v)

    def _rest_of_layer(self, layer: int, x: Floats, mixed: Floats, memory: Memory) -> Floats:
        """A decoder layer after its self-attention, which gave `mixed`."""
        name = f"decoder/layer_{layer}"
        x = x + self._linear(f"{name}/self_attention/linear_1", self._join(mixed))
        cross = f"{name}/attention"
        q = self._split(self._linear(f"{cross}/linear_0", self._normed(cross, x)))
        mixed = self._join(_attend(q, memory.keys[layer], memory.values[layer]))
        return self._feed_forward(name, x + self._linear(f"{cross}/linear_2", mixed))

    def _last_norm(self, x: Floats) -> Floats:
        return _norm(x, self._w["decoder/layer_norm/gamma"], self._w["decoder/layer_norm/beta"])


def _attend_past(
    q: Floats, opening: tuple[Floats, Floats], own: tuple[Floats, Floats], n: int
) -> Floats:
    """Attention of q (heads, beams x n, d) to the opening and each beam to its own past,
    of which the last n tokens are the ones fed now."""
    heads, rows, _ = q.shape
    beams, length = own[0].shape[1:3]
    to_own = _scores(q.reshape(heads, beams, n, -1), own[0])
    if n > 1:
        to_own[..., length - n :] += _causal(n)
    shared = opening[0].shape[1]
    to_all = np.concatenate([_scores(q, opening[0]), to_own.reshape(heads, rows, -1)], axis=-1)
    weights = _softmax(to_all)
    from_own = weights[..., shared:].reshape(heads, beams, n, -1) @ own[1]
    mixed: Floats = weights[..., :shared] @ opening[1] + from_own.reshape(heads, rows, -1)
    return mixed


def _positions(length: int, width: int) -> Floats:
    """Sinusoids (length, width) of the encoder, as trained."""
    scale = np.exp(-np.log(10000.0) / (width // 2 - 1) * np.arange(width // 2))
    angle = np.arange(length)[:, None] * scale
    return np.concatenate([np.sin(angle), np.cos(angle)], axis=1).astype(np.float32)
