"""Any evening at all: every command in any order, with ticks, undo and restarts.

No exception, no prompt for a finished bird, every urgent prompt said when due or
superseded, and the journal folded again equals the live state.
"""

import itertools
from unittest import mock

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from assistant.cook.rules import forecasts
from assistant.cook.rules.decide import decide
from assistant.cook.rules.decision import AskBack, Record
from assistant.cook.rules.due import APART_S, WAKEFUL, due, late_by, next_due, prompts
from assistant.cook.rules.fold import apply, fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.answers import Answer
from assistant.cook.vocabulary.codec import event_from_json, event_json
from assistant.cook.vocabulary.refusals import Refusal
from assistant.heat.bird.evidence import BirdForecast, Evidence, Forecast, Look, Quantiles
from tests.cook.build import START_S

BIRDS = st.sampled_from([1, 2, 3, 9])
SPOTS = st.sampled_from([None, "breast", "thigh", "wing"])
MINUTES = st.sampled_from([0.0, 1.0, 5.0, 20.0, 90.0, 5000.0])


def _temperature(low: float, high: float) -> st.SearchStrategy[tuple[float, cmd.Said]]:
    return st.floats(low, high).map(lambda f: (round(f), cmd.Said(round(f), "F")))


READINGS = st.builds(
    lambda bird, t, spot: cmd.BirdReading(bird, t[0], t[1], spot),
    BIRDS, st.one_of(_temperature(32, 300), _temperature(120, 172)), SPOTS,
)  # fmt: skip
GRILL = st.builds(lambda t: cmd.GrillReading(*t), _temperature(60, 600))
OTHERS = st.one_of(
    st.builds(cmd.BirdWeight, BIRDS, st.sampled_from([0.1, 3.5, 6.0, 60.0])),
    st.builds(cmd.BirdSauce, BIRDS, st.sampled_from(["apricot", "harissa", "plain"])),
    st.builds(cmd.BirdsOn, st.one_of(st.none(), BIRDS)),
    st.builds(cmd.BirdsOff, st.one_of(st.none(), BIRDS)),
    st.builds(cmd.Sauced, st.one_of(st.none(), BIRDS)),
    st.builds(cmd.FuelAdded, st.sampled_from([0.0, 0.5, 12.0, 500.0]),
              st.sampled_from([None, "briquettes", "lump", "chimney"])),
    st.builds(cmd.Vents, st.sampled_from(["bottom", "top", "both"]), st.floats(0, 1)),
    st.builds(cmd.ServeAt, st.integers(0, 1439), st.booleans()),
    st.builds(cmd.ServeIn, MINUTES),
    st.builds(cmd.Hold, st.one_of(st.none(), MINUTES)),
    st.builds(cmd.TimerSet, MINUTES, st.sampled_from([None, "rice"])),
    st.builds(cmd.TimerCancel, st.sampled_from([None, "rice"])),
    st.builds(cmd.AwayFor, MINUTES),
    st.builds(cmd.Snooze, st.one_of(st.none(), MINUTES)),
    st.builds(cmd.Trouble, st.sampled_from([
        "wing_loose", "leg_loose", "flare_up", "spit_stopped", "drip_pan_full", "fire_dying",
        "rain", "bird_stuck", "thermometer_doubted"]), st.one_of(st.none(), BIRDS)),
    st.builds(lambda b, t: cmd.ThermometerCheck(b, *t), st.sampled_from(["ice", "boiling"]),
              _temperature(25, 220)),
    st.builds(cmd.Choose, st.integers(1, 3)),
    st.builds(lambda t: cmd.Number(*t), _temperature(32, 300)),
    st.builds(lambda t: cmd.Correct(*t), _temperature(32, 300)),
    st.builds(cmd.AskWhatIf, st.none()),
    st.sampled_from([
        cmd.WoodAdded(), cmd.LidOff(), cmd.LidOn(), cmd.FireLit(), cmd.Acknowledge(), cmd.Yes(),
        cmd.No(), cmd.Undo(), cmd.Correct(), cmd.Repeat(), cmd.ReadinessStart(), cmd.ItemDone(),
        cmd.ItemSkip(), cmd.ItemBack(), cmd.AskWhen(), cmd.AskNext(), cmd.AskElapsed(),
        cmd.AskLast(), cmd.AskFire(), cmd.AskSauce(), cmd.AskLeft(), cmd.AskWhy(),
        cmd.AskHeard(), cmd.AskStatus(), cmd.AskHelp(), cmd.StartCook(), cmd.Quieter(),
        cmd.Louder(), cmd.Hush(),
    ]),
)  # fmt: skip


def plain_forecast(evidence: Evidence, as_of_s: float) -> Forecast:
    """A stand-in for the forecaster, hundreds of times quicker: eighty minutes a bird,
    nothing for one that was read cold. The machine tests what is made of a forecast."""
    birds = []
    for bird in evidence.birds:
        on_s = bird.on_heat[0].start_s if bird.on_heat else as_of_s
        cold = bool(bird.readings) and bird.readings[-1].temperature_c < 20.0
        late_s = 300.0 * len(bird.readings)
        sauce, done = (
            Quantiles(None, None, None) if cold else Quantiles(at - 400.0, at, at + 900.0)
            for at in (on_s + 3300.0 + late_s, on_s + 4800.0 + late_s)
        )  # fmt: skip
        birds.append(BirdForecast(bird.number, sauce, done, (40.0, 50.0, 60.0), 0.3, 0.1))
    looks = [Look(one.number, one.done.q10, "done") for one in birds if one.done.q10 is not None]
    return Forecast(tuple(birds), looks[0] if looks else None)


