"""What the kitchen learns from its cooks, and how that is reset and excluded."""

from collections.abc import Iterator, Sequence
from dataclasses import fields, replace
from pathlib import Path

import numpy as np
import pytest

from assistant.cook.rules.fold import fold
from assistant.cook.rules.forecasts import forecast_of
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.heat.bird.evidence import Evidence, Kitchen
from assistant.journal import learning
from assistant.journal.errors import JournalError
from assistant.journal.store import Journal
from tests.journal.evenings import START_S, told

DAY_S = 86400.0


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    with Journal(tmp_path / "journal.db") as one:
        yield one


def roast(journal: Journal, day: int, f_at_hour: int, *, ended: bool = True) -> str:
    """A cook of one five-pound bird that reads `f_at_hour` after an hour on the spit."""
    start_s = START_S + day * DAY_S
    lines = [
        (0.0, "bird one weighs five pounds"), (60.0, "grill is three seventy five"),
        (120.0, "birds on"), (3720.0, f"bird one reads {f_at_hour}"),
        (4400.0, "grill is three seventy five"), (4500.0, f"bird one reads {f_at_hour + 25}"),
    ]  # fmt: skip
    if ended:
        lines += [(7000.0, "end the cook"), (7005.0, "yes")]  # it is still on
    recorded = told(lines, ev.CookBegan(birds=1), start_s)
    cook_id = journal.begin(f"day {day}", start_s)
    journal.append_recorded(cook_id, recorded)
    return cook_id


def median_done_s(kitchen: Kitchen) -> float:
    """When a bird just put on is forecast done, in seconds on the spit."""
    lines = [(0.0, "bird one weighs five pounds"), (60.0, "birds on")]
    recorded = told(lines, ev.CookBegan(birds=1))
    found = forecast_of(fold(recorded, Cook(kitchen=kitchen)))
    assert found is not None
    assert found.birds[0].done.q50 is not None
    return found.birds[0].done.q50 - recorded[-1].at_s


def test_a_new_journal_knows_no_kitchen(journal: Journal) -> None:
    assert learning.kitchen_of(journal) == Kitchen()
    assert learning.relearn(journal) == Kitchen()
    assert "Nothing learned yet" in learning.kitchen_lines(Kitchen())[0]


def test_a_quick_kitchen_is_learned_and_forecasts_get_shorter(journal: Journal) -> None:
    for day in range(3):
        roast(journal, day, 148)
    kitchen = learning.relearn(journal)
    assert kitchen.cooks == 3
    assert learning.kitchen_of(journal) == kitchen  # kept whole, spreads and ties too
    assert median_done_s(kitchen) < median_done_s(Kitchen()) - 60


def test_only_cooks_that_ended_teach(journal: Journal) -> None:
    roast(journal, 0, 120)
    roast(journal, 1, 120, ended=False)
    assert learning.relearn(journal).cooks == 1


def test_an_excluded_cook_teaches_nothing_until_included_again(journal: Journal) -> None:
    roast(journal, 0, 120)
    odd = roast(journal, 1, 140)
    with_odd = learning.relearn(journal)
    without = learning.exclude(journal, odd)
    assert without.cooks == 1
    assert learning.exclude(journal, odd) == without
    assert learning.choices(journal).excluded == (odd,)
    assert learning.include(journal, odd) == with_odd
    assert learning.choices(journal).excluded == ()


def test_a_reset_forgets_the_kitchen_but_no_cook(journal: Journal) -> None:
    old = roast(journal, 0, 120)
    learning.relearn(journal)
    assert learning.reset(journal, START_S + 1.5 * DAY_S) == Kitchen()
    assert len(journal.cooks()) == 1
    roast(journal, 2, 120)
    assert learning.relearn(journal).cooks == 1
    with pytest.raises(JournalError, match="before the kitchen was reset"):
        learning.include(journal, old)
    with pytest.raises(JournalError, match="no cook with the id"):
        learning.include(journal, "nothing")


def test_learning_twice_changes_nothing(journal: Journal) -> None:
    """What a cook started with never counts twice: lessons are freed of it."""
    roast(journal, 0, 130)
    first = learning.relearn(journal)
    assert learning.relearn(journal) == first


def test_a_cook_keeps_the_kitchen_it_began_with(journal: Journal) -> None:
    roast(journal, 0, 130)
    then = learning.relearn(journal)
    cook_id = journal.begin("tonight", START_S + DAY_S)
    assert learning.begin_with(journal, cook_id) == Cook(kitchen=then)
    roast(journal, 2, 110)
    assert learning.relearn(journal) != then
    assert learning.start_of(journal, cook_id).kitchen == then


def test_a_correction_and_an_undo_leave_the_kitchen_known() -> None:
    kitchen = Kitchen(1, (("size", 0.1, 0.02),))
    recorded = told([(0, "birds on"), (2000, "bird one reads ninety"), (2010, "scratch that")])
    assert fold(recorded, Cook(kitchen=kitchen)).kitchen == kitchen


