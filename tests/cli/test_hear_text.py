"""`turnspit hear --text`: one JSON object for each utterance typed."""

import json

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
