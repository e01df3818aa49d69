"""Cooks side by side: weights, times, grill, how good the forecasts were.

Forecasting an old cook again takes seconds, so its scores are kept in the
journal's settings with the number of events they rest on.
"""

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from statistics import fmean
from typing import Any

from assistant.cook.rules.fold import fold
from assistant.cook.state import Bird, Cook
from assistant.journal.errors import DamagedJournalError, JournalError
from assistant.journal.jsonl import Imported, bring_in
from assistant.journal.learning import STARTED_WITH, Reads, Writes, choices, relearn, start_of
from assistant.journal.reader import CookInfo
from assistant.journal.store import Journal
from assistant.lookback.facts import MARKS, evening, reached_mark
from assistant.lookback.scores import Scored, scored, summary

SCORES = "scores of cook "
FORMAT = 3  # of the kept scores; another number has them computed again


@dataclass(frozen=True, slots=True)
class PastBird:
    """One bird: kg, what was on it, and seconds on the spit to the marks, if read."""

    number: int
    kind: str
    mass_kg: float | None
    sauce: str | None
    to_sauce_s: float | None
    to_done_s: float | None


@dataclass(frozen=True, slots=True)
class Scores:
    """Of one cook's forecasts: how many, the share inside the 80 % range, and in
    seconds the median error of all, of the first of each bird's done time, and the CRPS."""

    count: int
    inside: float | None
    error_s: float | None
    first_error_s: float | None
    crps_s: float | None


@dataclass(frozen=True, slots=True)
class PastCook:
    """A cook of the history. `roast_s`: from the first bird on to the last off.
    `teaches`: the kitchen learns from it."""

    info: CookInfo
    birds: tuple[PastBird, ...]
    roast_s: float | None
    grill_f: float | None
    fuel: float
    late_s: float | None
    teaches: bool
    scores: Scores


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which cooks: begun in [since_s, until_s), a name or note that holds `text`, a
    bird of that `kind`, a sauce, ended ones only unless `unfinished`."""

    since_s: float | None = None
    until_s: float | None = None
    text: str | None = None
    kind: str | None = None
    sauce: str | None = None
    unfinished: bool = False

    def allows(self, info: CookInfo, cook: Cook) -> bool:
        """This cook is wanted."""
        if info.ended_s is None and not self.unfinished:
            return False
        if self.since_s is not None and info.began_s < self.since_s:
            return False
        if self.until_s is not None and info.began_s >= self.until_s:
            return False
        words = f"{info.name} {info.note}".casefold()
        if self.text is not None and self.text.casefold() not in words:
            return False
        if self.kind is not None and all(bird.kind != self.kind for bird in cook.birds):
            return False
        return self.sauce is None or any(bird.sauce == self.sauce for bird in cook.birds)


def past_cooks(
    journal: Reads,
    wanted: Wanted | None = None,
    *,
    keep: Writes | None = None,
    progress: Callable[[int, int], None] = lambda _done, _of: None,
    left_out: Callable[[CookInfo], None] = lambda _cook: None,
) -> tuple[PastCook, ...]:
    """The wanted cooks, oldest first; `left_out` gets each that is damaged. `keep` is the
    journal open for writing, where it can be had: scores computed here are kept in it.
    `progress` gets (done, of)."""
    wanted = wanted if wanted is not None else Wanted()
    allowed = choices(journal)
    found = []
    for info in journal.cooks():
        try:
            cook = (
                fold(journal.events(info.id), start_of(journal, info.id)) if info.events else None
            )
        except DamagedJournalError:
            left_out(info)
            continue
        if cook is not None and wanted.allows(info, cook):
            found.append((info, cook))
    past = []
    for done, (info, cook) in enumerate(found):
        progress(done, len(found))
        scores = scores_of(journal, info, keep=keep)
        past.append(_past(info, cook, scores, teaches=allowed.allows(info)))
    progress(len(found), len(found))
    return tuple(past)


def _past(info: CookInfo, cook: Cook, scores: Scores, *, teaches: bool) -> PastCook:
    spans = [one for bird in cook.birds for one in bird.on_heat]
    ends = [one.end_s for one in spans if one.end_s is not None]
    readings = [one.temperature_f for one in cook.fire.readings]
    last_s = max(ends, default=None)
    late_s = None if last_s is None or cook.serve_s is None else last_s - cook.serve_s
    return PastCook(
        info=info,
        birds=tuple(_bird(bird) for bird in cook.birds),
        roast_s=None if last_s is None else last_s - min(one.start_s for one in spans),
        grill_f=fmean(readings) if readings else None,
        fuel=sum(one.count for one in cook.fire.fuel if one.kind == "briquettes"),
        late_s=late_s,
        teaches=teaches and any(bird.readings and bird.on_heat for bird in cook.birds),
        scores=scores,
    )


def _bird(bird: Bird) -> PastBird:
    on_s = bird.on_heat[0].start_s if bird.on_heat else None
    to_sauce_s, to_done_s = (
        None if found is None or on_s is None else found.at_s - on_s
        for found in (reached_mark(bird, mark) for mark in MARKS)
    )
    return PastBird(bird.number, bird.kind, bird.mass_kg, bird.sauce, to_sauce_s, to_done_s)


def scores_of(journal: Reads, info: CookInfo, *, keep: Writes | None = None) -> Scores:
    """How good that cook's forecasts were, with the kitchen of its evening."""
    kept = _kept(journal.setting(SCORES + info.id), info)
    if kept is not None:
        return kept
    recorded = journal.events(info.id)
    seen = evening(recorded, info.name, start=start_of(journal, info.id))
    scores = scored(seen)
    found = summary(scores)
    result = Scores(found.count, found.inside, found.error_s, _first_error(scores), found.crps_s)
    if keep is not None and info.ended_s is not None:
        values = [result.count, result.inside, result.error_s, result.first_error_s, result.crps_s]
        keep.set_setting(
            SCORES + info.id, {"format": FORMAT, "events": info.events, "values": values}
        )
    return result


