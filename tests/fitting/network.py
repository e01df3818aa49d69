"""Whisper tiny.en in torch. All of it is trained but the embeddings and the places.

torch is no dependency of the project; where it is missing, importing this says so.
"""

from collections.abc import Mapping
from pathlib import Path

import numpy as np

from assistant.ears.whisper.fitting import Arrays, split

try:
    import torch
    from torch import Tensor, nn
    from torch.nn import functional as F  # noqa: N812 -- its usual name
except ImportError as error:
    raise SystemExit("Fitting needs torch: pip install torch==2.13.0 (CPU)") from error

HEADS, LAYERS, WIDTH = 6, 4, 384


class Linear(nn.Module):  # type: ignore[misc]
    """Weights (out, in) and biases."""

    def __init__(self, weight: np.ndarray, bias: np.ndarray) -> None:
        super().__init__()
        self.weight = nn.Parameter(torch.tensor(weight))
        self.bias = nn.Parameter(torch.tensor(bias))

    def forward(self, x: Tensor) -> Tensor:
        return F.linear(x, self.weight, self.bias)


class Norm(nn.Module):  # type: ignore[misc]
    """A layer norm, trained whole."""

    def __init__(self, gamma: np.ndarray, beta: np.ndarray) -> None:
        super().__init__()
        self.gamma, self.beta = nn.Parameter(torch.tensor(gamma)), nn.Parameter(torch.tensor(beta))

    def forward(self, x: Tensor) -> Tensor:
        return F.layer_norm(x, (WIDTH,), self.gamma, self.beta, 1e-5)


class Network(nn.Module):  # type: ignore[misc]
    """The whole model; layers are found by the names of the weights' file."""

    def __init__(self, weights: Arrays) -> None:
        """`weights`: those of the model file (files.py)."""
        super().__init__()
        raw = {
            name: np.asarray(array, np.float32)
            for name, array in weights.items()
            if array.dtype == np.float16
        }
        self._before = {name: array for name, array in raw.items() if "embed" not in name}
        self.register_buffer("embeddings", torch.tensor(raw["decoder/embeddings/weight"]))
        for side in ("encoder", "decoder"):
            self.register_buffer(
                f"{side}_places", torch.tensor(raw[f"{side}/position_encodings/encodings"])
            )
        self.layers = nn.ModuleDict()
        for name, array in raw.items():
            layer, _, part = name.rpartition("/")
            if part == "weight" and ("linear" in layer or "conv" in layer):
                flat = array.reshape(len(array), -1)
                self.layers[_key(layer)] = Linear(flat, raw[f"{layer}/bias"])
            elif name.endswith("layer_norm/gamma"):
                self.layers[_key(layer)] = Norm(array, raw[f"{layer}/beta"])

    def _of(self, name: str, x: Tensor) -> Tensor:
        return self.layers[_key(name)](x)

    def _convolved(self, name: str, x: Tensor, stride: int) -> Tensor:
        layer = self.layers[_key(name)]
        kernel = layer.weight.reshape(len(layer.weight), -1, 3)
        return F.gelu(F.conv1d(x, kernel, layer.bias, stride=stride, padding=1))

    def _looked(self, name: str, x: Tensor, *, causal: bool) -> Tensor:
        normed = self._of(f"{name}/layer_norm", x)
        q, k, v = self._of(f"{name}/linear_0", normed).chunk(3, -1)
        return x + self._of(f"{name}/linear_1", _attend(q, k, v, causal=causal))

    def _fed(self, name: str, x: Tensor) -> Tensor:
        inner = self._of(f"{name}/linear_0", self._of(f"{name}/layer_norm", x))
        return x + self._of(f"{name}/linear_1", F.gelu(inner))

    def encode(self, mel: Tensor) -> Tensor:
        """Features (batch, 80, frames) to the memory (batch, frames / 2, width)."""
        x = self._convolved("encoder/conv1", mel, 1)
        x = self._convolved("encoder/conv2", x, 2).transpose(1, 2)
        x = x + self.encoder_places[: x.shape[1]]
        for n in range(LAYERS):
            x = self._looked(f"encoder/layer_{n}/self_attention", x, causal=False)
            x = self._fed(f"encoder/layer_{n}/ffn", x)
        return self._of("encoder/layer_norm", x)

    def decode(self, tokens: Tensor, memory: Tensor) -> Tensor:
        """Hidden states (batch, n, width) after each of the tokens (batch, n)."""
        x = self.embeddings[tokens] + self.decoder_places[: tokens.shape[1]]
        for n in range(LAYERS):
            name = f"decoder/layer_{n}"
            x = self._looked(f"{name}/self_attention", x, causal=True)
            cross = f"{name}/attention"
            q = self._of(f"{cross}/linear_0", self._of(f"{cross}/layer_norm", x))
            k, v = self._of(f"{cross}/linear_1", memory).chunk(2, -1)
            x = x + self._of(f"{cross}/linear_2", _attend(q, k, v, causal=False))
            x = self._fed(f"{name}/ffn", x)
        return self._of("decoder/layer_norm", x)

    def trained(self) -> dict[str, nn.Parameter]:
        """Every trained array by its name in the weights' file."""
        return {
            f"{key.replace('|', '/')}/{part}": value
            for key, layer in self.layers.items()
            for part, value in layer.named_parameters()
        }

    def save(self, path: Path, values: Mapping[str, Tensor]) -> None:
        """`values` of what was trained, for assistant/ears/whisper/fitting.py."""
        after = {name: value.detach().float().cpu().numpy() for name, value in values.items()}
        np.savez_compressed(path, **split(self._before, after))  # type: ignore[arg-type]

    def resume(self, values: Arrays) -> None:
        """Go on from fitted weights."""
        with torch.no_grad():
            for name, parameter in self.trained().items():
                found = np.asarray(values[name], np.float32).reshape(parameter.shape)
                parameter.copy_(torch.tensor(found))


def _key(name: str) -> str:
    return name.replace("/", "|")


def _attend(q: Tensor, k: Tensor, v: Tensor, *, causal: bool) -> Tensor:
    heads = (x.unflatten(-1, (HEADS, -1)).transpose(1, 2) for x in (q, k, v))
    return F.scaled_dot_product_attention(*heads, is_causal=causal).transpose(1, 2).flatten(-2)
