"""Short ways to build a cook for tests, in words as the cook would say them."""

from assistant.cook.rules.decide import decide
from assistant.cook.rules.decision import AskBack, Decision, Record
from assistant.cook.rules.fold import apply
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.grammar.grammar import Names
from assistant.grammar.parse import parse

NAMES = Names(8, ())
START_S = 1_790_524_800.0


class Evening:
    """A cook driven by words at minutes; keeps every decision and event."""

    def __init__(self, begin: ev.CookBegan | None = None) -> None:
        self.state = Cook()
        self.recorded: list[ev.Recorded] = []
        self.note(0, begin if begin is not None else ev.CookBegan())

    def note(self, minute: float, *events: ev.Event) -> None:
        for event in events:
            entry = ev.Recorded(len(self.recorded) + 1, START_S + 60 * minute, event)
            self.recorded.append(entry)
            self.state = apply(self.state, entry)

    def ask(self, minute: float, words: str) -> Decision:
        command = parse(words, NAMES, open_names=True)
        return decide(self.state, command, START_S + 60 * minute)

    def say(self, minute: float, words: str) -> Decision:
        decision = self.ask(minute, words)
        if isinstance(decision, Record):
            self.note(minute, *decision.events)
        elif isinstance(decision, AskBack):
            self.note(minute, ev.AskedBack(decision.options, decision.why))
        return decision


def evening(*said: tuple[float, str], birds: int | None = None) -> Evening:
    one = Evening(ev.CookBegan(birds=birds))
    for minute, words in said:
        one.say(minute, words)
    return one


def insisted(*said: tuple[float, str], birds: int | None = None) -> Evening:
    """The same, answering every ask-back with what was said first."""
    one = Evening(ev.CookBegan(birds=birds))
    for minute, words in said:
        insist(one, minute, words)
    return one


def insist(one: Evening, minute: float, words: str) -> None:
    """Say it, and say it again where it is asked back."""
    one.say(minute, words)
    if one.state.pending is not None:
        one.say(minute, "first" if len(one.state.pending.options) > 1 else "yes")
