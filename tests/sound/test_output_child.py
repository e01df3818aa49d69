"""What waits to be played: samples and marks in their order."""

from assistant.sound.output_child import Reel, spread


def test_marks_are_passed_when_all_samples_before_them_are_taken() -> None:
    reel = Reel()
    reel.put(b"abcdef")
    reel.put(1)
    reel.put(b"gh")
    reel.put(2)
    assert reel.take(4) == (b"abcd", [])
    assert reel.take(4) == (b"efgh", [1, 2])
    assert reel.take(4) == (b"", [])


def test_a_dropped_reel_still_answers_its_marks() -> None:
    reel = Reel()
    reel.put(b"abcdef")
    reel.put(7)
    reel.drop()
    assert reel.take(4) == (b"", [7])


def test_mono_is_spread_over_the_channels_sample_by_sample() -> None:
    assert spread(b"aabb", 2) == b"aaaabbbb"
    assert spread(b"aabb", 1) == b"aabb"
