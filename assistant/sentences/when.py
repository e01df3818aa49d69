"""When it is done: of one bird, of all, or by the plan."""

from assistant.cook.clocktimes import clock_text
from assistant.cook.planning.plan import Plan
from assistant.cook.rules.due_dinner import standing_of
from assistant.cook.rules.finish import spots_to_read
from assistant.cook.rules.waiting import sauce_is_due
from assistant.cook.state import Cook
from assistant.cook.vocabulary import answers as ans
from assistant.heat.bird.evidence import Quantiles
from assistant.sentences.ahead import ahead
from assistant.sentences.lifting import none_left, off_already
from assistant.sentences.phrasing import about, listed


def when(rows: tuple[ans.WhenRow, ...], state: Cook, *, everyone: bool) -> str:
    """When birds are done: of one, or of all with the dinner that makes."""
    stands = standing_of(state) if everyone else None
    if len(rows) == 1 and stands is None:
        return _one_when(rows[0], state)
    left = [row for row in rows if not _is_off_for_good(row, state)]
    if not left:
        return none_left(state)
    if stands is None:
        return " ".join(_brief_when(row, state) for row in rows)
    off = listed(_off_at(row, state) for row in left)
    return f"Dinner {about(stands.table, state.zone)}. Off: {off}."


def _is_off_for_good(row: ans.WhenRow, state: Cook) -> bool:
    bird = state.bird(row.bird)
    return bird is not None and not bird.is_on and (bird.is_done or bird.off_for_good)


def _read_its_mark(row: ans.WhenRow, state: Cook) -> str:
    """A bird at its mark, with the spot nobody has read there."""
    bird = state.bird(row.bird)
    unread = spots_to_read(bird) if bird is not None else ()
    return f"Bird {row.bird} has read its mark" + (
        f" at one spot. Now the {listed(unread)}." if unread else "."
    )


def _off_at(row: ans.WhenRow, state: Cook) -> str:
    """A bird and when it is likely off, without its spread."""
    done = row.forecast.done.q50
    if row.is_done:
        return f"bird {row.bird} now"
    return f"bird {row.bird} {clock_text(done, state.zone) if done else 'not in sight'}"


def planned(timetable: Plan, state: Cook) -> str:
    """The plan, while nothing is on the spit; moved, where the fire came too late for it."""
    on, off = timetable.moment("birds_on"), timetable.moments_of("off")
    assert on is not None
    stands = standing_of(state)
    late_s = 0.0 if stands is None else max(0.0, stands.late_s)
    last = max(off, key=lambda one: one.likely_s)
    times = Quantiles(last.early_s + late_s, last.likely_s + late_s, last.late_s + late_s)
    off_at, table = about(times, state.zone), clock_text(timetable.serve_s + late_s, state.zone)
    if late_s > 0.0:
        return f"Birds on as soon as the grill is ready, off {off_at}. Dinner about {table}."
    on_at = clock_text(on.likely_s, state.zone)
    return f"By the plan birds on at {on_at}, off {off_at}. Dinner at {table}."


def _one_when(row: ans.WhenRow, state: Cook) -> str:
    forecast = row.forecast
    name = f"Bird {row.bird}"
    if _is_off_for_good(row, state):
        return off_already(row.bird, state)
    if row.is_done:
        return _read_its_mark(row, state)
    if _is_off(row, state):
        return f"{name} is off. Back on now, done {about(forecast.done, state.zone)}."
    done = about(forecast.done, state.zone)
    bird = state.bird(row.bird)
    if bird is not None and bird.is_on and sauce_is_due(bird):
        return f"{ahead(bird, state) or f'{name}: sauce now.'} Done {done}."
    if row.mark == "sauce" and forecast.sauce.q50 is not None:
        sauce = clock_text(forecast.sauce.q50, state.zone)
        return f"{name}: sauce about {sauce}, done {done}."
    return f"{name} done {done}."


def _brief_when(row: ans.WhenRow, state: Cook) -> str:
    if _is_off_for_good(row, state):
        return off_already(row.bird, state)
    if row.is_done:
        return _read_its_mark(row, state)
    back = " is off; back on now," if _is_off(row, state) else ""
    return f"Bird {row.bird}{back} {about(row.forecast.done, state.zone)}."


def _is_off(row: ans.WhenRow, state: Cook) -> bool:
    bird = state.bird(row.bird)
    return bird is not None and not bird.is_on
