"""What makes sense now: limits no meat can cross, neighbours easily misheard,
and a log prior over commands for the recognisers. Pure.
"""

import math
from dataclasses import replace

from assistant.cook.rules.forecasts import evidence_of
from assistant.cook.state import MOST_BIRDS, Bird, Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.heat.bird.density import ReadingDensity, air_density, core_density
from assistant.heat.degrees import celsius, from_scale

MEAT_LOW_F, MEAT_HIGH_F = 28.0, 212.0  # frozen meat; boiling water
GRILL_LOW_F, GRILL_HIGH_F = 32.0, 700.0  # unlit on a cold day; a hood thermometer's end
FALL_F = 6.0  # meat on the heat does not fall; a probe in another place may read this much less
SPOTS_F = 20.0  # breast and thigh of one bird may differ by this much
RISE_F = 20.0  # a probe may have missed the core by this much
RISE_F_PER_MIN = 2.0  # no whole bird's core rises faster, game hens apart
HEN_F_PER_MIN = 3.5
HEN_KG = 1.0
UNLIKELY = 0.01  # chance that an honest reading lies this far out; below it, it is asked back
TEEN_NATS = 1.5  # a teen this much likelier than the ten that was heard is asked about

_TEENS = {float(n): float(n % 10 * 10) for n in range(13, 20)}  # 13 thirteen -> 30 thirty


def teen_or_ten(number: float) -> tuple[float, ...]:
    """The ten for a teen and the teen for a ten: 130 for 113, 113 for 130."""
    hundreds, rest = divmod(number, 100)
    tens = [100 * hundreds + ten for teen, ten in _TEENS.items() if rest == teen]
    return (*tens, *(100 * hundreds + teen for teen, ten in _TEENS.items() if rest == ten))


def neighbours(number: float) -> tuple[float, ...]:
    """Numbers easily misheard for this one: teen and ty, off by ten.

    Common practice, no source: measured confusions of recognisers are teens
    heard as tens, and fifty for sixty.
    """
    return tuple(one for one in (*teen_or_ten(number), number - 10, number + 10) if one > 0)


def bird_density(state: Cook, number: int, at_s: float) -> ReadingDensity:
    """What a reading of this bird would say at this moment."""
    return core_density(evidence_of(state), number, at_s)


def bird_prior(state: Cook, command: cmd.BirdReading, at_s: float) -> float:
    """Log density of this reading at this moment, up to a constant."""
    return bird_density(state, command.bird, at_s).log_pdf(celsius(command.temperature))


def grill_prior(state: Cook, command: cmd.GrillReading, at_s: float) -> float:
    """Log density of this grill reading at this moment, up to a constant."""
    return air_density(evidence_of(state), at_s).log_pdf(celsius(command.temperature))


def doubt(state: Cook, command: cmd.BirdReading, at_s: float) -> str | None:
    """Why this reading is hard to believe, or None.

    "too_hot"/"too_cold": no meat can; "falls"/"jumps": against the bird's last
    reading; "far_from_forecast": the forecaster finds it very unlikely;
    "teen_or_ty": it finds the number it is easily misheard for much likelier.
    """
    reading_f = command.temperature
    if reading_f > MEAT_HIGH_F:
        return "too_hot"
    if reading_f < MEAT_LOW_F:
        return "too_cold"
    bird = state.bird(command.bird)
    if bird is None or not bird.has_been_on:
        return None
    if bird.readings:
        against = _against_last(bird, command, at_s)
        if against == "falls" and _agrees_with_a_doubt(bird, command):
            return None
        if against or _is_near_other_spot(bird, command):
            return against
    density = bird_density(state, command.bird, at_s)
    if density.tail_probability(celsius(reading_f)) < UNLIKELY:
        return "far_from_forecast"
    own = density.log_pdf(celsius(reading_f))
    for number in teen_or_ten(command.said.number):
        other_c = celsius(with_number(command, number).temperature)
        if density.log_pdf(other_c) > own + TEEN_NATS:
            return "teen_or_ty"
    return None


def _against_last(bird: Bird, command: cmd.BirdReading, at_s: float) -> str | None:
    """ "falls" or "jumps" against the last reading, of the same spot if there is one."""
    same = [one for one in bird.readings if one.spot == command.spot]
    last = (same or bird.readings)[-1]
    if command.temperature < last.temperature_f - (FALL_F if same else SPOTS_F):
        return "falls"
    minutes = max(0.0, at_s - last.at_s) / 60
    is_small = bird.mass_kg is not None and bird.mass_kg < HEN_KG
    rate = HEN_F_PER_MIN if is_small else RISE_F_PER_MIN
    if command.temperature > last.temperature_f + RISE_F + rate * minutes:
        return "jumps"
    return None


def _agrees_with_a_doubt(bird: Bird, command: cmd.BirdReading) -> bool:
    """It was read again where a fall was doubted: a second look settles it."""
    return any(
        one.spot == command.spot and abs(one.temperature_f - command.temperature) <= FALL_F
        for one in bird.open_doubts
    )


def _is_near_other_spot(bird: Bird, command: cmd.BirdReading) -> bool:
    """It differs from the last reading by no more than two spots of a bird do."""
    last = bird.readings[-1]
    return last.spot != command.spot and abs(command.temperature - last.temperature_f) < SPOTS_F


