"""The training: many processes make sound, this one fits the network to it."""

import math
import multiprocessing
import os
import random
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from assistant.ears.whisper.files import Vocabulary, find_model, read_vocabulary, read_weights
from assistant.ears.whisper.fitting import fitted
from assistant.ears.whisper.guided import BACKGROUND
from assistant.sound.samples import RATE_HZ, Samples
from tests.fitting.noises import SHARES, TRACKS, Rng, tracks
from tests.fitting.sounds import Tracks, changed, placed
from tests.fitting.voices import read_examples, read_wave

LONGEST_S, WARM_STEPS, IGNORED = 9, 100, -100
AVERAGED = 0.9985
"""How much of the running mean of the weights stays at each step; the mean is kept."""
Batch = tuple[np.ndarray, list[list[int]]]


def batches(
    sounds: list[tuple[Samples, list[int], float]], noises: Tracks, size: int, seed: int
) -> Iterator[Batch]:
    """Endless batches: samples (size, length), and tokens from the opening to the end."""
    rng, choice = np.random.default_rng(seed), random.Random(seed)
    weights = [weight for _, _, weight in sounds]
    while True:
        taken = choice.choices(sounds, weights, k=size * 6)
        items = [(tokens, changed(samples, rng)) for samples, tokens, _ in taken]
        items.sort(key=lambda item: len(item[1]))
        groups = [items[n : n + size] for n in range(0, len(items), size)]
        choice.shuffle(groups)
        for group in groups:
            room_s = 0.15 + choice.random() * 0.7
            length = int(max(len(wave) for _, wave in group) + RATE_HZ * room_s)
            length = min(length, RATE_HZ * LONGEST_S)
            heard = np.stack([placed(wave, length, rng, noises) for _, wave in group])
            yield heard, [tokens for tokens, _ in group]


def read_sounds(folder: Path, known: Vocabulary) -> list[tuple[Samples, list[int], float]]:
    """Everything said: samples, tokens from the opening to the end, weight."""
    opening = [known.tokens["<|startoftranscript|>"], known.tokens["<|notimestamps|>"]]
    end = known.tokens["<|endoftext|>"]
    return [
        (read_wave(folder / e.file), [*opening, *known.encode(e.words), end], e.weight)
        for e in read_examples(folder)
    ]


def _some_tracks(job: tuple[list[Samples], str, int, int]) -> tuple[str, list[np.ndarray]]:
    speech, kind, seed, each = job
    rng: Rng = np.random.default_rng(seed)
    return kind, tracks(speech, rng, each, only=kind)[kind]


def _produce(queue: Any, sounds: Any, noises: Tracks, size: int, seed: int) -> None:
    os.nice(2)
    for batch in batches(sounds, noises, size, seed):
        queue.put(batch)


def _makers(folder: Path, size: int, each: int, processes: int) -> tuple[Any, list[Any], list[int]]:
    """A queue that fills with batches, the processes that fill it, and the tokens in them."""
    context = multiprocessing.get_context("fork")
    sounds = read_sounds(folder, read_vocabulary(find_model() / "vocabulary.txt"))
    babble = [samples for samples, _, _ in random.Random(1).sample(sounds, min(500, len(sounds)))]
    with context.Pool(processes) as pool:
        jobs = [(babble, kind, n, each) for n, kind in enumerate(SHARES)]
        noises = dict(pool.imap_unordered(_some_tracks, jobs))
    queue = context.Queue(4 * processes)
    makers = [
        context.Process(target=_produce, args=(queue, sounds, noises, size, 100 + n), daemon=True)
        for n in range(processes)
    ]
    for maker in makers:
        maker.start()
    return queue, makers, sorted({t for _, tokens, _ in sounds for t in tokens[2:]})


def train(
    folder: Path, out: Path, minutes: float, *,
    rate: float = 2e-4, size: int = 48, resume: Path | None = None, each: int = TRACKS,
    processes: int = 1,
) -> None:  # fmt: skip
    """Fit for so many minutes and save. `rate` falls along a cosine to a twentieth."""
    from tests.fitting import network  # says what to do where torch is missing

    torch = network.torch
    torch.manual_seed(1)
    queue, makers, said = _makers(folder, size, each, processes)
    device = "cuda" if torch.cuda.is_available() else "cpu"
    weights = read_weights(find_model() / "model.bin")
    model = network.Network(weights)
    if resume is not None:
        model.resume(fitted(weights, resume))
    model.to(device)
    own = sorted({*range(BACKGROUND), *said})
    columns = torch.tensor(own, device=device)
    optimiser = torch.optim.AdamW(model.parameters(), lr=rate, betas=(0.9, 0.98), weight_decay=0.0)
    mean = {name: p.detach().clone() for name, p in model.trained().items()}
    losses: list[float] = []
    try:
        batch, start = queue.get(), time.monotonic()
        while (share := (time.monotonic() - start) / (minutes * 60)) < 1:
            warm = min(1.0, (len(losses) + 1) / WARM_STEPS)
            pace = warm * (0.05 + 0.95 * 0.5 * (1 + math.cos(math.pi * share)))
            optimiser.param_groups[0]["lr"] = rate * pace
            losses.append(_step(model, optimiser, batch, own, columns))
            kept = min(AVERAGED, len(losses) / (10 + len(losses)))
            with torch.no_grad():
                for name, p in model.trained().items():
                    mean[name].lerp_(p, 1 - kept)
            if len(losses) % 200 == 0:
                print(f"step {len(losses)} loss {np.mean(losses[-200:]):.4f}", file=sys.stderr)
            batch = queue.get()
    finally:
        for maker in makers:
            maker.kill()
    model.save(out, mean)


def _step(model: Any, optimiser: Any, batch: Batch, own: list[int], columns: Any) -> float:
    """One step; the mean cross-entropy over the competing tokens."""
    import torch

    from tests.fitting.features import features, hidden_away

    heard, spoken = batch
    device = columns.device
    fed, right = targets(spoken, own)
    mel = hidden_away(features(torch.tensor(heard, device=device)))
    with torch.autocast(device.type, dtype=torch.bfloat16):
        hidden = model.decode(torch.tensor(fed, device=device), model.encode(mel))
        logits = hidden @ model.embeddings[columns].T
    loss = torch.nn.functional.cross_entropy(
        logits.float().flatten(0, 1), torch.tensor(right, device=device).flatten(),
        ignore_index=IGNORED, label_smoothing=0.02,
    )  # fmt: skip
    optimiser.zero_grad()
    loss.backward()
    torch.nn.utils.clip_grad_norm_(model.parameters(), 1.0)
    optimiser.step()
    return float(loss.detach())


def targets(spoken: list[list[int]], own: list[int]) -> tuple[np.ndarray, np.ndarray]:
    """Tokens to feed, and the column of `own` that is right after each; two arrays (n, m)."""
    column = {token: n for n, token in enumerate(own)}
    width = max(map(len, spoken)) - 1
    fed = np.full((len(spoken), width), spoken[0][-1])
    right = np.full((len(spoken), width), IGNORED)
    for row, tokens in enumerate(spoken):
        fed[row, : len(tokens) - 1] = tokens[:-1]
        right[row, 1 : len(tokens) - 1] = [column[token] for token in tokens[2:]]
    return fed, right