def _kept(kept: Any, info: CookInfo) -> Scores | None:
    if not isinstance(kept, dict) or kept.get("format") != FORMAT:
        return None
    values = kept.get("values")
    if kept.get("events") != info.events or not isinstance(values, list) or len(values) != 5:
        return None
    return Scores(*values)


def _first_error(scores: Sequence[Scored]) -> float | None:
    """The mean size of the error of each bird's first done forecast."""
    first: dict[int, float] = {}
    for one in scores:
        if one.mark == "done" and one.error_s is not None:
            first.setdefault(one.bird, abs(one.error_s))
    return fmean(first.values()) if first else None


def forget(journal: Journal, which: str) -> CookInfo:
    """Delete a cook for good, by its name or id, and learn the kitchen anew without it.

    `JournalError` for an unknown cook and for one that is still cooking.
    """
    info = _found(journal, which)
    if info.ended_s is None and info == journal.unfinished():
        raise JournalError(f"{info.name or info.id[:8]} has not ended; end the cook first")
    journal.delete(info.id)
    for key in (SCORES + info.id, STARTED_WITH + info.id):
        if journal.setting(key) is not None:
            journal.set_setting(key, None)
    with suppress(JournalError, ValueError, ArithmeticError, LookupError):
        relearn(journal)  # another cook that cannot be read must not keep this one
    return info


def _found(journal: Journal, which: str) -> CookInfo:
    """The cook, also where the events of some cook are damaged."""
    try:
        return journal.find(which)
    except DamagedJournalError:
        for one in reversed(journal.roster()):
            if which in {one.name, one.id} or one.id.startswith(which):
                return one
        raise


def merge_file(journal: Journal, path: Path) -> Imported:
    """Bring in the cooks of an export and learn the kitchen anew. Twice is once.

    `JournalError` names the line that is wrong; then nothing was brought in.
    """
    imported = bring_in(journal, path)
    relearn(journal)
    return imported
