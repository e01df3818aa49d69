"""Trouble: every kind has advice, a caution where it can hurt, and its effect recorded."""

from typing import get_args

import pytest

from assistant.cook.rules.forecasts import fire_of, forecast_of
from assistant.cook.rules.trouble import (
    EFFECTS,
    effect_of,
    fire_low,
    outside_f,
    thermometer_is_doubted,
)
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import TroubleKind
from assistant.sentences.fire import ADVICE
from tests.cook.build import insisted

COOKING = ((0.0, "fire is lit"), (30.0, "grill is 370"), (31.0, "birds on"),
           (60.0, "bird one reads 90"))  # fmt: skip


def test_every_trouble_has_advice() -> None:
    assert set(EFFECTS) == set(ADVICE) == set(get_args(TroubleKind))


@pytest.mark.parametrize(
    "kind", ["wing_loose", "leg_loose", "spit_stopped", "flare_up", "drip_pan_full", "fire_dying"]
)
def test_cautions_where_it_can_hurt(kind: TroubleKind) -> None:
    hurts = ("hot metal", "hot fat", "never water", "gloves", "outdoors")
    assert any(one in ADVICE[kind].lower() for one in hurts)


@pytest.mark.parametrize(
    ("words", "kind"),
    [("wing loose", "wing_loose"), ("flare up", "flare_up"), ("the spit stopped", "spit_stopped"),
     ("fire is dying", "fire_dying"), ("it's raining", "rain")],
)  # fmt: skip
def test_the_effect_is_in_the_journal(words: str, kind: TroubleKind) -> None:
    one = insisted(*COOKING, (61, words))
    noted = one.recorded[-1].event
    assert isinstance(noted, ev.TroubleNoted)
    assert (noted.kind, noted.effect) == (kind, effect_of(kind))


def test_a_dying_fire_delays_the_forecast() -> None:
    """Told twenty minutes after the last reading, it stands for a low one."""
    calm, dying = insisted(*COOKING), insisted(*COOKING, (62, "fire is dying"))
    before, after = forecast_of(calm.state), forecast_of(dying.state)
    assert before is not None
    assert after is not None
    assert before.birds[0].done.q50 is not None
    assert after.birds[0].done.q50 is not None
    assert after.birds[0].done.q50 > before.birds[0].done.q50 + 60
    assert fire_low(dying.state)[0].temperature_f < dying.state.fire.band_low_f


def test_a_dial_read_just_now_outweighs_the_word() -> None:
    one = insisted(*COOKING, (62, "fire is dying"), (63, "grill is 365"))
    assert fire_low(one.state) == ()


def test_rain_costs_heat() -> None:
    """The same evening in the rain burns more charcoal an hour."""
    dry, wet = (
        insisted(*COOKING, (61, "grill is 370")),
        insisted(*COOKING, (60.5, "it's raining"), (61, "grill is 370")),
    )
    assert outside_f(wet.state) == outside_f(dry.state) - 40.0
    before, after = fire_of(dry.state, dry.state.at_s), fire_of(wet.state, wet.state.at_s)
    assert before is not None
    assert after is not None
    assert after.pieces_per_hour > before.pieces_per_hour


def test_a_doubted_thermometer_stays_doubted_until_checked() -> None:
    one = insisted(*COOKING, (61, "i doubt the thermometer"))
    assert thermometer_is_doubted(one.state)
    one.say(63, "thermometer reads 32 in ice water")
    assert not thermometer_is_doubted(one.state)


def test_trouble_can_be_taken_back() -> None:
    one = insisted(*COOKING, (62, "fire is dying"), (62.2, "scratch that"))
    assert one.state.troubles == ()
