"""Events to state."""

from hypothesis import given
from hypothesis import strategies as st

from assistant.cook.rules.fold import WINDOW, fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import Said
from tests.cook.build import START_S, evening


def test_a_bird_is_done_only_when_the_colder_of_the_last_two_spots_is() -> None:
    one = evening((0, "bird one on"), (80, "bird one breast reads 168"), (81, "bird one thigh 161"))
    bird = one.state.bird(1)
    assert bird is not None and bird.coldest_f() == 161
    assert not bird.is_done
    one.say(90, "bird one thigh 165")
    bird = one.state.bird(1)
    assert bird is not None and bird.is_done


def test_undo_takes_back_a_whole_batch_and_keeps_what_came_after() -> None:
    one = evening((0, "bird one weighs 5 lb"), (1, "birds on"), (2, "got it"), (3, "scratch that"))
    assert [bird.is_on for bird in one.state.birds] == [False]
    bird = one.state.bird(1)
    assert bird is not None and bird.mass_kg is not None


def test_a_correction_replaces_only_the_last_reading() -> None:
    one = evening(
        (0, "birds on"), (40, "bird one reads 112"), (41, "bird two reads 130"),
        (41.2, "correction 113"),
    )  # fmt: skip
    second = one.state.bird(2)
    first = one.state.bird(1)
    assert second is not None and second.readings[-1].temperature_f == 113
    assert first is not None and first.readings[-1].temperature_f == 112


def _events() -> st.SearchStrategy[ev.Event]:
    bird = st.integers(1, 3)
    temperature = st.floats(40, 200)
    return st.one_of(
        st.builds(ev.BirdOn, bird), st.builds(ev.BirdOff, bird), st.builds(ev.BirdSauced, bird),
        st.builds(ev.BirdRead, bird, temperature, st.builds(Said, temperature, st.just("F"))),
        st.builds(ev.FuelPut, st.floats(1, 50)), st.just(ev.LidOpened()), st.just(ev.LidClosed()),
        st.builds(ev.TimerStarted, st.just(START_S + 9999.0), st.floats(1, 60)),
    )  # fmt: skip


@given(st.lists(_events(), min_size=1, max_size=WINDOW * 2), st.integers(1, WINDOW))
def test_undoing_an_event_leaves_the_state_as_if_it_had_never_been(
    made: list[ev.Event], back: int
) -> None:
    entries = [
        ev.Recorded(seq, START_S + 10.0 * seq, event)
        for seq, event in enumerate([ev.CookBegan(), *made], 1)
    ]
    target = entries[max(1, len(entries) - back)]
    undo = ev.Recorded(len(entries) + 1, START_S + 1e5, ev.Undone(target.seq))
    undone = fold([*entries, undo])
    never = fold([entry for entry in entries if entry is not target])
    assert _facts(undone) == _facts(never)


def _facts(state: Cook) -> tuple[object, ...]:
    return (state.birds, state.fire, state.timers, state.prompts, state.readiness)


@given(st.lists(_events(), max_size=WINDOW * 2), st.integers(0, 200))
def test_folding_in_two_parts_is_folding_at_once(made: list[ev.Event], cut: int) -> None:
    entries = [ev.Recorded(seq, START_S + seq, event) for seq, event in enumerate(made, 1)]
    assert fold(entries[cut:], fold(entries[:cut])) == fold(entries)
