"""Prompts worth hearing: what is due, when it is said, and when it is not."""

import csv
from itertools import pairwise
from pathlib import Path

import pytest

from assistant.cook.rules.due import due, late_by, load, next_due, open_keys, prompts
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.prompts import DinnerMoved, LightDue
from assistant.sentences import all as sentences
from tests.cook.build import START_S, Evening, insist, insisted

REFERENCES = Path(__file__).parents[2] / "references"


def at(minute: float) -> float:
    return START_S + 60.0 * minute


def kinds(state: Cook, minute: float) -> list[str]:
    return [one.kind for one in due(state, at(minute))]


def run(one: Evening, until: float, *, answer: str | None = None) -> list[tuple[float, list[str]]]:
    """Say what is due up to a minute, like a session does; `answer` follows each."""
    said = []
    for _ in range(500):
        next_s = next_due(one.state)
        if next_s is None or next_s > at(until):
            break
        now_s = max(next_s, one.state.at_s)
        minute = (now_s - START_S) / 60.0
        ready = due(one.state, now_s)
        assert ready, "woken for nothing"
        one.note(minute, *(ev.PromptSaid(p.key, p.urgency, late_by(p, now_s)) for p in ready))
        said.append((minute, [p.kind for p in ready]))
        if answer is not None:
            insist(one, minute + 0.1, answer)
    else:
        raise AssertionError("prompts without end")
    return said


COOKING = ((0.0, "bird one weighs 3.5 pounds"), (0.1, "bird two weighs 4 pounds"),
           (0.2, "fire is lit"), (25.0, "grill is 372"), (30.0, "birds on"),
           (38.0, "grill is 374"))  # fmt: skip
ALONE = tuple(step for step in COOKING if "two" not in step[1])


def test_a_timer_repeats_after_1_3_5_minutes_then_every_five_until_acknowledged() -> None:
    one = insisted((0, "remind me in ten minutes"))
    times = [minute for minute, _ in run(one, 32)]
    assert times == pytest.approx([10, 11, 13, 15, 20, 25, 30])
    insist(one, 33, "got it")
    assert run(one, 60) == []


def test_snoozed_is_said_again_when_asked() -> None:
    one = insisted((0, "remind me in ten minutes"))
    run(one, 10)
    insist(one, 10.2, "snooze five minutes")
    assert run(one, 15.3)[0][0] == pytest.approx(15.2)


def test_a_cancelled_timers_number_may_be_used_again() -> None:
    """The second timer rings although the first with its number has been said."""
    one = insisted((0, "remind me in two minutes"))
    run(one, 2)
    insist(one, 2.5, "cancel the timer")
    insist(one, 3, "remind me in four minutes")
    assert run(one, 7.5)[0] == (pytest.approx(7.0), ["timer"])  # type: ignore[comparison-overlap]


def test_soon_prompts_are_said_once_more_and_convenient_ones_once() -> None:
    one = insisted(*COOKING, (39.0, "bird one gets harissa"), (80.0, "bird one reads 131"))
    insist(one, 80.5, "bird one is off")
    assert sum("back_on" in some for _, some in run(one, 109)) == 2
    unread = insisted((0.0, "fire is lit"), (30.0, "birds on"))
    assert sum("grill" in some for _, some in run(unread, 95)) == 1


def test_a_last_call_for_sauce_ends_the_call_and_is_said_twice_at_most() -> None:
    one = insisted(*COOKING, (39.0, "bird one gets harissa"), (80.0, "bird one reads 131"))
    calls = [{"sauce", "sauce_last"} & {*some} for _, some in run(one, 120)]
    assert [some for some in calls if some] == [{"sauce"}, {"sauce_last"}, {"sauce_last"}]


def test_things_due_within_three_minutes_are_said_together() -> None:
    """A look due at 1:30 after another prompt comes with it."""
    one = insisted(*COOKING)
    coming = {p.kind for p in prompts(one.state)}
    assert coming >= {"look", "grill"}
    said = run(one, 120)
    for (earlier, first), (later, second) in pairwise(said):
        fresh = not set(first) & set(second)
        assert later - earlier > 20 / 60 or not fresh


def test_never_two_within_20_seconds_unless_urgent() -> None:
    one = insisted(*COOKING, (39, "bird one gets harissa"), (40, "dinner at six thirty"))
    said: list[tuple[float, list[str]]] = run(one, 79)
    insist(one, 80, "bird one reads 131")
    one.note(80.05, ev.PromptSaid("grill:0", "convenient"))
    assert kinds(one.state, 80.1) == []
    assert "sauce" in kinds(one.state, 80.45)
    assert said


