"""The ears: one utterance in, one choice out.

Two listeners work side by side in child processes: the first (PocketSphinx or Vosk)
decodes the closed grammar, the second (Whisper tiny.en, where it is installed) judges.
What one of them cannot do, or dies of, the other goes on without.
"""

import json
import random
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Literal

from assistant.cook.commands import Command, Scale
from assistant.ears.child import Child, ChildError, ChildRefusedError
from assistant.ears.choice import Evidence, choose, resting_prior
from assistant.ears.engine import Engine, Listening
from assistant.ears.guided import Sentence
from assistant.ears.heard import RATE_HZ, Heard, Hypothesis, Prior, Samples
from assistant.ears.judge import Judge
from assistant.ears.model_finder import find_vosk_model
from assistant.ears.neighbours import neighbours
from assistant.ears.network import Network, network_of, read_network
from assistant.ears.whisper_model import JudgeMissing, find_model
from assistant.language import grammar as cook_grammar
from assistant.language.grammar import ADDRESS, Names
from assistant.language.jsgf import Grammar, Maybe, Ref, Sequence
from assistant.language.parse import NotUnderstood, parse

EngineName = Literal["sphinx", "vosk"]
_PROMPT_SENTENCES, _PROMPT_WORDS = 3, 60
_COOK_STYLE = (
    "bird two reads one thirty bird one thigh one forty five probe reads one hundred and "
    "eighteen on bird three grill is three seventy bird three gets {sauce} added twelve "
    "briquettes lid off remind me in ten minutes how long for bird two sauced bird one "
    "dinner at six thirty"
)
"""What the second listener is told was said before: small words, numbers spelled. Chosen
among seven by the commands it lifted into its candidates at 10 dB (26 to 28 of 30)."""

CLEAR_MEAN = -1.5
"""Log-probability per token above which agreeing listeners need not look closer."""


class EarsError(Exception):
    """The ears cannot listen; the message is one clear line."""


@dataclass(frozen=True)
class _Grammar:
    """One grammar in every form the listeners need."""

    listening: Listening
    prompt: str

    @property
    def network(self) -> Network:
        """The grammar as a network of words."""
        return self.listening.network


