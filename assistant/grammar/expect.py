"""Why words were not understood, in one line, and what could have come instead."""

from assistant.cook.vocabulary.commands import Scale
from assistant.grammar.match import Failure
from assistant.grammar.numbers import TENS, UNITS

NUMBER_WORDS = {*UNITS, *TENS[1:], "oh", "hundred", "and", "a", "point", "minus", "half"}
_RANGES = {"F": "32 to 600 F", "C": "0 to 320 C"}
_CALLED = {
    "<bird>": "a bird (bird one to bird eight)",
    "<bird_number>": "a number from one to eight",
    "<spot>": "a spot (breast, thigh, wing)",
    "<bath>": "ice water or boiling water",
    "<pounds>": "pounds (1 to 30)",
    "<ounces>": "ounces (1 to 15)",
    "<kilograms>": "kilos (up to 13)",
    "<sauce>": "a sauce named for tonight, or plain",
    "<fuel_count>": "a count",
    "<fuel_kind>": "briquettes, lumps or chimneys",
    "<which_vent>": "a vent (bottom vent, top vent, vents)",
    "<opening>": "an opening (half, two thirds, open, shut)",
    "<percent>": "a percentage",
    "<earlier>": "when (ten minutes ago, at six fifteen)",
    "<ago>": "how long ago (ten minutes ago)",
    "<ending>": "what is over (the rain has stopped, the wind has dropped)",
    "<skin>": "is skinless or has its skin",
    "<clock>": "a time of day",
    "<duration>": "a time span (ten minutes, an hour and a half)",
    "<snooze_count>": "minutes",
    "<timer_name>": "a timer's name",
    "end": "nothing more",
}
_TEMPERATURES = {
    "<bird_temperature>", "<grill_temperature>", "<answer_temperature>",
}  # fmt: skip
_MOST = 6


def explain(tokens: tuple[str, ...], failure: Failure, scale: Scale) -> tuple[str, tuple[str, ...]]:
    """(reason, what was expected) at the place where reading stopped."""
    at = _place(tokens, failure)
    terms = list(failure.looked_for.get(at, ()))
    if at < max(failure.looked_for, default=0):  # a number: its digits say nothing more
        terms = [term for term in terms if term.startswith("<")]
    if at == 0:
        reason = f"'{tokens[0]}' does not begin anything I know; say 'what can I say'"
        return reason, ()
    expected = tuple(dict.fromkeys(_called(term, scale) for term in sorted(terms, key=_rank)))
    some = " or ".join(expected[:_MOST])
    after = " ".join(tokens[max(0, at - 4) : at])
    if at == len(tokens):
        return f"after '{after}' I expected {some}", expected
    found = " ".join(tokens[at : at + 3])
    return f"after '{after}' I expected {some}, not '{found}'", expected


def _place(tokens: tuple[str, ...], failure: Failure) -> int:
    """Where reading stopped; for a number that went too far, where it began."""
    furthest = max(failure.looked_for, default=0)
    begin = furthest
    while begin > 0 and tokens[begin - 1] in NUMBER_WORDS:
        begin -= 1
    for at in range(begin, furthest):
        if any(term in _TEMPERATURES for term in failure.looked_for.get(at, ())):
            return at
    return furthest


def _rank(term: str) -> tuple[bool, str]:
    return not term.startswith("<"), term


def _called(term: str, scale: Scale) -> str:
    if term in _TEMPERATURES:
        return f"a temperature ({_RANGES[scale]})"
    if term == "<water_temperature>":
        return "a water temperature"
    return _CALLED.get(term, term.strip("<>").replace("_", " "))