def test_quiet_while_readings_are_told() -> None:
    """After a reading nothing unforced is said for 25 seconds, however due it is."""
    one = insisted((0.0, "fire is lit"), (30.0, "birds on"))
    assert "grill" in kinds(one.state, 42.1)
    insist(one, 42.15, "bird one reads 60")
    assert kinds(one.state, 42.2) == []
    assert "grill" in kinds(one.state, 42.15 + 26 / 60)


def test_a_reading_that_makes_sauce_due_is_answered_at_once() -> None:
    one = insisted(*COOKING, (39, "bird one gets harissa"))
    run(one, 79)
    insist(one, 80, "bird one reads 131")
    assert "sauce" in kinds(one.state, 80)


def test_what_the_cook_just_did_is_not_said() -> None:
    """Sauced, fed, read and put back on: each silences its own prompt."""
    one = insisted(*COOKING, (39, "bird one gets harissa"), (80, "bird one reads 131"))
    insist(one, 80.1, "bird one is off")
    insist(one, 81, "bird one sauced")
    insist(one, 85, "bird one is back on")
    assert not {"sauce", "sauce_last", "back_on"} & {p.kind for p in prompts(one.state)}
    insist(one, 86, "added sixteen briquettes")
    refuel = [p for p in prompts(one.state) if p.kind == "refuel"]
    assert all(p.due_s >= at(86 + 20) for p in refuel)
    insist(one, 87, "grill is 371")
    dial = [p for p in prompts(one.state) if p.kind == "grill"]
    assert all(p.due_s >= at(87 + 40) for p in dial)


def test_a_sweet_sauce_is_called_later_than_a_plain_one() -> None:
    """Both birds at 131 with long to go: harissa now, apricot later."""
    spoken = (*COOKING, (39, "bird one gets apricot"), (40, "bird two gets harissa"),
              (75, "bird one reads 131"), (75.4, "bird two reads 131"))  # fmt: skip
    one = insisted(*spoken)
    times = {p.bird: p.due_s for p in prompts(one.state) if p.kind == "sauce"}
    assert times[1] > times[2]


def test_the_last_call_for_sauce_is_urgent() -> None:
    one = insisted(*COOKING, (39, "bird one gets harissa"), (80, "bird one reads 131"))
    last = [p for p in prompts(one.state) if p.kind == "sauce_last"]
    assert [p.urgency for p in last] == ["now"]
    assert last[0].due_s > at(80)


def test_a_finished_bird_is_left_alone() -> None:
    """Done and off: no look, sauce, off or on for it any more."""
    one = insisted(*COOKING, (39, "bird one gets harissa"), (85, "bird one breast 167"),
                  (85.4, "bird one thigh 168"), (86, "bird one is off"))  # fmt: skip
    assert {p.kind for p in prompts(one.state) if p.bird == 1} <= {"keep_hot"}


def test_done_birds_rest_then_carve_then_chill() -> None:
    one = Evening(ev.CookBegan(birds=1))
    for minute, words in (*ALONE, (85, "bird one breast 167"), (85.4, "bird one thigh 168"),
                          (86, "bird one is off")):  # fmt: skip
        insist(one, minute, words)
    coming = [(p.kind, round((p.due_s - at(86)) / 60)) for p in prompts(one.state)]
    assert coming == [("carve", 15), ("chill", 90)]


def test_carving_waits_for_the_table() -> None:
    """With dinner at six thirty carving starts in time for it, not at the end of the rest."""
    one = Evening(ev.CookBegan(birds=1))
    for minute, words in (*ALONE, (40, "dinner at six thirty"), (85, "bird one breast 167"),
                          (85.4, "bird one thigh 168"), (86, "bird one is off")):  # fmt: skip
        insist(one, minute, words)
    carve = next(p for p in prompts(one.state) if p.kind == "carve")
    assert carve.due_s == at(150 - 7)


def test_an_early_batch_is_kept_hot() -> None:
    one = insisted(*COOKING, (85, "bird one breast 167"), (85.4, "bird one thigh 168"),
                  (86, "bird one is off"))  # fmt: skip
    assert [p.kind for p in prompts(one.state) if p.bird == 1] == ["keep_hot"]


def test_the_plan_calls_for_the_list_the_match_and_the_birds() -> None:
    """Dinner at nine in the evening, told at four: first the list, then the match; once
    lit, the birds, but never before the grill can be ready."""
    one = Evening(ev.CookBegan(birds=2))
    insist(one, 0, "dinner at nine")
    said = [kind for _, some in run(one, 200, answer="got it") for kind in some]
    assert said[:2] == ["readiness", "light"]
    insist(one, 201, "fire is lit")
    on = [p for p in prompts(one.state) if p.kind == "birds_on"]
    assert on
    assert on[0].due_s >= at(201 + 30)
    insist(one, 240, "birds on")
    assert not {"birds_on", "light", "readiness"} & {p.kind for p in prompts(one.state)}


