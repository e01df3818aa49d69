"""An invented evening to show: three to eight birds an hour into the fire."""

from dataclasses import replace

from assistant.board.view import BoardView, Due
from assistant.cook.state import AirRead, Bird, Cook, Fire, Fuel, Reading
from assistant.heat.bird.evidence import BirdForecast, Forecast, Look, Quantiles, Span

EVENING_S = 1_779_566_400.0  # 16:00 on a Saturday in New York
MINUTE_S = 60.0
SAUCES = ("apricot", "harissa", "plain")


def minutes(count: float) -> float:
    """Epoch seconds, `count` minutes after four."""
    return EVENING_S + count * MINUTE_S


def bird(number: int, **changes: object) -> Bird:
    """A bird on the heat for an hour, read twice."""
    readings = (
        Reading(minutes(-25 + number), 111.0 + number, 9),
        Reading(minutes(-4 - number), 130.0 - 3 * number, 12, "breast" if number % 2 else None),
    )
    one = Bird(
        number, mass_kg=2.5, sauce=SAUCES[(number - 1) % 3], on_heat=(Span(minutes(-60)),),
        readings=readings,
    )  # fmt: skip
    return replace(one, **changes)  # type: ignore[arg-type]  # the tests name real fields


def forecast(number: int) -> BirdForecast:
    """Sauce mark in some ten minutes, done in some forty."""
    sauce = Quantiles(minutes(1 + number), minutes(6 + number), minutes(14 + number))
    done = Quantiles(minutes(30 + number), minutes(43 + number), minutes(58 + number))
    return BirdForecast(number, sauce, done, (50.0, 52.0, 54.0), 0.2, 0.0)


def evening(birds: int = 3, **changes: object) -> BoardView:
    """A steady hour: nothing is due yet."""
    cook = Cook(
        began_s=minutes(-110), zone="America/New_York", serve_s=minutes(75),
        birds=tuple(bird(number) for number in range(1, birds + 1)),
        fire=Fire(
            lit_s=minutes(-100), readings=(AirRead(minutes(-8), 372.0, 3),),
            fuel=(Fuel(minutes(-35), 12, "briquettes"),),
        ),
    )  # fmt: skip
    view = BoardView(
        cook,
        minutes(0),
        forecast=Forecast(
            tuple(forecast(number) for number in range(1, birds + 1)), Look(2, minutes(11), "sauce")
        ),
        fire_leaves=Quantiles(minutes(15), minutes(25), minutes(50)),
        due=(
            Due(minutes(32), "warm the apricot glaze", sign="APRICOT TIMER"),
            Due(minutes(11), "look at bird 2, it may be ready to sauce", sign="READ BIRD 2"),
            Due(minutes(18), "add 10 briquettes", "soon", "ADD CHARCOAL"),
        ),
        heard="bird two reads one twenty four",
        said="Bird 2, 124. Sauce mark about 4:08.",
    )
    return replace(view, **changes)  # type: ignore[arg-type]  # the tests name real fields


def with_cook(view: BoardView, **changes: object) -> BoardView:
    """The view with another cook."""
    return replace(view, cook=replace(view.cook, **changes))  # type: ignore[arg-type]  # as above
