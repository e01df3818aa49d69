"""Every sentence that is ever spoken, in one place to import from.

Few words, numbers first, what to do last. It says what was read and where, and
never that food is safe.
"""

from assistant.cook.clocktimes import clock_text
from assistant.cook.rules.due import prompts
from assistant.cook.state import Cook
from assistant.sentences.asking import ask_back, open_question, refusal
from assistant.sentences.fire_words import fire_help
from assistant.sentences.helping import help_now, missed
from assistant.sentences.phrasing import dinner, span
from assistant.sentences.prompting import prompt, short
from assistant.sentences.readback import read_back
from assistant.sentences.spell import Sentence, sentence, spell
from assistant.sentences.telling import answer

NOTHING_SAID = sentence("I have said nothing yet.")
FAULT_KEPT = sentence("Something went wrong inside. What you said is noted.")
FAULT_LOST = sentence("Something went wrong inside. Say that again.")
PLAN_UNREADABLE = sentence("I can't read the kept plan. Going on without it.")
_NEWS = {
    "memory_only": "I can't write the journal. Going on in memory.",
    "safe_again": "The journal is written again.",
    "moved": "The journal goes on in a fresh file.",
    "rescued": "The journal was damaged. I kept all that could be read.",
    "aside": "An old journal file was left aside.",
}


def journal_news(kind: str, text: str) -> Sentence:
    """What became of the journal: `text` in print, its gist spoken."""
    return Sentence(text, spell(_NEWS.get(kind, text)))


def clock_moved(by_s: float) -> Sentence:
    """The computer's clock was stepped in mid-cook; what was counted stays as it was."""
    way = "forward" if by_s > 0 else "back"
    return sentence(f"The computer's clock jumped {way} by {span(abs(by_s))}. I keep my own count.")


def came_back(state: Cook, away_s: float | None) -> Sentence:
    """The program is there again after `away_s` seconds; None: the clock cannot tell."""
    on = [bird.number for bird in state.birds if bird.is_on]
    still = f" {len(on)} on the spit." if on else ""
    after = "" if away_s is None else f" after {span(away_s)}"
    return sentence(f"Back{after}. I have everything up to then.{still}")


def plan_taken_up(state: Cook, now_s: float) -> Sentence:
    """A plan kept earlier is this cook's: dinner, birds, and what comes first."""
    assert state.serve_s is not None, "a plan has its serving time"
    count = len(state.birds)
    some = f"{count} bird{'s' if count > 1 else ''}"
    text = f"As planned: dinner at {dinner(state.serve_s, state.zone, now_s)}, {some}."
    coming = [one for one in prompts(state) if one.due_s > now_s]
    if coming:
        first = coming[0]
        text += f" First {short((first,))} at {clock_text(first.due_s, state.zone)}."
    return sentence(text)


def plan_left(count: int) -> Sentence:
    """The kept plan is for another number of birds than was asked for."""
    some = f"{count} bird{'s' if count > 1 else ''}"
    return sentence(f"The kept plan is for {some}. Going on without it.")


__all__ = [
    "FAULT_KEPT",
    "FAULT_LOST",
    "NOTHING_SAID",
    "PLAN_UNREADABLE",
    "Sentence",
    "answer",
    "ask_back",
    "came_back",
    "clock_moved",
    "fire_help",
    "help_now",
    "journal_news",
    "missed",
    "open_question",
    "plan_left",
    "plan_taken_up",
    "prompt",
    "read_back",
    "refusal",
    "sentence",
    "spell",
]  # fmt: skip
