"""Commands in a few printed words: what a question between two of them shows."""

import pytest

from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.sentences.describe import command_text, share_text, timer_text

F, C = cmd.Said(131, "F"), cmd.Said(55, "C")
COMMANDS: list[tuple[cmd.Command, str]] = [
    (cmd.BirdReading(1, 131.0, F, "thigh"), "bird 1 thigh, 131"),
    (cmd.BirdReading(2, 131.0, F), "bird 2, 131"),
    (cmd.BirdReading(2, 131.0, C), "bird 2, 55 C"),
    (cmd.GrillReading(371.0, cmd.Said(371, "F")), "grill 371"),
    (cmd.BirdWeight(1, 5.0, 8.0), "bird 1, 5 lb 8 oz"),
    (cmd.BirdWeight(1, 5.0), "bird 1, 5 lb"),
    (cmd.BirdWeight(1, kilograms=2.4), "bird 1, 2.4 kg"),
    (cmd.BirdSauce(3, "harissa"), "bird 3, harissa"),
    (cmd.BirdsOn(2), "bird 2 on"),
    (cmd.BirdsOff(2), "bird 2 off"),
    (cmd.Sauced(1), "bird 1 sauced"),
    (cmd.FuelAdded(12.0, "briquettes"), "12 briquettes"),
    (cmd.FuelAdded(1.0, "chimney"), "1 chimney"),
    (cmd.FuelAdded(0.5, "chimney"), "half a chimney"),
    (cmd.FuelAdded(3.0, None), "3 pieces"),
    (cmd.Vents("bottom", 1 / 3), "bottom vent 1/3"),
    (cmd.Vents("top", 0.4), "top vent 40%"),
    (cmd.Vents("both", 0.0), "both vents shut"),
    (cmd.ServeAt(1110), "dinner at 18:30"),
    (cmd.ServeAt(1110, day="sunday"), "dinner sunday at 18:30"),
    (cmd.ServeIn(90.0), "dinner in 1 hour 30 minutes"),
    (cmd.Hold(20.0), "hold dinner 20 minutes"),
    (cmd.TimerSet(10.0, "rice"), "rice timer, 10 minutes"),
    (cmd.TimerSet(10.0, None), "timer, 10 minutes"),
    (cmd.AwayFor(10.0), "away 10 minutes"),
    (cmd.Snooze(5.0), "snooze 5 minutes"),
    (cmd.Number(131.0, F), "131"),
    (cmd.Correct(131.0, F), "correction, 131"),
    (cmd.Correct(131.0, F, 2), "correction, bird 2, 131"),
    (cmd.ThermometerCheck("ice", 34.0, cmd.Said(34, "F")), "thermometer 34 in ice water"),
    (
        cmd.ThermometerCheck("boiling", 210.0, cmd.Said(210, "F")),
        "thermometer 210 in boiling water",
    ),
    (cmd.Trouble("wing_loose", 2), "wing loose on bird 2"),
    (cmd.Trouble("rain"), "rain"),
    (cmd.AskWhen(2), "how long, bird 2"),
    (cmd.AskWhatIf(320.0, cmd.Said(320, "F")), "what if the grill runs at 320 F"),
]


@pytest.mark.parametrize(("command", "text"), COMMANDS, ids=str)
def test_a_command_in_print_has_its_numbers_in_digits(command: cmd.Command, text: str) -> None:
    assert command_text(command, Cook()) == text


def test_no_two_of_these_commands_look_alike() -> None:
    """A question between two options must show two."""
    told = [command_text(command, Cook()) for command, _ in COMMANDS]
    assert len(set(told)) == len(told)


@pytest.mark.parametrize(
    ("opening", "text"),
    [(0.0, "shut"), (0.25, "1/4"), (0.5, "1/2"), (0.75, "3/4"), (1.0, "open"), (0.15, "15%")],
)
def test_an_opening_is_a_share_a_cook_would_say(opening: float, text: str) -> None:
    assert share_text(opening) == text


def test_a_timer_without_a_name_is_just_a_timer() -> None:
    assert timer_text(1.0, None) == "timer, 1 minute"
