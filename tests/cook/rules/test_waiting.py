"""What a bird waits for: the board, the spoken answer and the next look agree."""

from assistant.board.view import BoardView
from assistant.board.waiting import wait_of
from assistant.cook.kinds import KINDS
from assistant.cook.rules.finish import spots_to_read
from assistant.cook.rules.forecasts import evidence_of
from assistant.cook.rules.lifting import farther_out, unread_spots
from assistant.cook.rules.waiting import next_mark
from assistant.heat.bird.look import waiting_for
from assistant.heat.bird.priors import TYPICAL_MASS_KG
from tests.cook.build import START_S, Evening, insisted


def waits(one: Evening) -> tuple[str, str, str | None]:
    bird = one.state.birds[0]
    view = BoardView(one.state, START_S + 90 * 60.0)
    looked = waiting_for(evidence_of(one.state).birds[0])
    return wait_of(bird, view).what, next_mark(bird), looked


def test_with_one_spot_at_the_sauce_mark_and_one_below_every_answer_is_the_sauce() -> None:
    one = insisted((0, "bird one gets harissa"), (0, "birds on"),
                   (60, "bird one breast 134"), (60.5, "bird one thigh 120"), birds=1)  # fmt: skip
    what, mark, looked = waits(one)
    assert what.removeprefix("a reading: ").startswith("sauce mark")
    assert (mark, looked) == ("sauce", "sauce")


def test_with_both_spots_at_the_mark_the_sauce_goes_on_and_the_next_reading_is_for_done() -> None:
    one = insisted((0, "bird one gets harissa"), (0, "birds on"),
                   (60, "bird one breast 134"), (60.5, "bird one thigh 132"), birds=1)  # fmt: skip
    assert waits(one) == ("its sauce", "done", "done")


def test_a_bird_nobody_weighed_weighs_the_same_for_the_plan_and_for_the_forecast() -> None:
    assert {name: kind.typical_kg for name, kind in KINDS.items()} == TYPICAL_MASS_KG


def test_an_old_reading_of_who_knows_where_neither_holds_back_nor_stands_in() -> None:
    """Half an hour later it tells nothing of now; at the mark it is neither breast nor thigh."""
    old = insisted((0, "birds on"), (40, "bird one reads 104"), (75, "bird one breast reads 166"))
    bird = old.state.bird(1)
    assert bird is not None
    assert bird.coldest_f() == 166.0
    assert spots_to_read(bird) == ("thigh",)
    hot = insisted((0, "birds on"), (70, "bird one reads 170"), (75, "bird one breast reads 166"))
    bird = hot.state.bird(1)
    assert bird is not None
    assert spots_to_read(bird) == unread_spots(bird) == ("thigh",)
    cold = insisted((0, "birds on"), (70, "bird one reads 150"), (75, "bird one breast reads 166"))
    bird = cold.state.bird(1)
    assert bird is not None
    assert not bird.is_done


def test_a_bird_farther_out_with_a_spot_unread_still_holds_the_spit() -> None:
    one = insisted((0, "birds on"), (75, "bird one breast reads 166"),
                   (75.5, "bird one thigh reads 167"),
                   (76, "bird two breast reads 168"))  # fmt: skip
    assert farther_out(one.state, (1,)) == (2,)
    one.say(77, "bird two thigh reads 167")
    assert farther_out(one.state, (1,)) == ()
