"""What is said back parses to exactly the command it came from."""

import pytest

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.grammar import Names
from assistant.grammar.parse import all_readings
from assistant.grammar.sayback import say_back, say_minutes

EIGHT = Names(8, ("apricot", "sweet mustard"))


def check(command: cmd.Command) -> None:
    words = say_back(command)
    for scale in ("F", "C"):
        assert all_readings(words, EIGHT, scale=scale) == (command,), words


def test_every_minute_of_the_day_as_a_serving_time() -> None:
    for minute in range(1440):
        check(cmd.ServeAt(minute, vague=False))
    for minute in range(60, 780):
        check(cmd.ServeAt(minute, vague=True))


def test_time_spans_to_twelve_hours() -> None:
    for minutes in range(1, 721):
        check(cmd.ServeIn(float(minutes)))
    for halves in range(3, 200, 2):
        check(cmd.TimerSet(halves / 2))


def test_every_opening_of_a_vent() -> None:
    for hundredths in range(101):
        check(cmd.Vents("bottom", hundredths / 100))
    for opening in (1 / 3, 2 / 3):
        check(cmd.Vents("both", opening))


def test_weights_in_both_systems() -> None:
    for pounds in range(1, 31):
        for ounces in (None, 1.0, 8.0, 15.0, 0.5 + 3):
            check(cmd.BirdWeight(1, pounds=float(pounds), ounces=ounces))
    for tenths in range(1, 135):
        check(cmd.BirdWeight(2, kilograms=tenths / 10))
    check(cmd.BirdWeight(2, kilograms=2.25))


@pytest.mark.parametrize("kind", [None, "briquettes", "lump", "chimney"])
def test_amounts_of_fuel(kind: cmd.FuelKind | None) -> None:
    for count in range(501):
        check(cmd.FuelAdded(float(count), kind))
    if kind == "chimney":
        check(cmd.FuelAdded(0.5, kind))


def test_every_trouble_with_and_without_its_bird() -> None:
    for kind in ("wing_loose", "leg_loose", "bird_stuck"):
        check(cmd.Trouble(kind))
        for bird in range(1, 9):
            check(cmd.Trouble(kind, bird))


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (1, "one minute"),
        (10, "ten minutes"),
        (60, "an hour"),
        (90, "an hour and a half"),
        (150, "two and a half hours"),
        (80, "an hour and twenty minutes"),
        (2.5, "two and a half minutes"),
    ],
)
def test_spans_are_said_as_people_say_them(minutes: float, words: str) -> None:
    assert say_minutes(minutes) == words
