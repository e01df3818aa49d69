"""What this kitchen's past cooks teach the next one, kept in the journal's settings.

Every cook starts from what was learned before it, and that is noted with it: a
replay or a look-back of an old cook forecasts with the kitchen of that evening.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Protocol

import numpy as np
from cattrs import BaseValidationError, Converter

from assistant.cook.rules.fold import fold
from assistant.cook.rules.forecasts import evidence_of, fire_evidence_of
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.heat.bird.evidence import Evidence, Kitchen
from assistant.heat.bird.kitchen import learn
from assistant.heat.fire.forecast import learned_from
from assistant.heat.fire.kettle import PRIOR as FIRE_PRIOR
from assistant.journal.errors import JournalError
from assistant.journal.reader import CookInfo

LABEL = 40  # columns
_CONVERTER = Converter()
FireShift = tuple[tuple[str, float, float], ...]  # name, mean and sd of the log's shift
MOST_COOKS = 60  # the latest; a grill and its cook change over the years
FIRES_DIFFER = 0.5  # of the prior's spread, from one evening to the next; a default only
FORM = 2  # of a kept kitchen; what another form says is of other unknowns
KITCHEN, CHOICES, STARTED_WITH = "kitchen", "learning", "kitchen of cook "
_NAMES = {
    "surface": ("heat at the skin", "%"),
    "size": ("effective size", "%"),
    "wet": ("wetness of the skin", "%"),
    "start": ("meat at the start", "F"),
    "grill": ("grill against the middle of its band", "F"),
    "probe": ("how far readings miss the coldest spot", "%"),
    "shape": ("how round the birds are", ""),
    "dial": ("heat the birds feel beside the dial's", "%"),
    "lid": ("what an open lid costs", "%"),
    "drift": ("tempo late against early", "%"),
    "thigh": ("size of a thigh beside the breast", "%"),
    "fire_heat": ("heat in a briquette", "%"),
    "fire_loss": ("heat lost through the kettle", "%"),
    "fire_air": ("heat the vents let through", "%"),
    "fire_life": ("how long a briquette lasts", "%"),
    "fire_steel": ("heat stored in the kettle", "%"),
    "fire_leak": ("air that gets in past the vents", "%"),
    "fire_tail": ("how slowly a briquette goes out", "%"),
    "fire_birds": ("heat the birds take from the fire", "%"),
}


class Reads(Protocol):
    """The part of a journal that learning reads."""

    def cooks(self) -> tuple[CookInfo, ...]:
        """All cooks, the one that began first coming first."""

    def events(self, cook_id: str) -> tuple[ev.Recorded, ...]:
        """A cook's events in order."""

    def setting(self, key: str) -> Any:
        """The JSON value kept under `key`, or None."""


class Writes(Reads, Protocol):
    """The part of a journal that learning writes to."""

    def set_setting(self, key: str, value: object) -> None:
        """Keep a JSON value under `key`."""


@dataclass(frozen=True, slots=True)
class Choices:
    """Whose cooks teach: none of `excluded` (ids), none begun before `since_s`."""

    excluded: tuple[str, ...] = ()
    since_s: float | None = None

    def allows(self, cook: CookInfo) -> bool:
        """This cook may teach the kitchen."""
        if cook.ended_s is None or cook.id in self.excluded:
            return False
        return self.since_s is None or cook.began_s >= self.since_s


def choices(journal: Reads) -> Choices:
    """The choices kept in the journal."""
    kept = journal.setting(CHOICES)
    if not isinstance(kept, dict):
        return Choices()
    return Choices(tuple(kept.get("excluded", ())), kept.get("since_s"))


def kitchen_of(journal: Reads) -> Kitchen:
    """What the next cook starts with; the world prior where nothing was learned or what
    was kept cannot be understood."""
    return _from_json(journal.setting(KITCHEN))


def relearn(journal: Writes) -> Kitchen:
    """Learn the kitchen anew from all cooks that may teach it, and keep it.

    To be called when a cook has ended and after every change of the cooks or choices.
    """
    allowed = choices(journal)
    teaching = [one for one in journal.cooks() if one.events and allowed.allows(one)]
    kitchen = taught_by([cook for one in teaching[-MOST_COOKS:] if (cook := _told(journal, one))])
    journal.set_setting(KITCHEN, _to_json(kitchen))
    return kitchen


def _told(journal: Reads, info: CookInfo) -> Cook | None:
    """The whole cook; None for one that is damaged, which must not keep the others from
    teaching."""
    try:
        return fold(journal.events(info.id))
    except JournalError:
        return None


def taught_by(cooks: Sequence[Cook]) -> Kitchen:
    """The kitchen after these finished cooks: of the birds and of the fire.

    A cook whose numbers cannot be made sense of teaches nothing.
    """
    lessons = lessons_of(cooks)
    try:
        birds = learn(lessons)
    except np.linalg.LinAlgError:
        birds = learn([one for one in lessons if _can_teach(one)])
    try:
        json.dumps(_to_json(birds), allow_nan=False)
    except ValueError:  # a number that is none
        return Kitchen()
    fire = pooled([one for cook in cooks if (one := fire_lesson(cook))])
    return replace(birds, shift=(*birds.shift, *fire))


def _can_teach(lesson: Evidence) -> bool:
    try:
        learn((lesson,))
    except np.linalg.LinAlgError:
        return False
    return True


