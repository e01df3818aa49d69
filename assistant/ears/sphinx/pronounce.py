"""Pronunciations for words the dictionary lacks, from espeak-ng's phonemes.

A sauce may be called anything. espeak-ng knows how to read it; its phonemes (IPA) are
written in the dictionary's own (ARPAbet, without stress).
"""

import shutil
import subprocess

# ruff: noqa: RUF001 -- IPA letters look like other letters
_ARPABET = {
    "t‍ʃ": "CH", "tʃ": "CH", "d‍ʒ": "JH", "dʒ": "JH", "a‍ɪ": "AY", "aɪ": "AY", "a‍ʊ": "AW",
    "aʊ": "AW", "e‍ɪ": "EY", "eɪ": "EY", "o‍ʊ": "OW", "oʊ": "OW", "ɔ‍ɪ": "OY", "ɔɪ": "OY",
    "ə‍l": "AH L", "əl": "AH L", "ɑː": "AA", "ɑ": "AA", "ɔː": "AO", "ɔ": "AO", "ɜː": "ER",
    "ɚ": "ER", "ɝ": "ER", "iː": "IY", "i": "IY", "ɪ": "IH", "ᵻ": "IH", "uː": "UW", "u": "UW",
    "ʊ": "UH", "æ": "AE", "a": "AE", "ɛ": "EH", "e": "EH", "ʌ": "AH", "ə": "AH", "ɐ": "AH",
    "o": "OW", "ɒ": "AA", "b": "B", "d": "D", "f": "F", "g": "G", "ɡ": "G", "h": "HH", "k": "K",
    "l": "L", "m": "M", "n": "N", "n̩": "AH N", "ŋ": "NG", "p": "P", "ɹ": "R", "r": "R", "s": "S",
    "t": "T", "v": "V", "w": "W", "j": "Y", "z": "Z", "ʃ": "SH", "ʒ": "ZH", "θ": "TH", "ð": "DH",
    "ɾ": "D", "ʔ": "", "x": "K", "ɬ": "L", "ɣ": "G", "ç": "HH", "ɲ": "N Y",
}  # fmt: skip
_SIGNS = dict.fromkeys(map(ord, "ˈˌː‍ .|-_"))
_LONGEST = max(map(len, _ARPABET))


def pronunciation(word: str) -> str | None:
    """Phones of `word` with blanks between ("HH AH R IH S AH"); None where espeak-ng is
    missing or reads it with a sound that English lacks."""
    program = shutil.which("espeak-ng")
    if program is None or not word.replace("'", "").replace("-", "").isalpha():
        return None
    try:
        spoken = subprocess.run(
            [program, "-q", "--ipa", "-v", "en-us", word],
            capture_output=True, check=True, timeout=5, text=True, encoding="utf-8",
        ).stdout.strip()  # fmt: skip
    except (subprocess.SubprocessError, OSError):
        return None
    return to_arpabet(spoken)


def to_arpabet(ipa: str) -> str | None:
    """IPA as ARPAbet; None at the first sign that has no English counterpart."""
    phones: list[str] = []
    rest = ipa.translate(dict.fromkeys(map(ord, "ˈˌ .|-_")))
    while rest:
        for length in range(min(_LONGEST, len(rest)), 0, -1):
            if rest[:length] in _ARPABET:
                phones += _ARPABET[rest[:length]].split()
                rest = rest[length:]
                break
        else:
            if ord(rest[0]) not in _SIGNS:
                return None
            rest = rest[1:]
    # A doubled sound ("ɹɹ") is one sound held.
    kept = [p for n, p in enumerate(phones) if n == 0 or p != phones[n - 1]]
    return " ".join(kept) or None
