"""Which inputs a forecast's spread comes from, so that the cook knows what to tell."""

import numpy as np

from assistant.heat.bird.ensemble import Ensemble

FEWEST = 30  # guesses that reach the mark, for a regression to mean anything

INPUTS = {
    "grill": ("grill",), "size": ("size", "shape", "thigh"),
    "surface": ("surface", "wet", "dial", "drift", "lid"), "start": ("start",),
    "probe": ("probe",),
}  # fmt: skip


def spread_from(cloud: Ensemble, index: int) -> tuple[tuple[str, float], ...]:
    """Shares of the done time's variance that knowing each input would take away."""
    done = cloud.done_s[index]
    kept = np.isfinite(done)
    weight = cloud.weight[index, kept]
    if kept.sum() < FEWEST or weight.sum() <= 0:
        return ()
    weight = weight / weight.sum()
    centred = done[kept] - weight @ done[kept]
    shares = {}
    for name, parts in INPUTS.items():
        rows = [cloud.features[part][:, index, kept] for part in parts]
        known = np.concatenate(rows)
        known = known - (known @ weight)[:, None]
        cov = (known * weight) @ known.T + 1e-9 * np.eye(known.shape[0])
        with_done = (known * weight) @ centred
        shares[name] = float(with_done @ np.linalg.solve(cov, with_done))
    total = sum(shares.values())
    if total <= 0:
        return ()
    ranked = sorted(shares.items(), key=lambda item: -item[1])
    return tuple((name, share / total) for name, share in ranked)
