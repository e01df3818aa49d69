"""The kind of heat tonight, and readings that were insisted on, on their way to forecasts."""

import pytest

from assistant.cook.planning.plan import Grill, PlannedBird, plan
from assistant.cook.rules.forecasts import evidence_of, forecast_of
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.codec import event_from_json, event_json
from assistant.heat.bird.evidence import HeatKind
from tests.cook.build import START_S, Evening, insisted


def done_min(heat: HeatKind | None) -> float:
    """When a five-pound bird put on at minute 1 is forecast done."""
    one = Evening(ev.CookBegan(birds=1, heat=heat))
    one.say(0, "bird one weighs five pounds")
    one.say(1, "birds on")
    one.say(2, "grill is three seventy")
    found = forecast_of(one.state)
    assert found is not None
    assert found.birds[0].done.q50 is not None
    return (found.birds[0].done.q50 - START_S) / 60.0


def test_an_oven_takes_longer_than_a_spit_between_coals() -> None:
    assert done_min("oven") > done_min("gas spit") > done_min("charcoal spit")


def test_a_cook_that_says_nothing_of_its_heat_has_a_charcoal_spit() -> None:
    """As journals of before: the field is left out there, and still is."""
    assert done_min(None) == done_min("charcoal spit")
    name, slots = event_json(ev.CookBegan())
    assert "heat" not in slots
    assert event_from_json(name, slots) == ev.CookBegan()


@pytest.mark.parametrize("heat", ["gas spit", "oven"])
def test_a_journal_keeps_the_kind_of_heat(heat: HeatKind) -> None:
    began = ev.CookBegan(heat=heat)
    assert event_from_json(*event_json(began)) == began
    assert Evening(began).state.heat == heat


def test_the_plan_puts_birds_on_earlier_for_an_oven() -> None:
    on_s = [
        moment.likely_s
        for heat in ("oven", "charcoal spit")
        if (moment := plan(0.0, [PlannedBird(1, 2.3)], Grill(heat=heat)).moment("birds_on"))
    ]
    assert on_s[0] < on_s[1] - 900.0


def test_a_reading_insisted_on_is_taken_as_really_read() -> None:
    one = insisted(
        (0, "bird one weighs five pounds"), (1, "birds on"), (40, "bird one reads ninety five"),
        (50, "bird one reads one thirty"), (52, "bird one reads ninety"), birds=1,
    )  # fmt: skip
    (bird,) = evidence_of(one.state).birds
    assert [reading.confirmed for reading in bird.readings] == [False, False, True]


def test_a_correction_insisted_on_is_taken_as_really_read() -> None:
    one = insisted(
        (0, "bird one weighs five pounds"), (1, "birds on"), (30, "bird one reads one hundred"),
        (50, "bird one reads one thirty"), (50.2, "correction eighty"), birds=1,
    )  # fmt: skip
    (bird,) = evidence_of(one.state).birds
    assert [reading.confirmed for reading in bird.readings] == [False, True]
