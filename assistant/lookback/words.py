"""What a past cook teaches, in plain sentences, and what must not be concluded from it."""

from itertools import pairwise

from assistant.cook.planning.plan import carve_s, rest_s
from assistant.cook.rules.due_dinner import planned
from assistant.cook.state import Bird, Cook
from assistant.cook.vocabulary import events as ev
from assistant.heat.bird.evidence import Span
from assistant.lookback.facts import Evening
from assistant.lookback.phrases import clock, degrees, minutes, span
from assistant.lookback.scores import scored, summary
from assistant.lookback.stages import called

REST_S = 10 * 60.0  # the least rest a bird wants before it is carved; common practice, no source
GOOD_S, LONG_S = 30 * 60.0, 75 * 60.0  # a good rest and carving; longer, and they wait
GAP_S = 45 * 60.0  # unread for longer than this is flying blind
LID_SHARE = 0.10  # of the roasting time
BIAS_S = 5 * 60.0


def lessons(evening: Evening) -> tuple[str, ...]:
    """One paragraph, sentence by sentence: how it went and what to do differently."""
    found = [_dinner(evening), _fire(evening.cook), _readings(evening), _lid(evening)]
    found += [_prompts(evening)]
    return tuple(one for one in found if one)


def _roasting(evening: Evening) -> Span | None:
    """From the first bird on to the last off (or the end)."""
    spans = [one for bird in evening.cook.birds for one in bird.on_heat]
    if not spans:
        return None
    ends = [evening.ended_s if one.end_s is None else one.end_s for one in spans]
    return Span(min(one.start_s for one in spans), max(ends))


def _dinner(evening: Evening) -> str:
    roasting, cook = _roasting(evening), evening.cook
    if roasting is None or roasting.end_s is None:
        return "No bird went on the spit in this cook."
    took = span(roasting.end_s - roasting.start_s)
    off = clock(roasting.end_s, cook)
    if cook.serve_s is None:
        return f"The last bird came off at {off}, {took} after the first went on."
    spare_s = cook.serve_s - roasting.end_s
    told = f"The last bird came off at {off}, {took} after the first went on"
    if spare_s < 0:
        return (
            f"{told}, {minutes(-spare_s)} after the time set for dinner: put the birds on "
            f"about {minutes(_to_table_s(cook) - spare_s)} earlier next time, to rest and"
            " carve too."
        )
    if spare_s < REST_S:
        return f"{told}, which left {minutes(spare_s)} to rest and carve: start a little earlier."
    if spare_s > LONG_S:
        return (
            f"{told} and {span(spare_s)} before dinner: put the birds on about "
            f"{span(spare_s - GOOD_S)} later next time."
        )
    return f"{told} and {minutes(spare_s)} before dinner, time enough to rest and carve."


def _to_table_s(cook: Cook) -> float:
    """Rest and carving, as the plan counts them."""
    birds = [planned(bird) for bird in cook.birds if bird.has_been_on]
    return rest_s(birds) + carve_s(birds)


def _fire(cook: Cook) -> str:
    fire = cook.fire
    if not fire.readings:
        return "The grill was never read; two or three grill readings narrow every forecast."
    low = [one for one in fire.readings if one.temperature_f < fire.band_low_f]
    high = [one for one in fire.readings if one.temperature_f > fire.band_high_f]
    count = len(fire.readings)
    if not low and not high:
        times = "once" if count == 1 else f"{count} times"
        return f"The grill was read {times} and was always in its band."
    parts = []
    if low:
        worst = min(low, key=lambda one: one.temperature_f)
        parts.append(
            f"below its band in {len(low)} of {count} readings (lowest "
            f"{degrees(worst.temperature_f, cook)} at {clock(worst.at_s, cook)}): add charcoal "
            "some fifteen minutes before that, or open the bottom vent sooner"
        )
    if high:
        worst = max(high, key=lambda one: one.temperature_f)
        parts.append(
            f"above its band in {len(high)} of {count} readings (highest "
            f"{degrees(worst.temperature_f, cook)} at {clock(worst.at_s, cook)}): close the "
            "bottom vent a little sooner"
        )
    return f"The grill was {'; it was '.join(parts)}."


