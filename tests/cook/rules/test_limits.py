"""What nobody can mean is refused, at just the limit: none of these can be left out unseen."""

import pytest

from assistant.cook.rules.decide import decide
from assistant.cook.rules.decision import AskBack, Record
from assistant.cook.rules.due import due
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary import refusals as no
from tests.cook.build import START_S, evening

NOW_S = START_S + 60 * 50
DAY_MIN = 24 * 60.0


def bird(temperature: float, number: int = 1) -> cmd.Command:
    return cmd.BirdReading(number, temperature, cmd.Said(temperature, "F"))


def grill(temperature: float) -> cmd.Command:
    return cmd.GrillReading(temperature, cmd.Said(temperature, "F"))


def corrected(temperature: float) -> cmd.Command:
    return cmd.Correct(temperature, cmd.Said(temperature, "F"))


@pytest.mark.parametrize(
    ("within", "beyond", "refusal"),
    [
        (bird(28.0), bird(27.9), no.NoMeatReads),
        (bird(212.0), bird(212.1), no.NoMeatReads),
        (corrected(212.0), corrected(212.1), no.NoMeatReads),
        (grill(32.0), grill(31.9), no.GrillImpossible),
        (grill(700.0), grill(700.1), no.GrillImpossible),
        (cmd.FuelAdded(200.0), cmd.FuelAdded(200.1), no.FuelCount),
        (cmd.FuelAdded(0.5), cmd.FuelAdded(0.0), no.FuelCount),
        (cmd.TimerSet(DAY_MIN), cmd.TimerSet(DAY_MIN + 1), no.Minutes),
        (cmd.TimerSet(0.5), cmd.TimerSet(0.0), no.Minutes),
        (cmd.ServeIn(DAY_MIN), cmd.ServeIn(DAY_MIN + 1), no.Minutes),
        (cmd.Hold(DAY_MIN), cmd.Hold(DAY_MIN + 1), no.Minutes),
        (cmd.Snooze(DAY_MIN), cmd.Snooze(DAY_MIN + 1), no.Minutes),
        (cmd.Snooze(1.0), cmd.Snooze(0.0), no.Minutes),
        (cmd.BirdWeight(1, None, None, 15.0), cmd.BirdWeight(1, None, None, 15.1), no.NoBirdWeighs),
        (cmd.BirdWeight(1, None, None, 0.25), cmd.BirdWeight(1, None, None, 0.24), no.NoBirdWeighs),
        (bird(118.0, 2), bird(118.0, 3), no.BeyondTonight),
    ],
    ids=str,
)
def test_a_value_is_taken_up_to_its_limit(
    within: cmd.Command, beyond: cmd.Command, refusal: type
) -> None:
    one = evening((0, "birds on"), (40, "bird one reads 118"), birds=2)
    one.say(41, "remind me in one minute")
    ready = due(one.state, NOW_S)
    assert ready, "nothing to snooze"
    one.note(49, *(ev.PromptSaid(prompt.key, prompt.urgency) for prompt in ready))
    assert isinstance(decide(one.state, within, NOW_S), Record | AskBack)
    assert isinstance(decide(one.state, beyond, NOW_S), refusal)
