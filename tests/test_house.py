"""What keeps the house one that a stranger can live in."""

import pytest

from tests import house


def test_no_module_is_longer_than_a_reader_holds_in_mind() -> None:
    assert not house.too_long()


@pytest.mark.parametrize("room", house.rooms())
def test_every_room_has_tests_of_its_own(room: str) -> None:
    source, tests = house.rooms()[room]
    assert tests > 0.25 * source, "python -m tests.house prints them all"


def test_tests_do_not_fall_behind_the_program() -> None:
    source = sum(one for one, _ in house.rooms().values())
    assert house.all_tests() >= 0.72 * source, "python -m tests.house prints them by room"


def test_no_loose_module_stands_beside_the_rooms() -> None:
    loose = {path.name for path in (house.ROOT / "assistant").glob("*.py")}
    assert loose <= {"__init__.py", "__main__.py"}
