"""The grammar reader: the standard's forms, and clear errors."""

import random

import pytest

from assistant.grammar import jsgf
from assistant.grammar.grammar import sample
from assistant.grammar.jsgf import Choice, JsgfError, Many, Maybe, Ref, Sequence, Tag, Word
from assistant.grammar.match import Failure, Matcher

HEAD = "#JSGF V1.0 UTF-8 en;\ngrammar tea;\n"


def rule(text: str) -> jsgf.Node:
    return jsgf.read(HEAD + f"public <r> = {text};\n<s> = x;").rules["r"]


@pytest.mark.parametrize(
    ("text", "node"),
    [
        ("tea", Word("tea")),
        ("black tea", Sequence((Word("black"), Word("tea")))),
        ("black | green", Choice((Word("black"), Word("green")))),
        ("/3/ black | /0.5/ green", Choice((Word("black"), Word("green")), (3.0, 0.5))),
        ("[black] tea", Sequence((Maybe(Word("black")), Word("tea")))),
        ("(a | b) c", Sequence((Choice((Word("a"), Word("b"))), Word("c")))),
        ("very* hot", Sequence((Many(Word("very"), 0), Word("hot")))),
        ("(so hot)+", Many(Sequence((Word("so"), Word("hot"))), 1)),
        ("<s> x", Sequence((Ref("s"), Word("x")))),
        ("< tea.s >", Ref("s")),
        ("one {1} {num = \\} }", Sequence((Word("one"), Tag("1"), Tag("num = }")))),
        ('"new york" c', Sequence((Sequence((Word("new"), Word("york"))), Word("c")))),
        ("a /* or\n b */ // rest\n c", Sequence((Word("a"), Word("c")))),
        ("a <NULL>", Sequence((Word("a"), jsgf.NULL))),
        ("what's o'clock", Sequence((Word("what's"), Word("o'clock")))),
    ],
)
def test_each_form_of_the_standard_is_read(text: str, node: jsgf.Node) -> None:
    assert rule(text) == node


@pytest.mark.parametrize(
    ("text", "line", "problem"),
    [
        ("", 1, "#JSGF"),
        ("grammar x;", 1, "#JSGF"),
        ("#JSGF V1.0;\n<a> = b;", 2, "expected grammar"),
        (HEAD, 3, "no rules"),
        (HEAD + "<a> = b", 3, "expected ;"),
        (HEAD + "<a> = (b;", 3, r"expected \)"),
        (HEAD + "<a> = ;", 3, "expected words"),
        (HEAD + "<a> = b | ;", 3, "expected words"),
        (HEAD + "<a> = <b>;", 3, "not defined"),
        (HEAD + "<a> = b;\n<a> = c;", 4, "twice"),
        (HEAD + "import <x.*>;\n<a> = b;", 3, "imports"),
        (HEAD + "<a> = {b;", 3, "cannot read"),
        (HEAD + "<a> = " + "(" * 5000 + "b;", 3, "deeply"),
        (HEAD + "<a> = /1.2.3/ b | c;", 3, "not a weight"),
    ],
)
def test_what_is_wrong_is_named_with_its_line(text: str, line: int, problem: str) -> None:
    with pytest.raises(JsgfError, match=problem) as caught:
        jsgf.read(text)
    assert caught.value.line == line


def test_without_a_public_rule_the_first_is_public() -> None:
    assert jsgf.read(HEAD + "<a> = b;\n<c> = d;").public == ("a",)


def test_writing_and_reading_again_gives_the_same_language() -> None:
    text = HEAD + "public <a> = (b | /2/ c {x}) [<d>] | e*;\n<d> = f+ (g | h);\n<unused> = i;"
    once = jsgf.write(jsgf.read(text))
    assert jsgf.write(jsgf.read(once)) == once
    assert "unused" not in once
    assert "{" not in once


def test_every_sample_of_a_grammar_matches_it() -> None:
    grammar = jsgf.read(HEAD + "public <a> = b* (c | /2/ d) [<e>]+ ;\n<e> = f g | <NULL> h;")
    matcher = Matcher(grammar, {})
    rng = random.Random(5)
    for _ in range(200):
        words = tuple(sample(rng, grammar, "a"))
        assert matcher.readings("a", words, Failure())
    assert not matcher.readings("a", ("b", "b"), Failure())


def test_a_recursive_grammar_is_read_but_not_matched() -> None:
    grammar = jsgf.read(HEAD + "public <a> = b [<a>];")
    assert jsgf.words(grammar) == {"b"}
    with pytest.raises(ValueError, match="itself"):
        Matcher(grammar, {})
