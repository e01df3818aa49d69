"""The ears: one utterance in, one choice out.

A recogniser works in a child process: Whisper tiny.en, which hears sentences of the closed
grammar and writes what no grammar holds; Vosk where that was asked for, or where Whisper is
missing and a model of Vosk is found. What it makes of a sound is weighed by choice.py.
"""

import time
from collections.abc import Callable
from dataclasses import replace
from functools import cache, partial

from assistant.cook.vocabulary.commands import Scale
from assistant.ears.candidates import resting_prior
from assistant.ears.choice import choose
from assistant.ears.evidence import Evidence, sure_words
from assistant.ears.heard import EngineName, Heard, Prior
from assistant.ears.meaning import meant
from assistant.ears.prepared import Prepared, for_anybody, for_cook
from assistant.ears.vosk.model_finder import VoskMissing, usable_vosk
from assistant.ears.vosk.recogniser import VoskRecogniser
from assistant.ears.weights import ADDRESSED
from assistant.ears.whisper.files import ModelMissing, find_model
from assistant.ears.whisper.recogniser import WhisperRecogniser
from assistant.grammar.free.context import Context, Understood, tonight
from assistant.grammar.grammar import ADDRESS, Names
from assistant.sound.samples import RATE_HZ, Samples
from assistant.system.child import Child, ChildError, ChildRefusedError

UNADDRESSED = "the address word was missing"
_AGAIN_WITHIN_S = 5.0
"""A recogniser that dies hears the utterance once more; one that hangs does not."""


class EarsError(Exception):
    """The ears cannot listen; the message is one clear line."""


