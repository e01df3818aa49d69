"""The card's own sentences said a little otherwise: `python -m tests.benchmarks.variants`.

Each change of words must leave the meaning as it is. For every change: how many variants mean
the same, are asked about, are refused, or mean something else, in percent.
"""

import random
import re
from collections import Counter
from collections.abc import Callable

from assistant.cook.vocabulary.commands import FuelAdded
from assistant.grammar.free.context import Context, tonight
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.free.understand import understand
from assistant.grammar.grammar import Names, random_sentence
from assistant.grammar.parse import NotUnderstood, parse

TONIGHT = Names(3, ("apricot", "harissa"))
COMMANDS = (
    "bird_reading", "grill_reading", "bird_weight", "bird_sauce", "birds_on", "birds_off", "sauced",
    "rest", "carve", "fuel_added", "wood_added", "lid_off", "lid_on", "vents", "serve_at",
    "serve_in", "hold", "timer_set", "timer_cancel", "ask_when", "ask_next", "ask_status",
    "ask_elapsed", "ask_last", "ask_fire", "ask_sauce", "ask_left", "ask_help", "ask_time",
    "ask_leftovers",
    "trouble", "undo", "repeat", "yes", "no",
)  # fmt: skip
Change = Callable[[str, random.Random], str]


def _before(*openings: str) -> Change:
    return lambda words, rng: f"{rng.choice(openings)} {words}"


def _after(*closings: str) -> Change:
    return lambda words, rng: f"{words} {rng.choice(closings)}"


def _instead(pattern: str, *others: str) -> Change:
    return lambda words, rng: re.sub(pattern, rng.choice(others), words)


_ORDINALS = {"one": "first", "two": "second", "three": "third"}


def _ordinal(words: str, rng: random.Random) -> str:
    noun = rng.choice(("bird", "hen", "chicken"))
    return re.sub(
        r"\bbird (one|two|three)\b", lambda found: f"the {_ORDINALS[found[1]]} {noun}", words
    )


def _turned(words: str, _: random.Random) -> str:
    """ "Bird one reads one thirty": "one thirty on bird one"."""
    return re.sub(

        r"^(bird (?:one|two|three)) (?:reads|is|is at) (?!(?:on|off|back|sauced|burning|stuck|"
        r"resting)\b)(\S.*?)$",
        r"\2 on \1", words,
    )  # fmt: skip


CHANGES: dict[str, Change] = {
    "an opening": _before("okay", "okay so", "right", "um", "hey", "alright", "well", "oh", "and"),
    "a closing": _after("please", "now", "thanks", "love", "then", "okay", "thank you"),
    "a contraction": _instead(r"\b(one|two|three|lid|spit|fire|grill|pan|dinner) is\b", r"\1's"),
    "an ordinal": _ordinal,
    "number for bird": _instead(r"\bbird (?=one|two|three)", "number ", "chicken "),
    "another verb": _instead(r"\breads\b", "is showing", "is sitting at", "has come up to", "says"),
    "a hedge": _instead(r"\breads\b", "reads about", "is around", "is roughly"),
    "number first": _turned,
    "another adding": _instead(r"^added\b", "put on", "threw on", "i just added", "chucked in"),
    "a log word": _instead(r"^(?=bird|grill)", "log ", "note ", "please record ", "can you log "),
    "a vocative": _after("honey", "mate", "sir"),
    "just now": _after("just now", "right now"),
}


def sentences(seed: int, each: int) -> list[str]:
    """So many sentences of every command."""
    rng = random.Random(seed)
    return [
        random_sentence(rng, TONIGHT, command=name, lean=True)
        for name in COMMANDS
        for _ in range(each)
    ]


def evening() -> Context:
    """The evening the sentences are said in."""
    return tonight(TONIGHT.birds, TONIGHT.sauces)


def _unkind(fact: Fact) -> Fact:
    """Coals are briquettes where nothing else is said."""
    is_usual = isinstance(fact, FuelAdded) and fact.kind == "briquettes"
    return FuelAdded(fact.count, when=fact.when) if is_usual else fact


def verdict(words: str, variant: str) -> str:
    """Whether the variant means the same: same, asked, refused, other."""
    meant = (parse(words, TONIGHT),)
    found = understand(variant, evening(), scale_asked=False)
    if found.outcome == "refuse":
        return "refused"
    if tuple(map(_unkind, found.facts)) == tuple(map(_unkind, meant)):
        return "same"
    return "asked" if found.outcome == "ask" else "other"


def main() -> None:
    """Print the table, and every variant that means something else."""
    print(f"{'':18}{'n':>5}{'same':>8}{'asked':>8}{'refused':>9}{'other':>8}")
    for name, change in CHANGES.items():
        rng = random.Random(7)
        tally: Counter[str] = Counter()
        for words in sentences(11, 12):
            variant = change(words, rng)
            if variant == words:
                continue
            try:
                found = verdict(words, variant)
            except NotUnderstood:
                continue
            tally[found] += 1
            if found in {"other", "refused"}:
                print(f"  {found}: {words!r} as {variant!r}")
        if tally:
            cells = [
                100 * tally[one] / tally.total() for one in ("same", "asked", "refused", "other")
            ]
            print(
                f"{name:18}{tally.total():5}{cells[0]:8.1f}{cells[1]:8.1f}{cells[2]:9.1f}{cells[3]:8.1f}"
            )


if __name__ == "__main__":
    main()
