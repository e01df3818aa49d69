"""The ears: one utterance in, one choice out.

Two listeners work side by side in child processes: the first (Vosk or PocketSphinx, where
one is installed) decodes the closed grammar, the second (Whisper tiny.en) judges, and writes
what no grammar holds. It is the quicker one: where it leaves no doubt, the first is not
waited for. What one of them cannot do, or dies of, the other goes on without.
"""

import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import Any, Literal

from assistant.cook.commands import Command, Scale
from assistant.ears.choice import choose, is_enough, resting_prior
from assistant.ears.engine import Engine
from assistant.ears.evidence import BENT, Asked, Evidence
from assistant.ears.heard import Heard, Hypothesis, Prior
from assistant.ears.meaning import meant
from assistant.ears.neighbours import neighbours
from assistant.ears.nobody import Nobody
from assistant.ears.prepared import Prepared, for_anybody, for_cook
from assistant.ears.vosk.model_finder import usable_vosk
from assistant.ears.whisper.files import JudgeMissing, find_model
from assistant.ears.whisper.guided import Sentence
from assistant.ears.whisper.rescorer import Judge
from assistant.grammar.grammar import ADDRESS, Names
from assistant.sound.samples import RATE_HZ, Samples
from assistant.system.child import Child, ChildError, ChildRefusedError

EngineName = Literal["whisper", "sphinx", "vosk"]
_UNLOADED = "pocketsphinx cannot be loaded"
_LOOK_S = 0.01


def always() -> bool:
    """An answer that is wanted however long it takes."""
    return True


class EarsError(Exception):
    """The ears cannot listen; the message is one clear line."""


