"""A kettle to be tended: the burning law of fire_truth with vents, a leak and a slow draught,
in 10 s steps, that goes on from what the cook has done so far."""

import numpy as np

STEP_S = 10.0
ON_S, END_S = 2700.0, 9900.0


class Evening:
    """One grill of its own constants; `tend` it with charcoal and the bottom vent."""

    def __init__(self, seed: int) -> None:
        self.rng = np.random.default_rng(90_000 + seed)
        self.heat, self.loss = self._about(0.41e6, 0.15), self._about(8.5, 0.12)
        self.air, self.life = self._about(2600.0, 0.25), self._about(5200.0, 0.2)
        self.leak, self.load_w = self._about(0.5, 0.5), self._about(130.0, 0.3)
        self.steel, self.lag_s = self._about(8500.0, 0.2), self._about(500.0, 0.3)
        self.count = float(self.rng.integers(45, 66))
        self.bottom, self.draught, self.wind = 0.5, 1.0, 0.0
        self.piles = [[self._about(1100.0, 0.15), self.count, 0.0]]  # lit at, pieces, progress
        self.temps_c = [20.0]

    def _about(self, value: float, spread: float) -> float:
        return float(value * np.exp(spread * self.rng.standard_normal()))

    @property
    def now_s(self) -> float:
        return STEP_S * (len(self.temps_c) - 1)

    def feed(self, count: float) -> None:
        self.piles.append([self.now_s + self._about(750.0, 0.1), count, 0.0])

    def run_to(self, until_s: float) -> None:
        while self.now_s < until_s:
            self._step()

    def _step(self) -> None:
        kick = 0.08 * np.sqrt(2 * STEP_S / 1800.0) * self.rng.standard_normal()
        self.wind += kick - self.wind * STEP_S / 1800.0
        ease = np.sqrt(2.0 / (max(self.bottom, 0.04) ** -2 + 0.5**-2)) / 0.5
        target = (ease + self.leak) / (1.0 + self.leak)
        self.draught += (target - self.draught) * STEP_S / self.lag_s
        lit = [min(max((self.now_s - at_s) / 400.0 + 1.0, 0.0), 1.0) for at_s, _, _ in self.piles]
        wanted = sum(
            3.0 * n * self.heat / self.life * (1.0 - s) ** 2 * on
            for (_, n, s), on in zip(self.piles, lit, strict=True)
        )
        share = 1.0 / (1.0 + wanted / (self.air * self.draught * np.exp(self.wind)))
        for pile, on in zip(self.piles, lit, strict=True):
            pile[2] = min(pile[2] + STEP_S * share / self.life * (on > 0.0), 1.0)
        now_c = self.temps_c[-1]
        birds = 2 * self.load_w * max(now_c - 80.0, 0.0) / 108.0 if self.now_s > ON_S else 0.0
        rate = (wanted * share - self.loss * (now_c - 20.0) - birds) / self.steel
        self.temps_c.append(now_c + STEP_S * float(rate))