def lessons_of(cooks: Sequence[Cook]) -> tuple[Evidence, ...]:
    """The evidence of those cooks that hold at least one reading of a bird on the heat,
    as it would have been read by someone who knew nothing of this kitchen."""
    found = (evidence_of(replace(cook, kitchen=Kitchen())) for cook in cooks)
    return tuple(one for one in found if any(bird.readings and bird.on_heat for bird in one.birds))


def fire_lesson(cook: Cook) -> FireShift:
    """What one cook's grill readings say of the fire; empty with fewer than two."""
    if len(cook.fire.readings) < 2:
        return ()
    evidence = fire_evidence_of(replace(cook, kitchen=Kitchen()))
    ended_s = cook.ended_s if cook.ended_s is not None else cook.at_s
    return learned_from(evidence, ended_s)


def pooled(lessons: Sequence[FireShift]) -> FireShift:
    """The kitchen's fire from each cook's, by precision, freed of the prior each was
    read with. Two fires of one kitchen differ by about half of the prior's spread, so
    one cook moves it little and no number of alike cooks makes it certain."""
    found = []
    for name, _, prior_sd in FIRE_PRIOR:
        told = [one for lesson in lessons for one in lesson if one[0] == name]
        if not told:
            continue
        prior, between = prior_sd**-2, (FIRES_DIFFER * prior_sd) ** 2
        precision, weighted = prior, 0.0
        for _, mean, sd in told:
            gained = max(sd**-2 - prior, 0.0)  # what this evening added to the prior
            if gained > 0.0:
                share = 1.0 / (1.0 + gained * between)
                precision += gained * share
                weighted += mean * sd**-2 * share
        found.append((name, weighted / precision, max(precision**-0.5, 0.25 * prior_sd)))
    return tuple(found)


def exclude(journal: Writes, cook_id: str) -> Kitchen:
    """Let this cook teach nothing any more; the kitchen then."""
    kept = choices(journal)
    if cook_id not in kept.excluded:
        kept = replace(kept, excluded=(*kept.excluded, cook_id))
    return _choose(journal, kept)


def include(journal: Writes, cook_id: str) -> Kitchen:
    """Let this cook teach again. `JournalError` where it began before a reset."""
    kept = choices(journal)
    began_s = next((one.began_s for one in journal.cooks() if one.id == cook_id), None)
    if began_s is None:
        raise JournalError(f"the journal has no cook with the id {cook_id[:80]!r}")
    if kept.since_s is not None and began_s < kept.since_s:
        raise JournalError("that cook began before the kitchen was reset; it teaches nothing")
    return _choose(journal, replace(kept, excluded=tuple(i for i in kept.excluded if i != cook_id)))


def reset(journal: Writes, now_s: float) -> Kitchen:
    """Forget the kitchen: only cooks begun from `now_s` on will teach. The cooks stay."""
    return _choose(journal, replace(choices(journal), since_s=now_s))


def _choose(journal: Writes, kept: Choices) -> Kitchen:
    journal.set_setting(CHOICES, {"excluded": list(kept.excluded), "since_s": kept.since_s})
    return relearn(journal)


def begin_with(journal: Writes, cook_id: str) -> Cook:
    """The state a new cook begins in: the kitchen as known now, noted with the cook."""
    kept = journal.setting(KITCHEN)
    outdated = isinstance(kept, dict) and kept.get("form") != FORM
    kitchen = relearn(journal) if outdated else _from_json(kept)
    if kitchen.cooks:
        journal.set_setting(STARTED_WITH + cook_id, _to_json(kitchen))
    return Cook(kitchen=kitchen)


def start_of(journal: Reads, cook_id: str) -> Cook:
    """The state that a cook began in, to fold its events onto: resume, replay, look-back."""
    return Cook(kitchen=_from_json(journal.setting(STARTED_WITH + cook_id)))


def kitchen_lines(kitchen: Kitchen) -> tuple[str, ...]:
    """The learned values in print, each with its spread (one standard deviation)."""
    if not kitchen.cooks:
        return ("Nothing learned yet: forecasts start from published figures.",)
    count = f"{kitchen.cooks} cook{'s' if kitchen.cooks > 1 else ''}"
    lines = [f"Learned from {count}, against published figures:"]
    lines += [f"  {_value(name, mean, sd)}" for name, mean, sd in kitchen.shift]
    if kitchen.grill_sd_c is not None:
        lines.append(f"  {_value('grill', kitchen.grill_shift_c, kitchen.grill_sd_c)}")
    lines.append(f"  {'how much birds and cooks vary':<{LABEL}} {kitchen.scatter:.2f} of the usual")
    return tuple(lines)


def _value(name: str, mean: float, sd: float) -> str:
    label, unit = _NAMES.get(name, (name.replace("_", " "), "%"))
    if unit == "%":
        return f"{label:<{LABEL}} {100 * mean:+.0f} % ± {100 * sd:.0f} %"
    if unit == "F":  # kept in kelvin
        mean, sd = 1.8 * mean, 1.8 * sd
    return f"{label:<{LABEL}} {mean:+.1f} ± {sd:.1f} {unit}".rstrip()


def _to_json(kitchen: Kitchen) -> dict[str, object]:
    kept: dict[str, object] = _CONVERTER.unstructure(kitchen)
    return {"form": FORM, **kept}


def _from_json(kept: Any) -> Kitchen:
    """A kitchen as it was kept; an empty one for anything else."""
    if not isinstance(kept, dict) or kept.get("form") != FORM:
        return Kitchen()
    try:
        return _CONVERTER.structure(kept, Kitchen)
    except (BaseValidationError, TypeError, ValueError, KeyError):
        return Kitchen()
