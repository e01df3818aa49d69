"""Somebody speaking into the program's own voice."""

from dataclasses import dataclass

CUT_IN_S = 0.3  # of speech over the program's own voice, before that is turned down


@dataclass(slots=True)
class CutIn:
    """Counts, within one utterance, the seconds spoken while the program spoke too."""

    over_s: float = 0.0

    def add(self, seconds: float, *, speaks: bool, sounds: bool) -> None:
        """So long, somebody speaks (or not) and the program sounds (or not)."""
        if speaks and sounds:
            self.over_s += seconds

    @property
    def is_over(self) -> bool:
        """Whether any of the utterance was said over the program's voice."""
        return self.over_s > 0

    @property
    def is_cut_in(self) -> bool:
        """Whether that was enough to be no remainder of the own voice."""
        return self.over_s >= CUT_IN_S
