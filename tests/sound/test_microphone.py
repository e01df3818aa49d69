"""Blocks of any device as mono sound at the recognisers' rate, and how loud it is."""

import json
import struct

import numpy as np
import pytest

from assistant.sound import microphone
from assistant.sound.canceller import EchoFree, both
from assistant.sound.converter import Converter
from assistant.sound.microphone import KEPT_BLOCKS, Block, Microphone
from assistant.sound.microphone_child import BLOCK_S
from assistant.sound.microphone_level import (
    HEADROOM_PEAK,
    LEAST_GAIN_DB,
    MOST_GAIN_DB,
    SILENCE_DB,
    TARGET_SPEECH_DB,
    Level,
    amplified,
    fault_of,
    fault_of_recording,
    heard_block,
    level_db,
    meter,
)
from assistant.sound.played import Played
from assistant.sound.samples import RATE_HZ
from assistant.sound.speech_chance import CHUNK
from assistant.system import wire
from assistant.system.watched import Link


def tone(rate_hz: int, channels: int = 1, peak: float = 8000, seconds: float = 1.0) -> np.ndarray:
    time_s = np.arange(round(rate_hz * seconds)) / rate_hz
    wave = (peak * np.sin(2 * np.pi * 440 * time_s)).astype("<i2")
    return np.repeat(wave[:, None], channels, axis=1)


def noise(db: float, seconds: float = 1.0, seed: int = 1) -> np.ndarray:
    wave = np.random.default_rng(seed).standard_normal(round(RATE_HZ * seconds))
    return (wave * 32_768 * 10 ** (db / 20)).astype(np.int16)


@pytest.mark.parametrize("rate_hz", [8_000, 16_000, 22_050, 44_100, 48_000, 96_000])
@pytest.mark.parametrize("channels", [1, 2, 6])
def test_any_rate_and_any_channels_become_mono_at_16_khz(rate_hz: int, channels: int) -> None:
    convert = Converter(rate_hz, channels)
    sound = tone(rate_hz, channels)
    step = round(rate_hz * 0.032)
    blocks = [convert(sound[at : at + step].tobytes()) for at in range(0, len(sound), step)]
    mono = np.concatenate(blocks)
    assert mono.dtype == np.int16
    assert len(mono) == pytest.approx(RATE_HZ, abs=0.06 * RATE_HZ)
    middle = mono[4000:12_000].astype(float)
    peak_hz = np.argmax(np.abs(np.fft.rfft(middle * np.hanning(8000)))) * RATE_HZ / 8000
    assert peak_hz == pytest.approx(440, abs=3)
    assert np.abs(middle).max() == pytest.approx(8000, rel=0.02)


def test_channels_are_averaged() -> None:
    pair = np.array([[1000, 3000], [-200, 200]], dtype="<i2")
    assert Converter(RATE_HZ, 2)(pair.tobytes()).tolist() == [2000, 0]


def test_levels_are_decibels_below_full_scale() -> None:
    assert level_db(tone(RATE_HZ, peak=32_767)[:, 0]) == pytest.approx(-3.01, abs=0.02)
    assert level_db(np.zeros(100, np.int16)) == SILENCE_DB
    assert level_db(np.zeros(0, np.int16)) == SILENCE_DB


def listened(*parts: tuple[np.ndarray, bool]) -> Level:
    level = Level()
    for samples, is_speech in parts:
        for at in range(0, len(samples) - 511, 512):
            level = heard_block(level, samples[at : at + 512], is_speech=is_speech)
    return level


@pytest.mark.parametrize("speech_db", [-40.0, -30.0, -23.0, -15.0])
def test_gain_brings_speech_near_its_target_within_reason(speech_db: float) -> None:
    level = listened((noise(speech_db, 5.0), True))
    wanted = min(MOST_GAIN_DB, max(LEAST_GAIN_DB, TARGET_SPEECH_DB - speech_db))
    assert level.gain_db == pytest.approx(wanted, abs=1.5)


def test_noise_alone_never_turns_the_gain_up() -> None:
    assert listened((noise(-55.0, 10.0), False)).gain_db == 0.0


