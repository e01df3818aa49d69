"""Sauce by its sugar, its window, its bird's place, and what the brush touched."""

from dataclasses import replace

import pytest

from assistant.cook.rules.sauces import SET_S, brush_is_raw, sugar_of, window
from assistant.cook.state import Bird
from assistant.heat.bird.evidence import BirdForecast, Quantiles
from tests.cook.build import insisted

NOW_S = 10_000.0


def forecast(sauce_min: float | None, done_min: float) -> BirdForecast:
    def q(minutes: float | None) -> Quantiles:
        at = None if minutes is None else NOW_S + 60 * minutes
        return Quantiles(at, at, at)

    return BirdForecast(1, q(sauce_min), q(done_min), (40.0, 45.0, 50.0), 0.1, 0.0)


def bird(sugar: str = "some", sauced_s: tuple[float, ...] = ()) -> Bird:
    assert sugar in {"none", "some", "high"}
    return Bird(1, sauce="harissa", sugar=sugar, sauced_s=sauced_s)  # type: ignore[arg-type] # checked above


@pytest.mark.parametrize(
    ("name", "sugar"),
    [("apricot", "high"), ("honey mustard", "high"), ("harissa", "some"), ("lemon butter", "none"),
     ("plain", "none")],
)  # fmt: skip
def test_sugar_is_told_by_the_name(name: str, sugar: str) -> None:
    assert sugar_of(name) == sugar


def test_the_cooks_own_word_on_a_sauce_wins() -> None:
    assert sugar_of("apricot", [("apricot", "none")]) == "none"


def test_the_window_opens_at_the_mark_and_closes_ten_minutes_before_done() -> None:
    found = window(bird(), forecast(15, 45), NOW_S)
    assert found is not None
    assert found.opens_s == NOW_S + 15 * 60
    assert found.closes_s == NOW_S + 45 * 60 - SET_S


def test_a_sweet_sauce_waits_until_25_minutes_before_done() -> None:
    found = window(bird("high"), forecast(5, 45), NOW_S)
    assert found is not None
    assert found.opens_s == NOW_S + 20 * 60


def test_a_window_never_closes_before_it_opens() -> None:
    """A bird minutes from done still gets its sauce at once."""
    found = window(bird(), forecast(None, 4), NOW_S)
    assert found is not None
    assert found.opens_s == found.closes_s == NOW_S


@pytest.mark.parametrize(("done_min", "coat"), [(30, True), (12, False)])
def test_a_second_coat_only_if_it_can_dry(done_min: float, coat: bool) -> None:
    found = window(bird(sauced_s=(NOW_S,)), forecast(None, done_min), NOW_S)
    assert found is not None
    assert (found.second_s is not None) is coat


def test_no_second_coat_is_told_of_beside_a_few_minutes_to_done() -> None:
    """Sauced twenty minutes ago and four minutes from done: the coat would still be wet."""
    late, early = (
        window(bird(sauced_s=(NOW_S - 1200.0,)), forecast(None, done_min), NOW_S)
        for done_min in (4, 12)
    )
    assert late is not None
    assert late.second_s is None
    assert early is not None
    assert early.second_s == NOW_S


def test_no_second_coat_on_a_bird_that_may_be_done_by_then() -> None:
    told = replace(forecast(None, 18), done=Quantiles(NOW_S + 420, NOW_S + 1080, NOW_S + 1800))
    found = window(bird(sauced_s=(NOW_S,)), told, NOW_S)
    assert found is not None
    assert found.second_s is None


def test_a_plain_bird_has_no_window() -> None:
    assert window(Bird(1, sauce="plain"), forecast(15, 45), NOW_S) is None
    assert window(Bird(1), forecast(15, 45), NOW_S) is None


def test_a_brush_that_met_undercooked_bird_is_known() -> None:
    """Sauced at 131: the brush is raw. Sauced after 166 in both spots: it is not."""
    raw = insisted((0, "bird one gets harissa"), (0, "birds on"), (55, "bird one reads 131"),
                  (56, "bird one sauced"))  # fmt: skip
    assert brush_is_raw(raw.state)
    done = insisted((0, "bird one gets harissa"), (0, "birds on"), (85, "bird one breast 166"),
                   (86, "bird one thigh 168"), (87, "bird one sauced"))  # fmt: skip
    assert not brush_is_raw(done.state)


def test_an_unread_bird_counts_as_raw() -> None:
    one = insisted((0, "birds on"), (50, "bird one sauced"))
    assert brush_is_raw(one.state)


def test_the_assigned_sauce_carries_its_sugar() -> None:
    one = insisted((0, "bird one gets apricot"))
    found = one.state.bird(1)
    assert found is not None
    assert found.sugar == "high"
