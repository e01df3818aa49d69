"""The live cook: microphone, listener, session and speaker around one inbox.

The session is used from one thread, the one that runs `Live.run`. Everything
else, the microphone's turns, the clock, keys, typed lines and lost devices,
arrives in the inbox.
"""

import json
import threading
import time
from collections import deque
from collections.abc import Callable
from datetime import datetime
from functools import partial
from math import inf
from queue import Empty
from zoneinfo import ZoneInfo

from assistant.live.duplex import Duplex
from assistant.live.gate import Gate
from assistant.live.keep import KeptAudio
from assistant.live.keys import Pedal
from assistant.live.listener import Listener
from assistant.live.options import LiveSettings
from assistant.live.surroundings import Hearing, Source, Surface
from assistant.live.turn import Turn, Wiring
from assistant.sentences import sound
from assistant.sentences.spell import Sentence
from assistant.session.session import Session
from assistant.session.typed import Inbox, heard_typed
from assistant.sound.microphone import Microphone
from assistant.sound.player import DevicePlayer
from assistant.sound.speech_chance import speech_chance
from assistant.system.watched import Link
from assistant.voice.speaker import QueueSpeaker, Spoken
from assistant.voice.speech import Speech, Tone
from assistant.voice.synth import Voice

LEVEL_EVERY_S = 0.5
LAST_WORDS_S = 10.0
ANSWER_S = 30.0
"""After its question, before the answer needs the address word again: the question may stay open
for longer, and table talk goes on."""
LOST_OFTEN = 5  # times: a machine that stumbles once over its start is none too busy
KEPT_TURNS = 256


