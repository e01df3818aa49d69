"""Whisper's features for a batch, as assistant/ears/whisper/model.py makes them one by one."""

import random

import numpy as np
import torch
from torch import Tensor

from assistant.ears.whisper.model import FFT, HOP, PAD_S, mel_filters
from assistant.sound.samples import RATE_HZ


def features(samples: Tensor) -> Tensor:
    """(batch, 80, frames) of int16 samples (batch, length)."""
    padded = torch.nn.functional.pad(samples.float() / 32768.0, (0, int(PAD_S * RATE_HZ)))
    window = torch.tensor(np.hanning(FFT + 1)[:-1], dtype=torch.float32, device=samples.device)
    spectrum = torch.stft(padded, FFT, HOP, window=window, return_complex=True)
    power = spectrum[..., : padded.shape[1] // HOP // 2 * 2].abs() ** 2
    filters = torch.tensor(mel_filters(), device=samples.device)
    mel = torch.log10(torch.clamp(filters @ power, min=1e-10))
    highest = mel.amax(dim=(1, 2), keepdim=True)
    return (torch.maximum(mel, highest - 8.0) + 4.0) / 4.0


def hidden_away(mel: Tensor) -> Tensor:
    """The features with a band of pitch, and for some a twelfth of a second, taken out
    (Park et al. 2019, "SpecAugment")."""
    mel = mel.clone()
    for one in mel:
        if random.random() < 0.5:
            low, width = random.randrange(76), random.randint(2, 14)
            one[low : low + width] = one.mean()
        if random.random() < 0.25:
            at = random.randrange(max(1, one.shape[1] - 9))
            one[:, at : at + random.randint(2, 8)] = one.mean()
    return mel
