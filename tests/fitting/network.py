"""Whisper tiny.en in torch, with what is trained of it: a low-rank product beside every
linear layer, the biases and the norms. Hu et al. 2021, "LoRA".

torch is no dependency of the project; where it is missing, importing this says so.
"""

from pathlib import Path

import numpy as np

from assistant.ears.whisper.files import read_weights

try:
    import torch
    from torch import Tensor, nn
    from torch.nn import functional as F  # noqa: N812 -- its usual name
except ImportError as error:
    raise SystemExit("Fitting needs torch: pip install torch==2.13.0 (CPU)") from error

RANK, HEADS, LAYERS, WIDTH = 16, 6, 4, 384


class Linear(nn.Module):
    """Frozen weights (out, in) and the trained product B @ A beside them."""

    def __init__(self, weight: np.ndarray, bias: np.ndarray, rank: int) -> None:
        super().__init__()
        self.register_buffer("weight", torch.tensor(weight))
        self.bias = nn.Parameter(torch.tensor(bias))
        self.A = nn.Parameter(torch.randn(rank, weight.shape[1]) / weight.shape[1] ** 0.5)
        self.B = nn.Parameter(torch.zeros(weight.shape[0], rank))

    def forward(self, x: Tensor) -> Tensor:
        return F.linear(x, self.weight, self.bias) + F.linear(F.linear(x, self.A), self.B)


class Norm(nn.Module):
    """A layer norm, trained whole."""

    def __init__(self, gamma: np.ndarray, beta: np.ndarray) -> None:
        super().__init__()
        self.gamma, self.beta = nn.Parameter(torch.tensor(gamma)), nn.Parameter(torch.tensor(beta))

    def forward(self, x: Tensor) -> Tensor:
        return F.layer_norm(x, (WIDTH,), self.gamma, self.beta, 1e-5)


class Network(nn.Module):
    """The whole model; layers are found by the names of the weights' file."""

    def __init__(self, folder: Path, rank: int = RANK) -> None:
        super().__init__()
        raw = {
            name: np.asarray(array, np.float32)
            for name, array in read_weights(folder / "model.bin").items()
            if array.dtype == np.float16
        }
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
                self.layers[_key(layer)] = Linear(flat, raw[f"{layer}/bias"], rank)
            elif name.endswith("layer_norm/gamma"):
                self.layers[_key(layer)] = Norm(array, raw[f"{layer}/beta"])

    def _of(self, name: str, x: Tensor) -> Tensor:
        return self.layers[_key(name)](x)

    def _convolved(self, name: str, x: Tensor, stride: int) -> Tensor:
        layer = self.layers[_key(name)]
        kernel = (layer.weight + layer.B @ layer.A).reshape(len(layer.weight), -1, 3)
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

    def _trained(self) -> dict[str, nn.Parameter]:
        return {
            f"{key.replace('|', '/')}/{part}": value
            for key, layer in self.layers.items()
            for part, value in layer.named_parameters()
        }

    def products(self) -> list[nn.Parameter]:
        """The A and B of all linear layers."""
        return [p for name, p in self._trained().items() if name.endswith(("/A", "/B"))]

    def save(self, path: Path) -> None:
        """What was trained, in half precision, for assistant/ears/whisper/fitting.py."""
        np.savez(
            path, **{n: p.detach().numpy().astype(np.float16) for n, p in self._trained().items()}
        )

    def resume(self, path: Path) -> None:
        """Go on from what was saved."""
        with np.load(path) as kept, torch.no_grad():
            for name, parameter in self._trained().items():
                parameter.copy_(torch.tensor(kept[name].astype(np.float32)))


def _key(name: str) -> str:
    return name.replace("/", "|")


def _attend(q: Tensor, k: Tensor, v: Tensor, *, causal: bool) -> Tensor:
    heads = (x.unflatten(-1, (HEADS, -1)).transpose(1, 2) for x in (q, k, v))
    return F.scaled_dot_product_attention(*heads, is_causal=causal).transpose(1, 2).flatten(-2)
