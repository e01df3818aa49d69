"""Which address word: `python -m tests.benchmarks.addressword [--count N] [--minutes M]`.

For every candidate, by the acoustic match that the ears use (whisper/opening.py): how many
commands that open with it are missed, clean and at 10 dB, said by voices the listener was never
fitted on; its worst and its median match there; how many utterances of people whom it was never
fitted on pass for it, in the first `--minutes` of their tracks (hearing_people.py), and the best
match among those; and of sentences made to begin like it, said by the same voices, how many pass.
The limit is `ADDRESSED` (assistant/ears/weights.py). What was heard is not kept.
"""

import argparse
from collections.abc import Callable, Iterator

import numpy as np

from assistant.ears.heard import Heard
from assistant.ears.weights import ADDRESSED
from assistant.ears.whisper.files import find_model
from assistant.ears.whisper.fitting import fitting_path
from assistant.ears.whisper.model import Whisper, log_mel
from assistant.ears.whisper.opening import Opening
from assistant.ears.whisper.recogniser import LONG, OPENING
from assistant.sound.samples import Samples
from tests.benchmarks.corpora import TEST, in_noise
from tests.benchmarks.corpus import NEVER_FITTED, say, voices
from tests.benchmarks.corpus_commands import commands
from tests.benchmarks.hearing_evidence import Item, utterance
from tests.benchmarks.hearing_people import NEVER_FITTED as STRANGERS
from tests.benchmarks.hearing_people import people_tracks
from tests.benchmarks.hearing_talk import utterances
from tests.benchmarks.hearing_tally import rate
from tests.benchmarks.hearing_tracks import CLEAN_DB, TRACK_S, Track
from tests.fitting import kokoro

BEGIN_ALIKE = {
    "turnspit": ("turn it down please", "turn this bit around", "turn the spit a little",
                 "turns out he was right"),
    "juniper": ("jennifer is on her way", "june is perfect for it", "junior played all day",
                "you need a permit for that"),
    "copper kettle": ("copper is dear these days", "a couple of kettles would do",
                      "copy that and cut it", "the cop had to let him go"),
    "chestnut": ("just not today", "chess night is on friday", "jess not now",
                 "chests of drawers are heavy"),
    "tumbleweed": ("tumble dry it later", "double weed killer is what it needs",
                   "trouble we had enough of", "i humbly disagree"),
    "bellows": ("yellow is nicer", "below is the cellar", "bella was late again",
                "bells are ringing"),
    "peppercorn": ("pepper and corn please", "popcorn is ready", "paper cones for the kids",
                   "help her carry it"),
    "rosemary": ("rose married a sailor", "rows and rows of corn", "roads may be closed",
                 "rose may come later"),
    "cinnamon": ("seen a man at the gate", "simon is on the phone", "cinema one is closed",
                 "sin a minute my aunt says"),
}  # fmt: skip
"""The candidates, each with invented sentences that begin much like it."""


class Match:
    """How well a sound opens with each candidate."""

    def __init__(self) -> None:
        self._whisper = Whisper(find_model(), fitting_path())
        self._opening = Opening(self._whisper, tuple(BEGIN_ALIKE))
        special = self._whisper.vocabulary.tokens
        self._begin = [special["<|startoftranscript|>"], special["<|notimestamps|>"]]

    def scores(self, samples: Samples) -> dict[str, float]:
        """The match of every candidate: where the recogniser looks at the beginning first, and
        then at the whole (recogniser.py), the worse of both."""
        looks = [samples[:OPENING], samples] if len(samples) > LONG else [samples]
        found = np.min([self._scores(look) for look in looks], axis=0)
        return dict(zip(BEGIN_ALIKE, map(float, found), strict=True))

    def _scores(self, samples: Samples) -> list[float]:
        memory = self._whisper.encode(log_mel(samples))
        return self._opening.scores(memory, self._whisper.open(self._begin, memory))


def strangers() -> tuple[str, ...]:
    """The voices here that the listener was never fitted on."""
    return voices((*NEVER_FITTED, *kokoro.NEVER_FITTED))


def addressed(word: str, count: int) -> list[Item]:
    """Commands opened by `word`, each voice in turn."""
    return [
        Item(f"{s.voice}|{word} {s.words}", _said(f"{word} {s.words}", s.voice), None, s.voice)
        for s in commands(count, strangers(), TEST)
    ]


def begin_alike(word: str) -> list[Item]:
    """The sentences that begin like `word`, each in three voices."""
    spoken = strangers()
    return [
        Item(f"{voice}|{words}", _said(words, voice), None, voice)
        for n, words in enumerate(BEGIN_ALIKE[word])
        for voice in (spoken[(n + k) % len(spoken)] for k in range(3))
    ]


def _said(words: str, voice: str) -> Callable[[], Samples]:
    return lambda: say(words, voice)


def talk(minutes: float) -> Iterator[Samples]:
    """What people say that is not meant for it, as the live loop cuts it."""
    left_s = 60.0 * minutes
    for number in range(len(people_tracks(STRANGERS, TRACK_S))):
        if left_s <= 0:
            return
        track = Track(number, CLEAN_DB, STRANGERS)
        sound, chances = track.sound(), track.voice_chances()
        for span, _ in utterances(chances, lambda _span, _free: Heard("", None, 0.0, "refuse")):
            yield sound[span]
        left_s -= TRACK_S


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=56, help="commands opened by each candidate")
    parser.add_argument("--minutes", type=float, default=10.0, help="of people's talk")
    parser.add_argument("--only", choices=list(BEGIN_ALIKE), action="append")
    asked = parser.parse_args()
    match = Match()
    heard = [match.scores(sound) for sound in talk(asked.minutes)]
    columns = (
        "address word", "missed, clean", "worst / median match", "missed, 10 dB",
        "worst / median match", f"talk passes, of {len(heard)}", "best match in talk",
        "begins alike: passes", "best match there",
    )  # fmt: skip
    print(f"| {' | '.join(columns)} |\n|{'---|' * len(columns)}")
    for word in asked.only or BEGIN_ALIKE:
        cells = [word]
        said = addressed(word, asked.count)
        for items in (said, in_noise(said, 10)):
            found = [match.scores(utterance(item))[word] for item in items]
            cells.append(rate(sum(score < ADDRESSED for score in found), len(found)))
            cells.append(f"{min(found):.1f} / {np.median(found):.1f}")
        alike = [match.scores(utterance(item))[word] for item in begin_alike(word)]
        for others in ([one[word] for one in heard], alike):
            cells.append(f"{sum(score >= ADDRESSED for score in others)}")
            cells.append(f"{max(others):.1f}")
        print(f"| {' | '.join(cells)} |", flush=True)


if __name__ == "__main__":
    main()
