"""Files to import that are nearly right: one field out of range, events out of order, marks
nobody may set. Refused whole in one line; or all that is done with a past cook works, and a
new cook begins beside it."""

import json
import tempfile
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, get_type_hints

from hypothesis import strategies as st

from assistant.cook.kinds import kind_of
from assistant.cook.rules.due import due
from assistant.cook.rules.fold import fold
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.codec import EVENTS, event_json
from assistant.cook.vocabulary.commands import BirdReading, GrillReading, Said
from assistant.journal import jsonl
from assistant.journal.errors import JournalError
from assistant.journal.learning import start_of
from assistant.journal.resilient import ResilientJournal
from assistant.journal.store import Journal
from assistant.lookback.history import merge_file, past_cooks
from assistant.session.opening import open_cook
from assistant.session.retold import moments
from tests.journal.make_fixture import every_event
from tests.reliability.checks import SAFE
from tests.reliability.crash_images import BEGAN_S, memory_folder
from tests.reliability.hostile_inputs import Target, is_one_line, text
from tests.reliability.stand_in import cheap_forecasts

Lines = list[dict[str, Any]]

NUMBERS = (
    0, -1, 1, 2, 9, 99, 2**31, 2**63, -(2**63), 0.5, -0.0, 40.0, 100.0, 164.9, 166.0, 214.0,
    1e9, 1.76e9, 4.2e9, 1e18, 1e300, float("nan"), float("inf"), True, None,
)  # fmt: skip
_value = (
    st.sampled_from(NUMBERS) | text | st.just("safe to eat") | st.lists(st.sampled_from(NUMBERS))
)
_place = st.integers(0, 200)


@dataclass(frozen=True)
class Edit:
    """One change to the lines of a file. `place` is taken modulo what there is."""

    kind: str
    place: int
    other: int
    value: Any

    def of(self, lines: Lines) -> None:
        """Make it."""
        one = lines[self.place % len(lines)]
        match self.kind:
            case "field":
                _set(one, self.other, self.value)
            case "time":
                one["at_s" if "at_s" in one else "turnspit"] = self.value
            case "drop":
                one.pop(sorted(one)[self.other % len(one)], None)
            case "twice":
                lines.insert(self.other % len(lines), json.loads(json.dumps(one)))
            case "gone":
                lines.remove(one)
            case "name":
                if "event" in one:
                    one["event"] = sorted(EVENTS)[self.other % len(EVENTS)]


def _set(line: dict[str, Any], which: int, value: object) -> None:
    """Give one of the fields of a line, however deep, another value."""
    places: list[tuple[dict[str, Any] | list[Any], Any]] = []

    def walk(inside: object) -> None:
        if isinstance(inside, dict | list):
            keys = inside if isinstance(inside, dict) else range(len(inside))
            for key in list(keys):
                places.append((inside, key))
                walk(inside[key])

    walk(line.get("slots") or line.get("cook") or line)
    if places:
        holder, key = places[which % len(places)]
        holder[key] = value


_edits = st.lists(
    st.builds(
        Edit, st.sampled_from(("field", "field", "time", "drop", "twice", "gone", "name")),
        _place, _place, _value,
    ),
    max_size=4,
)  # fmt: skip


@lru_cache(maxsize=1)
def _good() -> tuple[str, ...]:
    """The lines of an export with one of every event, a minute apart, and a short one."""
    with tempfile.TemporaryDirectory(dir=memory_folder()) as folder:
        path = Path(folder) / "kept.db"
        with Journal(path) as journal:
            for name, events in (("all", every_event()), ("short", every_event()[:6])):
                cook = journal.begin(name, BEGAN_S, name)
                for number, event in enumerate(events):
                    journal.append(cook, BEGAN_S + 60.0 * number, [event])
            jsonl.export(journal, journal.cooks(), path.with_suffix(".jsonl"))
        return tuple(path.with_suffix(".jsonl").read_text(encoding="ascii").splitlines())


def check_edited(made: tuple[list[Edit], bool]) -> None:
    """`made`: the edits, and whether places and counts are then put right again."""
    edits, tidied = made
    lines: Lines = [json.loads(line) for line in _good()]
    for edit in edits:
        if lines:
            edit.of(lines)
    if tidied:
        _tidy(lines)
    check_import(lines)


def check_made_up(made: list[tuple[float, ev.Event]]) -> None:
    """`made`: events that fit together by chance only, each so long after the one before."""
    at_s = BEGAN_S
    lines: Lines = [{"turnspit": 1, "cook": {"id": "made", "name": "made up", "began_s": at_s}}]
    for after_s, event in made:
        at_s += after_s
        name, slots = event_json(event)
        lines.append({"seq": 0, "at_s": at_s, "event": name, "slots": slots})
    _tidy(lines)
    check_import(lines)


def check_import(lines: Lines) -> None:
    """Refused whole, or sound in every use of it."""
    whole = "\n".join(json.dumps(line) for line in lines)
    with tempfile.TemporaryDirectory(dir=memory_folder()) as name, cheap_forecasts():
        path = Path(name) / "cook.jsonl"
        path.write_bytes(whole.encode("utf-8", "surrogatepass"))
        with Journal(Path(name) / "journal.db") as journal:
            try:
                merge_file(journal, path)
            except JournalError as error:
                is_one_line(str(error))
                assert journal.roster() == (), "part of a refused file was kept"
                return
            assert journal.integrity() == ()
            for cook in journal.cooks():
                _check_kept(journal.events(cook.id), start_of(journal, cook.id))
            past_cooks(journal)
            "".join(line for cook in journal.cooks() for line in jsonl.lines_of(journal, cook))
        _check_new_cook(Path(name) / "journal.db")


