"""The next look: late enough to find something, early enough not to miss it."""

import pytest

from assistant.heat.bird.evidence import BirdEvidence, Look, Span
from assistant.heat.bird.forecast import forecast
from assistant.heat.bird.look import waiting_for
from tests.heat.bird.scenes import at, bird, evening, minutes

READ = ((40.0, 80.0), (55.0, 104.0))


def look(*birds: BirdEvidence, minute: float) -> Look:
    """The next look at a minute."""
    found = forecast(evening(*birds), 60.0 * minute).look
    assert found is not None
    return found


def test_the_first_look_waits_until_there_is_something_to_learn() -> None:
    found = look(bird(), minute=1.0)
    low, _, _ = minutes(at(evening(bird()), 1.0).sauce)
    assert low is not None
    assert 0.4 * low < found.at_s / 60.0 < 1.1 * low
    assert found.reason in {"first", "sauce"}


def first_look_min(kind: str, pounds: float, count: int = 1) -> float:
    birds = tuple(bird(kind=kind, pounds=pounds, number=n) for n in range(1, count + 1))
    return look(*birds, minute=1.0).at_s / 60.0


def test_chickens_on_a_spit_are_first_looked_at_after_30_to_45_minutes() -> None:
    """What cooks do; hens before that, turkeys after it. Common practice, no source."""
    for pounds, count in ((3.5, 1), (4.5, 2), (5.0, 1), (6.0, 2)):
        assert 30.0 <= first_look_min("chicken", pounds, count) <= 45.0
    assert first_look_min("hen", 1.5, 3) < 30.0
    assert first_look_min("turkey", 12.0) > 45.0


def test_the_sauce_mark_is_not_missed() -> None:
    """The look comes before the forecast's middle, whatever was read."""
    for readings, minute in (((), 5.0), (READ[:1], 41.0), (READ, 56.0)):
        told = evening(bird(*readings))
        _, middle, _ = minutes(at(told, minute).sauce)
        found = forecast(told, 60.0 * minute).look
        assert found is not None
        assert middle is not None
        assert minute < found.at_s / 60.0 < middle


def test_a_bird_surely_at_its_sauce_mark_is_looked_at_at_once() -> None:
    found = look(bird(), minute=150.0)
    assert found == Look(1, 150.0 * 60.0 + 60.0, "sauce")


def test_a_bird_just_read_is_left_alone_for_a_while() -> None:
    found = look(bird(*READ, (68.0, 129.0)), minute=68.5)
    assert found.at_s >= 73.0 * 60.0


def test_the_bird_that_may_be_ready_first_is_named() -> None:
    found = look(bird(pounds=7.0), bird(number=2, pounds=3.5), minute=2.0)
    assert found.bird == 2


def test_after_the_saucing_the_look_is_for_the_done_mark() -> None:
    sauced = bird(*READ, (72.0, 131.0), on=((0.0, 74.0), (84.0, None)))
    assert look(sauced, minute=88.0).reason in {"done", "spread"}


def test_a_bird_off_the_heat_is_looked_at_when_it_is_back() -> None:
    away = bird(*READ, (72.0, 131.0), on=((0.0, 74.0),))
    assert look(away, minute=76.0).at_s >= 84.0 * 60.0


@pytest.mark.parametrize(("on", "wanted"), [
    ((), None), ((Span(0.0),), "sauce"), ((Span(0.0, 3600.0), Span(4200.0)), "done"),
])  # fmt: skip
def test_what_a_bird_waits_for(on: tuple[Span, ...], wanted: str | None) -> None:
    told = bird(on=[(span.start_s / 60.0, span.end_s and span.end_s / 60.0) for span in on])
    assert waiting_for(told) == wanted


def test_more_birds_make_a_look_dearer_and_so_no_earlier() -> None:
    alone = look(bird(*READ), minute=56.0)
    crowd = look(bird(*READ), *(bird(*READ, number=n) for n in (2, 3, 4)), minute=56.0)
    assert crowd.at_s >= alone.at_s - 240.0
