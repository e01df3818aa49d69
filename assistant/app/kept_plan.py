"""The plan kept for the next cook: one small file, taken up when `turnspit cook` starts."""

import json
from dataclasses import dataclass, replace
from pathlib import Path

from cattrs import BaseValidationError, Converter

from assistant.cook.kinds import KINDS
from assistant.cook.planning.whole_dinner import Dinner
from assistant.cook.rules.sauces import sugar_of
from assistant.cook.state import MOST_BIRDS
from assistant.cook.vocabulary import events as ev
from assistant.system.files import write_whole
from assistant.system.places import data_folder

FILE = "kept_plan.json"
FORM = 1
AHEAD_S = 24 * 3600.0  # a cook this long before dinner is that dinner's cook
AFTER_S = 3600.0  # from then on the dinner has gone by
MOST_BYTES = 100_000


class KeptPlanError(ValueError):
    """The plan cannot be kept or read; one line with what to do."""


@dataclass(frozen=True, slots=True)
class KeptBird:
    """A bird of the plan, in its place from the motor end."""

    mass_kg: float
    kind: str
    sauce: str | None


@dataclass(frozen=True, slots=True)
class KeptTimer:
    """A side dish to start."""

    name: str
    at_s: float


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """What a cook needs of a plan. Times are epoch seconds."""

    serve_s: float
    made_s: float
    zone: str
    outside_f: float
    birds: tuple[KeptBird, ...]
    timers: tuple[KeptTimer, ...] = ()
    form: int = FORM

    def is_for(self, now_s: float) -> bool:
        """A cook that starts now is this dinner's."""
        return self.serve_s - AHEAD_S <= now_s < self.serve_s + AFTER_S

    def began(self, begin: ev.CookBegan) -> ev.CookBegan:
        """Return `begin` with what the plan says in it. Marks are the settings' own where
        the kind is."""
        kinds = {bird.kind for bird in self.birds}
        names = dict.fromkeys(bird.sauce for bird in self.birds if bird.sauce)
        sauces = {name: sugar_of(name, begin.sauces) for name in names if name != "plain"}
        begin = replace(
            begin, birds=len(self.birds), outside_f=self.outside_f,
            sauces=tuple((dict(begin.sauces) | sauces).items()),
        )  # fmt: skip
        (kind,) = kinds if len(kinds) == 1 else (begin.kind,)
        if kind == begin.kind:
            return begin
        usual, own = KINDS[begin.kind], KINDS[kind]
        return replace(
            begin, kind=kind,
            done_mark_f=own.done_mark_f + begin.done_mark_f - usual.done_mark_f,
            sauce_mark_f=own.sauce_mark_f,
        )  # fmt: skip

    def events(self, begin: ev.CookBegan, now_s: float) -> tuple[ev.Event, ...]:
        """Return what the plan records once the cook has begun with `begin`."""
        found: list[ev.Event] = [ev.ServeSet(self.serve_s)]
        for number, bird in enumerate(self.birds, 1):
            kind = None if bird.kind == begin.kind else bird.kind
            found.append(ev.BirdWeighed(number, bird.mass_kg, kilograms=bird.mass_kg, kind=kind))
            if bird.sauce is not None:
                sugar = sugar_of(bird.sauce, begin.sauces)
                found.append(ev.SauceAssigned(number, bird.sauce, sugar))
        for timer in self.timers:
            if timer.at_s > now_s:
                minutes = round((timer.at_s - now_s) / 60.0, 1)
                found.append(ev.TimerStarted(timer.at_s, minutes, timer.name, for_dinner=True))
        return tuple(found)


def kept_of(dinner: Dinner, made_s: float, zone: str) -> KeptPlan:
    """Return what is kept of a planned dinner. Raises KeptPlanError for too many birds."""
    order = dinner.order
    if len(order.birds) > MOST_BIRDS:
        raise KeptPlanError(
            f"{len(order.birds)} birds: a cook has {MOST_BIRDS} at most; keep a plan of fewer"
        )
    birds = tuple(
        KeptBird(round(one.mass_kg, 4), one.kind, one.sauce if one.sauced else "plain")
        for one in sorted(order.birds, key=lambda bird: bird.number)
    )
    timers = tuple(
        KeptTimer(one.name.lower(), one.likely_s)
        for one in dinner.plan.moments
        if one.what.startswith("side_")
    )
    return KeptPlan(order.serve_s, made_s, zone, order.grill.outside_f, birds, timers)


def path() -> Path:
    """Return where the plan is kept."""
    return data_folder() / FILE


def keep(plan: KeptPlan) -> None:
    """Keep this plan in place of any other. Raises OSError."""
    place = path()
    place.parent.mkdir(parents=True, exist_ok=True)
    write_whole(place, json.dumps(_CONVERTER.unstructure(plan), indent=1).encode() + b"\n")


def kept() -> KeptPlan | None:
    """Return the kept plan; None without one. Raises KeptPlanError, OSError."""
    place = path()
    if not place.exists():
        return None
    try:
        if place.stat().st_size > MOST_BYTES:
            raise ValueError("too long")
        fields = json.loads(place.read_bytes())
        if not isinstance(fields, dict):
            raise ValueError("no plan")
        plan = _CONVERTER.structure(fields, KeptPlan)
        if plan.form != FORM or not 1 <= len(plan.birds) <= MOST_BIRDS:
            raise ValueError("another form")
        if not all(bird.kind in KINDS and 0.0 < bird.mass_kg < 50.0 for bird in plan.birds):
            raise ValueError("no such bird")
    except (ValueError, RecursionError, BaseValidationError) as error:
        raise KeptPlanError(
            f"{place}: the kept plan cannot be read; plan again with --keep, or delete it"
        ) from error
    return plan


def forget() -> None:
    """Let go of the kept plan: it is a cook now."""
    path().unlink(missing_ok=True)


_CONVERTER = Converter(forbid_extra_keys=True)
