"""What sound is here: 16-bit samples of one channel."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

RATE_HZ = 16_000  # the recognisers' rate
Samples = NDArray[np.int16]


@dataclass(frozen=True, slots=True)
class Sound:
    """Mono 16-bit samples and their rate in hertz."""

    samples: Samples
    rate_hz: int

    @property
    def duration_s(self) -> float:
        """Length in seconds."""
        return len(self.samples) / self.rate_hz
