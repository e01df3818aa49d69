"""The cook's own defaults: `cook.toml` in the user's configuration folder.

Read once when a cook starts. Nothing is required; what is there is checked, and a
mistake is told with its line and the values allowed.
"""

import re
from dataclasses import dataclass, replace
from pathlib import Path

import tomlkit
from tomlkit.exceptions import ParseError, TOMLKitError

from assistant.app import setting_values as values
from assistant.cook.kinds import KINDS, kind_of
from assistant.cook.naming import WHY, claims
from assistant.cook.vocabulary.commands import Scale, Side, Sugar
from assistant.cook.vocabulary.events import CookBegan
from assistant.grammar.address import checked_address
from assistant.grammar.grammar import ADDRESS
from assistant.heat.bird.evidence import HeatKind
from assistant.heat.boiling import altitude_at, pressure_at
from assistant.system.places import config_folder
from assistant.voice.chosen import ENGINES, USUAL, Chosen

FILE = "cook.toml"
SCALES: tuple[Scale, ...] = ("F", "C")
HEATS: tuple[HeatKind, ...] = ("charcoal spit", "gas spit", "indirect", "oven")
SUGARS: tuple[Sugar, ...] = ("none", "some", "high")
MOST_BYTES = 100_000
FOOT_M = 0.3048
_SAUCE_NAME = re.compile(r"[a-z][a-z ]{0,28}[a-z]")


class SettingsError(ValueError):
    """A settings file that cannot be used; one line that names the file and line."""


@dataclass(frozen=True, slots=True)
class Settings:
    """Defaults of a cook. Temperatures F; a mark or rest of None is the kind's own.

    `accuracy_f` is added to the done mark, as the public guideline asks for a
    thermometer that is not exact. `zone` None: the computer's own. `address` opens a
    spoken sentence.
    """

    birds: int | None = None
    kind: str = "chicken"
    scale: Scale = "F"
    band_low_f: float = 350.0
    band_high_f: float = 400.0
    heat: HeatKind = "charcoal spit"
    sauce_mark_f: float | None = None
    done_mark_f: float | None = None
    accuracy_f: float = 0.0
    altitude_m: float = 0.0
    outside_f: float = 68.0
    motor_side: Side | None = None
    zone: str | None = None
    sauces: tuple[tuple[str, Sugar], ...] = ()
    voice: Chosen = USUAL
    address: str = ADDRESS

    def began(self, zone: str, birds: int | None = None, name: str | None = None) -> CookBegan:
        """Return the event that starts a cook with these defaults."""
        kind = kind_of(self.kind)
        done_f = self.done_mark_f if self.done_mark_f is not None else kind.done_mark_f
        sauce_f = self.sauce_mark_f if self.sauce_mark_f is not None else kind.sauce_mark_f
        return CookBegan(
            zone=self.zone or zone,
            birds=birds if birds is not None else self.birds,
            band_low_f=self.band_low_f,
            band_high_f=self.band_high_f,
            sauce_mark_f=sauce_f,
            done_mark_f=done_f + self.accuracy_f,
            kind=self.kind,
            scale=self.scale,
            altitude_m=self.altitude_m,
            outside_f=self.outside_f,
            name=name,
            sauces=self.sauces,
            motor_side=self.motor_side,
            heat=None if self.heat == "charcoal spit" else self.heat,
        )


def settings_path() -> Path:
    """Return where the file is looked for."""
    return config_folder() / FILE


def load(path: Path | None = None) -> Settings:
    """Return the settings of the file; the defaults where there is none.

    Raises SettingsError for a file that cannot be read, is not TOML, or says
    something that is not allowed.
    """
    path = path or settings_path()
    if not path.exists():
        return Settings()
    try:
        if not path.is_file():
            raise SettingsError(f"{path}: cannot be read (it is not a file); move it away")
        if path.stat().st_size > MOST_BYTES:
            raise SettingsError(f"{path}: larger than {MOST_BYTES // 1000} kB; shorten it")
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise SettingsError(f"{path}: cannot be read ({error.strerror})") from error
    except UnicodeDecodeError as error:
        raise SettingsError(f"{path}: not UTF-8 text; save it as UTF-8") from error
    try:
        return parse(text)
    except SettingsError as error:
        raise SettingsError(f"{path}, {error}") from error


def parse(text: str) -> Settings:
    """Return the settings in `text`. Raises SettingsError naming line and allowed values."""
    try:
        document = tomlkit.parse(text).unwrap()
    except ParseError as error:
        raise SettingsError(f"line {error.line}: not TOML ({_plain(str(error))})") from error
    except TOMLKitError as error:  # a key that is there twice comes without its line
        raise SettingsError(f"not TOML ({_plain(str(error))})") from error
    settings = Settings()
    settings = _addressed(settings, document.pop("address", ADDRESS), text)
    for table, content in document.items():
        if table not in _TABLES:
            raise _wrong(text, "", table, f"unknown; allowed: {', '.join(_TABLES)}, address")
        if not isinstance(content, dict):
            raise _wrong(text, "", table, f"is a section; write [{table}] above its values")
        for key, value in sorted(content.items(), key=lambda one: one[0] != "kind"):
            try:
                settings = _TABLES[table](settings, key, value)
            except ValueError as error:
                raise _wrong(text, table, key, str(error)) from None
    if settings.band_low_f >= settings.band_high_f:
        raise _wrong(text, "grill", "band", "the low end must be below the high end")
    sauce_f, done_f = settings.sauce_mark_f, settings.done_mark_f
    kind = kind_of(settings.kind)
    if (sauce_f or kind.sauce_mark_f) >= (done_f or kind.done_mark_f):
        raise _wrong(text, "birds", "sauce_mark", "must be below the done mark")
    return settings


