"""Answers to questions, as facts for a sentence. Pure."""

from math import inf

from assistant.cook.rules.decision import Decision
from assistant.cook.rules.due import prompts
from assistant.cook.rules.due_dinner import plan_of
from assistant.cook.rules.forecasts import evidence_of, evidence_time, forecast_of
from assistant.cook.rules.standing import pull_order
from assistant.cook.rules.waiting import next_mark
from assistant.cook.state import Cook, PromptRecord
from assistant.cook.vocabulary import answers as ans
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import refusals as no
from assistant.cook.vocabulary.prompts import Key, Prompt
from assistant.heat.bird.evidence import BirdForecast, Quantiles
from assistant.heat.bird.forecast import what_if
from assistant.heat.degrees import celsius

_RANK = ("now", "soon", "convenient")
NEWS = {"dinner"}  # told, nothing to be done
# No fact ever tells that these are done.
HEARD_IS_DONE = {"timer", "keep_hot", "carve", "chill", "coat", "stuck", "vents", "doubt"}
FRESH_S = 180.0  # "why" this soon after a prompt asks about the prompt


def answer(state: Cook, command: cmd.Question, now_s: float) -> Decision:
    """The answer to a question."""
    match command:
        case cmd.AskWhen(number):
            return _when(state, number)
        case cmd.AskNext():
            return _next(state, now_s)
        case cmd.AskStatus():
            return ans.Status(_next(state, now_s))
        case cmd.AskElapsed():
            return _elapsed(state, now_s)
        case cmd.AskLast(number):
            return _last(state, number, now_s)
        case cmd.AskFire():
            return _fire(state, now_s)
        case cmd.AskSauce(number):
            birds = tuple(bird for bird in state.birds if number in {None, bird.number})
            return ans.Sauces(birds) if birds else no.NoBirds()
        case cmd.AskLeft():
            return ans.BirdsLeft(_pull_order(state))
        case cmd.AskWhy(number):
            return _why(state, number, now_s)
        case cmd.AskHeard():
            return ans.WordsBack(state.last_heard)
        case cmd.AskHelp():
            return ans.Help()
        case cmd.AskLeftovers():
            return ans.Leftovers()
        case cmd.AskTime():
            return ans.TimeOfDay(now_s)
        case cmd.AskWhatIf(temperature):
            return _what_if(state, temperature, now_s)


def _next(state: Cook, now_s: float) -> ans.Next:
    """What was called and is not done, and what comes."""
    records = {one.key: one for one in state.prompts}
    waits, coming = [], []
    for one in prompts(state):
        record = records.get(one.key, PromptRecord(one.key))
        if not record.said_s:
            coming.append(one)
        elif not record.done and not (one.kind in NEWS or _is_settled(one, record)):
            waits.append(one)
    last = {one.bird for one in waits if one.kind == "sauce_last"}
    waits = [one for one in waits if one.kind != "sauce" or one.bird not in last]
    waits.sort(key=lambda one: (_RANK.index(one.urgency), one.due_s))
    coming.sort(key=lambda one: (max(one.due_s, now_s), _RANK.index(one.urgency)))
    return ans.Next(tuple(coming), now_s, tuple(waits))


def _is_settled(prompt: Prompt, record: PromptRecord) -> bool:
    """Whether "got it" was all there was to do: nothing else would tell."""
    return record.acknowledged_s is not None and prompt.kind in HEARD_IS_DONE


def _when(state: Cook, number: int | None) -> Decision:
    if number is not None and state.bird(number) is None:
        return no.UnknownBird(number)
    forecast = forecast_of(state)
    if forecast is None:
        timetable = plan_of(state)
        return no.NotOnYet() if timetable is None else ans.Planned(timetable)
    rows = []
    for bird in state.birds:
        if number not in {None, bird.number} or not bird.has_been_on:
            continue
        if number is None and bird.is_pulled and state.cooking:
            continue  # off already; of others there is more to say
        one = _forecast_for(forecast.birds, bird.number)
        if one is not None:
            rows.append(ans.WhenRow(bird.number, next_mark(bird), one, bird.is_done))
    if not rows:
        return no.NotOnYet()
    return ans.When(tuple(rows), everyone=number is None and len(state.birds) > 1)


def _forecast_for(forecasts: tuple[BirdForecast, ...], number: int) -> BirdForecast | None:
    return next((one for one in forecasts if one.number == number), None)


def _elapsed(state: Cook, now_s: float) -> Decision:
    on_s = min((bird.on_heat[0].start_s for bird in state.birds if bird.on_heat), default=None)
    if on_s is not None:
        return ans.Elapsed("birds_on", now_s - on_s)
    if state.began_s is None:
        return no.NotOnYet()
    return ans.Elapsed("began", now_s - state.began_s)


def _last(state: Cook, number: int | None, now_s: float) -> Decision:
    readings = [
        (one.at_s, bird.number, one, one in bird.open_doubts)
        for bird in state.birds
        if number in {None, bird.number}
        for one in (*bird.readings, *bird.open_doubts)
    ]
    if not readings:
        return no.NoReading(number)
    at_s, bird_number, reading, doubted = max(readings, key=lambda one: (one[0], one[2].seq))
    return ans.LastReading(bird_number, reading, now_s - at_s, doubted)


def _fire(state: Cook, now_s: float) -> Decision:
    fire = state.fire
    reading = fire.readings[-1] if fire.readings else None
    fed_s = max((one.at_s for one in fire.fuel), default=fire.lit_s)
    return ans.FireStands(reading, fed_s, now_s)


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
            last = max(said, key=lambda one: one.said_s[-1])
            return ans.WhyPrompt(Key.read(last.key).kind)
    forecast = forecast_of(state)
    if forecast is None:
        return no.NotOnYet()
    numbers = [number] if number else [one.number for one in state.cooking]
    rows = tuple(one for one in forecast.birds if one.number in numbers)
    return ans.WhySpread(rows) if rows else no.NotOnYet()


def _what_if(state: Cook, temperature_f: float | None, now_s: float) -> Decision:
    evidence = evidence_of(state)
    as_of_s, before = evidence_time(evidence), forecast_of(state)
    if as_of_s is None or before is None:
        return no.NotOnYet()
    if temperature_f is None:
        after = what_if(evidence, now_s, off_s=600.0)
    else:
        after = what_if(evidence, now_s, air_c=celsius(temperature_f))
    rows = []
    for bird in state.cooking:
        old, new = _forecast_for(before.birds, bird.number), _forecast_for(after.birds, bird.number)
        if old and new:
            rows.append(ans.Change(bird.number, _later(old.done, new.done)))
    return ans.WhatIf(temperature_f, tuple(rows))


def _later(old: Quantiles, new: Quantiles) -> float | None:
    return None if old.q50 is None or new.q50 is None else new.q50 - old.q50
