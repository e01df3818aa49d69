"""What a session expects, as lines: forecasts, the next look, the fire."""

from collections.abc import Iterator

from assistant.cook.state import Cook
from assistant.heat.bird.evidence import Forecast, Quantiles
from assistant.heat.degrees import fahrenheit
from assistant.heat.fire.forecast import FireForecast
from assistant.session.line import Line


def forecast_lines(state: Cook, forecast: Forecast, now_s: float) -> Iterator[Line]:
    """A line for each mark of each bird, and one for the next look.

    The contract gives the `t` of the last to the look itself; its `made_t` is now.
    """
    for bird in forecast.birds:
        known = state.bird(bird.number)
        if known is None:
            continue
        for mark, mark_f, quantiles in (
            ("sauce", known.sauce_mark_f, bird.sauce), ("done", known.done_mark_f, bird.done)
        ):  # fmt: skip
            fields = {
                "bird": bird.number, "mark": mark, "temperature_f": mark_f,
                "quantiles": _relative(state, quantiles),
                "core_now_f": [round(fahrenheit(one), 1) for one in bird.core_now_c],
            }  # fmt: skip
            yield Line(since(state, now_s), "forecast", fields)
    look = forecast.look
    if look is not None:
        fields = {"bird": look.bird, "reason": look.reason, "made_t": since(state, now_s)}
        yield Line(since(state, look.at_s), "next_check", fields)


def fire_line(state: Cook, fire: FireForecast, now_s: float) -> Line:
    """When the fire is expected to leave its band."""
    return Line(since(state, now_s), "fire", {"quantiles": _relative(state, fire.leaves)})


def since(state: Cook, at_s: float) -> float:
    """Seconds from the begin of the cook."""
    return round(at_s - (state.began_s or 0.0), 1)


def _relative(state: Cook, quantiles: Quantiles | None) -> dict[str, float | None] | None:
    if quantiles is None or quantiles == Quantiles(None, None, None):
        return None
    q10, q50, q90 = (
        None if at_s is None else since(state, at_s)
        for at_s in (quantiles.q10, quantiles.q50, quantiles.q90)
    )
    return {"0.1": q10, "0.5": q50, "0.9": q90}