def better_neighbours(
    state: Cook, command: cmd.BirdReading, at_s: float
) -> tuple[cmd.BirdReading, ...]:
    """Neighbours of a doubted reading that are believable, the likeliest first (at most 1)."""
    if command.said.scale != state.scale:
        return ()
    found = []
    own = bird_prior(state, command, at_s)
    for number in neighbours(command.said.number):
        other = with_number(command, number)
        if doubt(state, other, at_s) is None:
            prior = bird_prior(state, other, at_s)
            if prior > own:
                found.append((prior, number, other))
    return tuple(other for _, _, other in sorted(found, key=lambda one: -one[0])[:1])


def with_number(command: cmd.BirdReading, number: float) -> cmd.BirdReading:
    """The same reading with another spoken number."""
    shift = command.temperature - _in_f(command.said)
    said = cmd.Said(number, command.said.scale)
    return replace(command, temperature=_in_f(said) + shift, said=said)


def _in_f(said: cmd.Said) -> float:
    return from_scale(said.number, said.scale)


def log_prior(state: Cook, command: cmd.Command, now_s: float) -> float:
    """How plausible a command is now, as a log probability up to a constant.

    Readings follow the forecast of that bird or grill; commands that would change
    nothing now (a bird put on that is on, "yes" with no question) are rare, not
    impossible: the choice stays with the sound where it is clear.
    """
    if state.pending is not None:
        if isinstance(command, _ANSWERS) or command in state.pending.options:
            return _ANSWER
        return _BESIDE + log_prior(replace(state, pending=None), command, now_s)
    match command:
        case cmd.BirdReading():
            if not MEAT_LOW_F <= command.temperature <= MEAT_HIGH_F:
                return _RARE
            return _known_bird(state, command.bird) + bird_prior(state, command, now_s)
        case cmd.GrillReading():
            return grill_prior(state, command, now_s)
        case cmd.Yes() | cmd.Choose() | cmd.Number() | cmd.AwayFor():
            return _RARE
        case cmd.No():  # it also takes the last words back
            return _FLAT + _UNLIKELY
        case cmd.ItemDone() | cmd.ItemSkip() | cmd.ItemBack():
            return _FLAT if state.readiness is not None else _RARE
        case _:
            bird = getattr(command, "bird", None)
            known = _known_bird(state, bird) if isinstance(bird, int) else 0.0
            return _FLAT + known + (_UNLIKELY if _is_idle(state, command) else 0.0)


_ANSWERS = cmd.Yes | cmd.No | cmd.Choose | cmd.Number | cmd.AwayFor
_FLAT = math.log(1 / 60)  # a command without a number, among all of them
_RARE = math.log(1e-6)
_UNLIKELY = -4.0
_ANSWER = math.log(1 / 6)  # to an open question, answers are what comes
_BESIDE = math.log(1 / 4)  # anything else then


def _is_idle(state: Cook, command: cmd.Command) -> bool:
    """The command would change nothing now, or cannot be."""
    if isinstance(command, cmd.Question):
        return False
    birds = {bird.number: bird for bird in state.birds}
    match command:
        case cmd.BirdsOn(number):
            some = birds.values() if number is None else [birds[number]] if number in birds else []
            return bool(some) and all(bird.is_on for bird in some)
        case cmd.BirdsOff(number):
            return not any(bird.is_on and number in {None, bird.number} for bird in state.birds)
        case cmd.Sauced(None):
            return not state.cooking
        case cmd.Sauced(number):
            return not any(bird.has_been_on and bird.number == number for bird in state.birds)
        case cmd.LidOn():
            return not state.fire.lid_is_off
        case cmd.LidOff():
            return state.fire.lid_is_off
        case cmd.Acknowledge() | cmd.Snooze():
            return all(one.acknowledged_s is not None for one in state.prompts)
        case cmd.TimerCancel():
            return not state.timers
        case cmd.Wake():
            return not state.asleep
        case cmd.StartCook():
            return state.is_running
        case (
            cmd.BirdReading() | cmd.GrillReading() | cmd.BirdWeight() | cmd.BirdSauce()
            | cmd.FuelAdded() | cmd.WoodAdded() | cmd.FireLit() | cmd.Vents() | cmd.Trouble()
            | cmd.ReadinessStart() | cmd.ItemDone() | cmd.ItemSkip() | cmd.ItemBack()
            | cmd.ServeAt() | cmd.ServeIn() | cmd.Hold() | cmd.TimerSet()
            | cmd.ThermometerCheck() | cmd.Correct() | cmd.Undo() | cmd.Repeat() | cmd.Yes()
            | cmd.No() | cmd.Choose() | cmd.Number() | cmd.EndCook() | cmd.Sleep()
            | cmd.Quieter() | cmd.Louder() | cmd.Hush() | cmd.AwayFor()
        ):  # fmt: skip
            return False


def _known_bird(state: Cook, number: int) -> float:
    """0 for one of tonight's birds, a penalty beyond them."""
    return 0.0 if number <= (state.tonight or MOST_BIRDS) else -5.0
