"""A sound child may die, hang, flood or talk nonsense: it is ended and started again."""

import threading
import time

import pytest

from assistant.system import wire
from assistant.system.process import KEPT_MESSAGES
from assistant.system.watched import Link, Patience, Watched
from tests.reliability.sick_child import GOOD

ILLNESSES = (
    "dies", "hangs", "babbles", "promises too much", "greets badly", "complains", "sends nonsense",
)  # fmt: skip


class Ward:
    """Watches one sick child and notes what is heard of it."""

    def __init__(self, illness: str, slow_s: float = 0.0) -> None:
        self.links: list[Link] = []
        self.kinds: list[bytes] = []
        self.came_back = threading.Event()
        self._slow_s = slow_s
        self.watched = Watched(
            "tests.reliability.sick_child", lambda: [illness], self._message, self._link,
            Patience(start_s=10.0, stall_s=0.3),
        )  # fmt: skip

    def _message(self, kind: bytes, payload: bytes) -> None:
        time.sleep(self._slow_s)
        self.kinds.append(kind)
        if kind == b"?":
            raise KeyError(payload)

    def _link(self, link: Link) -> None:
        self.links.append(link)
        if [one.up for one in self.links][:3] == [True, False, True]:
            self.came_back.set()


@pytest.mark.slow
@pytest.mark.parametrize("illness", ILLNESSES)
def test_a_sick_child_is_started_again_and_the_loss_is_told(illness: str) -> None:
    ward = Ward(illness)
    ward.watched.start()
    try:
        assert ward.came_back.wait(60.0), ward.links
    finally:
        ward.watched.close()
    assert ward.kinds[:GOOD] == [wire.PULSE] * GOOD
    assert all(link.detail.isprintable() for link in ward.links if not link.up)
    assert ward.watched.process_id is None


@pytest.mark.slow
def test_a_flood_is_dropped_and_not_kept() -> None:
    """The reader is far slower than the child: the oldest go, memory does not grow."""
    ward = Ward("floods", slow_s=0.01)
    ward.watched.start()
    try:
        ends = time.monotonic() + 60.0
        while ward.watched.dropped < 20 * KEPT_MESSAGES and time.monotonic() < ends:
            time.sleep(0.05)
        assert ward.watched.dropped >= 20 * KEPT_MESSAGES
    finally:
        ward.watched.close()
