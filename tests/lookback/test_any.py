"""No journal, however odd, breaks what looks at past cooks."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.app.replay import moments, view_at
from assistant.board.layout import board_rows
from assistant.board.lines import facts
from assistant.cook.rules.fold import fold
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.lookback.facts import evening
from assistant.lookback.tables import csv_text, jsonl_text
from assistant.lookback.words import cautions, lessons
from tests.journal.evenings import START_S

temperature = st.floats(-50, 700)
said = st.builds(cmd.Said, temperature, st.sampled_from(["F", "C"]))
bird = st.integers(1, 4)
text = st.text(max_size=12)
moment = st.floats(1.7e9, 1.8e9)
reading = st.builds(cmd.BirdReading, bird, temperature, said)
words = text | st.sampled_from(
    ["birds on", "bird one reads ninety", "what's next", "scratch that", "how long", "yes"]
)
key = text | st.sampled_from(["look:1:2", "sauce:2:x", "timer:1:3", "refuel:", "take_off:9"])
event = st.one_of(
    st.builds(
        ev.BirdRead, bird, temperature, said, st.sampled_from([None, "breast", "thigh", "wing"])
    ),
    st.builds(ev.GrillRead, temperature, said),
    st.builds(ev.BirdWeighed, bird, st.floats(0.1, 12)),
    st.builds(ev.SauceAssigned, bird, text),
    st.builds(ev.BirdOn, bird),
    st.builds(ev.BirdOff, bird),
    st.builds(ev.BirdSauced, bird),
    st.builds(ev.FuelPut, st.floats(0, 300), st.sampled_from(["briquettes", "lump", "chimney"])),
    st.sampled_from([ev.LidOpened(), ev.LidClosed(), ev.FireStarted(), ev.CookEnded()]),
    st.builds(ev.ServeSet, moment),
    st.builds(ev.TimerStarted, moment, st.floats(0, 99), st.none() | text),
    st.builds(ev.PromptSaid, key, st.sampled_from(["now", "soon", "convenient", "odd"])),
    st.builds(ev.PromptAcknowledged, st.tuples(key)),
    st.builds(ev.Undone, st.integers(0, 20)),
    st.builds(ev.Corrected, st.integers(0, 20), temperature, said),
    st.builds(ev.AskedBack, st.tuples(reading, reading), text),
    st.builds(ev.AskBackClosed, text),
    st.builds(
        ev.WordsHeard, words, st.floats(0, 1),
        st.sampled_from(["accept", "refuse", "ask", "stress"]),
        st.sampled_from([None, "birds_on", "unheard_of"]),
    ),
    st.builds(ev.Resumed, st.floats(0, 1e5)),
    st.builds(ev.TroubleNoted, st.sampled_from(["flare_up", "wing_loose"]), st.none() | bird),
)  # fmt: skip
evenings = st.lists(st.tuples(st.floats(0, 4000), event), max_size=12)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(evenings, st.sampled_from(["F", "C"]))
def test_any_evening_can_be_replayed_and_looked_back_on(
    items: list[tuple[float, ev.Event]], scale: str
) -> None:
    at_s = START_S
    recorded = [ev.Recorded(1, at_s, ev.CookBegan(birds=3, scale=scale))]  # type: ignore[arg-type]
    for wait_s, one in items:
        at_s += wait_s
        recorded.append(ev.Recorded(len(recorded) + 1, at_s, one))
    seen = evening(recorded, "x")
    assert csv_text(seen).count("\n") > len(recorded)
    assert jsonl_text(seen).endswith("}\n")
    assert lessons(seen)
    assert cautions(seen)
    assert list(moments(recorded))[-1].state == fold(recorded)
    view = view_at(recorded, at_s - START_S)
    assert view is not None
    assert len(board_rows(view, 80, 24)) == 24
    assert "\n" not in "".join(facts(view).values())
