"""Whisper tiny.en in numpy: log-mel features, encoder, and a decoder that can be
asked for the score of any next word, which is what judging candidates needs.

Radford et al. 2022, "Robust Speech Recognition via Large-Scale Weak Supervision".
The fixed 30 s window is not used: features end shortly after the speech does.
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from assistant.ears.heard import RATE_HZ, Samples
from assistant.ears.whisper_model import Floats, read_vocabulary, read_weights

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
    inner = np.tanh(0.7978845608 * (x + 0.044715 * x * x * x))
    return (0.5 * x * (1.0 + inner)).astype(np.float32, copy=False)


def _softmax(x: Floats) -> Floats:
    shifted = np.exp(x - x.max(axis=-1, keepdims=True))
    shares: Floats = shifted / shifted.sum(axis=-1, keepdims=True)
    return shares


def _attend(q: Floats, k: Floats, v: Floats, mask: Floats | None = None) -> Floats:
    """Heads-first attention: q (..., heads, n, d), k and v (..., heads, m, d)."""
    weights = q @ np.swapaxes(k, -1, -2) * (q.shape[-1] ** -0.5)
    if mask is not None:
        weights = weights + mask
    return _softmax(weights) @ v


@dataclass(frozen=True)
class Memory:
    """What the decoder keeps of one utterance: cross-attention keys and values, one
    (heads, frames, d) pair a layer."""

    keys: tuple[Floats, ...]
    values: tuple[Floats, ...]


@dataclass(frozen=True)
class Past:
    """Self-attention keys and values so far, (beams, heads, tokens, d) a layer."""

    keys: tuple[Floats, ...]
    values: tuple[Floats, ...]

    @property
    def length(self) -> int:
        """Tokens seen."""
        return int(self.keys[0].shape[2]) if self.keys else 0

    def pick(self, beams: list[int]) -> "Past":
        """The past of the given beams, in that order; repeats allowed."""
        return Past(tuple(k[beams] for k in self.keys), tuple(v[beams] for v in self.values))


class Whisper:
    """The model's arithmetic. Not thread-safe only in the way numpy is not."""

    def __init__(self, folder: Path) -> None:
        self.vocabulary = read_vocabulary(folder / "vocabulary.txt")
        raw = read_weights(folder / "model.bin")
        self._heads = int(raw["decoder/num_heads"])
        # The embeddings are only looked up, never multiplied whole: half precision does.
        self.embeddings = np.asarray(raw.pop("decoder/embeddings/weight"))
        self._w = {name: np.asarray(array, np.float32) for name, array in raw.items()}
        self._layers = sum(
            name.endswith("/ffn/linear_1/bias") and "decoder" in name for name in raw
        )
        conv = self._w["encoder/conv1/weight"], self._w["encoder/conv2/weight"]
        self._convs = [weight.reshape(weight.shape[0], -1).T.copy() for weight in conv]

    def _linear(self, name: str, x: Floats) -> Floats:
        return x @ self._w[f"{name}/weight"].T + self._w[f"{name}/bias"]

    def _normed(self, name: str, x: Floats) -> Floats:
        return _norm(x, self._w[f"{name}/layer_norm/gamma"], self._w[f"{name}/layer_norm/beta"])

    def _split(self, x: Floats) -> Floats:
        """(..., n, width) to (..., heads, n, d)."""
        return np.swapaxes(x.reshape(*x.shape[:-1], self._heads, -1), -2, -3)

    def _join(self, x: Floats) -> Floats:
        joined = np.swapaxes(x, -2, -3)
        return joined.reshape(*joined.shape[:-2], -1)

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

    def step(
        self, tokens: list[list[int]], past: Past | None, memory: Memory
    ) -> tuple[Floats, Past]:
        """Feed `tokens` (beams x n) after `past`; the hidden states (beams, n, width),
        which `@ embeddings.T` turns into logits, and the longer past."""
        start = past.length if past else 0
        n = len(tokens[0])
        x = self.embeddings[np.array(tokens)].astype(np.float32)
        x = x + self._w["decoder/position_encodings/encodings"][start : start + n]
        mask = np.triu(np.full((n, start + n), -1e9, np.float32), start + 1) if n > 1 else None
        keys, values = [], []
        for layer in range(self._layers):
            name = f"decoder/layer_{layer}"
            own = f"{name}/self_attention"
            q, k, v = np.split(self._linear(f"{own}/linear_0", self._normed(own, x)), 3, -1)
            k, v = self._split(k), self._split(v)
            if past:
                k = np.concatenate([past.keys[layer], k], axis=2)
                v = np.concatenate([past.values[layer], v], axis=2)
            keys.append(k)
            values.append(v)
            x = x + self._linear(f"{own}/linear_1", self._join(_attend(self._split(q), k, v, mask)))
            cross = f"{name}/attention"
            q = self._split(self._linear(f"{cross}/linear_0", self._normed(cross, x)))
            mixed = self._join(_attend(q, memory.keys[layer], memory.values[layer]))
            x = self._feed_forward(name, x + self._linear(f"{cross}/linear_2", mixed))
        x = _norm(x, self._w["decoder/layer_norm/gamma"], self._w["decoder/layer_norm/beta"])
        return x, Past(tuple(keys), tuple(values))


def _positions(length: int, width: int) -> Floats:
    """Sinusoids (length, width) of the encoder, as trained."""
    scale = np.exp(-np.log(10000.0) / (width // 2 - 1) * np.arange(width // 2))
    angle = np.arange(length)[:, None] * scale
    return np.concatenate([np.sin(angle), np.cos(angle)], axis=1).astype(np.float32)
