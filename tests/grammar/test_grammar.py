"""The fitted grammar: tonight's names, what recognisers get."""

import json
import random
from pathlib import Path

import pytest

from assistant.grammar import jsgf
from assistant.grammar.grammar import (
    ADDRESS,
    Names,
    command_names,
    fitted,
    phrases,
    random_sentence,
    strip_address,
    vocabulary,
)
from assistant.grammar.meaning import COMMANDS
from assistant.grammar.parse import parse

TONIGHT = Names(3, ("apricot", "harissa"))


def test_the_grammar_has_a_rule_for_every_command_and_no_other() -> None:
    assert set(command_names()) == set(COMMANDS)
    assert len(command_names()) == len(set(command_names()))


def test_every_rule_of_the_file_is_used() -> None:
    narrowed = {"meat_in_f", "meat_in_c", "fire_in_f", "fire_in_c", "any_in_c", "water_in_c"}
    text = Path(__file__).parents[2] / "grammars" / "cook.gram"
    grammar = jsgf.read(text.read_text(encoding="utf-8"))
    used = set(jsgf.reachable(grammar, (*grammar.public, *narrowed)))
    assert used == set(grammar.rules)


def test_only_tonights_birds_and_sauces_are_listened_for() -> None:
    rng = random.Random(1)
    said = {random_sentence(rng, TONIGHT, command="bird_sauce") for _ in range(300)}
    assert any("harissa" in sentence for sentence in said)
    assert any("bird three" in sentence for sentence in said)
    assert not any("bird four" in sentence for sentence in said)
    assert "harissa" not in vocabulary(Names(3))


@pytest.mark.parametrize("birds", [0, 9, -1])
def test_bird_counts_beyond_the_spit_are_refused(birds: int) -> None:
    with pytest.raises(ValueError, match="1 to 8"):
        Names(birds)


@pytest.mark.parametrize("sauce", ["", "Apricot", "sauce 2", "a b c d", "x;<y>=z", "hot\n"])
def test_sauce_names_that_are_no_words_are_refused_by_name(sauce: str) -> None:
    with pytest.raises(ValueError, match="sauce name"):
        Names(2, (sauce,))


@pytest.mark.parametrize("sauces", [("no",), ("no sauce",), ("hot", "hot sauce"), ("glaze",)])
def test_sauce_names_that_would_be_mixed_up_are_refused(sauces: tuple[str, ...]) -> None:
    with pytest.raises(ValueError, match="taken for another"):
        Names(2, sauces)


def test_recognisers_get_a_leaner_grammar_of_the_same_language() -> None:
    lean = fitted(TONIGHT, lean=True)
    assert not [name for name in lean.rules if name.startswith("rare_")]
    assert {"niner", "tree", "fife"} <= vocabulary(TONIGHT) - jsgf.words(lean)
    rng = random.Random(2)
    for scale in ("F", "C"):
        for _ in range(1500):
            parse(random_sentence(rng, TONIGHT, scale=scale, lean=True), TONIGHT, scale=scale)


def test_a_state_can_narrow_what_may_be_said() -> None:
    text = jsgf.write(fitted(TONIGHT, only=frozenset({"yes", "no", "number"}), lean=True))
    words = jsgf.words(jsgf.read(text))
    assert "yes" in words
    assert "grill" not in words
    spoken = jsgf.words(fitted(TONIGHT, only=frozenset({"yes"})))
    assert spoken == {"yes", "yeah", "it", "is", "that's", "right"}


def test_number_forms_can_be_left_out_by_rule() -> None:
    rng = random.Random(3)
    without = frozenset({"spelled_tail"})
    grammar = jsgf.write(fitted(TONIGHT, without=without, lean=True))
    assert "spelled_tail" not in grammar
    some = {
        random_sentence(rng, TONIGHT, command="grill_reading", without=without, lean=True)
        for _ in range(400)
    }
    assert not any("three three zero" in sentence for sentence in some)


def test_unknown_rules_and_nothing_left_are_errors() -> None:
    with pytest.raises(ValueError, match="no such rules"):
        fitted(TONIGHT, without=frozenset({"nonsense"}))
    with pytest.raises(ValueError, match="no such rules"):
        fitted(TONIGHT, only=frozenset({"nonsense"}))
    with pytest.raises(ValueError, match="nothing is left"):
        fitted(TONIGHT, only=frozenset())


def test_the_address_word_opens_every_sentence_where_it_is_required() -> None:
    grammar = fitted(TONIGHT, address="hey charcoal")
    assert grammar.public == ("addressed",)
    assert {"hey", "charcoal"} <= jsgf.words(grammar)
    assert ADDRESS not in jsgf.words(grammar)
    assert strip_address("hey charcoal lid off", "hey charcoal") == "lid off"
    assert strip_address("hey charcoal", "hey charcoal") == ""
    assert strip_address("lid off", "hey charcoal") is None


def test_phrases_for_vosk_hold_every_word_and_are_a_json_list() -> None:
    listed = json.loads(phrases(TONIGHT))
    assert jsgf.words(fitted(TONIGHT, lean=True)) <= {
        word for phrase in listed for word in phrase.split()
    }
    assert "" not in listed
    assert phrases(TONIGHT) == phrases(TONIGHT)
