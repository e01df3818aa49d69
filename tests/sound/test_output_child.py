"""What waits to be played: samples and marks in their order."""

from array import array

from assistant.sound.output_child import Reel, Volume, spread


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


def test_the_voice_is_turned_down_and_up_again_without_a_jump() -> None:
    volume = Volume()
    loud = array("h", [8000] * 4).tobytes()
    volume.wanted = 0.125
    down = [array("h", volume(loud))[0] for _ in range(4)]
    assert down == [4000, 2000, 1000, 1000]
    volume.wanted = 1.0
    up = [array("h", volume(loud))[0] for _ in range(4)]
    assert up == [2000, 4000, 8000, 8000]
