"""The whole dinner in print, as a list, as a page: what a table of times cannot say."""

import json
import re
from html.parser import HTMLParser

import pytest

from assistant.cook.planning.plan import Grill, PlannedBird
from assistant.cook.planning.whole_dinner import Dinner, Order, placed, whole_dinner
from assistant.sentences.dinner_list import dinner_list, list_text
from assistant.sentences.dinner_text import birds_in_order, dinner_json, dinner_table, notes
from assistant.sentences.fridge_page import fridge_page
from tests.cook.planning.test_days_before import HOUR_S, NOW_S, flock, order

UTC = "UTC"


def text_of(dinner: Dinner) -> str:
    """The notes in one line each."""
    return "\n".join(notes(dinner, UTC))


@pytest.fixture(scope="module")
def three() -> Dinner:
    return whole_dinner(order(*flock(4.5, 6.5, 4.5), guests=6), NOW_S)


@pytest.fixture(scope="module")
def one() -> Dinner:
    return whole_dinner(order(*flock(5.0), guests=9), NOW_S)


def test_the_print_fits_eighty_columns_and_ends_with_the_cautions(three: Dinner) -> None:
    lines = dinner_table(three, UTC).splitlines()
    assert max(map(len, lines)) <= 80
    tail = "\n".join(lines[-4:])
    assert "carbon monoxide until it is fully out" in tail
    assert "165 F in every part of every bird (USDA FSIS). Hot metal: gloves on." in tail
    assert "does not run between now and the cook" in tail


def test_the_heaviest_sits_at_the_motor_and_the_far_ones_are_pulled_first(three: Dinner) -> None:
    assert (
        "From the motor end: 1 (6.5 lb), 2 (4.5 lb), 3 (4.5 lb). Pull the far end first:"
        " birds 2 and 3."
    ) in text_of(three)
    assert "Carve birds 2, 3, 1 in this order." in text_of(three)


def test_matched_birds_come_off_together() -> None:
    told = text_of(whole_dinner(order(*flock(5, 5)), NOW_S))
    assert "From the motor end: 1 (5 lb), 2 (5 lb). Matched: all off together." in told


def test_one_bird_sits_in_the_middle(one: Dinner) -> None:
    assert text_of(one).startswith("One bird, in the middle of the spit.")
    assert "Carve bird 1." in text_of(one)


def test_more_birds_than_the_spit_holds_go_in_rounds() -> None:
    birds = placed(flock(4, 4, 4))
    two_at_once = Order(NOW_S + 19 * HOUR_S, birds, Grill(at_once=2))
    assert "On the spit 2 at once, in rounds" in text_of(whole_dinner(two_at_once, NOW_S))


def test_enough_or_not_for_the_guests_is_said_with_its_source(one: Dinner, three: Dinner) -> None:
    assert (
        "9 at the table: these birds feed about 5 (chicken 1 lb raw a person, USDA FSIS). Buy more."
    ) in text_of(one)
    assert "6 at the table: enough (chicken 1 lb raw a person, USDA FSIS)." in text_of(three)


def test_hens_are_one_a_person() -> None:
    told = text_of(whole_dinner(order(*flock(1.5, 1.5, kind="hen"), guests=2), NOW_S))
    assert "2 at the table: enough (one hen a person)." in told


def test_no_guests_told_no_word_of_them() -> None:
    assert "at the table" not in text_of(whole_dinner(order(*flock(5)), NOW_S))


@pytest.mark.parametrize(
    ("away_h", "said"),
    [
        (100, r"If frozen: into the refrigerator Mon \d\d:\d\d, at the latest (Mon|Tue) \d\d:\d\d"),
        (19.5, r"If frozen: in cold water from Sat 1\d:\d\d, changed every 30 min"),
        (5, "If frozen: too late to thaw, even in cold water; not for a spit."),
    ],
)
def test_what_a_frozen_bird_would_take_where_nobody_said(away_h: float, said: str) -> None:
    birds = flock(5, 5) if away_h == 100 else flock(4.5, 6.5, 4.5)
    assert re.search(said, text_of(whole_dinner(order(*birds, away_h=away_h), NOW_S)))