class Ears:
    """Ears for a cook (`names`) or for any grammar (`jsgf`, words only).

    `engine`: None takes Vosk where an English model lies, else the second listener
    listens alone, and PocketSphinx where that one is missing. `judge`: None uses the
    second listener where it is installed. `prior`: log plausibility of a
    command now; may be changed between utterances. `notice` is told in one line what
    had to be left out. Without `is_fitted` the second listener is the model as it came,
    which is for comparing.
    """

    def __init__(
        self, names: Names | None = None, *, jsgf: str | None = None,
        engine: EngineName | None = None, judge: bool | None = None,
        address: str = ADDRESS, prior: Prior = resting_prior, scale: Scale = "F",
        notice: Callable[[str], None] = lambda _line: None, is_fitted: bool = True,
    ) -> None:  # fmt: skip
        """Raises EarsError for a grammar or a name no recogniser can listen for."""
        if (names is None) == (jsgf is None):
            raise ValueError("give tonight's names or a grammar, not both")
        self.prior = prior
        self._names, self._address, self._scale, self._notice = names, address, scale, notice
        grammar = for_cook(names, scale, address) if names is not None else for_anybody(jsgf or "")
        self._grammar = grammar
        self._is_fitted = is_fitted
        self._new_judge = Judge if is_fitted else partial(Judge, is_fitted=False)
        self._judge = self._started_judge(grammar, wanted=judge)
        self._engine = self._started_engine(grammar, engine)

    @property
    def engine_name(self) -> str:
        """The listener that is asked first: "sphinx", "vosk", or "whisper" where it is alone."""
        return ("whisper", "sphinx", "vosk")[len(self._engine.arguments)]

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
            self._change(for_cook(names, scale, self._address))
        except EarsError:
            self._names, self._scale = before
            raise

    def hear(
        self, samples: Samples, *, address_required: bool = False, free: bool = False,
        wanted: Callable[[], bool] = always,
    ) -> Heard:  # fmt: skip
        """One utterance. With `address_required` it must open with the address word, unless
        `free` (something was just asked). Once `wanted` says no, what is known must do."""
        evidence = self.listen(samples, self.is_enough, wanted)
        return self.decide(evidence, address_required=address_required, free=free)

    def is_enough(self, evidence: Evidence) -> bool:
        """Whether a choice with the prior of this moment could hardly gain from more."""
        meaning = self.meaning if self._names is not None else None
        return is_enough(evidence, meaning, self.prior)

    def listen(
        self,
        samples: Samples,
        enough: Callable[[Evidence], bool] | None = None,
        wanted: Callable[[], bool] = always,
    ) -> Evidence:
        """What the listeners make of one utterance.

        The second one is quick, and is asked first. The first one works beside it; its
        answers are waited for until there is `enough` (see `is_enough`), or nobody has
        `wanted` them any longer.
        """
        began = time.perf_counter()
        evidence = self._listened(samples, enough or self.is_enough, wanted)
        return replace(evidence, compute_s=time.perf_counter() - began)

    def hear_ahead(self, samples: Samples) -> None:
        """An utterance so far, while somebody still speaks: work that can be done before
        its end is done. Never waits."""
        if self._engine.is_free() and _begun(self._engine, "hear_ahead", samples):
            self._engine.leave()

    def _listened(
        self, samples: Samples, enough: Callable[[Evidence], bool], wanted: Callable[[], bool]
    ) -> Evidence:
        is_begun, judged = self._both_begun(samples)
        found = Evidence((), judged, len(samples) / RATE_HZ, asked="not", free=self._freely(judged))
        if found.judged and enough(found):
            if is_begun:
                self._engine.leave()
            return found
        if not is_begun and not (wanted() and _begun(self._engine, "recognise", samples)):
            return found
        plain: tuple[Hypothesis, ...] | None = _ended(self._engine, wanted)
        if plain is None:
            return found
        found = self._with(found, plain, "once")
        if (found.judged and enough(found)) or not wanted():
            return found
        if not _begun(self._engine, "look_closer", samples, plain):
            return found
        closer: tuple[Hypothesis, ...] | None = _ended(self._engine, wanted)
        return found if closer is None else self._with(found, closer, "closely")

    def _both_begun(self, samples: Samples) -> tuple[bool, tuple[Sentence, ...]]:
        """Whether the first listener works on the sound, which it begins as soon as it is
        done with older sound; and the second one's sentences, with the sound-alikes of
        the best of them."""
        judge = self._judge
        is_judging = judge is not None and self._is_judging(judge, samples)
        is_begun = self._engine.is_free() and _begun(self._engine, "recognise", samples)
        if judge is None or not is_judging:
            return is_begun, ()
        patience_s = judge.timeout_s
        while not is_begun and patience_s > 0 and not judge.has_answer(_LOOK_S):
            patience_s -= _LOOK_S
            is_begun = self._engine.is_free() and _begun(self._engine, "recognise", samples)
        judged: list[Sentence] = _ended(judge) or []
        return is_begun, (*judged, *(self._scored(judged[0].words, judged) if judged else ()))

    def _freely(self, judged: Sequence[Sentence]) -> tuple[Sentence, ...]:
        """What the second listener writes in any words, where none of the commands it found is
        so good that those could not explain the sound much better."""
        could_be_bent = judged and max(sentence.score for sentence in judged) < -BENT
        is_asked = could_be_bent and self._names is not None and self._is_fitted
        if self._judge and is_asked and _begun(self._judge, "freely"):
            return tuple(_ended(self._judge) or ())
        return ()

    def _is_judging(self, judge: Child, samples: Samples) -> bool:
        """Whether the second listener works on the sound. One that cannot be made, say for a
        damaged file, is told of and left out; one that died is started again."""
        try:
            judge.begin("listen", samples)
        except ChildRefusedError as error:
            self._notice(str(error))
            self.close_judge()
            return False
        except ChildError:
            return False
        return True

    def _with(self, found: Evidence, heard: tuple[Hypothesis, ...], asked: Asked) -> Evidence:
        """What was found with what the first listener heard, scored by the second."""
        judged = found.judged
        for words in dict.fromkeys(h.words for h in heard) if judged else ():
            judged = (*judged, *self._scored(words, judged))
        return replace(found, hypotheses=heard, judged=judged, asked=asked)

    def _scored(self, words: str, known: Sequence[Sentence]) -> list[Sentence]:
        """Scores of a sentence and its sound-alikes, where they are not known."""
        wanted = dict.fromkeys((words, *neighbours(words, self._grammar.network.accepts)))
        more = [other for other in wanted if all(other != one.words for one in known)]
        if not more or self._judge is None or not _begun(self._judge, "score", more):
            return []
        return _ended(self._judge) or []

    def decide(
        self, evidence: Evidence, *, address_required: bool = False, free: bool = False
    ) -> Heard:
        """The choice, with the prior of this moment; see `hear`."""
        began = time.perf_counter()
        opened = f"{self._address} "
        meaning = self.meaning if self._names is not None else None
        heard = choose(evidence, meaning, self.prior, lambda w: free or w.startswith(opened))
        needs_address = address_required and not free and heard.outcome != "refuse"
        if needs_address and not heard.words.startswith(opened):
            heard = replace(heard, outcome="refuse", reason="the address word was missing")
        spent_s = evidence.compute_s + time.perf_counter() - began
        return replace(heard, engine=self.engine_name, audio_s=evidence.audio_s, compute_s=spent_s)

    def close(self) -> None:
        """End the child processes."""
        for child in (self._engine, self._judge):
            if child is not None:
                child.close()

    def meaning(self, words: str) -> Command | None:
        """The command in recognised words, with or without the address word."""
        assert self._names is not None
        return meant(words.removeprefix(f"{self._address} "), self._names, self._scale)

    # ---- grammars and children ------------------------------------------------------

    def _change(self, grammar: Prepared) -> None:
        try:
            if isinstance(self._engine, Child):
                self._engine.arguments = (grammar.listening, *self._engine.arguments[1:])
                self._engine.call("listen_to", grammar.listening)
            if self._judge:
                self._judge.arguments = (grammar.network, grammar.names)
                self._judge.call("set_grammar", *self._judge.arguments)
        except ChildRefusedError as error:
            if isinstance(self._engine, Child):
                self._engine.arguments = (self._grammar.listening, *self._engine.arguments[1:])
            raise EarsError(str(error)) from error
        except ChildError:
            pass  # it starts again with the new grammar at the next utterance
        self._grammar = grammar

    def _started_judge(self, grammar: Prepared, *, wanted: bool | None) -> Child | None:
        if wanted is False:
            return None
        try:
            find_model()
        except JudgeMissing as error:
            self._notice(str(error))
            return None
        child = Child(self._new_judge, (grammar.network, grammar.names))
        child.start()
        return child

    def _started_engine(self, grammar: Prepared, wanted: EngineName | None) -> Child | Nobody:
        is_asked = wanted in {None, "vosk"}
        vosk = usable_vosk(self._notice, is_wanted=wanted == "vosk") if is_asked else None
        if vosk is not None:
            child = Child(Engine, (grammar.listening, vosk))
            try:
                child.ready()
            except ChildError as error:
                self._notice(f"Vosk is left out: {error}")
                child.close()
            else:
                return child
        if self._judge is not None and wanted in {None, "whisper"}:
            return Nobody()
        child = Child(Engine, (grammar.listening,))
        try:
            child.ready()
        except ChildError as error:
            child.close()
            if self._judge is not None and str(error).startswith(_UNLOADED):
                self._notice(str(error))
                return Nobody()
            self.close_judge()
            raise EarsError(str(error)) from error
        return child

    def close_judge(self) -> None:
        """End the second listener; the first goes on alone."""
        if self._judge is not None:
            self._judge.close()
            self._judge = None


def _begun(child: Child | Nobody, method: str, *arguments: object) -> bool:
    try:
        child.begin(method, *arguments)
    except ChildError:
        return False
    return True


def _ended(child: Child | Nobody, wanted: Callable[[], bool] | None = None) -> Any | None:
    """The answer of a child; None when it failed, or was not wanted any longer."""
    try:
        return child.end(wanted)
    except ChildError:
        return None
