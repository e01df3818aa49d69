"""Names nobody listed, in typed text: a sauce after "gets", a timer before "timer".

The name is read as one the grammar knows, and put back into what was understood.
"""

from collections.abc import Callable
from dataclasses import replace

from assistant.cook.vocabulary.commands import BirdSauce, Command, TimerCancel, TimerSet
from assistant.grammar.expect import NUMBER_WORDS

Read = Callable[[tuple[str, ...]], tuple[Command, ...]]
MOST_WORDS = 3
_KNOWN_TIMER = "rice"
_BEFORE = {"a", "an", "the", "set", "cancel", "stop", "my"}


def with_open_name(read: Read, tokens: tuple[str, ...]) -> tuple[Command, ...]:
    """The commands in `tokens` with a free sauce or timer name in them; () for none."""
    return _with_sauce(read, tokens) or _with_timer(read, tokens)


def _with_sauce(read: Read, tokens: tuple[str, ...]) -> tuple[Command, ...]:
    """Read the words with "plain" for what follows "gets", and put the name back."""
    for verb in ("gets", "takes"):
        if verb not in tokens:
            continue
        at = tokens.index(verb) + 1
        name = tokens[at:]
        if len(name) > 1 and name[-1] in ("sauce", "glaze"):
            name = name[:-1]
        if not 1 <= len(name) <= 2 or not all(is_plain_word(part) for part in name):
            continue
        found = read((*tokens[:at], "plain"))
        return tuple(
            BirdSauce(command.bird, " ".join(name))
            for command in found
            if isinstance(command, BirdSauce)
        )
    return ()


def _with_timer(read: Read, tokens: tuple[str, ...]) -> tuple[Command, ...]:
    """ "Set a dumplings timer for ten minutes", "remind me in ten minutes about the stock"."""
    start, end = _timer_name(tokens)
    name = tokens[start:end]
    if not 1 <= len(name) <= MOST_WORDS or not all(is_plain_word(part) for part in name):
        return ()
    found = read((*tokens[:start], _KNOWN_TIMER, *tokens[end:]))
    return tuple(
        replace(command, name=" ".join(name))
        for command in found
        if isinstance(command, TimerSet | TimerCancel)
    )


def _timer_name(tokens: tuple[str, ...]) -> tuple[int, int]:
    """Where a timer's name begins and ends; an empty stretch where there is none."""
    if "timer" in tokens:
        end = tokens.index("timer")
        start = end
        while start > 0 and tokens[start - 1] not in _BEFORE:
            start -= 1
        return start, end
    if "about" in tokens:
        start = tokens.index("about") + 1
        return start + (tokens[start : start + 1] == ("the",)), len(tokens)
    return 0, 0


def is_plain_word(word: str) -> bool:
    """Whether a word can be part of a name: letters, and no number."""
    return word not in NUMBER_WORDS and word.replace("'", "").replace("-", "").isalpha()