def test_birds_told_to_be_frozen_are_in_the_table_and_not_asked_about() -> None:
    dinner = whole_dinner(order(*flock(5), away_h=100, frozen=True), NOW_S)
    assert "If frozen" not in text_of(dinner)
    assert "refrigerator" in dinner_table(dinner, UTC)


def test_a_bird_that_waits_long_is_to_be_kept_hot() -> None:
    """Two far weights share one start: a hen is done an hour before a big bird."""
    birds = (PlannedBird(1, 5.5, "turkey"), PlannedBird(2, 0.55, "hen"))
    told = text_of(whole_dinner(order(*birds), NOW_S))
    assert "before dinner: keep hot at 140 F or above (oven, covered)" in told


def test_carving_order_in_words() -> None:
    assert birds_in_order((1,)) == "bird 1"
    assert birds_in_order((3, 1, 2)) == "birds 3, 1, 2 in this order"


def test_the_list_counts_birds_of_one_weight_together(three: Dinner) -> None:
    (buy, bought), (_, laid_out) = dinner_list(three)
    assert buy == "Buy"
    assert bought[:2] == ("1 chicken of 6.5 lb (2.95 kg)", "2 chickens of 4.5 lb (2.04 kg)")
    assert "kosher salt, 16 teaspoons (1 a pound)" in bought, "15.5 pounds, rounded up"
    assert "a clean brush for the end: the others touch raw poultry" in laid_out
    assert all(len(line) <= 80 for line in list_text(three).splitlines())


def test_each_sauce_is_on_the_list_with_a_brush_of_its_own() -> None:
    birds = (
        PlannedBird(1, 2.0, sauce="apricot"), PlannedBird(2, 2.0, sauce="harissa"),
        PlannedBird(3, 2.0, sauce="apricot"),
    )  # fmt: skip
    text = list_text(whole_dinner(order(*birds), NOW_S))
    assert "[ ] apricot sauce, 1 cup for 2, and some for the table" in text
    assert "[ ] harissa sauce, 0.5 cup for 1, and some for the table" in text
    assert "[ ] a brush for apricot" in text
    assert "[ ] a brush for harissa" in text


def test_plain_birds_need_no_sauce_brush() -> None:
    text = list_text(whole_dinner(order(PlannedBird(1, 2.0, sauced=False)), NOW_S))
    assert "a brush for" not in text
    assert "sauces" not in text


def test_the_json_holds_what_the_print_tells(three: Dinner) -> None:
    found = json.loads(json.dumps(dinner_json(three, UTC)))
    assert found["carve"] == [2, 3, 1]
    assert found["finish"] == "far_first"
    assert found["guests"] == 6
    assert found["feeds"] == 15
    assert found["notes"] == list(notes(three, UTC))
    low, likely, high = found["fuel"]["briquettes"]
    assert low < likely < high
    assert set(found["above_140_f_s"]) == {"1", "2", "3"}


class Tags(HTMLParser):
    """What a page opens, and what it would fetch."""

    def __init__(self) -> None:
        super().__init__()
        self.opened: list[str] = []
        self.fetched: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.opened.append(tag)
        self.fetched += [value or "" for name, value in attrs if name in {"src", "href"}]


def test_the_page_for_the_fridge_asks_for_nothing_and_escapes_names() -> None:
    birds = (PlannedBird(1, 2.0, sauce="a<script>b"),)
    page = fridge_page(whole_dinner(order(*birds), NOW_S), UTC)
    tags = Tags()
    tags.feed(page)
    assert "script" not in tags.opened
    assert not tags.fetched
    assert "a&lt;script&gt;b" in page
    assert "carbon monoxide" in page
    assert "165 F in every part" in page


def test_the_page_says_when_it_is_too_late() -> None:
    late = fridge_page(whole_dinner(order(*flock(5), away_h=1.0), NOW_S), UTC)
    assert "serve later" in late
