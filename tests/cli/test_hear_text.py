"""`turnspit hear --text`: one JSON object for each utterance typed."""

import json

import pytest
from click.testing import CliRunner

from assistant.cli.main import main


def _lines(text: str, *options: str) -> list[dict[str, object]]:
    result = CliRunner().invoke(main, ["hear", "--text", "-", *options], input=text)
    assert result.exit_code == 0, result.output
    return [json.loads(line) for line in result.output.splitlines()]


def test_each_utterance_gives_its_facts() -> None:
    (line,) = _lines("bird two's at one eighteen and the lid is back on\n", "--birds", "2")
    assert line["outcome"] == "accept" and line["asks"] is None
    assert [one["command"] for one in line["facts"]] == ["bird_reading", "lid_on"]  # type: ignore[attr-defined]


def test_a_bird_not_named_is_null_and_asked_for() -> None:
    (line,) = _lines("one eighteen\n")
    assert line["outcome"] == "ask" and line["asks"]
    assert line["facts"][0]["slots"]["bird"] is None  # type: ignore[index]


def test_sauces_name_birds_and_the_scale_is_the_kitchens() -> None:
    (line,) = _lines(
        "the harissa one is fifty two\n", "--sauces", "apricot,harissa", "--scale", "C"
    )
    slots = line["facts"][0]["slots"]  # type: ignore[index]
    assert slots["bird"] == 2 and slots["said"] == {"number": 52.0, "scale": "C"}


def test_recordings_and_text_do_not_mix() -> None:
    result = CliRunner().invoke(main, ["hear", "--text", "-", "some.wav"], input="x\n")
    assert result.exit_code == 2 and "leave recordings out" in result.output
    assert CliRunner().invoke(main, ["hear"]).exit_code == 2


def _facts(text: str, *options: str) -> list[tuple[str, dict[str, object]]]:
    lines = _lines(text, "--birds", "3", "--sauces", "apricot,harissa", *options)
    return [(one["command"], one["slots"]) for line in lines for one in line["facts"]]  # type: ignore[attr-defined]


def test_each_line_says_its_words_its_outcome_and_what_it_asks() -> None:
    taken, refused = _lines("lid's off\nthe weather is lovely\n")
    for line in (taken, refused):
        assert list(line)[:4] == ["text", "outcome", "asks", "facts"]
    assert (taken["outcome"], taken["text"], taken["asks"]) == ("accept", "lid's off", None)
    assert (refused["outcome"], refused["facts"], refused["asks"]) == ("refuse", [], None)


def test_this_one_runs_on_from_line_to_line_until_a_blank_one() -> None:
    first, second, third = _lines("bird two one twenty\nthis one's off\n\nthis one's off\n")
    assert first["outcome"] == second["outcome"] == "accept"
    assert second["facts"] == [{"command": "birds_off", "slots": {"bird": 2}}]
    assert third["outcome"] == "ask"


def test_facts_of_one_breath_are_in_the_order_said() -> None:
    found = _facts("i put eight on, bird two's one nineteen and bird one's one eighteen\n")
    assert [name for name, _ in found] == ["fuel_added", "bird_reading", "bird_reading"]
    assert [slots.get("bird") for _, slots in found] == [None, 2, 1]


@pytest.mark.parametrize(
    ("words", "command", "slots"),
    [
        ("tossed a few more coals on", "fuel_added", {"count": None}),
        ("opened the bottom vent a bit more", "vents", {"which": "bottom", "change": "more"}),
        ("throttled the top vent back a touch", "vents", {"which": "top", "change": "less"}),
        ("bird one's resting", "rest", {"bird": 1}),
        ("they're resting", "rest", {}),
        ("carving bird two now", "carve", {"bird": 2}),
        ("starting to carve", "carve", {}),
        ("what time is it", "ask_time", {}),
        ("how are we looking", "ask_status", {}),
        ("i meant bird two", "correct", {"bird": 2}),
        ("it's way too hot in there", "trouble", {"kind": "fire_too_hot"}),
        ("bird one's skin is burning", "trouble", {"kind": "burning", "bird": 1}),
    ],
)
def test_new_facts_have_the_names_and_slots_of_the_contract(
    words: str, command: str, slots: dict[str, object]
) -> None:
    ((name, got),) = _facts(f"{words}\n")
    assert (name, got) == (command, slots)


def test_a_correction_names_the_bird_where_it_was_said() -> None:
    (_, bare), (_, named) = _facts("no, one nineteen\n\nsorry, i meant one nineteen on bird two\n")
    assert "bird" not in bare and named["bird"] == 2
    assert bare["said"] == named["said"] == {"number": 119.0, "scale": "F"}


def test_a_bird_there_is_none_of_is_refused_with_help() -> None:
    (line,) = _lines("bird nine's at one thirty\n", "--birds", "2")
    assert line["outcome"] == "refuse" and "2 birds" in str(line["help"])