class Ears:
    """Ears for a cook (`names`) or for any grammar (`jsgf`, words only).

    `engine`: None takes Whisper, or Vosk where that one cannot be used. `prior`: log
    plausibility of a command now; `context`: the evening as a cook's own words need it,
    tonight's sauces to the birds in order unless set. Both may be changed between utterances.
    `notice` is told in one line what had to be left out. Without `is_fitted` Whisper hears as
    it came, which is for comparing.
    """

    def __init__(
        self, names: Names | None = None, *, jsgf: str | None = None,
        engine: EngineName | None = None, address: str = ADDRESS, prior: Prior = resting_prior,
        scale: Scale = "F", notice: Callable[[str], None] = lambda _line: None,
        is_fitted: bool = True,
    ) -> None:  # fmt: skip
        """Raises EarsError where no recogniser works, GrammarError for bad JSGF."""
        if (names is None) == (jsgf is None):
            raise ValueError("give tonight's names or a grammar, not both")
        self.prior = prior
        self._names, self.address = names, address
        self.context = _context_of(names, scale)
        self._grammar = (
            for_cook(names, scale, address) if names is not None else for_anybody(jsgf or "")
        )
        self._whisper = partial(WhisperRecogniser, is_fitted=is_fitted)
        self.engine_name, self._child = self._started(engine, notice)

    def set_names(self, names: Names, scale: Scale = "F") -> None:
        """Tonight's birds and sauces from the next utterance on; the old ones stay when
        a name cannot be listened for. Raises EarsError naming it."""
        grammar, arguments = for_cook(names, scale, self.address), self._child.arguments
        self._child.arguments = (grammar, *arguments[1:])
        try:
            self._child.call("set_grammar", grammar)
        except ChildRefusedError as error:
            self._child.arguments = arguments
            raise EarsError(str(error)) from error
        except ChildError:
            pass  # it starts again with the new grammar at the next utterance
        self._names, self._grammar = names, grammar
        self.context = _context_of(names, scale)

    def hear(
        self, samples: Samples, *, address_required: bool = False, free: bool = False,
        opened: bool = False,
    ) -> Heard:  # fmt: skip
        """One utterance. With `address_required` it must open with the address word, unless
        `free` (something was just asked). `opened`: `opens` has said so already."""
        only_addressed = address_required and not free
        evidence = self.listen(samples, only_addressed=only_addressed, opened=opened)
        return self.decide(evidence, address_required=address_required, free=free)

    def listen(
        self, samples: Samples, *, only_addressed: bool = False, opened: bool = False
    ) -> Evidence:
        """What the recogniser makes of one utterance; nothing where it fails, and no more than
        that, with `only_addressed`, where it does not open with the address word. `opened`: its
        beginning, looked at before, did."""
        began = time.perf_counter()
        found = self._recognised(samples, only_addressed, opened)
        if found is None and time.perf_counter() - began < _AGAIN_WITHIN_S:
            found = self._recognised(samples, only_addressed, opened)
        found = found or Evidence(engine=self.engine_name)
        spent_s = time.perf_counter() - began
        return replace(found, audio_s=len(samples) / RATE_HZ, compute_s=spent_s)

    def opens(self, samples: Samples) -> bool:
        """Whether an utterance that is still being spoken opens with the address word, as far
        as can be told: a quick look at its beginning alone."""
        try:
            found: float | None = self._child.call("opening", samples)
        except ChildError:
            return False
        return found is not None and found >= ADDRESSED

    def _recognised(self, samples: Samples, *how: bool) -> Evidence | None:
        try:
            found: Evidence = self._child.call("recognise", samples, *how)
        except ChildError:
            return None
        return found

    def decide(
        self, evidence: Evidence, *, address_required: bool = False, free: bool = False
    ) -> Heard:
        """The choice, with the prior of this moment; see `hear`."""
        began = time.perf_counter()
        opened = f"{self.address} "
        sure = sure_words(evidence, opened)
        meaning = (
            cache(lambda words: self.meaning(words, is_sure=words in sure))
            if self._names is not None
            else None
        )
        heard = choose(evidence, meaning, self.prior, lambda w: free or w.startswith(opened))
        if address_required and not free:
            is_likely = evidence.opening is None or evidence.opening >= ADDRESSED
            is_written = heard.words.startswith(opened) or heard.outcome == "refuse"
            if not (is_likely and is_written):
                heard = replace(heard, outcome="refuse", reason=UNADDRESSED)
        spent_s = evidence.compute_s + time.perf_counter() - began
        return replace(heard, engine=self.engine_name, audio_s=evidence.audio_s, compute_s=spent_s)

    def close(self) -> None:
        """End the child process."""
        self._child.close()

    def meaning(self, words: str, *, is_sure: bool = False) -> Understood | None:
        """What recognised words mean in this context, with or without the address word; see
        `meant`."""
        assert self._names is not None
        plain = words.removeprefix(f"{self.address} ")
        return meant(plain, self._names, self.context, is_sure=is_sure)

    def _started(
        self, wanted: EngineName | None, notice: Callable[[str], None]
    ) -> tuple[EngineName, Child]:
        """The first recogniser that works; why the ones before it do not is told."""
        order: tuple[EngineName, ...] = (
            ("vosk", "whisper") if wanted == "vosk" else ("whisper", "vosk")
        )
        reasons: list[str] = []
        for name in order:
            try:
                child = self._child_of(name, self._grammar)
            except (ModelMissing, VoskMissing, ChildError) as error:
                reasons.append(f"{name.title()} is left out: {error}")
                continue
            for reason in reasons:
                notice(reason)
            return name, child
        raise EarsError("nothing can be heard. " + "; ".join(reasons))

    def _child_of(self, name: EngineName, grammar: Prepared) -> Child:
        """A recogniser ready to hear. Raises ModelMissing, VoskMissing or ChildError."""
        if name == "whisper":
            find_model()
            child = Child(self._whisper, (grammar,))
        else:
            child = Child(VoskRecogniser, (grammar, usable_vosk()))
        try:
            child.ready()
        except ChildError:
            child.close()
            raise
        return child


def _context_of(names: Names | None, scale: Scale) -> Context:
    return tonight(names.birds, names.sauces, scale) if names is not None else Context()
