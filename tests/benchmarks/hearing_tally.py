"""Counting what was heard right, wrong and not at all, with intervals."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from scipy.stats import chi2

from assistant.cook.vocabulary.commands import BirdReading, Command, GrillReading
from assistant.ears.choice import changes_record
from assistant.ears.ears import Ears
from assistant.ears.heard import Heard
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.grammar import ADDRESS
from tests.benchmarks.hearing_evidence import Tried


def rate(count: int, n: int) -> str:
    """A share in percent with its 95 % Wilson interval."""
    if n == 0:
        return "-"
    z, p = 1.96, count / n
    middle = (p + z * z / (2 * n)) / (1 + z * z / n)
    half = z * math.sqrt(p * (1 - p) / n + z * z / (4 * n * n)) / (1 + z * z / n)
    return (
        f"{100 * p:.1f} [{100 * max(0.0, middle - half):.0f}-{100 * min(1.0, middle + half):.0f}]"
    )


def most_per_hour(count: int, hours: float) -> float:
    """The exact Poisson 95 % upper bound of a rate that showed `count` events."""
    return float(chi2.ppf(0.95, 2 * count + 2)) / 2 / hours


def per_hour(count: int, hours: float) -> str:
    """A count with its rate an hour and the bound of that."""
    if hours == 0:
        return "-"
    return f"{count} ({count / hours:.1f}/h, < {most_per_hour(count, hours):.1f}/h)"


def taken_of(heard: Heard) -> tuple[Fact, ...]:
    """What is taken without a question."""
    if heard.outcome in ("accept", "stress") and heard.understood is not None:
        return heard.understood.facts
    clear = (heard.command, *heard.more) if heard.command is not None else ()
    return () if heard.outcome == "refuse" else clear


def is_wrong_number(taken: Fact | None, truth: Command | str | None) -> bool:
    """Whether a reading would enter the record with a number or a bird nobody said."""
    if not isinstance(taken, BirdReading | GrillReading):
        return False
    if type(taken) is not type(truth):
        return True
    assert isinstance(truth, BirdReading | GrillReading)
    return (taken.temperature, getattr(taken, "bird", 0)) != (
        truth.temperature,
        getattr(truth, "bird", 0),
    )


@dataclass
class Tally:
    """Counts over one corpus in one condition; `plain_...` are the baseline's."""

    n: int = 0
    exact: int = 0
    asked_right: int = 0
    kind: int = 0
    numbers: int = 0
    number: int = 0
    silent_number: int = 0
    silent_wrong: int = 0
    asked: int = 0
    refused: int = 0
    plain_exact: int = 0
    plain_number: int = 0
    plain_wrong: int = 0

    def add(self, heard: Heard, plain: Command | None, truth: Command) -> None:
        """Count one spoken command."""
        self.n += 1
        taken = taken_of(heard)
        self.exact += taken == (truth,)
        self.asked_right += taken == (truth,) or (
            heard.outcome == "ask" and truth in heard.alternatives
        )
        best = heard.alternatives[0] if heard.alternatives else heard.command
        self.kind += best is not None and best.NAME == truth.NAME
        if isinstance(truth, BirdReading | GrillReading):
            self.numbers += 1
            self.number += getattr(best, "temperature", None) == truth.temperature
        self.silent_number += any(is_wrong_number(fact, truth) for fact in taken)
        self.silent_wrong += bool(taken) and taken != (truth,)
        self.asked += heard.outcome == "ask"
        self.refused += heard.outcome == "refuse"
        self.plain_exact += plain == truth
        self.plain_number += is_wrong_number(plain, truth)
        self.plain_wrong += plain is not None and plain != truth

    def rates(self, *names: str) -> str:
        """The named counts as table cells."""
        return " | ".join(
            rate(getattr(self, name), self.numbers if name == "number" else self.n)
            for name in names
        )


def tallied(ears: Ears, tried: Iterable[Tried]) -> Tally:
    """The tally of spoken commands, decided with the ears' prior of this moment."""
    tally = Tally()
    for one in tried:
        assert one.item.truth is not None
        assert not isinstance(one.item.truth, str)
        tally.add(one.decided(ears), command_in(ears, one.plain), one.item.truth)
    return tally


def command_in(ears: Ears, words: str) -> Command | None:
    """The one command that the words are, in full."""
    found = ears.meaning(words)
    is_one = found is not None and found.outcome == "accept" and len(found.facts) == 1
    return found.facts[0] if is_one else None  # type: ignore[return-value]


def taken_plainly(ears: Ears, words: str, *, address: bool) -> Command | None:
    """What the baseline would do on hearing the words; with `address` it asks for that."""
    return None if address and not words.startswith(f"{ADDRESS} ") else command_in(ears, words)


@dataclass
class TalkTally:
    """What became of speech that was not meant for it, over `hours` of it; the baseline
    heard `plain_hours`."""

    hours: float = 0.0
    plain_hours: float = 0.0
    record: int = 0
    harmless: int = 0
    asked: int = 0
    plain_record: int = 0
    plain_harmless: int = 0

    def add(self, heard: Heard, plain: Command | None) -> None:
        """Count one utterance."""
        if heard.outcome in ("accept", "stress"):
            is_record = any(map(changes_record, taken_of(heard)))
            self.record += is_record
            self.harmless += not is_record
        self.asked += heard.outcome == "ask"
        if plain is not None:
            self.plain_record += changes_record(plain)
            self.plain_harmless += not changes_record(plain)

    def cells(self) -> str:
        """The counts as table cells."""
        own = [per_hour(count, self.hours) for count in (self.record, self.harmless, self.asked)]
        plain = [per_hour(n, self.plain_hours) for n in (self.plain_record, self.plain_harmless)]
        return " | ".join(own + plain)
