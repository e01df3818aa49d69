"""The choice: least expected cost, from what was heard and what makes sense now."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.cook.vocabulary.commands import BirdReading, Command, Said
from assistant.ears.candidates import gather, resting_prior
from assistant.ears.choice import choose
from assistant.ears.evidence import OTHER_WORDS, Evidence
from assistant.ears.heard import Sentence
from assistant.ears.neighbours import neighbours
from assistant.ears.opposites import are_opposite
from assistant.ears.weights import Costs
from assistant.grammar.free.context import Understood
from assistant.grammar.free.open_facts import OpenReading
from assistant.grammar.grammar import Names, fitted
from assistant.grammar.network import network_of
from assistant.grammar.parse import NotUnderstood, parse

TONIGHT = Names(2, ("apricot",))
THIRTY, THIRTEEN = "bird one reads one thirty", "bird one reads one thirteen"


def command_in(words: str) -> Command | None:
    try:
        return parse(words, TONIGHT)
    except NotUnderstood:
        return None


def meaning(words: str) -> Understood | None:
    """Facts of one breath are parted by "and"."""
    facts = [command_in(part) for part in words.split(" and ")]
    return None if None in facts else Understood(tuple(facts), "accept")  # type: ignore[arg-type]


def sentence(words: str, mean: float) -> Sentence:
    tokens = len(words.split()) + 1
    return Sentence(words, mean * tokens, tokens)


def only(words: str, mean: float = -0.2) -> Evidence:
    """Nothing else comes near."""
    return Evidence((sentence(words, mean),))


def expecting(temperature_f: float) -> "object":
    """A heavy-tailed prior around what the forecast expects."""

    def prior(command: Command) -> float:
        if not isinstance(command, BirdReading):
            return 0.0
        return -3.0 * float(abs(command.temperature - temperature_f) > 12)

    return prior


@pytest.mark.parametrize("words", [THIRTY, "how long for bird two", "grill is three seventy"])
def test_what_nothing_comes_near_is_taken(words: str) -> None:
    heard = choose(only(words), meaning)
    assert heard.outcome in ("accept", "stress")
    assert heard.command == command_in(words)


def test_nothing_heard_is_refused() -> None:
    heard = choose(Evidence(), meaning)
    assert (heard.outcome, heard.command) == ("refuse", None)


def test_words_that_mean_nothing_are_dropped() -> None:
    assert gather(only("bird one bird one"), meaning) == []


def test_speech_that_sounds_like_no_command_is_refused() -> None:
    assert choose(only("lid on", -5.0), meaning).outcome == "refuse"


def test_a_toss_up_between_two_numbers_is_asked_back_with_both() -> None:
    torn = Evidence((sentence(THIRTEEN, -0.30), sentence(THIRTY, -0.32)))
    heard = choose(torn, meaning)
    assert heard.outcome == "ask"
    assert set(heard.alternatives) == {command_in(THIRTY), command_in(THIRTEEN)}


def test_what_the_cook_expects_comes_first_in_a_toss_up_either_way() -> None:
    torn = Evidence((sentence(THIRTEEN, -0.30), sentence(THIRTY, -0.30)))
    for expected in (113, 130):
        heard = choose(torn, meaning, expecting(expected))  # type: ignore[arg-type]
        best = heard.alternatives[0] if heard.alternatives else heard.command
        assert isinstance(best, BirdReading)
        assert best.temperature == expected


def test_the_prior_does_not_talk_the_cook_out_of_a_clear_surprise() -> None:
    """Forty degrees away, and impossible by the prior: still the number that was said."""
    clear = Evidence((sentence(THIRTY, -0.2), sentence(THIRTEEN, -2.5)))
    for prior in (expecting(90), expecting(113), lambda c: -1e9 * (c == command_in(THIRTY))):
        assert choose(clear, meaning, prior).command == command_in(THIRTY)  # type: ignore[arg-type]


def test_more_evidence_is_asked_of_what_changes_the_record() -> None:
    """The same doubtful evidence answers a question that it would not record by."""
    order = ["accept", "stress", "ask", "refuse"]
    asking = choose(only("how is the fire", -2.2), meaning)
    recording = choose(only("added some wood now"[:15], -2.2), meaning)
    assert order.index(asking.outcome) <= order.index(recording.outcome)


def test_without_commands_only_words_are_given() -> None:
    heard = choose(only("a large latte with milk"), None)
    assert (heard.words, heard.command, heard.outcome) == (
        "a large latte with milk",
        None,
        "accept",
    )


@pytest.mark.parametrize(
    ("words", "rival", "outcome"),
    [
        ("two eighteen", "two eighty", "ask"),
        ("six four seventy nine", "six four seven two nine", "ask"),
        ("a large latte with milk", "large latte with milk", "accept"),  # no other numbers
    ],
)
def test_bare_numbers_are_asked_about_where_other_numbers_come_near(
    words: str, rival: str, outcome: str
) -> None:
    heard = choose(against(words, -0.10, rival, -0.20), None)
    assert (heard.words, heard.outcome) == (words, outcome)
    if outcome == "ask":
        assert heard.understood is not None
        assert heard.understood.question == f"{words}, or {rival}?"
    assert choose(against(words, -0.10, rival, -3.0), None).outcome == "accept"


@settings(deadline=None)  # the first example reads the grammar
@given(st.floats(-4, 0), st.floats(-4, 0), st.sampled_from([THIRTY, "lid on", "undo"]))
def test_a_better_score_never_lowers_the_confidence(a: float, b: float, words: str) -> None:
    low, high = sorted((a, b))
    worse, better = (choose(only(words, m), meaning).confidence for m in (low, high))
    assert better >= worse - 1e-9
    assert 0.0 <= worse <= 1.0


def test_answers_are_rare_where_nothing_was_asked() -> None:
    number = command_in("one thirty")
    reading = command_in(THIRTY)
    assert number is not None
    assert reading is not None
    assert resting_prior(number) < resting_prior(reading)


ACCEPTS = network_of(fitted(TONIGHT)).accepts


@pytest.mark.parametrize(
    ("words", "other"),
    [
        (THIRTY, THIRTEEN),
        (THIRTEEN, THIRTY),
        ("bird one reads one fifty", "bird one reads one sixty"),
        ("bird one reads one eighty eight", "bird one reads one eighty"),
        ("grill is three seventy two", "grill is three seventeen"),
    ],
)
def test_sound_alikes_are_candidates(words: str, other: str) -> None:
    assert other in neighbours(words, ACCEPTS)


@given(st.sampled_from([THIRTY, "dinner at six fifteen", "remind me in sixty minutes", "undo"]))
def test_sound_alikes_are_sentences_and_differ(words: str) -> None:
    found = neighbours(words, ACCEPTS)
    assert words not in found
    assert all(ACCEPTS(other) for other in found)


def against(words: str, mean: float, rival: str = "lid on", rival_mean: float = -4.0) -> Evidence:
    return Evidence((sentence(words, mean), sentence(rival, rival_mean)))


def test_a_sentence_is_believed_where_nothing_comes_near() -> None:
    heard = choose(against(THIRTY, -0.2), meaning)
    assert (heard.outcome, heard.command) == ("accept", command_in(THIRTY))


def test_vosk_is_taken_where_it_is_sure_of_its_words_and_asked_about_where_not() -> None:
    sure, unsure = (replace(only(THIRTY, mean), engine="vosk") for mean in (-0.02, -0.7))
    assert choose(sure, meaning).outcome in ("accept", "stress")
    assert choose(unsure, meaning).outcome in ("ask", "refuse")


def in_any_words(words: str, score: float) -> Sentence:
    return Sentence(words, score, len(words.split()) + 1)


def test_words_no_command_explains_are_not_bent_into_one_that_does() -> None:
    """ "Got a flare up" once became "go to sleep", however sure the grammar was."""
    said = (in_any_words("got me some flames here", -0.9),)
    bent = Evidence((Sentence("go to sleep", -6.0, 4),), said)
    heard = choose(bent, meaning)
    assert (heard.outcome, heard.command, heard.reason) == ("refuse", None, OTHER_WORDS)
    assert heard.words == "got me some flames here"


def test_a_command_said_in_noise_is_not_lost_to_a_wording_hardly_better() -> None:
    near = (in_any_words("bird too reads one thirsty", -1.2),)
    command = Evidence((Sentence(THIRTY, -3.0, 6),), near)
    assert choose(command, meaning).command == command_in(THIRTY)


def test_what_was_written_freely_counts_where_it_means_a_command() -> None:
    said = (in_any_words(THIRTY, -0.5),)
    evidence = Evidence((Sentence(THIRTEEN, -9.0, 6),), said)
    assert choose(evidence, meaning).command == command_in(THIRTY)


FIRST = "bird one reads one forty"


def test_facts_of_one_breath_are_handed_on_in_order() -> None:
    heard = choose(only(f"{FIRST} and lid on and undo"), meaning)
    assert heard.outcome in ("accept", "stress")
    assert (heard.command, *heard.more) == tuple(map(command_in, (FIRST, "lid on", "undo")))


def test_of_a_breath_only_what_is_doubtful_is_asked_about() -> None:
    one, other = (
        f"{FIRST} and bird two reads one eighteen",
        f"{FIRST} and bird two reads one eighty",
    )
    heard = choose(against(one, -0.30, other, -0.31), meaning)
    assert heard.outcome == "ask"
    assert heard.command == command_in(FIRST)
    assert {command.temperature for command in heard.alternatives} == {118, 180}


def test_a_breath_with_more_than_one_doubt_has_to_be_said_again() -> None:
    one, other = f"{THIRTY} and undo", f"{THIRTEEN} and lid on"
    heard = choose(against(one, -0.30, other, -0.31), meaning)
    assert (heard.outcome, heard.command, heard.more) == ("refuse", None, ())


def test_what_is_asked_about_is_not_handed_on_as_taken() -> None:
    """A session records the command of what it hears, and asks about the alternatives."""
    heard = choose(against(THIRTEEN, -0.30, THIRTY, -0.31), meaning)
    assert (heard.outcome, heard.command, heard.more) == ("ask", None, ())
    assert heard.alternatives


def test_words_that_leave_something_open_are_asked_about_as_typed_ones_are() -> None:
    options = tuple(command_in(f"bird {bird} reads one thirty") for bird in ("one", "two"))
    open_words = Understood((OpenReading(130, Said(130, "F")),), "ask", "130, which bird?", options)  # type: ignore[arg-type]
    heard = choose(only("it reads one thirty"), lambda _words: open_words)
    assert (heard.outcome, heard.command, heard.alternatives) == ("ask", None, options)
    assert heard.understood == open_words


@pytest.mark.parametrize(
    ("words", "opposite"),
    [("lid off", "lid on"), ("birds on", "birds off"), ("yes", "no"), (THIRTY, THIRTEEN)],
)
def test_what_may_be_its_opposite_needs_a_larger_lead(words: str, opposite: str) -> None:
    one, other = command_in(words), command_in(opposite)
    assert one is not None
    assert other is not None
    assert are_opposite(one, other)
    count = len(words.split()) + 1
    judged = (Sentence(words, -0.4, count), Sentence(opposite, -2.4, count))
    torn = Evidence(judged)
    cheap = Costs(opposite=1.0)
    assert choose(torn, meaning, lambda _c: 0.0, costs=cheap).outcome in ("accept", "stress")
    assert choose(torn, meaning, lambda _c: 0.0).outcome == "ask"


@pytest.mark.parametrize(
    ("words", "other"),
    [
        (THIRTY, "bird two reads one forty"),
        ("lid off", "birds off"),
        (THIRTY, "bird one reads one thirty"),
    ],
)
def test_other_mistakes_are_no_opposites(words: str, other: str) -> None:
    one, rival = command_in(words), command_in(other)
    assert one is not None
    assert rival is not None
    assert not are_opposite(one, rival)


def test_a_likelier_wording_that_means_nothing_is_not_traded_for_one_that_does() -> None:
    """ "Second coat of apricot is done" was once written "go to the apricot is done"."""
    said = (in_any_words("second coat is done", -2.0), in_any_words(THIRTY, -4.0))
    assert choose(Evidence((), said), meaning).reason == OTHER_WORDS
    near = (in_any_words("second coat is done", -2.0), in_any_words(THIRTY, -2.5))
    assert choose(Evidence((), near), meaning).command == command_in(THIRTY)


def test_a_mistake_in_words_of_the_cooks_own_is_asked_about_sooner() -> None:
    """The same lead is enough for a sentence of the grammar, and too little where the words
    were written freely and any of them may be another."""
    best, rival = Sentence(FIRST, -1.0, 6), Sentence("bird two reads one forty", -3.0, 6)
    assert choose(Evidence((best, rival)), meaning).outcome == "stress"
    heard = choose(Evidence(free=(best, rival)), meaning)
    assert heard.outcome == "ask"
    assert heard.alternatives == (command_in(best.words), command_in(rival.words))