def _tidy(lines: Lines) -> None:
    header, seq = None, 0
    for line in lines:
        if "turnspit" in line:
            header, seq = line, 0
        elif "seq" in line:
            seq += 1
            line["seq"] = seq
        if header is not None:
            header["events"] = seq


def _check_kept(recorded: tuple[ev.Recorded, ...], start: Any) -> None:
    """What a replay, a board and a look-back ask of a cook."""
    for moment in moments(recorded, start):
        for line in moment.lines:
            if line.kind == "said":
                told = str(line.fields["text"])
                assert told.isprintable(), ascii(told)
                assert not SAFE.search(told), told
        due(moment.state, moment.at_s + 60.0)
    for bird in fold(recorded, start).birds:
        assert bird.done_mark_f >= kind_of(bird.kind).done_mark_f, "done below the guidance"


def _check_new_cook(path: Path) -> None:
    """The cook from elsewhere is not gone on with; a new one begins, and each can be deleted."""
    with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
        opened = open_cook(journal, BEGAN_S)
        assert opened.is_new, "a cook from a file was gone on with"
        opened.log.append(BEGAN_S, [ev.CookBegan(birds=2)])
    with Journal(path) as journal:
        for cook in journal.roster():
            journal.delete(cook.id)
        assert journal.roster() == ()


# ---- events that are well formed one by one ----------------------------------------------

_few = st.sampled_from(
    (0.0, 0.5, 1.0, 2.0, 4.5, 12.0, 40.0, 90.0, 150.0, 166.0, 225.0, 300.0, 700.0)
)
_when = st.sampled_from((BEGAN_S - 60.0, BEGAN_S, BEGAN_S + 30.0, BEGAN_S + 7200.0))
_bird = st.integers(1, 4)
_said = st.builds(Said, _few, st.sampled_from(("F", "C")))
_read = st.builds(BirdReading, _bird, _few)
_BY_NAME = {
    "bird": _bird, "birds": st.none() | _bird, "said": _said, "target": st.integers(1, 14),
    "due_s": _when, "serve_s": _when, "until_s": _when, "clock_s": st.none() | _when,
    "zone": st.just("Europe/Vienna"), "sauce": st.sampled_from(("apricot", "plain", "harissa")),
    "done_mark_f": st.sampled_from((165.0, 165.0, 165.0, 175.0, 175.0, 100.0)),
    "item": st.integers(0, 20),
    "sauce_mark_f": st.sampled_from((140.0, 165.0)), "band_low_f": st.just(325.0),
    "band_high_f": st.sampled_from((375.0, 325.0)), "outside_f": st.just(70.0),
    "kind": st.sampled_from(("chicken", "duck")), "number": st.integers(0, 5),
    "key": st.sampled_from(("done:1", "sauce:2", "check:40", "timer:3", "", "a:b:c")),
    "options": st.just(()) | st.tuples(_read, st.builds(GrillReading, _few)),
    "opening": st.sampled_from((0.0, 0.5, 1.0)), "mass_kg": st.sampled_from((0.5, 2.0, 9.0)),
    "correction_f": st.sampled_from((-3.0, 0.0, 8.0)), "count": st.sampled_from((1.0, 40.0)),
    "why": st.sampled_from(("unclear", "falling", "clock_behind", "number", "which_bird", "x")),
    "answer": st.sampled_from(("yes", "no", "1", "number", "expired", "done", "skipped", "")),
    "words": st.sampled_from(("bird one reads 118", "yes", "when", "", "hush")),
    "command": st.none() | st.sampled_from(("bird_reading", "ask_when", "nonsense")),
    "outcome": st.sampled_from(("accept", "ask", "stress", "refuse")), "step": st.integers(-3, 3),
    "urgency": st.sampled_from(("now", "soon", "convenient", "never")),
    "name": st.none() | st.just("rice"),
    "boot": st.none(), "sauces": st.just((("apricot", "some"),)), "effect": st.just(""),
    "keys": st.just(("done:1",)),
}  # fmt: skip


def _made(kind: type[ev.Event]) -> st.SearchStrategy[ev.Event]:
    """Events of a kind: each field of its type, most of what a cook could say."""
    fields: dict[str, Any] = {}
    for name, hint in get_type_hints(kind).items():
        if name in {"NAME", "SHOWN"}:
            continue
        own = name in _BY_NAME and not (name == "kind" and "Literal" in str(hint))
        number = hint is float or hint == float | None
        fields[name] = _BY_NAME[name] if own else _few if number else st.from_type(hint)
    return st.builds(kind, **fields)


_any_event = st.one_of([_made(kind) for _, kind in sorted(EVENTS.items())])
_later = st.sampled_from((0.0, 0.0, 1.0, 60.0, 600.0, 7200.0))
_made_up = st.tuples(_made(ev.CookBegan), st.lists(st.tuples(_later, _any_event), max_size=14)).map(
    lambda made: [(0.0, made[0]), *made[1]]
)

TARGETS = (
    Target("edited imports", st.tuples(_edits, st.booleans()), check_edited),
    Target("made-up imports", _made_up, check_made_up),
)
