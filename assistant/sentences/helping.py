"""What can be said now, and the one-page card of all that can be said."""

from assistant.cook.state import Cook
from assistant.sentences.asking import open_question
from assistant.sentences.phrasing import listed
from assistant.sentences.spell import Sentence, sentence

MOST = 4  # hints a cook can keep in mind


def help_now(state: Cook) -> Sentence:
    """A few things worth saying at this moment."""
    return sentence(help_text(state))


def missed(times: int, state: Cook) -> Sentence:
    """What was heard was not taken, for the `times`th time in a row: the shortest useful
    thing first, then what can be said, then only that nothing came of it."""
    if times == 1:
        return sentence("Not understood. Say it again.")
    return help_now(state) if times == 2 else sentence("Not understood. Nothing noted.")


def help_text(state: Cook) -> str:
    """The same in print."""
    if state.pending is not None:
        return f"I asked: {open_question(state)}"
    return f"Say {listed(_hints(state)[:MOST], 'or')}."


def _hints(state: Cook) -> list[str]:
    hints = []
    been_on = any(bird.has_been_on for bird in state.birds)
    if been_on and not state.cooking:
        return ['"carving"', '"when do the leftovers go in"', '"end the cook"']
    if state.readiness is not None and not been_on:
        hints += ['"done"', '"skip"', '"go back"']
    if state.fire.lit_s is None and not state.fire.readings and not been_on:
        hints.append('"fire lit"')
    if state.fire.lid_is_off:
        hints.append('"lid on"')
    for bird in state.birds:
        if bird.is_on:
            hints.append(f'"bird {bird.number} reads" and the number')
            hints.append(f'"how long for bird {bird.number}"')
            break
    else:
        hints += ['"bird 1 weighs 5 pounds"', '"birds on"']
    if state.fire.lit_s is not None:
        hints.append('"grill is" and the number')
    if any(bird.readings for bird in state.birds):
        hints.append('"take that back"')
    return [*hints, '"what\'s next"']
