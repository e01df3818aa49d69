"""What is said unasked, and when: computed from the state, so that nothing is lost on
a restart. Pure.

Urgent prompts come at once and repeat after 1, 3 and 5 minutes and then every five
until acknowledged; soon-prompts are said once more (but not news of dinner or the fire),
the rest once. What falls due
within three minutes is said in one sentence. Others than urgent ones wait for twenty
seconds after the last prompt, keep quiet while readings are being told, and, where
they are merely convenient, keep to six an hour.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from assistant.cook.rules.due_birds import bird_prompts
from assistant.cook.rules.due_dinner import dinner_prompts, evening_prompts
from assistant.cook.rules.due_fire import fire_prompts
from assistant.cook.rules.due_looks import last_called
from assistant.cook.state import Cook, PromptRecord, Timer
from assistant.cook.vocabulary.events import PromptSaid, Recorded
from assistant.cook.vocabulary.prompts import (
    GrillUnread,
    Key,
    LookDue,
    Prompt,
    Sauce,
    SauceLast,
    TimerUp,
    Urgency,
)

NOW_REPEATS_S = (60.0, 180.0, 300.0)  # after the first saying; then every five minutes
SOON_REPEATS_S = (600.0,)
ONCE = {"dinner", "vents", "light", "birds_on", "refuel"}  # said again only with something new
ONE_WORK = {"take_off", "sauce", "sauce_last", "look"}  # one spit: called for all that are due
TOGETHER_S = 180.0
ONE_WALK_S = 600.0
LAST_CALLS = 2  # a last call that goes on for long is none
APART_S = 20.0
QUIET_S = 25.0  # after a reading: the next one is on its way
HOUR_S = 3600.0
MOST_AN_HOUR = 6
LAPSES_S = 15 * 60.0
# These speak while it sleeps: what was asked for, and what is at stake at the table.
WAKEFUL = {
    "timer", "take_off", "unread", "reread", "off_raw", "end_raw", "lift", "lid",
    "keep_hot", "chill",
}  # fmt: skip

__all__ = [
    "Load",
    "Prompt",
    "Urgency",
    "due",
    "held_since",
    "last_open",
    "late_by",
    "load",
    "next_due",
    "open_keys",
    "prompts",
]


def prompts(state: Cook) -> tuple[Prompt, ...]:
    """All that is or will be due as things stand, soonest first."""
    if not state.is_running:
        return ()
    found = [
        *bird_prompts(state), *fire_prompts(state), *dinner_prompts(state),
        *evening_prompts(state), *_timers(state),
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda one: (one.due_s, one.key)))


def due(state: Cook, now_s: float) -> tuple[Prompt, ...]:
    """The prompts to say now, most urgent first: first time, or again because nobody
    answered. Each one's `due_s` is when this saying of it fell due."""
    coming = _speaking(state)
    ready = [one for one in coming if _allowed_s(state, one) <= now_s]
    if not ready:
        return ()
    joined = [
        one for one in coming if _may_join(one, ready) and one.due_s <= now_s + _early_s(one, ready)
    ]
    alike = _called_alike(state, ready, now_s)
    said = {one.key: one for one in (*alike, *ready, *joined)}
    return tuple(sorted(said.values(), key=lambda one: (_RANK.index(one.urgency), one.due_s)))


def _called_alike(state: Cook, ready: list[Prompt], now_s: float) -> list[Prompt]:
    """What was called for another bird, is open, and is the same work: told as one."""
    kinds = ONE_WORK & {one.kind for one in ready}
    said = {one.key: one for one in state.prompts if one.said_s and one.acknowledged_s is None}
    return [
        replace(one, due_s=now_s, said=len(said[one.key].said_s))
        for one in (prompts(state) if kinds else ())
        if one.kind in kinds
        and one.key in said
        and one.due_s <= now_s
        and (said[one.key].snoozed_until_s or 0.0) <= now_s
    ]


def _early_s(prompt: Prompt, ready: list[Prompt]) -> float:
    """How much earlier than due a prompt may be said with those that are ready: the grill is
    read on the same walk as a bird, and a last stop is the last for all."""
    kinds = {one.kind for one in ready}
    walks = prompt.kind == GrillUnread.KIND and LookDue.KIND in kinds
    stops = prompt.kind == SauceLast.KIND and prompt.kind in kinds
    return ONE_WALK_S if walks or stops else TOGETHER_S


def _may_join(prompt: Prompt, ready: list[Prompt]) -> bool:
    """A first saying that is not exact to the minute may come with another; what cannot wait
    only with the same work on another bird."""
    alike = prompt.kind in ONE_WORK and any(one.kind == prompt.kind for one in ready)
    return prompt.early and prompt.said == 0 and (prompt.urgency != "now" or alike)


def next_due(state: Cook) -> float | None:
    """When the next prompt is to be said, epoch seconds; None if nothing is. What sleep
    holds back is left out."""
    return min((_allowed_s(state, one) for one in _speaking(state)), default=None)


def held_since(state: Cook) -> float | None:
    """When the first prompt fell due, also of those that sleep holds back."""
    return min((_allowed_s(state, one) for one in _coming(state)), default=None)


def _speaking(state: Cook) -> list[Prompt]:
    coming = _coming(state)
    return [one for one in coming if one.kind in WAKEFUL] if state.asleep else coming


def open_keys(state: Cook, now_s: float) -> tuple[str, ...]:
    """Keys said, still standing, and not yet acknowledged."""
    standing = {one.key for one in prompts(state) if one.due_s <= now_s + TOGETHER_S}
    return tuple(
        one.key
        for one in state.prompts
        if one.said_s and one.acknowledged_s is None and one.key in standing
    )


