"""One live cook: connects the rooms around a clock.

A session is driven from one thread: what comes in is `hear` (something was said)
and `tick` (the clock woke it); what goes out is `Line`s, for the board, for JSON
and for people, and speech. Any thread may read `state`, a frozen value that is only ever
replaced whole, and ask `prior`. A fact is committed to the log before it is read back.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

from assistant.cook.rules import away
from assistant.cook.rules.decide import decide
from assistant.cook.rules.decision import AskBack, Decision
from assistant.cook.rules.due import due, late_by
from assistant.cook.rules.forecasts import fire_of, forecast_of
from assistant.cook.rules.prior import log_prior
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.answers import StopSpeech
from assistant.cook.vocabulary.codec import event_json
from assistant.ears.heard import Heard
from assistant.heat.bird.evidence import Forecast
from assistant.heat.fire.forecast import FireForecast
from assistant.journal.resilient import RETRY_S
from assistant.sentences import all as sentences
from assistant.sentences.all import Sentence
from assistant.session.expected import fire_line, forecast_lines, since
from assistant.session.line import Line, heard_line
from assistant.session.log import Log
from assistant.session.turn import (
    Said,
    Talk,
    armed,
    dated,
    events_of,
    joined,
    parted,
    take_in,
    told,
    words_heard,
)
from assistant.system.clock import STEP_S, Clock
from assistant.voice.speech import Speaker, Speech, Urgency

ROUNDS = 2  # after a long gap, forecasts as of now can make more due than was due before it
FAULT_S = 60.0  # after an error inside, the clock is tried again
LATE_S = 60.0  # a wake-up later than this (a restart, a suspend, a sleep) says so
HEARD_ASLEEP = cmd.Wake | cmd.Acknowledge | cmd.Hush


class Session:
    """A cook in progress. `show` gets every line; `speaker` says the sentences.

    `wake` is armed on the clock instead of `tick` where that must run on another
    thread. `on_fault` gets an error of the program itself, and the cook goes on;
    without it the error is raised.
    """

    def __init__(
        self,
        log: Log,
        clock: Clock,
        speaker: Speaker,
        show: Callable[[Line], None],
        state: Cook | None = None,
        wake: Callable[[], None] | None = None,
        on_fault: Callable[[Exception], None] | None = None,
    ) -> None:
        self._talk = Talk(state if state is not None else Cook())
        self._log = log
        self._clock = clock
        self._speaker = speaker
        self._show = show
        self._wake = wake if wake is not None else self.tick
        self._on_fault = on_fault
        self._told_moved_s = 0.0
        self.missed: str | None = None  # why what was heard last was not taken
        self.forecast: Forecast | None = None
        self.fire: FireForecast | None = None

    @property
    def state(self) -> Cook:
        """The cook as it stands."""
        return self._talk.state

    @property
    def last_said(self) -> Sentence | None:
        """What was said last, asked or unasked."""
        return self._talk.last_said

    def now(self) -> float:
        """Epoch seconds; never before the last event."""
        return max(self._clock.now(), self.state.at_s)

    def begin(self, event: ev.CookBegan) -> None:
        """Start a cook."""
        self._commit((dated(event, self._clock.boot(), self.now()),))
        self._refresh()

    def take_up(self, events: Sequence[ev.Event]) -> None:
        """Go on from a plan made earlier: record what it says, and say so."""
        self._commit(events)
        self._say(sentences.plan_taken_up(self.state, self.now()), why="plan")
        self._refresh()
        self.tick()

    def tell(self, sentence: Sentence, why: str) -> None:
        """Say something about the start that is no fact of the cook."""
        self._say(sentence, why=why)

    def resume(self) -> None:
        """Go on with a cook whose events were folded into the state given."""
        boot = self._clock.boot()
        since_s = boot.since_s if boot is not None else 0.0
        back = away.back(self.state, self._clock.now(), boot.name if boot else None, since_s)
        self._clock.set_now(back.now_s)
        self._turn((dated(ev.Resumed(back.away_s), boot, self.now()),))
        if back.why is not None:
            self._told_moved_s = self._clock.moved_s()  # the question says it
            self._turn(events_of(AskBack((), back.why, back.clock_s)))
        self._refresh()
        self.tick()

    def prior(self, command: cmd.Command) -> float:
        """Log plausibility of a command now, for the ears."""
        return log_prior(self.state, command, self.now())

    def hear(self, heard: Heard) -> None:
        """Take one utterance: decide, commit, read back, then what follows from it."""
        self._guarded(lambda: self._hear(heard))

    def tick(self) -> None:
        """Say what is due and arm the clock for what comes next."""
        self._guarded(self._tick)

    def _guarded(self, step: Callable[[], None]) -> None:
        """Run a step. What it committed stays committed, whatever fails after that."""
        seq = self.state.seq
        try:
            step()
        except Exception as error:
            if self._on_fault is None:
                raise
            self._on_fault(error)
            self._say(sentences.FAULT_KEPT if self.state.seq > seq else sentences.FAULT_LOST)
            self._clock.wake_at(self.now() + FAULT_S, self._wake)

    def _hear(self, heard: Heard) -> None:
        if self.state.asleep and not isinstance(heard.command, HEARD_ASLEEP):
            self.missed = "standing by; say listen again"
            return
        if heard.outcome == "refuse" or (heard.command is None and not heard.alternatives):
            self._refused(heard)
            self._tick()  # time has passed: something may be due by now
            return
        self.missed = None
        self._show(heard_line(since(self.state, self.now()), heard))
        beside = heard.more or heard.help or heard.later
        if beside or (heard.command is not None and heard.alternatives):
            self._several(heard)
            self._refresh()
            self._tick()
            return
        decision = self._decision(heard)
        note = words_heard(heard, heard.outcome, heard.command)
        self._turn((note, *(self._told(one) for one in events_of(decision))), decision)
        if isinstance(decision, StopSpeech):
            self._speaker.hush()
        self._refresh()
        self._tick()

    def _turn(self, events: Sequence[ev.Event], decision: Decision | None = None) -> None:
        """Commit what belongs together, then say what follows from it."""
        said = self._taken(events, decision)
        if said is not None:
            self._say(said.sentence, said.urgency, said.why)

    def _taken(self, events: Sequence[ev.Event], decision: Decision | None) -> Said | None:
        """Commit what belongs together; what is to be said of it."""
        before = self._talk
        recorded = self._commit(events)
        if decision is not None:
            self._go_on(decision)
        return told(before, self._talk, recorded, decision)

    def _several(self, heard: Heard) -> None:
        """Facts of one breath: what is clear is recorded, then the rest is asked, and one
        sentence says all of it."""
        commands = [*((heard.command,) if heard.command else ()), *heard.more]
        said: list[Sentence] = []
        asks: list[ev.Waiting] = []  # one is asked now, the others once it is closed
        for command in commands:
            clear, waiting = parted(decide(self.state, command, self.now()))
            asks += [one for one in waiting if one not in asks]
            if clear is not None:
                said += self._one_of_several(heard, command, clear)
        if heard.outcome == "ask" and heard.alternatives:
            asks += [ev.Waiting(one, "unclear") for one in (heard.alternatives, *heard.later)]
        if asks:
            question = AskBack(asks[0].options, asks[0].why, later=tuple(asks[1:]))
            said += self._one_of_several(heard, None, question)
        if heard.help:
            said.append(Sentence(heard.help, heard.help))
        self._say(joined(*said))

    def _one_of_several(
        self, heard: Heard, command: cmd.Command | None, decision: Decision
    ) -> list[Sentence]:
        note = words_heard(heard, heard.outcome if command is None else "accept", command)
        told_now = self._taken((note, *events_of(decision)), decision)
        return [told_now.sentence] if told_now is not None else []

    def _tick(self) -> None:
        now_s = self.now()
        for _ in range(ROUNDS):
            ready = due(self.state, now_s)
            if not ready:
                break
            self._turn(
                tuple(ev.PromptSaid(one.key, one.urgency, late_by(one, now_s)) for one in ready)
            )
        moved_s = self._clock.moved_s()
        if abs(moved_s - self._told_moved_s) > STEP_S:
            self._say(sentences.clock_moved(moved_s - self._told_moved_s), "soon", why="clock")
            self._told_moved_s = moved_s
        for news in self._log.news(now_s):
            self._say(sentences.journal_news(news.kind, news.text), "now", why=news.kind)
        self._log.keep(self.state)
        self._arm(now_s)

    def _arm(self, now_s: float) -> None:
        self._talk = armed(self._talk)
        next_s = self._talk.armed_s
        if not self._log.is_safe:
            next_s = min(now_s + RETRY_S, next_s if next_s is not None else now_s + RETRY_S)
        self._clock.wake_at(next_s, self._wake)

    def _decision(self, heard: Heard) -> Decision:
        if heard.outcome == "ask" and heard.alternatives:
            return AskBack(heard.alternatives, "unclear")
        assert heard.command is not None
        return decide(self.state, heard.command, self.now())

    def _told(self, event: ev.Event) -> ev.Event:
        if not isinstance(event, ev.Resumed):
            return event
        return dated(event, self._clock.boot(), self.now() + event.away_s)

    def _go_on(self, decision: Decision) -> None:
        """Where the cook told how long the program was away, the clock follows."""
        for event in events_of(decision):
            if isinstance(event, ev.Resumed):
                self._clock.set_now(self.now() + event.away_s)
                self._told_moved_s = self._clock.moved_s()

    def _commit(self, events: Sequence[ev.Event]) -> tuple[ev.Recorded, ...]:
        recorded = self._log.append(self.now(), events)
        self._talk = take_in(self._talk, recorded)
        for entry in recorded:
            if not isinstance(entry.event, ev.WordsHeard):
                name, fields = event_json(entry.event)
                self._out("event", name=name, fields=fields)
        return recorded

    def _say(self, sentence: Sentence, urgency: Urgency = "reply", why: str | None = None) -> None:
        self._talk = replace(self._talk, last_said=sentence)
        self._out("said", text=sentence.text, urgency=urgency, why=why)
        self._speaker.say(Speech(sentence.text, sentence.spoken, urgency))

    def _refused(self, heard: Heard) -> None:
        self.missed = reason = heard.reason or "not understood"
        self._out("refused", words=heard.words, reason=reason)
        self._speaker.tone("unclear")
        note = ev.WordsHeard(heard.words, heard.confidence, "refuse")
        said = self._taken((note,), None)
        if heard.help:
            self._say(Sentence(heard.help, heard.help), why="not understood")
        elif said is not None:
            self._say(said.sentence, said.urgency, said.why)

    def _refresh(self) -> None:
        """Show the forecasts that changed, the fire, and the next look."""
        now_s = self.now()
        new, fire = forecast_of(self.state), fire_of(self.state, now_s)
        if new is not None and new != self.forecast:
            for line in forecast_lines(self.state, new, now_s):
                self._show(line)
        if fire is not None and fire != self.fire:
            self._show(fire_line(self.state, fire, now_s))
        self.forecast, self.fire = new, fire

    def _out(self, kind: str, **fields: object) -> None:
        self._show(Line(since(self.state, self.now()), kind, fields))
