"""What the program itself notes, in the state. Pure."""

from dataclasses import replace

from assistant.cook.clocktimes import known_zone
from assistant.cook.naming import claims
from assistant.cook.rules.doubts import SETTLED, with_doubts, without_doubts
from assistant.cook.state import Cook, Fire, Pending, PromptRecord
from assistant.cook.vocabulary import events as ev

KEPT_PROMPTS = 200  # older prompt records can no longer repeat


def step_program(state: Cook, entry: ev.Recorded, event: ev.ProgramEvent) -> Cook:
    """The state after a cook began, went on or ended, a prompt or a question was said."""
    at_s = entry.at_s
    match event:
        case ev.CookBegan():
            return _begin(state, at_s, event)
        case ev.CookEnded():
            return replace(state, ended_s=at_s)
        case ev.PromptSaid(key):
            record = prompt_of(state, key)
            return with_prompt(state, replace(record, said_s=(*record.said_s, at_s)))
        case ev.AskedBack(options, why, clock_s, later):
            doubted = with_doubts(state, options, at_s, entry.seq)
            return replace(
                doubted, pending=Pending(at_s, options, why, entry.seq, clock_s, later or ())
            )
        case ev.AskBackClosed(answer):
            settled = without_doubts(state) if answer in SETTLED else state
            return replace(settled, pending=None)
        case ev.Resumed(_, boot, booted_s):
            return replace(state, boot=boot, booted_s=booted_s)
        case ev.WordsHeard():
            return replace(state, last_heard=event.words, heard_s=at_s)


def _begin(state: Cook, at_s: float, event: ev.CookBegan) -> Cook:
    fire = Fire(band_low_f=event.band_low_f, band_high_f=event.band_high_f)
    return replace(
        state, began_s=at_s, zone=known_zone(event.zone), scale=event.scale, kind=event.kind,
        fire=fire, heat=event.heat or "charcoal spit",
        altitude_m=event.altitude_m, outside_f=event.outside_f, expected_birds=event.birds,
        sauce_mark_f=event.sauce_mark_f, done_mark_f=event.done_mark_f,
        boot=event.boot, booted_s=event.booted_s, motor_side=event.motor_side,
        sauces=tuple(one for one in event.sauces if not claims(one[0])),
    )  # fmt: skip


def prompt_of(state: Cook, key: str) -> PromptRecord:
    """What is known of the prompt with that key."""
    return next((one for one in state.prompts if one.key == key), PromptRecord(key))


def with_prompt(state: Cook, record: PromptRecord) -> Cook:
    """The state with that record in place of the older one."""
    others = tuple(one for one in state.prompts if one.key != record.key)
    return replace(state, prompts=(*others, record)[-KEPT_PROMPTS:])
