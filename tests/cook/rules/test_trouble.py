"""Trouble: every kind has advice, a caution where it can hurt, and its effect recorded."""

from typing import get_args

import pytest

from assistant.cook.rules.forecasts import fire_of, forecast_of
from assistant.cook.rules.trouble import (
    EFFECTS,
    effect_of,
    fire_low,
    thermometer_is_doubted,
    weather,
)
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import TroubleKind
from assistant.cook.vocabulary.refusals import NotThen
from assistant.sentences.fire import ADVICE
from tests.cook.build import START_S, insisted

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


def in_an_hour_f(*said: tuple[float, str]) -> tuple[float, float, float]:
    """The grill an hour on (0.1, 0.5 and 0.9 quantile, C), after what was said."""
    state = insisted(*COOKING, (61, "grill is 370"), *said).state
    forecast = fire_of(state, state.at_s)
    assert forecast is not None
    ahead = [one for one in forecast.path if one[0] >= state.at_s + 3600.0]
    return ahead[0][1:]


@pytest.mark.parametrize(
    ("begins", "ends", "colder_f"),
    [("it's raining", "the rain has stopped", 40.0), ("it's windy", "the wind has dropped", 30.0),
     ("it's getting cold", "it's warmer again", 20.0)],
)  # fmt: skip
def test_weather_costs_the_grill_heat_while_it_lasts(
    begins: str, ends: str, colder_f: float
) -> None:
    """Told to be over ten minutes ago, it lasted till then."""
    calm, rough = in_an_hour_f(), in_an_hour_f((62, begins))
    assert rough[1] < calm[1] - 1.0
    over = in_an_hour_f((62, begins), (75, f"{ends} ten minutes ago"))
    assert abs(over[1] - calm[1]) < 0.5 * (calm[1] - rough[1])
    one = insisted(*COOKING, (62, begins), (75, f"{ends} ten minutes ago"))
    (felt,) = weather(one.state)
    assert felt.colder_c == pytest.approx(colder_f / 1.8)
    assert felt.span.end_s is not None
    assert round(felt.span.end_s - felt.span.start_s) == 180


def test_in_a_wind_the_fire_is_less_sure() -> None:
    def wide(quantiles: tuple[float, float, float]) -> float:
        return quantiles[2] - quantiles[0]

    assert wide(in_an_hour_f((62, "it's windy"))) > 1.1 * wide(in_an_hour_f())
    assert wide(in_an_hour_f((62, "it's getting cold"))) < 1.1 * wide(in_an_hour_f())


def test_an_end_is_not_before_its_beginning() -> None:
    one = insisted(*COOKING, (61, "it's windy"))
    assert one.ask(62, "the wind dropped ten minutes ago") == NotThen(START_S + 61 * 60)


def test_a_doubted_thermometer_stays_doubted_until_checked() -> None:
    one = insisted(*COOKING, (61, "i doubt the thermometer"))
    assert thermometer_is_doubted(one.state)
    one.say(63, "thermometer reads 32 in ice water")
    assert not thermometer_is_doubted(one.state)


def test_trouble_can_be_taken_back() -> None:
    one = insisted(*COOKING, (62, "fire is dying"), (62.2, "scratch that"))
    assert one.state.troubles == ()