def _readings(evening: Evening) -> str:
    worst: tuple[float, Bird] | None = None
    for bird in evening.cook.birds:
        if not bird.has_been_on:
            continue
        times = [bird.on_heat[0].start_s, *(one.at_s for one in bird.readings)]
        times.append(bird.on_heat[-1].end_s or evening.ended_s)
        gap_s = max((after - before for before, after in pairwise(times[1:])), default=0.0)
        if gap_s > GAP_S and (worst is None or gap_s > worst[0]):
            worst = (gap_s, bird)
    if worst is None:
        return ""
    gap_s, bird = worst
    return f"Bird {bird.number} went {minutes(gap_s)} without a reading; one look in between helps."


def _lid(evening: Evening) -> str:
    roasting = _roasting(evening)
    if roasting is None or roasting.end_s is None or roasting.end_s <= roasting.start_s:
        return ""
    start_s, end_s = roasting.start_s, roasting.end_s
    open_s = sum(
        max(0.0, min(one.end_s or evening.ended_s, end_s) - max(one.start_s, start_s))
        for one in evening.cook.fire.lid_open
    )
    if open_s < LID_SHARE * (roasting.end_s - roasting.start_s):
        return ""
    return f"The lid was off for {minutes(open_s)} of the roast; shorter looks keep the fire up."


def _prompts(evening: Evening) -> str:
    prompts = called(evening)
    late = [one for one in prompts if one.urgency == "now" and not one.answered]
    if not late:
        return ""
    calls = "call" if len(late) == 1 else "calls"
    return (
        f"{len(late)} urgent {calls} went unanswered, the first at "
        f"{clock(late[0].at_s, evening.cook)} ({late[0].what}); say what was done, or got it."
    )


def held(evening: Evening) -> str:
    """How many forecasts held what happened, and which way they ran."""
    scores = scored(evening)
    if not scores:
        return "No forecast can be scored: a mark must be read from below and then from above."
    found = summary(scores)
    told = f"{found.inside:.0%} of {found.count} forecasts held what happened in their 80 % range"
    if found.bias_s is None or abs(found.bias_s) < BIAS_S:
        return f"{told}."
    way = "late" if found.bias_s > 0 else "early"
    return f"{told}; they ran {minutes(abs(found.bias_s))} {way} on average."


def cautions(evening: Evening) -> tuple[str, ...]:
    """Where the chain of readings was incomplete, and what always holds."""
    found = [one for bird in evening.cook.birds if (one := _bird_caution(bird, evening.cook))]
    checked = any(isinstance(one.event, ev.ThermometerChecked) for one in evening.recorded)
    if not checked and any(bird.readings for bird in evening.cook.birds):
        found.append(
            "The thermometer was not checked in ice or boiling water in this cook; its readings "
            "are taken as they were said."
        )
    found.append(
        "A forecast is not a reading. Public guidance asks for 165 F at the coldest spot of "
        "poultry, read with a thermometer; this page says what was read and where, never that "
        "food is safe. Local codes and licensed practice come first."
    )
    return tuple(found)


def _bird_caution(bird: Bird, cook: Cook) -> str:
    if not bird.has_been_on:
        return ""
    mark = degrees(bird.done_mark_f, cook)
    if not bird.readings:
        return f"Bird {bird.number} was never read."
    if not bird.is_done:
        coldest_f = bird.coldest_f()
        assert coldest_f is not None
        return (
            f"The last readings of bird {bird.number} do not show it at {mark}: "
            f"the coldest spot read was {degrees(coldest_f, cook)}."
        )
    if len({one.spot for one in bird.readings}) < 2:
        return (
            f"Bird {bird.number} was read in one kind of spot only; breast and thigh both tell "
            "where it is coldest."
        )
    return ""