def test_dinner_moved_is_told_once_until_it_moves_again() -> None:
    """Two cold readings make dinner late: said once with how late, not at every reading."""
    one = insisted(*COOKING, (40, "dinner at five forty"), (72, "bird one reads 92"),
                   (72.3, "bird two reads 92"))  # fmt: skip
    late = [p for p in prompts(one.state) if p.kind == "dinner"]
    assert late
    assert isinstance(late[0].about, DinnerMoved)
    minutes = late[0].about.late_min
    assert minutes >= 10
    run(one, 73)
    insist(one, 74, "bird one reads 95")
    assert not [p for p in prompts(one.state) if p.kind == "dinner"]


def test_a_missing_dial_is_asked_for_and_charcoal_is_not_guessed() -> None:
    """Nobody read the grill: asked twelve minutes after birds on; no dose without a dial."""
    one = insisted((0, "fire is lit"), (30, "birds on"))
    coming = {p.kind: round((p.due_s - START_S) / 60) for p in prompts(one.state)}
    assert coming["grill"] == 42
    assert "refuel" not in coming


def test_acknowledged_and_snoozed_are_open_no_more() -> None:
    one = insisted((0, "remind me in one minute"))
    run(one, 1)
    assert len(open_keys(one.state, at(1.2))) == 1
    insist(one, 1.5, "got it")
    assert open_keys(one.state, at(1.6)) == ()


def test_a_prompt_on_time_is_not_late_and_a_repeat_neither() -> None:
    one = insisted((0, "remind me in ten minutes"))
    run(one, 10)
    again = due(one.state, at(11))
    assert [late_by(p, at(11)) for p in again] == [pytest.approx(0.0)]
    assert again[0].said == 1


def test_late_after_an_absence() -> None:
    """Nothing is lost while the program was away: it is said on return, and late."""
    one = insisted((0, "remind me in ten minutes"))
    ready = due(one.state, at(45))
    assert [p.kind for p in ready] == ["timer"]
    assert late_by(ready[0], at(45)) == pytest.approx(35 * 60)


def test_a_steady_cook_stays_within_the_published_alarm_rates() -> None:
    """Three hours without trouble: at most six unforced prompts an hour (one in ten
    minutes, the published goal), fewer than ten in any ten minutes."""
    rows = {
        row["metric"]: row
        for row in csv.DictReader(
            line for line in (REFERENCES / "alarm_rates.csv").read_text().splitlines()
            if not line.startswith("#")
        )
    }  # fmt: skip
    assert rows["steady rate, goal"]["value"] == "less than 1 per 10 min"
    assert rows["any 10 min"]["value"] == "fewer than 10"
    one = insisted(*COOKING, (39, "bird one gets apricot"), (39.5, "bird two gets harissa"),
                  (40, "dinner at six thirty"))  # fmt: skip
    steps = (
        (70, "bird one reads 112"), (70.3, "bird two reads 110"), (75, "grill is 372"),
        (76, "added twelve briquettes"), (82, "bird one reads 131"),
        (82.3, "bird two reads 130"), (83, "bird one is off"), (83.2, "bird two is off"),
        (86, "sauced"), (92, "birds on"), (108, "bird one breast 160"),
        (108.4, "bird two breast 159"), (110, "grill is 368"), (114, "bird one breast 167"),
        (114.3, "bird one thigh 168"), (114.6, "bird one is off"), (116, "bird two breast 166"),
        (116.3, "bird two thigh 168"), (116.6, "bird two is off"), (150, "got it"),
    )  # fmt: skip
    for minute, words in steps:
        run(one, minute)
        insist(one, minute, words)
    run(one, 180)
    found = load(one.recorded)
    assert found.hours == pytest.approx(3.0, abs=0.6)
    assert found.unforced_per_hour <= 6.0
    assert found.most_in_ten_min < 10
    assert found.sentences >= 5  # it does speak


def test_a_dinner_that_cannot_be_on_time_moves_the_plan_before_the_match() -> None:
    """At four, dinner at five with a raw six-pounder: no alarm; lighting it says when."""
    one = insisted((0, "bird one weighs 6 pounds"), (1, "dinner at five"))
    assert not [p for p in prompts(one.state) if p.kind == "dinner"]
    light = next(p for p in prompts(one.state) if p.kind == "light")
    text = sentences.prompt((light,), one.state, at(1)).text
    assert isinstance(light.about, LightDue)
    assert light.about.table_s is not None
    assert 60 < (light.about.table_s - at(60)) / 60.0 < 240
    assert "Dinner moves to about 6:" in text
