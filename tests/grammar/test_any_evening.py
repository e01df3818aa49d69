"""Whatever is said, in any order: one sentence comes back, in words, on one line."""

import random

import pytest

from assistant.cook.rules.decide import decide
from assistant.cook.rules.decision import AskBack, Record
from assistant.cook.rules.due import due, prompts
from assistant.cook.rules.fold import apply
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.refusals import Refusal
from assistant.grammar.grammar import Names, random_sentence
from assistant.grammar.parse import parse
from assistant.sentences import all as sentences
from assistant.sentences.all import Sentence
from assistant.sentences.telling import answer

START = 1_790_524_800.0
TONIGHT = Names(3, ("apricot", "harissa"))
LONGEST = 60  # words of one sentence, several prompts together included
USUAL = (
    "fire_lit", "birds_on", "bird_sauce", "bird_weight", "serve_at", "grill_reading",
    "bird_reading", "bird_reading", "birds_off", "sauced", "fuel_added", "lid_off", "vents",
    "readiness_start", "item_done", "thermometer_check", "undo", "correct", "trouble", "number",
)  # fmt: skip


class Talk:
    """A cook that records, answers and prompts, as a session does."""

    def __init__(self) -> None:
        self.state = Cook()
        self.seq = 0
        self.record(START, ev.CookBegan(birds=3))

    def record(self, at_s: float, *events: ev.Event) -> None:
        for event in events:
            self.seq += 1
            self.state = apply(self.state, ev.Recorded(self.seq, at_s, event))

    def say(self, at_s: float, words: str) -> Sentence:
        decision = decide(self.state, parse(words, TONIGHT), at_s)
        before = self.state
        if isinstance(decision, Record):
            self.record(at_s, *decision.events)
            return sentences.read_back(decision, before, self.state)
        if isinstance(decision, AskBack):
            self.record(at_s, ev.AskedBack(decision.options, decision.why))
            return sentences.ask_back(decision, self.state)
        if isinstance(decision, Refusal):
            return sentences.refusal(decision, self.state)
        if decision.TOPIC in {"repeat", "hush"}:
            return sentences.NOTHING_SAID
        return answer(decision, self.state)  # type: ignore[arg-type]


def check(sentence: Sentence, words: str) -> None:
    assert sentence.text, words
    assert sentence.text.isprintable(), words
    assert not any(letter.isdigit() for letter in sentence.spoken), (words, sentence)
    assert "None" not in sentence.text, (words, sentence)
    assert not set(sentence.spoken) & set("{}[]_·°"), (words, sentence)
    assert len(sentence.spoken.split()) <= LONGEST, (words, sentence)


@pytest.mark.slow
@pytest.mark.parametrize("evening", [1, 2])
def test_every_command_in_any_state_gets_one_sentence(evening: int) -> None:
    rng = random.Random(evening)
    talk = Talk()
    at_s = START
    for step in range(90):
        at_s += rng.choice((15.0, 60.0, 240.0))
        command = rng.choice(USUAL) if step % 3 else None
        words = random_sentence(rng, TONIGHT, command=command, lean=True)
        if words in {"end cook", "end the cook"}:
            continue
        check(talk.say(at_s, words), words)
        ready = due(talk.state, at_s)
        if ready:
            check(sentences.prompt(ready, talk.state, at_s, late_s=720.0), words)
            talk.record(at_s, *(ev.PromptSaid(one.key, one.urgency) for one in ready))
        for one in prompts(talk.state):
            check(sentences.prompt((one,), talk.state, at_s), one.kind)
        check(sentences.help_now(talk.state), "help")
