"""Commands and events survive their JSON, and nothing else is taken for one."""

import dataclasses
import json
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.cook.vocabulary import codec
from assistant.cook.vocabulary.commands import BirdReading, Command, Said, Undo
from assistant.cook.vocabulary.events import AskedBack, Event, Undone

FINITE = st.floats(allow_nan=False, allow_infinity=False)
st.register_type_strategy(float, FINITE)
COMMANDS = st.one_of([st.builds(kind) for kind in get_args(Command)])
EVENTS = st.one_of([st.builds(kind) for kind in get_args(Event)])


@given(COMMANDS)
def test_every_command_survives_json(command: Command) -> None:
    name, slots = codec.command_json(command)
    assert codec.command_from_json(name, json.loads(json.dumps(slots))) == command


@given(EVENTS)
def test_every_event_survives_json(event: Event) -> None:
    name, slots = codec.event_json(event)
    assert codec.event_from_json(name, json.loads(json.dumps(slots))) == event


@given(EVENTS)
def test_a_slot_that_is_none_is_left_out(event: Event) -> None:
    _, slots = codec.event_json(event)
    given_ = {f.name for f in dataclasses.fields(event) if getattr(event, f.name) is not None}
    assert slots.keys() == given_


def test_an_option_of_an_ask_back_carries_its_name() -> None:
    event = AskedBack((BirdReading(2, 113.0, Said(113.0, "F")), Undo()), "teen_or_ty")
    assert codec.event_json(event) == (
        "asked_back",
        {
            "options": [
                {
                    "command": "bird_reading",
                    "slots": {
                        "bird": 2, "temperature": 113.0, "said": {"number": 113.0, "scale": "F"},
                    },
                },
                {"command": "undo", "slots": {}},
            ],
            "why": "teen_or_ty",
        },
    )  # fmt: skip


def test_no_two_events_and_no_two_commands_share_a_name() -> None:
    assert len(codec.EVENTS) == len(get_args(Event))
    assert len(codec.COMMANDS) == len(get_args(Command))


@pytest.mark.parametrize(
    ("name", "slots", "complaint"),
    [
        ("undo", {"target": "3"}, "int was expected, not str"),
        ("undo", {"target": True}, "int was expected, not bool"),
        ("undo", {"target": 3, "reason": "x"}, "reason"),
        ("undo", {}, "target"),
        ("undo", [3], "not an object"),
        ("snooze", {"keys": "check", "until_s": 1.0}, "a list was expected"),
        ("hold", {"minutes": float("nan")}, "finite"),
        ("hold", {"minutes": 10**400}, "finite"),
        ("trouble", {"kind": "alien"}, "alien"),
        ("asked_back", {"options": [{"command": "x", "slots": {}}], "why": ""}, "no command"),
        ("asked_back", {"options": [3], "why": ""}, "a command with its slots"),
    ],
)
def test_a_bad_slot_is_refused_and_named(name: str, slots: object, complaint: str) -> None:
    with pytest.raises(codec.CodecError, match=complaint):
        codec.event_from_json(name, slots)


def test_an_unknown_name_is_told_apart_from_a_bad_slot() -> None:
    with pytest.raises(codec.UnknownNameError, match="teleported"):
        codec.event_from_json("teleported", {})


def test_a_whole_number_is_taken_where_a_float_is_meant() -> None:
    assert codec.event_from_json("hold", {"minutes": 10}).minutes == 10.0


def test_an_undone_event_keeps_its_target() -> None:
    assert codec.event_from_json("undo", {"target": 7}) == Undone(7)
