"""Commands and events as names with JSON slots, and back.

One generic mapping for every class, so that none can drift: field names are slot
names, a slot that is None is left out, numbers stay numbers, a command inside an
event (the options of an ask-back) carries its name. Values are checked on the
way in as strictly as the annotations say: no number from a string, no NaN.
"""

import dataclasses
import math
from collections.abc import Callable
from typing import Any, TypeVar, get_args, get_origin

from cattrs import BaseValidationError, Converter, transform_error
from cattrs.gen import make_dict_structure_fn, make_dict_unstructure_fn
from cattrs.v import format_exception

from assistant.cook.state import Cook
from assistant.cook.vocabulary.commands import Command
from assistant.cook.vocabulary.events import Event

_T = TypeVar("_T")
Slots = dict[str, Any]  # JSON object: str, numbers, bool, lists and objects of them

COMMANDS: dict[str, type[Command]] = {kind.NAME: kind for kind in get_args(Command)}
EVENTS: dict[str, type[Event]] = {kind.NAME: kind for kind in get_args(Event)}


class CodecError(ValueError):
    """A name or a slot that cannot be what it claims to be; the text says which."""


class UnknownNameError(CodecError):
    """No command or event of this name is known here: written by a newer version."""


def command_json(command: Command) -> tuple[str, Slots]:
    """The command's name and its JSON slots."""
    return command.NAME, _CONVERTER.unstructure(command)


def command_from_json(name: str, slots: object) -> Command:
    """The command; `CodecError` says what is wrong with the name or a slot."""
    return _build(COMMANDS, name, slots, "command")


def event_json(event: Event) -> tuple[str, Slots]:
    """The event's name and its JSON slots."""
    return event.NAME, _CONVERTER.unstructure(event)


def event_from_json(name: str, slots: object) -> Event:
    """The event; `CodecError` says what is wrong with the name or a slot."""
    return _build(EVENTS, name, slots, "event")


def state_json(state: Cook) -> Slots:
    """A whole state as JSON. Only the version that wrote it is sure to read it again."""
    written: Slots = _STATES.unstructure(state, Cook)
    return written


def state_from_json(fields: object) -> Cook:
    """The state; `CodecError` where it is not one of this version."""
    try:
        return _STATES.structure(fields, Cook)
    except (BaseValidationError, KeyError, TypeError, ValueError) as error:
        raise CodecError(f"not a state of this version: {error}") from error


def _build(kinds: dict[str, type[_T]], name: str, slots: object, what: str) -> _T:
    kind = kinds.get(name) if isinstance(name, str) else None
    if kind is None:
        raise UnknownNameError(f"no {what} is named {name!r}")
    if not isinstance(slots, dict):
        raise CodecError(f"the slots of {name!r} are not an object")
    try:
        return _CONVERTER.structure(slots, kind)
    except BaseValidationError as error:
        reasons = "; ".join(transform_error(error, format_exception=_reason))
        raise CodecError(f"{name}: {reasons}") from error


def _reason(error: BaseException, kind: type | None) -> str:
    return str(error) if isinstance(error, CodecError) else format_exception(error, kind)


def _number(value: object, _: type[float]) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise CodecError("a number was expected")
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise CodecError("a finite number was expected")
    return number


def _exactly(wanted: type[_T]) -> Callable[[object, type[_T]], _T]:
    def check(value: object, _: type[_T]) -> _T:
        if type(value) is not wanted:
            raise CodecError(f"{wanted.__name__} was expected, not {type(value).__name__}")
        return value

    return check


def _writes(converter: Converter, kind: type) -> Callable[[Any], Slots]:
    write: Callable[[Any], Slots] = make_dict_unstructure_fn(kind, converter)
    return lambda value: {name: slot for name, slot in write(value).items() if slot is not None}


def _is_tuple(kind: Any) -> bool:
    return get_origin(kind) is tuple


def _reads_list(converter: Converter, kind: Any) -> Callable[[object, object], tuple[Any, ...]]:
    items = get_args(kind)

    def read(value: object, _: object) -> tuple[Any, ...]:
        if not isinstance(value, list):
            raise CodecError("a list was expected")
        kinds = items[:1] * len(value) if items[-1] is Ellipsis else items
        if len(kinds) != len(value):
            raise CodecError(f"a list of {len(kinds)} was expected")
        return tuple(
            converter.structure(each, item) for each, item in zip(value, kinds, strict=True)
        )

    return read


def _read_option(value: object, _: object) -> Command:
    if not isinstance(value, dict) or value.keys() != {"command", "slots"}:
        raise CodecError("a command with its slots was expected")
    return command_from_json(value["command"], value["slots"])


def _converter() -> Converter:
    converter = Converter(forbid_extra_keys=True)
    converter.register_structure_hook(float, _number)
    for plain in (int, str, bool):
        converter.register_structure_hook(plain, _exactly(plain))
    converter.register_unstructure_hook_factory(
        dataclasses.is_dataclass, lambda kind: _writes(converter, kind)
    )
    converter.register_structure_hook_factory(
        dataclasses.is_dataclass, lambda kind: make_dict_structure_fn(kind, converter)
    )
    converter.register_structure_hook_factory(_is_tuple, lambda kind: _reads_list(converter, kind))
    converter.register_structure_hook_func(lambda kind: kind == Command, _read_option)
    converter.register_unstructure_hook_func(
        lambda kind: kind == Command,
        lambda option: dict(zip(("command", "slots"), command_json(option), strict=True)),
    )
    return converter


def _state_converter() -> Converter:
    """Fast rather than strict: what it reads was sealed by the program that wrote it."""
    converter = Converter(forbid_extra_keys=True, detailed_validation=False)
    for union, write, read in (
        (Command, command_json, command_from_json),
        (Event, event_json, event_from_json),
    ):
        _register_named(converter, union, write, read)
    return converter


def _register_named(
    converter: Converter, union: Any, write: Callable[..., Any], read: Callable[..., Any]
) -> None:
    converter.register_unstructure_hook_func(lambda kind: kind == union, lambda v: list(write(v)))
    converter.register_structure_hook_func(lambda kind: kind == union, lambda v, _: read(*v))


_CONVERTER = _converter()
_STATES = _state_converter()
