"""Replies recorded from the speaker, recognised back."""

import re

import numpy as np

from assistant.ears.ears import Ears
from assistant.sentences.spell import spell
from assistant.sound.samples import RATE_HZ, Samples
from tests.live.live_run import SOUND_ABOVE, Spoken

SILENCE_S = 0.6


def words_of(reply: str) -> str:
    """A printed reply as the words that were spoken."""
    return " ".join(re.findall(r"[a-z']+", spell(reply).lower()))


def first_sentence(sound: Samples) -> Samples:
    """The sound up to its first longer silence."""
    loud = np.flatnonzero(np.abs(sound.astype(np.int32)) > SOUND_ABOVE)
    if loud.size == 0:
        return sound[:0]
    gaps = np.flatnonzero(np.diff(loud) > SILENCE_S * RATE_HZ)
    end = int(loud[gaps[0]]) if gaps.size else int(loud[-1])
    return sound[: end + RATE_HZ // 4]


def recognised_back(spoken: list[Spoken]) -> tuple[int, int]:
    """How many replies are heard as what they were, of those recorded; the recogniser
    chooses between all replies of the evening."""
    replies = [
        (words_of(one.reply), first_sentence(one.reply_sound)) for one in spoken if one.reply
    ]
    recorded = [(words, sound) for words, sound in replies if words and sound.size]
    if not recorded:
        return 0, 0
    choices = " | ".join(sorted({words for words, _ in recorded}))
    ears = Ears(jsgf=f"#JSGF V1.0; grammar replies; public <reply> = {choices};")
    rng = np.random.default_rng(3)
    try:
        right = 0
        for words, sound in recorded:
            room = rng.standard_normal(len(sound)) * 20  # digital silence upsets recognisers
            right += ears.hear((sound + room).astype(np.int16)).words == words
        return right, len(recorded)
    finally:
        ears.close()
