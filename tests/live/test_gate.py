"""Half duplex: deaf while speaking and 250 ms after the last sample was played."""

from assistant.live.gate import SETTLE_S, Gate


def test_the_gate_is_shut_while_something_plays_whenever_it_was_captured() -> None:
    gate = Gate()
    assert gate.lets_through(10.0)
    gate.started()
    assert not gate.lets_through(10.0)
    assert not gate.lets_through(99.0)


def test_it_opens_a_quarter_second_after_the_last_sample() -> None:
    gate = Gate()
    gate.started()
    gate.ended(20.0)
    assert SETTLE_S == 0.25
    assert not gate.lets_through(20.0)
    assert not gate.lets_through(20.249)
    assert gate.lets_through(20.25)


def test_two_sounds_in_a_row_keep_it_shut_until_the_second_has_ended() -> None:
    gate = Gate()
    gate.started()
    gate.ended(20.0)
    gate.started()
    assert not gate.lets_through(20.5)
    gate.ended(21.0)
    assert not gate.lets_through(21.1)
    assert gate.lets_through(21.3)


def test_what_was_never_heard_does_not_shut_it() -> None:
    gate = Gate()
    gate.started()
    gate.ended(float("-inf"))
    assert gate.lets_through(1.0)


def test_what_is_free_of_its_own_voice_is_let_through() -> None:
    gate = Gate(lambda: True)
    gate.started()
    assert gate.lets_through(10.0)
