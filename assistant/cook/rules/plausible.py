"""What makes sense now: limits no meat can cross, and neighbours easily misheard. Pure."""

from dataclasses import replace

from assistant.cook.kinds import kind_of
from assistant.cook.rules.forecasts import evidence_of
from assistant.cook.state import Bird, Cook
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
WARM_F = 70.0  # no bird goes on warmer: it has lain on the table
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
    if any(one.at_s > at_s for one in bird.readings):  # told later than others: as of then
        if _is_above_later(bird, command, at_s):
            return "jumps"
        state = _as_of(state, at_s)
        return doubt(state, command, at_s)
    if bird.readings:
        against = _against_last(bird, command, at_s)
        if against == "falls" and _agrees_with_a_doubt(bird, command):
            return None
        if against or _is_near_other_spot(bird, command):
            return against
    elif reading_f > WARM_F + RISE_F + _fastest(bird) * (at_s - bird.on_heat[0].start_s) / 60:
        return "far_from_forecast"
    density = bird_density(state, command.bird, at_s)
    if density.tail_probability(celsius(reading_f)) < UNLIKELY:
        return "far_from_forecast"
    own = density.log_pdf(celsius(reading_f))
    for number in teen_or_ten(command.said.number):
        other_c = celsius(with_number(command, number).temperature)
        if density.log_pdf(other_c) > own + TEEN_NATS:
            return "teen_or_ty"
    return None


def _is_above_later(bird: Bird, command: cmd.BirdReading, at_s: float) -> bool:
    """A later reading of the same spot was colder than this one."""
    later = [one for one in bird.readings if one.at_s > at_s and one.spot == command.spot]
    return bool(later) and command.temperature > later[0].temperature_f + FALL_F


def _as_of(state: Cook, at_s: float) -> Cook:
    """The state without the readings of birds that came later."""
    birds = (
        replace(bird, readings=tuple(one for one in bird.readings if one.at_s <= at_s))
        for bird in state.birds
    )
    return replace(state, birds=tuple(birds))


def _against_last(bird: Bird, command: cmd.BirdReading, at_s: float) -> str | None:
    """ "falls" or "jumps" against the last reading, of the same spot if there is one."""
    same = [one for one in bird.readings if one.spot == command.spot]
    last = (same or bird.readings)[-1]
    if command.temperature < last.temperature_f - (FALL_F if same else SPOTS_F):
        return "falls"
    minutes = max(0.0, at_s - last.at_s) / 60
    if command.temperature > last.temperature_f + RISE_F + _fastest(bird) * minutes:
        return "jumps"
    return None


def _fastest(bird: Bird) -> float:
    """F a minute, faster than which its core cannot rise."""
    mass_kg = bird.mass_kg or kind_of(bird.kind).typical_kg
    return HEN_F_PER_MIN if mass_kg < HEN_KG else RISE_F_PER_MIN


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
