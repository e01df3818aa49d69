"""cook.toml: what it takes, and how a mistake is told."""

from pathlib import Path

import pytest

from assistant.app.settings import Settings, SettingsError, load, parse, settings_path
from assistant.grammar.grammar import ADDRESS

FULL = """\
# Invented: a small kitchen on a hill.
[birds]
count = 3
kind = "duck"
sauce_mark = "57 C"

[grill]
band = ["340 F", "390 F"]

[thermometer]
scale = "C"
accuracy = 1

[place]
altitude_ft = 5280
outside = "5 C"
zone = "America/Denver"

[sauces]
apricot = "high"
"black garlic" = "none"
"""


def test_everything() -> None:
    """Every value lands in the event that starts the cook, converted."""
    began = parse(FULL).began("UTC")
    assert (began.birds, began.kind, began.scale) == (3, "duck", "C")
    assert began.sauce_mark_f == pytest.approx(134.6)
    assert began.done_mark_f == pytest.approx(166.0)
    assert (began.band_low_f, began.band_high_f) == (340.0, 390.0)
    assert began.altitude_m == pytest.approx(1609.344)
    assert began.outside_f == pytest.approx(41.0)
    assert began.zone == "America/Denver"
    assert began.sauces == (("apricot", "high"), ("black garlic", "none"))


def test_what_is_said_on_the_spot_wins() -> None:
    """Birds given when the cook starts replace the file's."""
    assert parse(FULL).began("UTC", birds=2, name="sunday").birds == 2


def test_the_kind_of_heat_is_one_of_four() -> None:
    """The usual one, a charcoal spit, is not written down; a mistake names all three."""
    assert parse('[grill]\nheat = "oven"\n').began("UTC").heat == "oven"
    assert parse('[grill]\nheat = "charcoal spit"\n').began("UTC").heat is None
    with pytest.raises(
        SettingsError, match=r"line 2: heat: .*charcoal spit, gas spit, indirect, oven"
    ):
        parse('[grill]\nheat = "campfire"\n')


def test_no_file_is_the_defaults(tmp_path: Path) -> None:
    """A missing file is no mistake; the marks are the public guidance."""
    settings = load(tmp_path / "cook.toml")
    assert settings == Settings()
    began = settings.began("Europe/Paris")
    assert (began.sauce_mark_f, began.done_mark_f, began.zone) == (130.0, 165.0, "Europe/Paris")


def test_a_roast_has_its_own_marks() -> None:
    """Whole cuts: 145 F."""
    assert parse('[birds]\nkind = "roast"\n').began("UTC").done_mark_f == 145.0


def test_station_pressure_stands_for_the_altitude() -> None:
    """834.3 hPa is a mile up; a sea-level-reduced 1013 would be wrong there."""
    began = parse("[place]\nstation_pressure_hpa = 834.3\n").began("UTC")
    assert began.altitude_m == pytest.approx(1609, abs=5)


def test_another_address_word() -> None:
    """Any word or two that no command begins with, the one of earlier days among them."""
    assert parse("").address == ADDRESS
    for word in ("juniper", "copper kettle"):
        assert parse(f'address = "{word}"\n[birds]\ncount = 2\n').address == word


