"""A prompt as a sign: the one thing to do, in capitals short enough to be drawn large."""

from collections.abc import Sequence

from assistant.cook.vocabulary.prompts import Prompt, TimerUp
from assistant.sentences.phrasing import listed
from assistant.sentences.prompting import timer_names

LONGEST = 17  # letters, so that a sign fits a terminal of eighty columns
SIGNS = {
    "take_off": "bird {birds} off", "sauce": "sauce bird {birds}", "coat": "recoat bird {birds}",
    "sauce_last": "sauce bird {birds}", "back_on": "bird {birds} back on",
    "look": "read bird {birds}", "stuck": "check bird {birds}", "keep_hot": "keep bird {birds} hot",
    "carve": "carve", "chill": "chill leftovers", "lid": "lid on", "refuel": "add charcoal",
    "vents": "bottom vent", "vents_ask": "tell the vents", "grill": "read the grill",
    "dinner": "dinner moved",
    "readiness": "read the list", "light": "light the coals", "birds_on": "birds on",
    "doubt": "check the probe", "unread": "read bird {birds}", "reread": "read {birds} again",
    "off_raw": "bird {birds} is raw", "end_raw": "end? yes or no",
    "lift": "for good? yes, no",
    "timer": "timer is up", "clock": "how long away?",
}  # fmt: skip


def sign(prompts: Sequence[Prompt]) -> str:
    """What several prompts of one kind ask for: "SAUCE 1 AND 2"."""
    first = prompts[0]
    if isinstance(first.about, TimerUp):
        names = timer_names(prompts)
        return _fitting(f"{names[0]} timer" if len(names) == 1 else "timer is up", "timer is up")
    numbers = sorted({one.bird for one in prompts if one.bird is not None})
    text = SIGNS[first.kind].format(birds=listed(numbers) if numbers else "")
    fewer = text.replace("bird ", "") if len(numbers) > 1 else text
    return _fitting(fewer, text.split(" ", maxsplit=1)[0])


def _fitting(text: str, shorter: str) -> str:
    return (text if len(text) <= LONGEST else shorter[:LONGEST]).upper()