class AnyEvening(RuleBasedStateMachine):
    """A session without its rooms: decide, commit, fold, and say what is due."""

    def __init__(self) -> None:
        super().__init__()
        self.stand_in = mock.patch.object(forecasts, "_forecast", plain_forecast)
        self.stand_in.start()
        self.state = Cook()
        self.recorded: list[ev.Recorded] = []
        self.now_s = START_S

    def teardown(self) -> None:
        self.stand_in.stop()

    def commit(self, *events: ev.Event) -> None:
        for event in events:
            name, fields = event_json(event)
            kept = event_from_json(name, fields)  # what a journal gives back
            entry = ev.Recorded(len(self.recorded) + 1, self.now_s, kept)
            self.recorded.append(entry)
            self.state = apply(self.state, entry)

    @initialize(
        birds=st.sampled_from([None, 2, 3]),
        kind=st.sampled_from(["chicken", "hen", "roast"]),
        cooking=st.booleans(),
    )
    def begin(self, birds: int | None, kind: str, cooking: bool) -> None:
        self.commit(ev.CookBegan(birds=birds, kind=kind))
        if cooking:
            for command in (cmd.BirdSauce(1, "apricot"), cmd.BirdSauce(2, "harissa"),
                            cmd.FireLit(), cmd.BirdsOn()):  # fmt: skip
                self.speak(command)

    @rule(command=st.one_of(READINGS, GRILL, OTHERS))
    def speak(self, command: cmd.Command) -> None:
        """Every command is answered one way or another."""
        decision = decide(self.state, command, self.now_s)
        if isinstance(decision, Record):
            assert decision.events
            self.commit(*decision.events)
        elif isinstance(decision, AskBack):
            assert decision.options
            self.commit(ev.AskedBack(decision.options, decision.why))
        else:
            assert isinstance(decision, Answer | Refusal)
        self.tick()

    @rule(minutes=st.sampled_from([0.05, 0.4, 3.0, 11.0, 45.0]), restarts=st.booleans())
    def wait(self, minutes: float, restarts: bool) -> None:
        """Time passes; the clock wakes the session at every prompt. It may die first and
        come back, its state made from the journal alone."""
        if restarts:
            self.state = fold(self.recorded)
            self.commit(ev.Resumed(0.0))
        until_s = self.now_s + 60.0 * minutes
        for _ in itertools.count():
            assert _ < 400, "prompts without end"
            next_s = next_due(self.state)
            if next_s is None or next_s > until_s:
                break
            self.now_s = max(self.now_s, next_s)
            self.tick()
        self.now_s = until_s

    def tick(self) -> None:
        ready = due(self.state, self.now_s)
        if not ready:
            return
        said = [at_s for one in self.state.prompts for at_s in one.said_s]
        if said and all(one.urgency != "now" for one in ready):
            assert self.now_s - max(said) >= APART_S - 1e-6
        self.commit(*(ev.PromptSaid(p.key, p.urgency, late_by(p, self.now_s)) for p in ready))
        assert due(self.state, self.now_s) == (), "the same prompt twice at one time"

    @precondition(lambda self: any(b.has_been_on for b in self.state.birds))
    @rule(bird=st.sampled_from([1, 2]))
    def finish(self, bird: int) -> None:
        """Breast and thigh at the mark, and off."""
        said = cmd.Said(168.0, "F")
        for command in (cmd.BirdReading(bird, 168.0, said, "breast"),
                        cmd.BirdReading(bird, 168.0, said, "thigh")):  # fmt: skip
            self.speak(command)
            if self.state.pending is not None:
                self.speak(cmd.Choose(1) if len(self.state.pending.options) > 1 else cmd.Yes())
        self.speak(cmd.BirdsOff(bird))

    @invariant()
    def replay_equals_live(self) -> None:
        assert fold(self.recorded) == self.state

    @invariant()
    def no_prompt_for_a_finished_bird(self) -> None:
        pulled = {bird.number for bird in self.state.birds if bird.is_pulled}
        for one in prompts(self.state):
            assert one.bird not in pulled or one.kind in {"keep_hot", "unread"}

    @invariant()
    def every_urgent_prompt_is_said_or_superseded(self) -> None:
        """After a tick none stands that is due, unsaid and unsnoozed, save in its sleep."""
        said = {one.key for one in self.state.prompts if one.said_s or one.snoozed_until_s}
        for one in prompts(self.state):
            waits = self.state.asleep and one.kind not in WAKEFUL
            assert waits or one.urgency != "now" or one.due_s > self.now_s or one.key in said

    @invariant()
    def keys_are_unique(self) -> None:
        keys = [one.key for one in prompts(self.state)]
        assert len(keys) == len(set(keys))


AnyEvening.TestCase.settings = settings(
    max_examples=40, stateful_step_count=40, deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)  # fmt: skip
TestAnyEvening = pytest.mark.slow(AnyEvening.TestCase)
