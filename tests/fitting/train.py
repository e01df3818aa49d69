"""The training: one process makes sound, this one fits the network to it."""

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

from assistant.ears.prepared import for_cook
from assistant.ears.whisper.files import Vocabulary, find_model, read_vocabulary
from assistant.ears.whisper.guided import BACKGROUND
from assistant.ears.whisper.model import log_mel
from assistant.grammar.grammar import ADDRESS
from assistant.grammar.network import read_network
from assistant.sound.samples import RATE_HZ
from tests.benchmarks.corpora import DRINKS
from tests.benchmarks.corpus_commands import TONIGHT
from tests.fitting.noises import TRACKS, tracks
from tests.fitting.sounds import changed, placed
from tests.fitting.voices import read_examples

LONGEST_S, WARM_STEPS, IGNORED = 9, 60, -100
Batch = tuple[np.ndarray, list[list[int]]]


def vocabulary() -> Vocabulary:
    """The tokens of the model."""
    return read_vocabulary(find_model() / "vocabulary.txt")


def columns() -> set[int]:
    """The tokens that compete at every step, as in guided.py."""
    words = for_cook(TONIGHT, "F", ADDRESS).network.words()
    words |= read_network(DRINKS.read_text()).words()
    known = vocabulary()
    own = {token for word in words for token in known.encode_word(word)}
    return own | {known.tokens["<|endoftext|>"], *range(BACKGROUND)}


def batches(folder: Path, size: int, seed: int, each: int = TRACKS) -> Iterator[Batch]:
    """Endless batches: features (size, 80, frames), and tokens from the opening to the end."""
    examples, known = read_examples(folder), vocabulary()
    rng, choice = np.random.default_rng(seed), random.Random(seed)
    spoken = [example for example in examples if example.voice != "human"]
    heard = choice.sample(spoken, min(400, len(spoken)))
    noises = tracks([np.load(folder / e.file) for e in heard], rng, each)
    opening = [known.tokens["<|startoftranscript|>"], known.tokens["<|notimestamps|>"]]
    end = known.tokens["<|endoftext|>"]
    while True:
        taken = choice.choices(examples, [e.weight for e in examples], k=size * 8)
        items = [(e, changed(np.load(folder / e.file), rng)) for e in taken]
        items.sort(key=lambda item: len(item[1]))
        groups = [items[n : n + size] for n in range(0, len(items), size)]
        choice.shuffle(groups)
        for group in groups:
            room_s = 0.15 + choice.random() * 0.7
            length = int(max(len(wave) for _, wave in group) + RATE_HZ * room_s)
            length = min(length, RATE_HZ * LONGEST_S)
            mel = np.stack([log_mel(placed(wave, length, rng, noises)) for _, wave in group])
            yield mel, [[*opening, *known.encode(e.words), end] for e, _ in group]


def _produce(queue: Any, folder: Path, size: int, seed: int, each: int) -> None:
    os.nice(2)
    for batch in batches(folder, size, seed, each):
        queue.put(batch)


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


def train(
    folder: Path, out: Path, minutes: float, *,
    rate: float = 2e-3, size: int = 24, resume: Path | None = None, each: int = TRACKS,
) -> None:  # fmt: skip
    """Fit for so many minutes and save. `rate` falls along a cosine to a twentieth."""
    from tests.fitting import network  # says what to do where torch is missing

    torch = network.torch
    torch.manual_seed(1)
    model, own = network.Network(find_model()), columns()
    if resume is not None:
        model.resume(resume)
    products = model.products()
    ids = {id(p) for p in products}
    rest = [p for p in model.parameters() if id(p) not in ids]
    optimiser = torch.optim.AdamW(
        [
            {"params": products, "lr": rate, "weight_decay": 1e-3},
            {"params": rest, "lr": rate / 10, "weight_decay": 0.0},
        ],
        betas=(0.9, 0.98),
    )
    context = multiprocessing.get_context("spawn")
    queue = context.Queue(12)
    maker = context.Process(target=_produce, args=(queue, folder, size, 100, each), daemon=True)
    maker.start()
    losses: list[float] = []
    first = queue.get()
    start = time.monotonic()
    try:
        while (share := (time.monotonic() - start) / (minutes * 60)) < 1:
            warm = min(1.0, len(losses) / WARM_STEPS)
            pace = warm * (0.05 + 0.95 * 0.5 * (1 + math.cos(math.pi * share)))
            for group, full in zip(optimiser.param_groups, (rate, rate / 10), strict=True):
                group["lr"] = full * pace
            losses.append(_step(model, optimiser, first or queue.get(), own))
            first = None
            if len(losses) % 25 == 0:
                print(f"step {len(losses)} loss {np.mean(losses[-25:]):.3f}", file=sys.stderr)
    finally:
        maker.kill()
    model.save(out)


def _step(model: Any, optimiser: Any, batch: Batch, competing: set[int]) -> float:
    """One step; the mean cross-entropy over the competing tokens and the batch's own."""
    import torch

    mel, spoken = batch
    own = sorted(competing.union(*(tokens[2:] for tokens in spoken)))
    fed, right = targets(spoken, own)
    with torch.autocast("cpu", dtype=torch.bfloat16):
        hidden = model.decode(torch.tensor(fed), model.encode(torch.tensor(mel)))
        logits = hidden @ model.embeddings[torch.tensor(own)].T
    loss = torch.nn.functional.cross_entropy(
        logits.float().flatten(0, 1), torch.tensor(right).flatten(), ignore_index=IGNORED
    )
    optimiser.zero_grad()
    loss.backward()
    torch.nn.utils.clip_grad_norm_(model.parameters(), 1.0)
    optimiser.step()
    return float(loss.detach())