def test_the_fire_is_learned_beside_the_birds(journal: Journal) -> None:
    roast(journal, 0, 125)
    kitchen = learning.relearn(journal)
    names = [name for name, _, _ in kitchen.shift]
    fire = ["fire_heat", "fire_loss", "fire_air", "fire_life", "fire_steel"]
    assert names[-8:] == [*fire, "fire_birds", "fire_leak", "fire_tail"]
    assert median_done_s(kitchen) > 0  # and the birds' forecast takes what is its own
    text = "\n".join(learning.kitchen_lines(kitchen))
    assert "how long a briquette lasts" in text


def test_one_odd_fire_moves_the_kitchen_little_and_many_alike_move_it_far() -> None:
    prior_sd = next(sd for name, _, sd in learning.FIRE_PRIOR if name == "fire_loss")
    lesson = (("fire_loss", 0.2, prior_sd / 2),)
    ((_, one, one_sd),) = learning.pooled([lesson])
    ((_, ten, ten_sd),) = learning.pooled([lesson] * 10)
    assert 0 < one < 0.2  # less than that cook alone would have it
    assert one < ten
    assert 0.25 * prior_sd <= ten_sd < one_sd < prior_sd


def test_a_fire_that_told_nothing_moves_nothing() -> None:
    prior_sd = next(sd for name, _, sd in learning.FIRE_PRIOR if name == "fire_air")
    assert learning.pooled([(("fire_air", 0.1, 1.1 * prior_sd),)]) == (  # type: ignore[comparison-overlap]
        ("fire_air", 0.0, pytest.approx(prior_sd)),
    )
    assert learning.pooled([]) == ()


def test_a_cook_that_makes_no_sense_teaches_nothing(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    roast(journal, 0, 125)
    good = learning.relearn(journal)
    roast(journal, 1, 130)
    real = learning.learn

    def learn(lessons: Sequence[Evidence]) -> Kitchen:
        if any(one.birds[0].readings[0].temperature_c > 54.4 for one in lessons):
            raise np.linalg.LinAlgError("Singular matrix")
        return real(lessons)

    monkeypatch.setattr(learning, "learn", learn)
    assert learning.relearn(journal).shift[:6] == good.shift[:6]


@pytest.mark.parametrize("kept", [None, 3, "x", [], {}, {"cooks": 1, "shift": [["a"]], "ties": []}])
def test_settings_that_cannot_be_understood_are_the_world_prior(
    journal: Journal, kept: object
) -> None:
    journal.set_setting(learning.KITCHEN, kept)
    journal.set_setting(learning.CHOICES, kept)
    assert learning.kitchen_of(journal) == Kitchen()
    assert learning.choices(journal).since_s is None


def test_a_kitchen_kept_by_an_earlier_forecaster_is_learned_anew(journal: Journal) -> None:
    """Its numbers are of other unknowns: they are not read as these."""
    roast(journal, 0, 130)
    now = learning.relearn(journal)
    old = {"cooks": 1, "shift": [["size", 0.4, 0.02]], "ties": [[1.0]], "scatter": 1.0}
    journal.set_setting(learning.KITCHEN, old)
    assert learning.kitchen_of(journal) == Kitchen()
    cook_id = journal.begin("tonight", START_S + DAY_S)
    assert learning.begin_with(journal, cook_id) == Cook(kitchen=now)


def test_a_kitchen_is_kept_whole_whatever_it_holds(journal: Journal) -> None:
    shift = (("size", 0.1, 0.02), ("probe", -0.2, 0.3))
    kitchen = Kitchen(7, shift, ((1.0, 0.2), (0.2, 1.0)), 0.6, -3.5, 4.5, (("oven", shift, ()),))
    unlike = [one.name for one in fields(Kitchen) if getattr(kitchen, one.name) == one.default]
    assert unlike == []  # every field is tried
    journal.set_setting(learning.KITCHEN, learning._to_json(kitchen))
    assert learning.kitchen_of(journal) == kitchen


def test_learned_values_are_told_with_their_spread() -> None:
    shift = (("surface", 0.06, 0.03), ("start", -1.0, 0.5), ("shape", 0.1, 0.2))
    kitchen = Kitchen(4, shift, grill_shift_c=5.0, grill_sd_c=10.0, scatter=0.5)
    lines = learning.kitchen_lines(kitchen)
    assert lines[0] == "Learned from 4 cooks, against published figures:"
    assert lines[1].endswith("+6 % ± 3 %")
    assert lines[2].endswith("-1.8 ± 0.9 F")
    assert lines[3].endswith("+0.1 ± 0.2")
    assert lines[4].endswith("+9.0 ± 18.0 F")
    assert lines[5].endswith("0.50 of the usual")
    assert learning.kitchen_lines(replace(kitchen, cooks=1))[0].startswith("Learned from 1 cook,")