def _addressed(settings: Settings, word: object, text: str) -> Settings:
    try:
        return replace(settings, address=checked_address(word))
    except ValueError as error:
        raise _wrong(text, "", "address", str(error)) from None


def _plain(message: str) -> str:
    return message.split(" at line", maxsplit=1)[0]


def _wrong(text: str, table: str, key: str, why: str) -> SettingsError:
    return SettingsError(f"line {_line_of(text, table, key)}: {key}: {why}")


def _line_of(text: str, table: str, key: str) -> int:
    """The line where a key of a table stands (the parser keeps no places)."""
    current, header = "", 1
    for number, line in enumerate(text.splitlines(), 1):
        section = re.match(r"\s*\[\s*[\"']?([^\]\"']+?)[\"']?\s*\]", line)
        if section:
            current = section[1]
            if current in {key, table}:
                header = number
        elif current == table and re.match(rf"\s*[\"']?{re.escape(key)}[\"']?\s*[=.]", line):
            return number
    return header


def _birds(settings: Settings, key: str, value: object) -> Settings:
    match key:
        case "count":
            return replace(settings, birds=values.whole(value, 1, 8))
        case "kind":
            return replace(settings, kind=values.one_of(value, tuple(KINDS)))
        case "sauce_mark":
            return replace(settings, sauce_mark_f=values.degrees_f(value, 60, 210))
        case "done_mark":
            return replace(settings, done_mark_f=_done(settings, value))
        case _:
            raise ValueError("unknown; allowed: count, kind, sauce_mark, done_mark")


def _done(settings: Settings, value: object) -> float:
    """No done mark below the public guidance for that kind is taken. `kind` comes first."""
    least_f = kind_of(settings.kind).done_mark_f
    return values.degrees_f(value, least_f, 210)


def _grill(settings: Settings, key: str, value: object) -> Settings:
    match key:
        case "band":
            if not isinstance(value, list) or len(value) != 2:
                raise ValueError('write two temperatures, like ["350 F", "400 F"]')
            low, high = (values.degrees_f(one, 200, 600) for one in value)
            return replace(settings, band_low_f=low, band_high_f=high)
        case "motor_side":
            side: Side = "left" if values.one_of(value, ("left", "right")) == "left" else "right"
            return replace(settings, motor_side=side)
        case "heat":
            name = values.one_of(value, HEATS)
            return replace(settings, heat=next(one for one in HEATS if one == name))
        case _:
            raise ValueError("unknown; allowed: band, heat, motor_side")


def _thermometer(settings: Settings, key: str, value: object) -> Settings:
    match key:
        case "accuracy":
            return replace(settings, accuracy_f=values.number(value, 0, 5))
        case "scale":
            return replace(settings, scale="C" if values.one_of(value, SCALES) == "C" else "F")
        case _:
            raise ValueError("unknown; allowed: accuracy (F), scale")


def _place(settings: Settings, key: str, value: object) -> Settings:
    match key:
        case "altitude_m":
            altitude_m = values.number(value, -500, 9000)
        case "altitude_ft":
            altitude_m = FOOT_M * values.number(value, -1600, 29500)
        case "station_pressure_hpa":
            altitude_m = altitude_at(100.0 * values.number(value, 310, 1070))
        case "outside":
            return replace(settings, outside_f=values.degrees_f(value, -60, 130))
        case "zone":
            return replace(settings, zone=values.zone(value))
        case _:
            raise ValueError(
                "unknown; allowed: altitude_m, altitude_ft, station_pressure_hpa, outside, zone"
            )
    pressure_at(altitude_m)
    return replace(settings, altitude_m=altitude_m)


def _sauce(settings: Settings, key: str, value: object) -> Settings:
    if not _SAUCE_NAME.fullmatch(key):
        raise ValueError("a sauce is named in plain lower-case letters, 2 to 30 of them")
    if claims(key):
        raise ValueError(WHY)
    sugar = values.one_of(value, SUGARS)
    level = next(one for one in SUGARS if one == sugar)
    return replace(settings, sauces=(*settings.sauces, (key, level)))


def _voice(settings: Settings, key: str, value: object) -> Settings:
    voice = settings.voice
    match key:
        case "engine":
            name = values.one_of(value, ENGINES)
            voice = replace(voice, engine=next(one for one in ENGINES if one == name))
        case "name":
            if not isinstance(value, str) or not 0 < len(value) <= 200 or value[0] == "-":
                raise ValueError(
                    f"{value!r} is not allowed; a name that turnspit check --voices shows"
                )
            voice = replace(voice, name=value)
        case "rate":
            voice = replace(voice, words_per_minute=values.whole(value, 80, 260))
        case "volume":
            voice = replace(voice, volume=values.number(value, 5, 100) / 100.0)
        case _:
            raise ValueError(
                "unknown; allowed: engine, name, rate (words a minute), volume (percent)"
            )
    return replace(settings, voice=voice)


_TABLES = {
    "birds": _birds,
    "grill": _grill,
    "thermometer": _thermometer,
    "place": _place,
    "sauces": _sauce,
    "voice": _voice,
}
