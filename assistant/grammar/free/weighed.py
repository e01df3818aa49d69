"""A weight and a sauce in one breath, the sauce of any name."""

import re

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.grammar import Names
from assistant.grammar.parse import NotUnderstood, parse

NO_SAUCE = {"skin", "stuffing", "giblets", "bones", "neck", "string", "legs", "wings"}
_WITH = re.compile(
    r"(?P<weighed>.*\b(?:pounds?|lbs?|ounces?|kilos?|kg|kilograms?|half|pounder)\b"
    r"(?: (?!with\b|and\b|but\b|gets?\b)\w+){0,3}?)"
    r"(?: and| but)?(?: it| she| he| (?P<other>bird \w+))?(?: (?:is|will be))?"
    r"(?: (?:gets?|getting|takes?|with|wants?|for)(?: the| a| an| some)?"
    r" (?P<sauce>[a-z]+(?: [a-z]+)?)| (?P<plain>plain|(?:with )?no (?:sauce|glaze)|unsauced))"
    r"(?: sauce| glaze)?"
)


def parted(text: str) -> tuple[str, str, str | None] | None:
    """The words of the weight, the sauce's name after them, and the bird that is named with
    it; None where there is none."""
    match = _WITH.fullmatch(text)
    if match is None:
        return None
    return match["weighed"], "plain" if match["plain"] else match["sauce"], match["other"]


def sauced(
    facts: tuple[Fact, ...], sauce: str, other: str | None = None
) -> tuple[Fact, ...] | None:
    """The weight of one bird with the sauce it, or the `other` bird, gets; None where the
    name is none."""
    if NO_SAUCE & {*sauce.split()}:
        return None
    if len(facts) != 1 or not isinstance(facts[0], cmd.BirdWeight):
        return None
    try:
        command = parse(
            f"{other or f'bird {facts[0].bird}'} gets {sauce}", Names(), open_names=True
        )
    except NotUnderstood:
        return None
    return (*facts, command) if isinstance(command, cmd.BirdSauce) else None