def test_where_it_lies(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """XDG_CONFIG_HOME is honoured."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    assert settings_path() == tmp_path / "turnspit" / "cook.toml"


@pytest.mark.parametrize(
    ("text", "line", "told"),
    [
        ("[birds]\ncount = 9\n", 2, "whole number from 1 to 8"),
        ("[birds]\ncount = true\n", 2, "whole number from 1 to 8"),
        ('\n[birds]\n\nkind = "ostrich"\n', 4, "one of chicken, hen, duck, turkey, roast"),
        ('[birds]\ndone_mark = "160 F"\n', 2, "from 165 to 210 F"),
        ('[birds]\ndone_mark = "150 F"\nkind = "roast"\nsauce_mark = "151 F"\n', 4, "below"),
        ("[birds]\ndone_mark = 165\n", 2, "like '210 F'"),
        ('[grill]\nband = ["400 F", "350 F"]\n', 2, "low end must be below"),
        ('[grill]\nband = "350 F"\n', 2, "two temperatures"),
        ('[grill]\nfuel = "lump"\n', 2, "allowed: band"),
        ('[thermometer]\nscale = "K"\n', 2, "one of F, C"),
        ("[thermometer]\naccuracy = 9\n", 2, "number from 0 to 5"),
        ("[place]\naltitude_m = 12000\n", 2, "number from -500 to 9000"),
        ('[place]\nzone = "Nowhere/Town"\n', 2, "like 'America/Chicago'"),
        ('[place]\noutside = "warm"\n', 2, "write it like"),
        ('[sauces]\napricot = "lots"\n', 2, "one of none, some, high"),
        ('[sauces]\n"B4" = "some"\n', 2, "plain lower-case"),
        ('[birds]\ncount = 2\n[wishes]\nloud = "yes"\n', 3, "allowed: birds, grill"),
        ("birds = 3\n", 1, "write [birds] above"),
        ('address = "Hey You"\n', 1, "one or two words in small letters"),
        ('\naddress = "duke"\n', 2, "too short"),
        ('address = "correction"\n', 1, "opens a command already"),
        ("address = 3\n", 1, "one or two words in small letters"),
        ("[birds\ncount = 3\n", 1, "not TOML"),
        ("[birds]\ncount = \n", 2, "not TOML"),
    ],
)
def test_a_mistake_names_its_line_and_what_is_allowed(text: str, line: int, told: str) -> None:
    """One line: where, what, and what would have been right."""
    with pytest.raises(SettingsError) as caught:
        parse(text)
    message = str(caught.value)
    assert message.startswith(f"line {line}: ")
    assert told in message
    assert "\n" not in message


def test_a_bad_file_names_itself(tmp_path: Path) -> None:
    """The message begins with the path and the line."""
    path = tmp_path / "cook.toml"
    path.write_text("[birds]\ncount = 0\n")
    with pytest.raises(SettingsError, match=r"cook\.toml, line 2: count: 0 is not allowed"):
        load(path)


def test_files_that_cannot_be_read(tmp_path: Path) -> None:
    """A folder, other encodings, and a huge file are one clear line each."""
    folder = tmp_path / "folder"
    folder.mkdir()
    with pytest.raises(SettingsError, match="cannot be read"):
        load(folder)
    path = tmp_path / "cook.toml"
    path.write_bytes("[sauces]\nä = 1".encode("latin-1"))
    with pytest.raises(SettingsError, match="save it as UTF-8"):
        load(path)
    path.write_text("#" * 200_000)
    with pytest.raises(SettingsError, match="larger than"):
        load(path)


def test_the_readme_shows_every_key_and_its_example_is_taken() -> None:
    """Each section and key there is; a key the program does not know would be refused."""
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    example = readme.split("```toml\n")[1].split("```")[0]
    began = parse(example).began("UTC")
    assert (began.birds, began.done_mark_f, began.zone) == (3, 167.0, "America/Denver")
    for table, keys in {
        "birds": "count, kind, sauce_mark, done_mark", "grill": "band, heat",
        "thermometer": "accuracy, scale", "place": "altitude_ft, outside, zone",
        "voice": "engine, name, rate, volume",
    }.items():  # fmt: skip
        with pytest.raises(SettingsError, match="unknown; allowed: "):
            parse(f"[{table}]\nnone_such = 1")
        assert f"[{table}]" in example
        assert all(f"{key} = " in example for key in keys.split(", "))
    assert "altitude_m" in example
    assert "station_pressure_hpa" in example


def test_the_hand_with_the_motor_is_told_to_the_cook() -> None:
    assert parse('[grill]\nmotor_side = "right"').began("UTC").motor_side == "right"
    with pytest.raises(SettingsError, match="left, right"):
        parse('[grill]\nmotor_side = "north"')
