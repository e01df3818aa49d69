"""Child process: listens for one word while somebody is still speaking.

Run as `python -m assistant.ears.spotter_child WORD [PHONE ...]`. A HUSH message
begins an utterance, AUDIO carries its samples (16 kHz, mono), and a MARK with
the utterance's number is sent when the word was in it. It is far cheaper than
understanding: a fortieth of real time, and only while there is speech.
"""

import os
import sys
from typing import Any, BinaryIO

from assistant.sound.devices import leave_interrupts_to_parent
from assistant.system import wire
from assistant.system.parts import PartMissing, load

THRESHOLD = 1e-20
"""Measured with "juniper", six voices: in quiet 50 of 60 heard and none of 108 other
sentences taken for it; with noise 10 dB below 30 of 60, and 3 of 108."""


def spotter(word: str, phones: str) -> Any | None:
    """A decoder for the word alone; None when nobody knows how it sounds, or without
    PocketSphinx."""
    try:
        library = load("pocketsphinx")
    except PartMissing:
        return None
    decoder = library.Decoder(
        hmm=library.get_model_path("en-us/en-us"),
        dict=library.get_model_path("en-us/cmudict-en-us.dict"),
        lm=None, loglevel="FATAL", kws_threshold=THRESHOLD,
    )  # fmt: skip
    for part in word.split():
        if decoder.lookup_word(part) is None:
            if not phones or " " in word:
                return None
            decoder.add_word(part, phones, update=True)
    decoder.add_keyphrase("word", word)
    decoder.activate_search("word")
    return decoder


def follow(decoder: Any | None, feed: BinaryIO, out: BinaryIO) -> None:
    """Answer messages until the program's pipe closes."""
    number, running, found = 0, False, False
    while (message := wire.receive(feed)) is not None:
        kind, payload = message
        if decoder is None:
            continue
        if kind == wire.HUSH:
            number = int.from_bytes(payload, "little")
            if running:
                decoder.end_utt()
            decoder.start_utt()
            running, found = True, False
        elif kind == wire.AUDIO and running and not found and payload:
            decoder.process_raw(payload)
            if decoder.hyp() is not None:
                found = True
                wire.send(out, wire.MARK, number.to_bytes(4, "little"))


def main() -> None:
    """Run the child."""
    leave_interrupts_to_parent()
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # native code prints; that must not reach the pipe
    decoder = spotter(sys.argv[1], " ".join(sys.argv[2:]))
    wire.send(out, wire.HELLO, b"{}")
    follow(decoder, sys.stdin.buffer, out)
    os._exit(0)


if __name__ == "__main__":
    main()
