"""Recognisers in child processes: death, hanging and refusal cost one call each."""

import subprocess
import sys
from collections.abc import Iterator

import pytest

from assistant.system.child import Child, ChildError, ChildRefusedError
from tests.ears.fragile import Fragile


@pytest.fixture
def child() -> Iterator[Child]:
    made = Child(Fragile, (10,), timeout_s=20.0)
    yield made
    made.close()


def test_calls_are_answered_by_one_and_the_same_object(child: Child) -> None:
    assert [child.call("count"), child.call("count")] == [11, 12]
    assert child.restarts == 0


def test_a_child_that_dies_costs_one_call_and_is_started_again(child: Child) -> None:
    child.call("count")
    with pytest.raises(ChildError, match="died"):
        child.call("die")
    assert not child.alive
    assert child.call("count") == 11
    assert child.restarts == 1


def test_a_killed_child_is_started_again(child: Child) -> None:
    child.call("count")
    child.close_after_failure()
    assert child.call("count") == 11


def test_a_child_that_hangs_is_ended_after_its_time(child: Child) -> None:
    child.call("count")
    child.timeout_s = 0.2
    with pytest.raises(ChildError, match="did not answer"):
        child.call("hang")
    child.timeout_s = 20.0
    assert child.call("count") == 11


def test_a_refusal_is_passed_on_and_the_child_lives(child: Child) -> None:
    child.call("count")
    with pytest.raises(ChildRefusedError, match="not this one"):
        child.call("refuse")
    assert child.call("count") == 12


def test_what_native_code_prints_does_not_reach_the_pipe(child: Child) -> None:
    assert child.call("chatter") == "understood"


def test_an_object_that_cannot_be_made_says_why() -> None:
    child = Child(Fragile, (-1,))
    with pytest.raises(ChildError, match="below nothing"):
        child.ready()
    child.close()


def test_a_child_whose_parent_was_killed_ends_without_a_word() -> None:
    parent = (
        "import os, signal\n"
        "from assistant.system.child import Child\n"
        "from tests.ears.fragile import Fragile\n"
        "child = Child(Fragile, (10,))\n"
        "child.ready()\n"
        "child._send(('outlive', ()))\n"
        "os.kill(os.getpid(), signal.SIGKILL)\n"
    )
    ended = subprocess.run([sys.executable, "-c", parent], capture_output=True, check=False)
    assert ended.returncode == -9
    assert ended.stderr == b""  # read until the child has ended too: it shares the pipe
