"""Talk with the program: read-backs."""

from math import inf

from assistant.cook.rules.decision import Record
from assistant.cook.rules.due import open_keys, prompts
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.sentences.birds import bird_fact
from assistant.sentences.leftovers import leftovers
from assistant.sentences.phrasing import listed, span
from assistant.sentences.prompting import short
from assistant.sentences.status import alike


def talk_told(command: cmd.TalkFact, record: Record, before: Cook, after: Cook) -> str:
    """The read-back of an answer, or of a word about the program."""
    match command:
        case cmd.Acknowledge() | cmd.ItemDone():
            return _settled(record, before, after)
        case cmd.Snooze():
            until = [one.until_s for one in record.events if isinstance(one, ev.PromptSnoozed)]
            now_s = max(before.at_s, after.at_s)
            return f"Again in {span(until[0] - now_s)}." if until else ""
        case cmd.Correct() | cmd.Undo() | cmd.No():
            return ""  # told above by what they mend
        case cmd.EndCook():
            return f"Cook ended. {leftovers(after)}".strip()
        case cmd.Sleep():
            return "Standing by; timers and take-off calls still speak. Say: listen again."
        case cmd.Wake():
            return "Listening."
        case cmd.Quieter():
            return "Quieter."
        case cmd.Louder():
            return "Louder."


def _settled(record: Record, before: Cook, after: Cook) -> str:
    """What "done" settled, and what still waits."""
    keys = [
        key for one in record.events if isinstance(one, ev.PromptAcknowledged) for key in one.keys
    ]
    if not keys:
        return ""
    noted = [bird_fact(one, after) if isinstance(one, ev.BirdEvent) else "lid on"
             for one in record.events if isinstance(one, ev.BirdEvent | ev.LidClosed)]  # fmt: skip
    waiting = set(open_keys(after, max(before.at_s, after.at_s)))
    still = [one for one in prompts(after) if one.key in waiting]
    open_still = [short(some) for some in alike(still, inf)]
    if not open_still:
        return f"Right, {listed(noted)}." if noted else "Right."
    done = alike([one for one in prompts(before) if one.key in keys], inf)
    settled = listed(noted or map(short, done))
    return f"Right, {settled}. Still open: {listed(open_still)}."