def last_open(state: Cook, now_s: float) -> tuple[str, ...]:
    """The key that "done" settles: the open prompt said last. Of several said in one
    sentence the first, which is the most urgent, with those of its kind (one call for
    two birds)."""
    open_now = set(open_keys(state, now_s))
    said = [one for one in state.prompts if one.key in open_now]
    last_s = max((one.said_s[-1] for one in said), default=0.0)
    last = [one.key for one in said if one.said_s[-1] == last_s]
    return tuple(key for key in last if Key.read(key).kind == Key.read(last[0]).kind)


def late_by(prompt: Prompt, now_s: float) -> float:
    """Seconds by which a prompt is said after it fell due; what is merely convenient
    may have waited for its turn and is never late."""
    return 0.0 if prompt.urgency == "convenient" else max(0.0, now_s - prompt.due_s)


@dataclass(frozen=True, slots=True)
class Load:
    """How much was said unasked: sentences, the urgent among them, hours, and the most
    within any ten minutes."""

    sentences: int
    urgent: int
    hours: float
    most_in_ten_min: int

    @property
    def unforced_per_hour(self) -> float:
        """Sentences an hour that were not urgent."""
        return (self.sentences - self.urgent) / self.hours


def load(recorded: Iterable[Recorded]) -> Load:
    """Count the prompts of a cook from its journal; what was said at one time is one."""
    entries = list(recorded)
    said: dict[float, bool] = {}
    for entry in entries:
        if isinstance(entry.event, PromptSaid):
            said[entry.at_s] = said.get(entry.at_s, False) or entry.event.urgency == "now"
    span_s = entries[-1].at_s - entries[0].at_s if entries else 0.0
    times = sorted(said)
    most = max((sum(t <= at_s < t + 600.0 for at_s in times) for t in times), default=0)
    return Load(len(said), sum(said.values()), max(span_s, HOUR_S) / HOUR_S, most)


def _coming(state: Cook) -> list[Prompt]:
    """Prompts still to be said, `due_s` set to their next saying."""
    records = {one.key: one for one in state.prompts}
    found = []
    for one in prompts(state):
        record = records.get(one.key, PromptRecord(one.key))
        say_s = _say_s(one, record)
        if say_s is not None:
            early = one.early and record.snoozed_until_s is None
            found.append(replace(one, due_s=say_s, said=len(record.said_s), early=early))
    last = last_called(state)
    found = [one for one in found if one.kind != Sauce.KIND or one.bird not in last]
    return [one for one in found if not _has_lapsed(state, one)]


def _has_lapsed(state: Cook, prompt: Prompt) -> bool:
    """A convenient prompt that would have to wait for long is left out."""
    waits_s = _allowed_s(state, prompt) - prompt.due_s
    return prompt.urgency == "convenient" and waits_s > LAPSES_S


def _say_s(prompt: Prompt, record: PromptRecord) -> float | None:
    """When this prompt falls due next; None if it has been said enough."""
    if record.acknowledged_s is not None:
        return None
    if record.snoozed_until_s is not None and (
        not record.said_s or record.said_s[-1] < record.snoozed_until_s
    ):
        return record.snoozed_until_s
    if not record.said_s:
        return prompt.due_s
    near_sauce = isinstance(prompt.about, LookDue) and prompt.about.reason == "sauce"
    if prompt.kind in ONCE or near_sauce:
        return None
    if prompt.kind == SauceLast.KIND and len(record.said_s) >= LAST_CALLS:
        return None
    return _repeat_s(prompt.urgency, record.said_s)


def _repeat_s(urgency: Urgency, said_s: tuple[float, ...]) -> float | None:
    repeats = {"now": NOW_REPEATS_S, "soon": SOON_REPEATS_S, "convenient": ()}[urgency]
    times = len(said_s)
    if times <= len(repeats):
        # Repeats missed while nothing could be said do not come all at once.
        return max(said_s[0] + repeats[times - 1], said_s[-1] + NOW_REPEATS_S[0])
    return said_s[-1] + NOW_REPEATS_S[-1] if urgency == "now" else None


def _allowed_s(state: Cook, prompt: Prompt) -> float:
    """When manners let a prompt be said that falls due at its `due_s`."""
    if prompt.urgency == "now":
        return prompt.due_s
    said = sorted({at_s for one in state.prompts for at_s in one.said_s})
    allowed = [prompt.due_s]
    if not prompt.at_once:
        allowed.append(_last_reading_s(state) + QUIET_S)
    if said:
        allowed.append(said[-1] + APART_S)
    if prompt.urgency == "convenient" and len(said) >= MOST_AN_HOUR:
        allowed.append(said[-MOST_AN_HOUR] + HOUR_S)
    return max(allowed)


def _last_reading_s(state: Cook) -> float:
    times = [bird.readings[-1].at_s for bird in state.birds if bird.readings]
    times += [one.at_s for one in state.fire.readings[-1:]]
    return max(times, default=float("-inf"))


def _timers(state: Cook) -> list[Prompt]:
    return [_timer(one) for one in state.timers]


def _timer(timer: Timer) -> Prompt:
    rests = (str(timer.number), f"{timer.set_s:.0f}")
    return Prompt(TimerUp(timer.name), rests, "now", timer.due_s, early=False)


_RANK: tuple[Urgency, ...] = ("now", "soon", "convenient")
