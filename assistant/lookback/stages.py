"""Past stages against the plan, prompts against deeds, and what had to be mended."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from assistant.cook.planning.plan import Grill, plan
from assistant.cook.rules.due_dinner import planned
from assistant.cook.state import Bird, Cook
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.prompts import Key
from assistant.heat.bird.evidence import Quantiles
from assistant.lookback.facts import Evening, Foreseen, quantiles_of
from assistant.lookback.phrases import degrees, event_words, minutes, prompt_words

ONLY_TOLD = {"dinner", "keep_hot", "carve", "chill"}  # nothing to be recorded follows
ANSWER_S = 15 * 60.0  # a deed later than this no longer answers a prompt


@dataclass(frozen=True, slots=True)
class Stage:
    """A moment of the plan against the clock. Epoch seconds; `actual_s` None: never."""

    what: str
    early_s: float
    likely_s: float
    late_s: float
    actual_s: float | None


def stages(evening: Evening) -> tuple[Stage, ...]:
    """The plan back from the serving time, as it could have been made with all weights
    known, against what was recorded; empty without a serving time or birds."""
    cook = evening.cook
    birds = [bird for bird in cook.birds if bird.has_been_on]
    if cook.serve_s is None or not birds:
        return ()
    grill = Grill(outside_f=cook.outside_f, kitchen=cook.kitchen, heat=cook.heat)
    try:
        timetable = plan(cook.serve_s, [planned(bird) for bird in birds], grill)
    except ValueError:  # a bird so large that no plan can be made
        return ()
    found = []
    for moment in timetable.moments:
        for what, actual_s in _actual(moment.what, moment.birds, cook):
            found.append(Stage(what, moment.early_s, moment.likely_s, moment.late_s, actual_s))
    return tuple(found)


def _actual(what: str, numbers: tuple[int, ...], cook: Cook) -> list[tuple[str, float | None]]:
    """What is told of a planned moment, and when it really was."""
    birds = [bird for number in numbers if (bird := cook.bird(number)) is not None]
    match what:
        case "light":
            return [("charcoal lit", cook.fire.lit_s)]
        case "settled":
            inside = (
                one.at_s
                for one in cook.fire.readings
                if cook.fire.band_low_f <= one.temperature_f <= cook.fire.band_high_f
            )
            return [("grill read in its band", min(inside, default=None))]
        case "birds_on":
            return [(f"bird {one.number} on", one.on_heat[0].start_s) for one in birds]
        case "first_look":
            return [(f"bird {one.number} first read", _first_read(one)) for one in birds]
        case "sauce":
            return [(f"bird {one.number} sauced", min(one.sauced_s, default=None)) for one in birds]
        case "off":
            return [(f"bird {one.number} off, done", _off(one)) for one in birds]
        case _:
            return []


def _first_read(bird: Bird) -> float | None:
    return bird.readings[0].at_s if bird.readings else None


def _off(bird: Bird) -> float | None:
    return bird.on_heat[-1].end_s if bird.is_done else None


@dataclass(frozen=True, slots=True)
class Stretch:
    """How long something took, seconds, and what was expected when it began."""

    what: str
    took_s: float
    expected_s: Quantiles | None = None


def stretches(evening: Evening) -> tuple[Stretch, ...]:
    """Roasting times of each bird against the forecast made when it went on, and the
    time it was off the heat in between."""
    found = []
    for bird in evening.cook.birds:
        if not bird.has_been_on:
            continue
        on_s = bird.on_heat[0].start_s
        first = _first_forecast(evening.foreseen, bird.number)
        for mark in ("sauce", "done"):
            reached = evening.reached_by(bird.number, mark)
            if reached is not None and reached.at_s > on_s:  # read before it was said to be on
                times = quantiles_of(first.forecast, bird.number, mark) if first else None
                what = f"bird {bird.number}: on to {mark} mark"
                found.append(Stretch(what, reached.at_s - on_s, _since(times, on_s)))
        gaps = [
            after.start_s - before.end_s for before, after in pairwise(bird.on_heat) if before.end_s
        ]
        if gaps:
            found.append(Stretch(f"bird {bird.number}: off the heat", sum(gaps)))
    return tuple(found)


def _first_forecast(foreseen: Sequence[Foreseen], bird: int) -> Foreseen | None:
    for one in foreseen:
        times = quantiles_of(one.forecast, bird, "done")
        if times is not None and times.q50 is not None:
            return one
    return None


def _since(times: Quantiles | None, start_s: float) -> Quantiles | None:
    if times is None:
        return None
    return Quantiles(
        *(None if each is None else each - start_s for each in (times.q10, times.q50, times.q90))
    )


@dataclass(frozen=True, slots=True)
class Called:
    """A prompt that was called out, and what was done about it."""

    at_s: float
    what: str
    urgency: str
    answer: str
    answered: bool
    key: str = ""


def called(evening: Evening) -> tuple[Called, ...]:
    """All prompts in order."""
    found = []
    for place, entry in enumerate(evening.recorded):
        if isinstance(entry.event, ev.PromptSaid):
            answer = _answer(entry, evening.recorded[place + 1 :])
            if answer is None and Key.read(entry.event.key).kind in ONLY_TOLD:
                answer = "told"
            found.append(
                Called(
                    entry.at_s,
                    prompt_words(entry.event.key),
                    entry.event.urgency,
                    answer or "nothing recorded",
                    answer is not None,
                    entry.event.key,
                )
            )
    return tuple(found)


def _answer(said: ev.Recorded, later: Sequence[ev.Recorded]) -> str | None:
    assert isinstance(said.event, ev.PromptSaid)
    key = said.event.key
    for entry in later:
        after_s = entry.at_s - said.at_s
        if after_s > ANSWER_S:
            return None
        match entry.event:
            case ev.PromptAcknowledged(keys) if key in keys:
                return f"acknowledged after {minutes(after_s)}"
            case ev.PromptSnoozed(keys) if key in keys:
                return f"put off after {minutes(after_s)}"
            case event if _answers(event, key):
                return f"done after {minutes(after_s)}"
            case _:
                continue
    return None


def _answers(event: ev.Event, key: str) -> bool:
    """The event is the deed that the prompt asked for."""
    asked = Key.read(key)
    deeds = _DEEDS.get(asked.kind, ())
    if not isinstance(event, deeds):
        return False
    bird = getattr(event, "bird", None)
    return bird is None or asked.bird is None or asked.bird == bird


# What answers a prompt, by the kind its key begins with; the rest only tell something.
_DEEDS: dict[str, tuple[type, ...]] = {
    "look": (ev.BirdRead,), "stuck": (ev.BirdRead,), "take_off": (ev.BirdOff,),
    "sauce": (ev.BirdSauced, ev.BirdOff), "sauce_last": (ev.BirdSauced, ev.BirdOff),
    "coat": (ev.BirdSauced, ev.BirdOff), "back_on": (ev.BirdOn,), "birds_on": (ev.BirdOn,),
    "refuel": (ev.FuelPut,), "lid": (ev.LidClosed,), "vents": (ev.VentsSet,),
    "grill": (ev.GrillRead,), "light": (ev.FireStarted,), "readiness": (ev.ReadinessMoved,),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Mended:
    """Something heard or said wrong, and what became of it."""

    at_s: float
    first: str
    then: str


def mended(evening: Evening) -> tuple[Mended, ...]:
    """Corrections, undos, questions asked back and words not understood, in order."""
    by_seq = {entry.seq: entry for entry in evening.recorded}
    found = []
    for place, entry in enumerate(evening.recorded):
        match entry.event:
            case ev.Corrected(target, temperature) if target in by_seq:
                was = by_seq[target]
                then = f"corrected to {degrees(temperature, evening.cook)}"
                found.append(_mended(entry, was, then, evening.cook))
            case ev.Undone(target) if target in by_seq:
                found.append(_mended(entry, by_seq[target], "taken back", evening.cook))
            case ev.AskedBack(_, why):
                then = _settled(evening.recorded[place + 1 :], evening.cook)
                words = _words_before(evening.recorded[:place])
                found.append(Mended(entry.at_s, words, f"asked back ({_why(why)}), {then}"))
            case ev.WordsHeard(words, _, "refuse"):
                found.append(Mended(entry.at_s, f'"{words}"', "not understood, nothing recorded"))
            case _:
                continue
    return tuple(found)


def _mended(entry: ev.Recorded, was: ev.Recorded, then: str, cook: Cook) -> Mended:
    later = f"{then} {minutes(entry.at_s - was.at_s)} later"
    return Mended(entry.at_s, event_words(was.event, cook), later)


def _why(why: str) -> str:
    return why.replace("_", " ")


def _words_before(earlier: Sequence[ev.Recorded]) -> str:
    for entry in reversed(earlier):
        if isinstance(entry.event, ev.WordsHeard):
            return f'"{entry.event.words}"'
    return "something"


def _settled(later: Sequence[ev.Recorded], cook: Cook) -> str:
    """What an open question ended with."""
    for place, entry in enumerate(later):
        if isinstance(entry.event, ev.AskBackClosed):
            together = [one for one in later[place + 1 :] if one.at_s == entry.at_s]
            facts = [one.event for one in together if not isinstance(one.event, ev.WordsHeard)]
            if facts and isinstance(facts[0], ev.BirdRead | ev.GrillRead | ev.FuelPut):
                return f"settled as: {event_words(facts[0], cook)}"
            return f"closed: {entry.event.answer}"
        if isinstance(entry.event, ev.AskedBack):
            break
    return "never answered"
