"""When the next reading is worth its open lid."""

from assistant.heat.ensemble import Ensemble
from assistant.heat.evidence import BirdForecast, Look


def next_look(cloud: Ensemble, birds: tuple[BirdForecast, ...]) -> Look | None:
    """The bird and time of the next look; None when every bird is done."""
    options = []
    for bird in birds:
        for mark, quantiles, reached in (
            ("sauce", bird.sauce, bird.at_sauce), ("done", bird.done, bird.at_done),
        ):  # fmt: skip
            if reached < 0.9 and quantiles.q10 is not None:
                options.append((max(quantiles.q10, cloud.task.now_s + 60.0), bird.number, mark))
                break
    if not options:
        return None
    at_s, number, reason = min(options)
    return Look(bird=number, at_s=at_s, reason=reason)
