"""Recordings of every make become 16 kHz, one channel, 16-bit; others one clear line."""

from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.sound import files as sound_file
from assistant.sound.files import SoundError, decode_sound, read_sound, to_samples
from assistant.sound.samples import RATE_HZ

TONE_HZ = 440.0


def tone(rate_hz: int, seconds: float = 1.0) -> np.ndarray:
    return 0.5 * np.sin(2 * np.pi * TONE_HZ * np.arange(int(rate_hz * seconds)) / rate_hz)


def loudest_hz(samples: np.ndarray) -> float:
    spectrum = np.abs(np.fft.rfft(samples.astype(float)))
    return float(np.argmax(spectrum)) * RATE_HZ / len(samples)


@pytest.mark.parametrize("rate_hz", [8000, 11025, 16000, 22050, 44100, 48000])
@pytest.mark.parametrize("subtype", ["PCM_U8", "PCM_16", "PCM_24", "FLOAT"])
def test_any_rate_and_format_gives_the_same_sound(
    tmp_path: Path, rate_hz: int, subtype: str
) -> None:
    path = tmp_path / "tone.wav"
    soundfile.write(path, tone(rate_hz), rate_hz, subtype=subtype)
    samples = read_sound(path)
    assert samples.dtype == np.int16
    assert abs(len(samples) - RATE_HZ) <= 2
    assert loudest_hz(samples) == pytest.approx(TONE_HZ, abs=2)
    assert np.abs(samples).max() == pytest.approx(0.5 * 32767, rel=0.06)


def test_two_channels_become_their_mean(tmp_path: Path) -> None:
    path = tmp_path / "stereo.flac"
    soundfile.write(path, np.stack([tone(16000), np.zeros(16000)], axis=1), 16000)
    assert np.abs(read_sound(path)).max() == pytest.approx(0.25 * 32767, rel=0.02)


def test_a_float_file_with_impossible_values_becomes_silence_there() -> None:
    wave = np.array([0.1, np.nan, np.inf, -np.inf, 3.0], np.float32)
    assert to_samples(wave, RATE_HZ).tolist() == [3277, 0, 0, 0, 32767]


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (b"", "is empty"),
        (b"RIFF", "not a sound file"),
        (b"hello, this is text" * 50, "not a sound file"),
    ],
)
def test_what_is_no_recording_is_one_clear_line(
    tmp_path: Path, content: bytes, expected: str
) -> None:
    path = tmp_path / "odd.wav"
    path.write_bytes(content)
    with pytest.raises(SoundError, match=expected) as told:
        read_sound(path)
    assert "\n" not in str(told.value)
    assert str(path) in str(told.value)


def test_a_header_without_sound_is_said(tmp_path: Path) -> None:
    path = tmp_path / "header.wav"
    soundfile.write(path, np.zeros(0), RATE_HZ)
    with pytest.raises(SoundError, match="holds no sound"):
        read_sound(path)


def test_missing_files_and_folders_are_said(tmp_path: Path) -> None:
    for path in (tmp_path / "none.wav", tmp_path):
        with pytest.raises(SoundError, match="cannot be read"):
            read_sound(path)


def test_an_overlong_file_is_refused_before_it_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "long.wav"
    soundfile.write(path, tone(8000, 2.0), 8000)
    monkeypatch.setattr(sound_file, "LONGEST_S", 1.0)
    with pytest.raises(SoundError, match="cut it"):
        read_sound(path)


@settings(deadline=None)
@given(st.binary(max_size=200))
def test_no_bytes_at_all_bring_anything_but_sound_or_one_clear_line(data: bytes) -> None:
    try:
        samples = decode_sound(b"RIFF\x24\x00\x00\x00WAVEfmt " + data)
    except SoundError as error:
        told = str(error)
        samples = np.zeros(0, np.int16)
    else:
        told = ""
    assert "\n" not in told
    assert samples.dtype == np.int16


def test_hours_are_read_piece_by_piece_into_the_same_sound(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Read a second at a time, as the long ones are a minute at a time."""
    path = tmp_path / "long.flac"
    soundfile.write(path, np.stack([tone(44100, 7.3), tone(44100, 7.3)], axis=1), 44100)
    whole = read_sound(path)
    monkeypatch.setattr(sound_file, "AT_ONCE_S", 5.0)
    monkeypatch.setattr(sound_file, "PIECE_S", 1.0)
    pieces = read_sound(path)
    assert abs(len(pieces) - len(whole)) <= 1
    size = min(len(pieces), len(whole))
    assert np.max(np.abs(pieces[:size].astype(int) - whole[:size])) <= 8  # of 32767


def test_a_sound_is_written_for_its_owner_and_follows_no_link(tmp_path: Path) -> None:
    precious = tmp_path / "precious"
    precious.write_bytes(b"kept")
    link = tmp_path / "voice.wav"
    link.symlink_to(precious)
    with pytest.raises(OSError, match="plain file"):
        sound_file.write_sound(link, np.zeros(160, np.int16))
    assert precious.read_bytes() == b"kept"
    plain = tmp_path / "plain.wav"
    plain.write_bytes(b"older")
    plain.chmod(0o644)
    sound_file.write_sound(plain, np.zeros(160, np.int16))
    assert plain.stat().st_mode & 0o777 == 0o600
    assert len(read_sound(plain)) == 160
