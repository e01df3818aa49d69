"""Answers to questions, as facts for a sentence. Pure."""

from math import inf

from assistant.cook import commands as cmd
from assistant.cook.decision import Decision, Refuse, Tell
from assistant.cook.dinner import plan_of
from assistant.cook.forecasts import celsius, evidence_of, evidence_time, forecast_of
from assistant.cook.prompts import prompts
from assistant.cook.standing import pull_order
from assistant.cook.state import Bird, Cook
from assistant.heat.bird.evidence import BirdForecast, Quantiles
from assistant.heat.bird.forecast import what_if

FRESH_S = 180.0  # "why" this soon after a prompt asks about the prompt


def answer(state: Cook, command: cmd.Command, now_s: float) -> Decision | None:
    """The answer to a question; None if the command is none."""
    match command:
        case cmd.AskWhen(number):
            return _when(state, number, now_s)
        case cmd.AskNext():
            coming = [
                one for one in prompts(state) if one.due_s >= now_s or not _said(state, one.key)
            ]
            return Tell("next", {"prompts": tuple(coming[:2]), "now_s": now_s, "zone": state.zone})
        case cmd.AskElapsed():
            return _elapsed(state, now_s)
        case cmd.AskLast(number):
            return _last(state, number, now_s)
        case cmd.AskFire():
            return _fire(state, now_s)
        case cmd.AskSauce(number):
            birds = tuple(bird for bird in state.birds if number in {None, bird.number})
            return Tell("sauces", {"birds": birds}) if birds else Refuse("no_birds")
        case cmd.AskLeft():
            return Tell("left", {"birds": _pull_order(state)})
        case cmd.AskWhy(number):
            return _why(state, number, now_s)
        case cmd.AskHeard():
            return Tell("heard", {"words": state.last_heard})
        case cmd.AskHelp():
            return Tell("help", {"state": state})
        case cmd.AskWhatIf(temperature):
            return _what_if(state, temperature, now_s)
        case _:
            return None


def _said(state: Cook, key: str) -> bool:
    return any(one.key == key and one.said_s for one in state.prompts)


def waiting_for(bird: Bird) -> cmd.Mark:
    """The mark a bird comes to next."""
    coldest = bird.coldest_f()
    past_sauce = coldest is not None and coldest >= bird.sauce_mark_f
    return "done" if bird.is_plain or bird.sauced_s or past_sauce else "sauce"


def _when(state: Cook, number: int | None, now_s: float) -> Decision:
    if number is not None and state.bird(number) is None:
        return Refuse("unknown_bird", {"bird": number})
    forecast = forecast_of(state)
    if forecast is None:
        timetable = plan_of(state)
        return Refuse("not_on_yet") if timetable is None else Tell("planned", {"plan": timetable})
    rows = []
    for bird in state.birds:
        if number not in {None, bird.number} or not bird.has_been_on:
            continue
        one = _forecast_for(forecast.birds, bird.number)
        if one is not None:
            rows.append({"bird": bird.number, "mark": waiting_for(bird), "forecast": one,
                         "done": bird.is_done})  # fmt: skip
    if not rows:
        return Refuse("not_on_yet")
    return Tell("when", {"rows": tuple(rows), "now_s": now_s, "zone": state.zone})


def _forecast_for(forecasts: tuple[BirdForecast, ...], number: int) -> BirdForecast | None:
    return next((one for one in forecasts if one.number == number), None)


def _elapsed(state: Cook, now_s: float) -> Decision:
    on_s = min((bird.on_heat[0].start_s for bird in state.birds if bird.on_heat), default=None)
    since = "birds_on" if on_s is not None else "began"
    start_s = on_s if on_s is not None else state.began_s
    if start_s is None:
        return Refuse("not_on_yet")
    return Tell("elapsed", {"since": since, "seconds": now_s - start_s})


def _last(state: Cook, number: int | None, now_s: float) -> Decision:
    readings = [
        (one.at_s, bird.number, one, one in bird.open_doubts)
        for bird in state.birds
        if number in {None, bird.number}
        for one in (*bird.readings, *bird.open_doubts)
    ]
    if not readings:
        return Refuse("no_reading", {"bird": number})
    at_s, bird_number, reading, doubted = max(readings, key=lambda one: (one[0], one[2].seq))
    facts = {"bird": bird_number, "reading": reading, "age_s": now_s - at_s, "doubted": doubted}
    return Tell("last", facts)


def _fire(state: Cook, now_s: float) -> Decision:
    fire = state.fire
    reading = fire.readings[-1] if fire.readings else None
    fed_s = max((one.at_s for one in fire.fuel), default=fire.lit_s)
    facts: dict[str, object] = {"reading": reading, "fire": fire, "now_s": now_s, "fed_s": fed_s}
    return Tell("fire", facts)


def _pull_order(state: Cook) -> tuple[int, ...]:
    """Birds still cooking, the one expected off first in front."""
    forecast = forecast_of(state)
    done_s = {one.number: one.done.q50 for one in forecast.birds} if forecast is not None else {}
    known = ((bird.number, done_s.get(bird.number)) for bird in state.cooking)
    return pull_order([(number, inf if at_s is None else at_s) for number, at_s in known])


def _why(state: Cook, number: int | None, now_s: float) -> Decision:
    """Why the last prompt, while it is fresh; else what a bird's spread comes from."""
    if number is None:
        said = [one for one in state.prompts if one.said_s and now_s - one.said_s[-1] < FRESH_S]
        if said:
            kind, *rest = max(said, key=lambda one: one.said_s[-1]).key.split(":")
            return Tell("why_prompt", {"kind": kind, "key": tuple(rest)})
    forecast = forecast_of(state)
    if forecast is None:
        return Refuse("not_on_yet")
    numbers = [number] if number else [one.number for one in state.cooking]
    rows = tuple(one for one in forecast.birds if one.number in numbers)
    return Tell("why", {"rows": rows, "now_s": now_s}) if rows else Refuse("not_on_yet")


def _what_if(state: Cook, temperature_f: float | None, now_s: float) -> Decision:
    evidence = evidence_of(state)
    as_of_s, before = evidence_time(evidence), forecast_of(state)
    if as_of_s is None or before is None:
        return Refuse("not_on_yet")
    if temperature_f is None:
        after = what_if(evidence, now_s, off_s=600.0)
    else:
        after = what_if(evidence, now_s, air_c=celsius(temperature_f))
    rows = []
    for bird in state.cooking:
        old, new = _forecast_for(before.birds, bird.number), _forecast_for(after.birds, bird.number)
        if old and new:
            rows.append(
                {"bird": bird.number, "later_s": _later(old.done, new.done), "done": new.done}
            )
    return Tell("what_if", {"temperature": temperature_f, "rows": tuple(rows), "zone": state.zone})


def _later(old: Quantiles, new: Quantiles) -> float | None:
    return None if old.q50 is None or new.q50 is None else new.q50 - old.q50
