"""What the next words are understood against, once these were."""

from dataclasses import replace

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.context import Context, Understood

Options = tuple[cmd.Command, ...]


def after(context: Context, understood: Understood) -> Context:
    """The context that the next words meet: the bird spoken of, its reading, the question."""
    spoken, spot = context.spoken, context.spot
    last_f = dict(context.last_f)
    side = context.motor_side
    sauces, weights = dict(context.sauces), dict(context.weights_kg)
    facts = understood.facts if understood.outcome != "refuse" else ()
    for fact in facts:
        bird = getattr(fact, "bird", None)
        if isinstance(bird, int):
            spoken, spot = bird, getattr(fact, "spot", None)
        match fact:
            case cmd.BirdReading() if understood.outcome == "accept":
                last_f[fact.bird] = fact.temperature
            case cmd.BirdSauce():
                sauces[fact.bird] = fact.sauce
            case cmd.BirdWeight():
                weights[fact.bird] = (
                    fact.kilograms or ((fact.pounds or 0) + (fact.ounces or 0) / 16) * 0.45359237
                )
            case cmd.MotorSide():
                side = fact.side
            case _:
                pass
    asked, later = _open(context, understood)
    return replace(
        context,
        spoken=spoken,
        spot=spot,
        last_f=last_f,
        sauces=sauces,
        weights_kg=weights,
        motor_side=side,
        asked=asked,
        later=later,
    )


def _open(context: Context, understood: Understood) -> tuple[Options, tuple[Options, ...]]:
    """What is asked now, and what once that is answered."""
    if understood.outcome == "ask":
        return understood.options, understood.later
    waiting = context.later if understood.outcome == "accept" else (context.asked, *context.later)
    facts = understood.facts if understood.outcome == "accept" else ()
    counts = [(one,) for one in facts if isinstance(one, cmd.FuelAdded) and one.count is None]
    asks: list[Options] = [*counts, *waiting]
    return (asks[0], tuple(asks[1:])) if asks else ((), ())
