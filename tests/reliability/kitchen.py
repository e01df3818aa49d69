"""An imaginary kitchen: birds that warm up, and a cook who talks, badly heard.

Invented from end to end; only the mishearings are measured: a teen heard as a
ten, a unit added to a round ten, fifty for sixty, bird two taken for bird one.
"""

import random
from dataclasses import dataclass, field
from typing import Literal

from assistant.cook.state import Cook
from assistant.ears.heard import Heard
from assistant.session.typed import heard_typed

SAUCES = ("apricot", "harissa", "plain")
CHATTER = ("pass me the salad", "who wants a drink", "mind the dog", "is that smoke normal")
QUESTIONS = (
    "how long for bird {bird}", "what's next", "how long has it been", "how is the fire",
    "last reading bird {bird}", "say again", "what did i say", "help",
    "which sauce for bird {bird}",
)  # fmt: skip
SMALL_TALK = (
    "got it", "snooze five minutes", "quieter", "louder", "lid off", "lid on", "added wood",
    "bottom vent two thirds", "flare up", "wing loose", "remind me in {minutes} minutes",
    "added {count} briquettes", "hush", "cancel the timer",
)  # fmt: skip

Fate = Literal["heard", "lost", "misheard", "twice", "asked", "chatter"]


@dataclass
class Kitchen:
    """One evening's cook. `now_s` counts from the start of the cook."""

    chance: random.Random
    birds: int = 0
    mass_kg: list[float] = field(default_factory=list)
    on_s: float | None = None
    off: set[int] = field(default_factory=set)
    sauced: set[int] = field(default_factory=set)
    opening: list[str] = field(default_factory=list)
    last_words: str = ""
    asleep: bool = False

    def __post_init__(self) -> None:
        chance = self.chance
        self.birds = chance.randint(1, 4)
        self.mass_kg = [chance.uniform(1.0, 3.5) for _ in range(self.birds)]
        opening = ["fire is lit"]
        for number, mass_kg in enumerate(self.mass_kg, 1):
            if chance.random() < 0.8:
                opening.append(f"bird {number} weighs {round(mass_kg * 2.2)} pounds")
            if chance.random() < 0.9:
                opening.append(f"bird {number} gets {chance.choice(SAUCES)}")
        opening.append(f"grill is {chance.randint(330, 400)}")
        if chance.random() < 0.7:
            opening.append(f"dinner in {chance.randint(90, 180)} minutes")
        chance.shuffle(opening)
        self.opening = [*opening, "birds on"]

    def core_f(self, bird: int, now_s: float) -> float:
        """What a thermometer would say of a bird, F."""
        minutes = (now_s - (self.on_s if self.on_s is not None else now_s)) / 60.0
        warmth = 1.0 - 2.0 ** (-minutes / (35.0 + 12.0 * self.mass_kg[bird - 1]))
        return 40.0 + 260.0 * warmth + self.chance.gauss(0.0, 2.0)

    def pause_s(self, state: Cook) -> float:
        """How long until the cook speaks again."""
        if state.pending is not None and self.chance.random() < 0.7:
            return self.chance.uniform(3.0, 20.0)
        return self.chance.expovariate(1.0 / (40.0 if self.opening else 170.0))

    def words(self, state: Cook, now_s: float) -> str:
        """What the cook says next; "" ends the evening."""
        if state.asleep:
            return "wake up"
        if state.pending is not None and self.chance.random() < 0.75:
            return self._answer(state)
        if self.opening:
            words = self.opening.pop(0)
            if words == "birds on":
                self.on_s = now_s
            return words
        if len(self.off) == self.birds:
            return "" if self.chance.random() < 0.5 else "end cook"
        return self._busy(now_s)

    def _answer(self, state: Cook) -> str:
        assert state.pending is not None
        options = ["yes", "no", "first", "second", f"{self.chance.randint(90, 170)}"]
        return self.chance.choice(options)

    def _busy(self, now_s: float) -> str:
        bird = self.chance.choice([n for n in range(1, self.birds + 1) if n not in self.off])
        core_f = self.core_f(bird, now_s)
        if core_f > 172.0:
            self.off.add(bird)
            return f"bird {bird} is off"
        if core_f > 130.0 and bird not in self.sauced and self.chance.random() < 0.5:
            self.sauced.add(bird)
            return f"bird {bird} sauced"
        roll = self.chance.random()
        if roll < 0.40:
            spot = self.chance.choice(["", " breast", " thigh"])
            return f"bird {bird}{spot} reads {core_f:.0f}"
        if roll < 0.52:
            return f"grill is {self.chance.randint(310, 420)}"
        if roll < 0.62:
            return self.chance.choice(["scratch that", f"correction {core_f:.0f}"])
        if roll < 0.64:
            return "go to sleep"
        pattern = self.chance.choice(QUESTIONS if roll < 0.8 else SMALL_TALK)
        return pattern.format(
            bird=bird, minutes=self.chance.randint(1, 40), count=self.chance.randint(4, 30)
        )

    def fate(self) -> Fate:
        """What becomes of the words on their way through the noise."""
        roll = self.chance.random()
        for share, fate in ((0.05, "lost"), (0.06, "misheard"), (0.03, "twice"), (0.04, "asked"),
                            (0.04, "chatter")):  # fmt: skip
            if roll < share:
                return fate  # type: ignore[return-value] # the tuple spells the fates
            roll -= share
        return "heard"

    def heard(self, words: str, fate: Fate, scale: Literal["F", "C"]) -> list[Heard]:
        """What the ears make of it."""
        if fate == "lost":
            return []
        if fate == "chatter":
            return [heard_typed(self.chance.choice(CHATTER), scale)]
        if fate == "twice":
            return [heard_typed(words, scale)] * 2
        other = heard_typed(misheard(words, self.chance), scale)
        meant = heard_typed(words, scale)
        if fate == "misheard":
            return [other]
        if fate == "asked" and None not in (meant.command, other.command) and meant != other:
            options = (meant.command, other.command)
            return [Heard(words, meant.command, 0.4, "ask", options)]  # type: ignore[arg-type] # not None
        return [meant]


def misheard(words: str, chance: random.Random) -> str:
    """The words with one number heard wrongly, as measured."""
    parts = words.split()
    places = [place for place, part in enumerate(parts) if part.isdigit()]
    if not places:
        return words
    place = chance.choice(places)
    number = int(parts[place])
    if place and parts[place - 1] == "bird":
        number = 1 if number == 2 else chance.choice([number, 2])
    elif number % 100 in range(13, 20):
        number = number - number % 100 + (number % 10) * 10
    elif number % 100 // 10 in {5, 6} and chance.random() < 0.5:
        number += 10 if number % 100 // 10 == 5 else -10
    elif number % 10 == 0:
        number += chance.randint(1, 9)
    parts[place] = str(number)
    return " ".join(parts)
