"""What the words heard so far are worth, and whether they were meant for us."""

from assistant.ears.choice import UNCLEAR
from assistant.ears.evidence import OTHER_WORDS
from assistant.ears.heard import Heard
from assistant.grammar.ending import ending
from assistant.grammar.grammar import ADDRESS, Names, strip_address
from assistant.live.utterance import Outlook


def outlook_of(heard: Heard, names: Names, address: str = ADDRESS) -> Outlook:
    """The outlook of a sound from what was understood of it.

    The recogniser always finds a whole sentence, so half of one is refused: when
    it opened with the address word it is given time, other refused sound is talk.
    A command that was understood may still be longer than it seems; so may a breath in a
    cook's own words.
    """
    body = strip_address(heard.words, address)
    if heard.outcome == "refuse":
        return "hopeless" if body is None else "partial"
    end = ending(body or heard.words, names)
    return "open" if end.goes_on or not end.is_whole else "whole"


def is_meant(heard: Heard, *, free: bool = False, address: str = ADDRESS) -> bool:
    """Whether a refused utterance was probably meant for the program.

    Only what sounded like a command, and opened with the address word or was
    `free` of it, is answered at all: table talk must not be met with tones.
    """
    addressed = free or strip_address(heard.words, address) is not None
    return addressed and heard.reason in {UNCLEAR, OTHER_WORDS}