def test_gain_leaves_headroom_for_the_loudest_sound() -> None:
    level = listened((noise(-40.0, 5.0), True))
    shout = tone(RATE_HZ, peak=20_000)[:512, 0]
    level = heard_block(level, shout, is_speech=True)
    assert np.abs(amplified(shout, level.gain_db)).max() <= HEADROOM_PEAK + 1


def test_amplified_sound_is_held_within_16_bits() -> None:
    loud = amplified(np.array([30_000, -30_000], np.int16), 18.0)
    assert loud.tolist() == [32_767, -32_768]


@pytest.mark.parametrize(
    ("noise_db", "speech_db", "fault"),
    [(-60, -25, None), (-75, -55, "too_quiet"), (-28, -24, "noisy"), (-60, -40, None)],
)
def test_the_advice_fits_the_recording(
    noise_db: float, speech_db: float, fault: str | None
) -> None:
    assert fault_of_recording(noise(noise_db), noise(speech_db, seed=2)) == fault


def test_a_clipping_input_is_told_from_a_loud_one() -> None:
    quiet = noise(-60)
    square = np.clip(tone(RATE_HZ, peak=30_000)[:, 0].astype(int) * 3, -32_768, 32_767)
    assert fault_of_recording(quiet, square.astype(np.int16)) == "clips"
    assert fault_of_recording(quiet, tone(RATE_HZ, peak=30_000)[:, 0]) is None


def test_a_muted_input_is_silent_from_the_first_block() -> None:
    nothing = np.zeros(16_000, np.int16)
    assert fault_of(listened((nothing, False))) == "silent"
    assert fault_of_recording(nothing, nothing) == "silent"
    assert fault_of(listened((noise(-60.0), False))) is None


def test_the_meter_grows_with_the_level_and_names_what_is_wrong() -> None:
    quiet, loud = listened((noise(-50.0), False)), listened((noise(-15.0), False))
    assert meter(quiet).count("#") < meter(loud).count("#")
    assert meter(listened((np.zeros(2048, np.int16), False))).endswith("silent")


@pytest.mark.parametrize("rate_hz", [16_000, 44_100, 48_000])
def test_no_chunk_of_the_listener_waits_for_more_than_two_blocks(rate_hz: int) -> None:
    """The converter and the canceller each hold some samples back. Were blocks as long as the
    voice-activity model's chunks, every chunk would wait for the next block, some 30 ms."""
    convert, free = Converter(rate_hz, 1), EchoFree(both(), Played())
    size = round(rate_hz * BLOCK_S)
    taken, chunks, waits_s = 0, 0, list[float]()
    for number in range(1, 301):
        end_s = number * size / rate_hz
        block = Block(convert(bytes(2 * size)), 100.0 + end_s)
        taken += len(free(block).samples)
        while taken >= (chunks + 1) * CHUNK:
            chunks += 1
            waits_s.append(end_s - chunks * CHUNK / RATE_HZ)
    assert len(waits_s) > 80
    assert max(waits_s) <= 2 * BLOCK_S + 0.002
    assert np.mean(waits_s) <= 0.016


class DeadChild:
    """Stands for the child of a microphone; messages are given by the test."""

    dropped = 0

    def __init__(self, *_: object) -> None:
        pass

    def start(self) -> None:
        pass


def test_sound_that_was_lost_anywhere_on_the_way_is_counted(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(microphone, "Watched", DeadChild)
    one = Microphone(lambda _: None)
    greeting = {"device": "Lapel", "rate_hz": RATE_HZ, "channels": 1, "is_wanted": True}
    one._link(Link(up=True, detail=json.dumps(greeting)))
    block = struct.pack("<d", 1.0) + bytes(320)
    for _ in range(KEPT_BLOCKS):
        one._message(wire.BLOCK, block)
    assert one.lost == 0
    one._message(wire.BLOCK, block)  # nobody took the first
    assert one.lost == 1
    one._message(wire.LOST, struct.pack("<I", 1))  # the sound system says so
    assert one.lost == 2
    monkeypatch.setattr(DeadChild, "dropped", 3)  # on the way from the child
    assert one.lost == 5
    assert one.blocks.qsize() == KEPT_BLOCKS