class Live:
    """One evening of live sound. Make it, give `speaker` to the session, then `run`."""

    def __init__(
        self, settings: LiveSettings, voice: Voice | None, inbox: Inbox, surface: Surface
    ) -> None:
        self.turns: deque[Turn] = deque(maxlen=KEPT_TURNS)
        self._settings = settings
        self._inbox = inbox
        self._surface = surface
        self._duplex = Duplex(settings, surface.line)
        self._gate = Gate(self._duplex.hears_through)
        self._kept = KeptAudio(settings.keep_audio) if settings.keep_audio is not None else None
        self._faults: dict[str, str] = {}
        self._awaited = {"microphone", "speaker"}  # for the first words
        self._greeted = self._told_lost = False
        self._answers_until_s = float("-inf")
        self._closing = threading.Event()
        self._player = DevicePlayer(
            lambda link: inbox.put(partial(self._link, "speaker", link)),
            device=settings.speaker,
            latency_s=settings.output_latency_s,
            played=self._duplex.played,
        )
        self.speaker = QueueSpeaker(voice, self._player, self._spoken)
        if self._kept is not None:
            surface.line(self._kept.notice())
        if voice is not None:
            phrases = (self._greeting().spoken, *sound.fixed_phrases())
            threading.Thread(target=voice.premake, args=(phrases,), daemon=True).start()

    def run(
        self,
        session: Session,
        hearing: Hearing,
        refresh: Callable[[Session], None],
        source: Source | None = None,
    ) -> None:
        """Listen and answer until the cook ends. `source`: instead of the microphone."""
        listener = self._listener(session, hearing)
        microphone = source or Microphone(
            lambda link: self._inbox.put(partial(self._microphone_link, listener, link)),
            device=self._settings.microphone,
            latency_s=self._settings.input_latency_s,
        )
        pedal = self._pedal(listener)
        pump = threading.Thread(target=self._pump, args=(microphone, listener), daemon=True)
        pump.start()
        try:
            self._serve(session, listener, refresh)
            self.speaker.wait_idle(LAST_WORDS_S)
        finally:
            self._closing.set()
            if pedal is not None:
                pedal.close()
            microphone.close()
            pump.join(timeout=2.0)
            listener.close()
            self.close()

    def close(self) -> None:
        """Let the devices go."""
        self.speaker.close()

    def _listener(self, session: Session, hearing: Hearing) -> Listener:
        def noticed() -> None:
            # The tone goes out from here: the session may be busy with a forecast.
            if not session.state.asleep:
                self.speaker.give_way()
                self.speaker.tone("heard")

        def turn_over(turn: Turn) -> None:
            if turn.heard.outcome != "refuse" and not turn.noticed:
                noticed()
            self._inbox.put(partial(self._turn, session, hearing, turn))

        wiring = Wiring(
            vad=speech_chance(),
            hear=hearing.hear,
            opens=hearing.opens,
            outlook=hearing.outlook,
            on_turn=turn_over,
            on_speech=lambda speaks: self.speaker.hold(cook_speaks=speaks),
            on_noticed=noticed,
            on_cut_in=lambda speaks: self.speaker.duck(down=speaks),
            is_own=self._duplex.is_own,
            is_free=lambda: (
                session.state.pending is not None and time.monotonic() < self._answers_until_s
            ),
        )
        return Listener(
            wiring, self._gate, self._settings.pauses, push_only=self._settings.push_only
        )

    def _serve(
        self, session: Session, listener: Listener, refresh: Callable[[Session], None]
    ) -> None:
        ends = False
        while session.state.is_running and not (ends and self._inbox.empty()):
            refresh(session)
            item = self._inbox.get()
            if item is None:  # a recording has ended; what it said last may still be in work
                listener.wait_idle(LAST_WORDS_S)
                ends = True
            elif callable(item):
                item()
            elif item.strip():
                session.hear(heard_typed(item, session.state.scale, address=self._settings.address))
            else:  # Enter on an empty line is the push-to-talk key
                self._press(listener)
            self.speaker.set_volume(session.state.volume)
        refresh(session)

    def _turn(self, session: Session, hearing: Hearing, turn: Turn) -> None:
        """One utterance, on the session's thread. Talk not meant for it leaves no trace."""
        if turn.heard.outcome == "refuse" and not hearing.is_meant(turn.heard, turn.free):
            return
        self.turns.append(turn)
        session.hear(turn.heard)
        if self._kept is not None:
            at = datetime.fromtimestamp(session.now(), ZoneInfo(session.state.zone))
            trouble = self._kept.keep(turn.samples, turn.heard, at)
            if trouble is not None:
                self._kept = None
                self._surface.line(trouble)

    def _press(self, listener: Listener) -> None:
        self.speaker.hush()
        listener.press()
        listener.let_go()

    def _pedal(self, listener: Listener) -> Pedal | None:
        if self._settings.pedal is None:
            return None

        def key(pressed: bool) -> None:  # noqa: FBT001 -- one fact, as the pedal gives it
            if pressed:
                self.speaker.hush()
                listener.press()
            else:
                listener.release()

        return Pedal(
            self._settings.pedal, key, lambda text: self._inbox.put(partial(self._line, text))
        )

    def _line(self, text: str) -> None:
        self._surface.line(text)

    def _pump(self, microphone: Source, listener: Listener) -> None:
        shown_s = time.monotonic()
        while not self._closing.is_set():
            try:
                block = microphone.blocks.get(timeout=0.25)
            except Empty:
                continue
            listener.feed(self._duplex.clean(block))
            if time.monotonic() - shown_s >= LEVEL_EVERY_S:
                shown_s = time.monotonic()
                self._surface.level(listener.level)
                self._tell_lost(microphone.lost >= LOST_OFTEN or listener.lost > 0)

    def _tell_lost(self, is_so: bool) -> None:  # noqa: FBT001 -- one fact
        if is_so and not self._told_lost:
            self._told_lost = True
            self._inbox.put(partial(self._say, sound.SOUND_LOST))

    def _greeting(self) -> Sentence:
        return sound.listening(
            self._settings.address,
            by_key=self._settings.push_only,
            while_speaking=self._duplex.may_hear_through,
        )

    def _spoken(self, spoken: Spoken) -> None:
        """From the speaker's thread: close the gate before the first sample, open it after."""
        if spoken.item == "heard":  # no speech, and the cook may still be speaking
            return
        if isinstance(spoken.item, Speech) and spoken.what != "dropped":
            has_begun = spoken.what == "started"
            self._answers_until_s = inf if has_begun else time.monotonic() + ANSWER_S
        if spoken.what == "started":
            self._gate.started()
            if isinstance(spoken.item, Speech):
                self._duplex.says(spoken.item.spoken)
        elif spoken.what == "unsaid":  # nothing sounds that could be heard
            self._gate.ended(float("-inf"))
        elif spoken.what != "dropped":
            self._gate.ended(time.monotonic())

    def _microphone_link(self, listener: Listener, link: Link) -> None:
        if not link.up:
            listener.forget()
        self._link("microphone", link)

    def _link(self, thing: str, link: Link) -> None:
        """A device was lost or is back: on the board, and by sound where sound is left."""
        was_lost = thing in self._faults
        if link.up:
            self._faults.pop(thing, None)
            opened = json.loads(link.detail)
            if thing == "microphone" and not opened["is_wanted"]:
                self._say(sound.other_microphone(opened["device"]))
            elif was_lost:
                self._say(sound.BACK[thing], tone="back")
            self._greet(thing)
        else:
            self._duplex.forget()
            self._faults[thing] = f"{thing} lost: {link.detail}"
            if thing == "microphone":
                self._say(sound.MICROPHONE_LOST, tone="lost")
            else:
                self._surface.line(sound.SPEAKER_LOST.text)
        self._surface.notice("; ".join(self._faults.values()) or None)

    def _greet(self, thing: str) -> None:
        """Once, when both devices work: how to speak to it; and by what it says itself the
        canceller learns the room before anybody speaks."""
        self._awaited.discard(thing)
        if not (self._greeted or self._awaited or self._faults):
            self._greeted = True
            self._say(self._greeting())

    def _say(self, what: Sentence, tone: Tone | None = None) -> None:
        self._surface.line(what.text)
        if tone is not None:
            self.speaker.tone(tone)
        self.speaker.say(Speech(what.text, what.spoken))