class Ears:
    """Ears for a cook (`names`) or for any grammar (`jsgf`, words only).

    `engine`: None takes Vosk where an English model lies, else PocketSphinx. `judge`:
    None uses the second listener where it is installed. `prior`: log plausibility of a
    command now; may be changed between utterances. `notice` is told in one line what
    had to be left out.
    """

    def __init__(
        self, names: Names | None = None, *, jsgf: str | None = None,
        engine: EngineName | None = None, judge: bool | None = None,
        address: str = ADDRESS, prior: Prior = resting_prior, scale: Scale = "F",
        notice: Callable[[str], None] = lambda _line: None,
    ) -> None:  # fmt: skip
        """Raises EarsError for a grammar or a name no recogniser can listen for."""
        if (names is None) == (jsgf is None):
            raise ValueError("give tonight's names or a grammar, not both")
        self.prior = prior
        self._names, self._address, self._scale, self._notice = names, address, scale, notice
        grammar = _any_grammar(jsgf) if jsgf is not None else self._cook_grammar(names)
        self._grammar = grammar
        self._judge = self._started_judge(grammar, wanted=judge)
        self._engine = self._started_engine(grammar, engine)

    @property
    def engine_name(self) -> str:
        """The first listener in use: "sphinx" or "vosk"."""
        return "vosk" if len(self._engine.arguments) > 1 else "sphinx"

    @property
    def has_judge(self) -> bool:
        """Whether the second listener takes part."""
        return self._judge is not None

    def set_names(self, names: Names, scale: Scale = "F") -> None:
        """Tonight's birds and sauces from the next utterance on; the old ones stay when
        a name cannot be listened for. Raises EarsError naming it."""
        self._names, before = names, (self._names, self._scale)
        self._scale = scale
        try:
            self._change(self._cook_grammar(names))
        except EarsError:
            self._names, self._scale = before
            raise

    def hear(
        self, samples: Samples, *, address_required: bool = False, free: bool = False
    ) -> Heard:
        """One utterance. With `address_required` it must open with the address word,
        unless `free` (the program has just asked something)."""
        return self.decide(self.listen(samples), address_required=address_required, free=free)

    def listen(self, samples: Samples) -> Evidence:
        """What both listeners make of one utterance, and the second one's scores of it all."""
        began = time.perf_counter()
        engine_works = _begun(self._engine, "recognise", samples)
        judge_works = self._judge is not None and _begun(self._judge, "listen", samples)
        judged: list[Sentence] = []
        if self._judge and judge_works:
            judged = _ended(self._judge) or []
        hypotheses: tuple[Hypothesis, ...] = (_ended(self._engine) if engine_works else None) or ()
        if not self._is_clear(hypotheses, judged) and _begun(
            self._engine, "look_closer", samples, hypotheses
        ):
            hypotheses = _ended(self._engine) or hypotheses
        if judged and self._judge:
            more = self._unscored(hypotheses, judged)
            if more and _begun(self._judge, "score", more):
                judged = judged + (_ended(self._judge) or [])
        spent_s = time.perf_counter() - began
        return Evidence(hypotheses, tuple(judged), len(samples) / RATE_HZ, spent_s)

    def decide(
        self, evidence: Evidence, *, address_required: bool = False, free: bool = False
    ) -> Heard:
        """The choice, with the prior of this moment; see `hear`."""
        began = time.perf_counter()
        address = f"{self._address} "
        meaning = self.meaning if self._names is not None else None
        heard = choose(evidence, meaning, self.prior, lambda w: free or w.startswith(address))
        needs_address = address_required and not free and heard.outcome != "refuse"
        if needs_address and not heard.words.startswith(address):
            heard = replace(heard, outcome="refuse", reason="the address word was missing")
        spent_s = evidence.compute_s + time.perf_counter() - began
        return replace(heard, engine=self.engine_name, audio_s=evidence.audio_s, compute_s=spent_s)

    def close(self) -> None:
        """End the child processes."""
        for child in (self._engine, self._judge):
            if child is not None:
                child.close()

    def _is_clear(self, hypotheses: tuple[Hypothesis, ...], judged: list[Sentence]) -> bool:
        """Both listeners heard the same words, and the second one finds them natural."""
        best = max(judged, key=lambda sentence: sentence.mean, default=None)
        same = best is not None and any(h.words == best.words for h in hypotheses)
        return same and best is not None and best.mean > CLEAR_MEAN

    def _unscored(self, hypotheses: tuple[Hypothesis, ...], judged: list[Sentence]) -> list[str]:
        """Sentences still to be scored: the first listener's, and sound-alikes of the best."""
        known = {sentence.words for sentence in judged}
        leaders = [h.words for h in hypotheses] + [judged[0].words]
        alike = [other for w in leaders for other in neighbours(w, self._grammar.network.accepts)]
        wanted = dict.fromkeys([*leaders, *alike])
        return [words for words in wanted if words not in known]

    def meaning(self, words: str) -> Command | None:
        """The command in recognised words, with or without the address word."""
        assert self._names is not None
        opened = f"{self._address} "
        try:
            return parse(words.removeprefix(opened), self._names, scale=self._scale)
        except NotUnderstood:
            return None

    # ---- grammars and children ------------------------------------------------------

    def _cook_grammar(self, names: Names | None) -> _Grammar:
        assert names is not None
        addressed = cook_grammar.fitted(names, scale=self._scale, lean=True, address=self._address)
        said = Sequence((Maybe(Ref("address")), Ref("command")))
        both = Grammar("cook", {**addressed.rules, "said": said}, ("said",))
        phrases = cook_grammar.phrases(names, address=self._address)
        prompt = _COOK_STYLE.format(sauce=next(iter(names.sauces), "plain"))
        return _prepared(network_of(both), phrases, cook_grammar.pronunciations(), prompt)

    def _change(self, grammar: _Grammar) -> None:
        try:
            self._engine.arguments = (grammar.listening, *self._engine.arguments[1:])
            self._engine.call("listen_to", grammar.listening)
            if self._judge:
                self._judge.arguments = (grammar.network, grammar.prompt)
                self._judge.call("set_grammar", *self._judge.arguments)
        except ChildRefusedError as error:
            self._engine.arguments = (self._grammar.listening, *self._engine.arguments[1:])
            raise EarsError(str(error)) from error
        except ChildError:
            pass  # it starts again with the new grammar at the next utterance
        self._grammar = grammar

    def _started_judge(self, grammar: _Grammar, *, wanted: bool | None) -> Child | None:
        if wanted is False:
            return None
        try:
            find_model()
        except JudgeMissing as error:
            self._notice(str(error))
            return None
        child = Child(Judge, (grammar.network, grammar.prompt))
        child.start()
        return child

    def _started_engine(self, grammar: _Grammar, wanted: EngineName | None) -> Child:
        vosk = None if wanted == "sphinx" else self._usable_vosk(wanted)
        if vosk is not None:
            child = Child(Engine, (grammar.listening, vosk))
            try:
                child.ready()
            except ChildError as error:
                self._notice(f"Vosk is left out: {error}")
                child.close()
            else:
                return child
        child = Child(Engine, (grammar.listening,))
        try:
            child.ready()
        except ChildError as error:
            self.close_judge()
            raise EarsError(str(error)) from error
        return child

    def close_judge(self) -> None:
        """End the second listener; the first goes on alone."""
        if self._judge is not None:
            self._judge.close()
            self._judge = None

    def _usable_vosk(self, wanted: EngineName | None) -> Path | None:
        found = find_vosk_model()
        if found is None:
            if wanted == "vosk":
                self._notice("no English Vosk model found (models/README.md); using PocketSphinx")
            return None
        if found.trouble:
            self._notice(found.trouble)
            return None
        return found.path


def _begun(child: Child, method: str, *arguments: object) -> bool:
    try:
        child.begin(method, *arguments)
    except ChildError:
        return False
    return True


def _ended(child: Child) -> Any | None:
    """The answer of a child; None when it failed."""
    try:
        return child.end()
    except ChildError:
        return None


def _any_grammar(text: str) -> _Grammar:
    network = read_network(text)
    chance = random.Random(1)  # noqa: S311 -- a repeatable sample, nothing secret
    phrases = json.dumps([network.random_sentence(chance) for _ in range(400)])
    said = [network.random_sentence(chance) for _ in range(_PROMPT_SENTENCES)]
    prompt = " ".join(" ".join(said).split()[:_PROMPT_WORDS])
    return _prepared(network, phrases, {}, prompt)


def _prepared(network: Network, phrases: str, given: Mapping[str, str], prompt: str) -> _Grammar:
    """A grammar in every form the listeners need."""
    return _Grammar(Listening(network, dict(given), phrases), prompt)
