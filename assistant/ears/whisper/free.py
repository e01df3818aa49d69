"""What was said in any words: beam search over the words of everyday speech.

The vocabulary holds the commonest pieces of words and tonight's own, in lower case, as the
model was fitted to write; a sentence that no grammar covers comes out as it was said.
"""

import re
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from assistant.ears.heard import Sentence
from assistant.ears.whisper.files import Floats
from assistant.ears.whisper.guided import UNBEGUN, Begun, Guide
from assistant.ears.whisper.model import Memory

BEAMS, LONGEST = 4, 48
_WRITTEN = re.compile("Ġ?[a-z']+")


@dataclass
class Free:
    """Free decoding with a guide's model and names."""

    guide: Guide
    beams: int = BEAMS

    @cached_property
    def _tokens(self) -> tuple[list[int], Floats]:
        """The guide's tokens, and for each nought, or minus infinity where it is not written."""
        pieces, tokens = self.guide.whisper.vocabulary.pieces, list(self.guide.columns[0])
        may = [t == self.guide.end or bool(_WRITTEN.fullmatch(pieces[t])) for t in tokens]
        return tokens, np.where(may, 0.0, -np.inf).astype(np.float32)

    def sentences(self, memory: Memory, begun: Begun = UNBEGUN) -> list[Sentence]:
        """The likeliest wordings, best mean first; their scores compare with the guide's."""
        tokens, barred = self._tokens
        hidden, past = self.guide.opened(memory, begun)
        paths: list[tuple[float, tuple[int, ...]]] = [(0.0, ())]
        done: list[tuple[float, tuple[int, ...]]] = []
        for _ in range(LONGEST):
            rows = self.guide.log_probabilities(hidden) + barred
            grown: list[tuple[float, int, int]] = []
            for beam, (score, _said) in enumerate(paths):
                best = np.argpartition(-rows[beam], self.beams)[: self.beams + 1]
                grown += [(score + float(rows[beam, c]), beam, tokens[c]) for c in best]
            grown.sort(reverse=True)
            end = self.guide.end
            done += [(score, paths[beam][1]) for score, beam, t in grown[: self.beams] if t == end]
            live = [one for one in grown if one[2] != end][: self.beams]
            if len(done) >= self.beams and live[0][0] < max(done)[0]:
                break
            past = past.pick([beam for _, beam, _ in live])
            paths = [(score, (*paths[beam][1], token)) for score, beam, token in live]
            fed, past = self.guide.whisper.step([[token] for _, _, token in live], past, memory)
            hidden = fed[:, 0]
        decode = self.guide.whisper.vocabulary.decode
        found = {
            words: Sentence(words, score, len(said) + 1)
            for score, said in sorted(done)
            if (words := " ".join((*begun.words, *decode(said).split())))
        }
        return sorted(found.values(), key=lambda s: -s.mean)[: self.beams]
