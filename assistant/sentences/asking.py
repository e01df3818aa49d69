"""Questions that settle what was heard, and refusals that say why."""

from assistant.cook.clocktimes import clock_text
from assistant.cook.rules.decision import AskBack
from assistant.cook.rules.doubts import last_read
from assistant.cook.rules.lifting import is_below, not_finished
from assistant.cook.state import Bird, Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary import refusals as no
from assistant.cook.vocabulary.refusals import Refusal
from assistant.sentences.describe import bird_spot, command_text, share_text, vent_name
from assistant.sentences.lifting import before_ending, before_lifting, off_already
from assistant.sentences.phrasing import birds, capital, degrees, listed, said_degrees, span
from assistant.sentences.spell import Sentence, sentence

Reading = cmd.BirdReading | cmd.GrillReading


def ask_back(ask: AskBack, state: Cook) -> Sentence:
    """The question, shortest first: "Bird 1: 113 or 130?"."""
    if ask.clock_s is not None:
        return sentence(_clock(ask.clock_s))
    if ask.why == "end_raw":
        return sentence(before_ending(not_finished(state), state))
    if ask.why == "below_mark":
        return sentence(before_lifting(_lifted(ask, state), state))
    return sentence(" ".join((*_grounds(ask, state), _question(ask.options, state))))


def _lifted(ask: AskBack, state: Cook) -> list[Bird]:
    """The birds that a question about lifting off is about."""
    number = getattr(ask.options[0], "bird", None)
    some = [bird for bird in state.birds if bird.is_on and number in {None, bird.number}]
    return [bird for bird in some if is_below(bird)] or list(state.birds)


def open_question(state: Cook) -> str | None:
    """The question that waits for an answer, as it was put; None where none does."""
    pending = state.pending
    if pending is None:
        return None
    return ask_back(AskBack(pending.options, pending.why, pending.clock_s), state).text


def _clock(clock_s: float) -> str:
    """A clock that stands `clock_s` after the last note, and cannot be believed."""
    gap = span(abs(clock_s))
    if clock_s < 0:
        return (
            f"The computer's clock looks wrong, {gap} before my last note. I count on"
            " from there. Say how long I was away: away ten minutes."
        )
    return (
        f"By the computer's clock I was away {gap}, which may be wrong. I count on from my"
        " last note. Was it that long? Say yes, or: away ten minutes."
    )


def which_one(options: tuple[cmd.Command, ...], state: Cook) -> str:
    """The open question, put again."""
    if isinstance(options[0], cmd.EndCook | cmd.BirdsOff | cmd.Rest):
        return f"Yes or no? {open_question(state) or ''}".strip()
    return f"Which one? {_question(options, state)}"


def _question(options: tuple[cmd.Command, ...], state: Cook) -> str:
    if isinstance(options[0], cmd.FuelAdded):
        return "How many?"
    vents = [one for one in options if isinstance(one, cmd.Vents) and one.opening is not None]
    if len(vents) == len(options):
        shares = listed((share_text(one.opening or 0.0) for one in vents), "or")
        return f"{capital(vent_name(vents[0].which))} at {shares} now?"
    numbers = _one_thing(options, state)
    if numbers is None and (same := _one_number(options)):
        spot = f" {same[0].spot}" if same[0].spot else ""
        read = said_degrees(same[0].said, state)
        return f"{read}{spot}: which bird, {listed((one.bird for one in same), 'or')}?"
    if numbers is None:
        return f"{capital(listed((command_text(one, state) for one in options), 'or'))}?"
    name = _named(numbers[0])
    if len(numbers) == 1:
        return f"{name}, {said_degrees(numbers[0].said, state)}, is that right?"
    return f"{name}: {listed((said_degrees(one.said, state) for one in numbers), 'or')}?"


def _one_thing(options: tuple[cmd.Command, ...], state: Cook) -> list[Reading] | None:
    """The options, if all are readings of one bird and spot, or of the grill."""
    readings = [one for one in _as_readings(options, state) if isinstance(one, Reading)]
    if len(readings) < len(options) or len({_named(one) for one in readings}) != 1:
        return None
    return readings


def _as_readings(options: tuple[cmd.Command, ...], state: Cook) -> list[cmd.Command]:
    """The options, each correction as the reading it would make of the last one."""
    last = last_read(state)
    return [_as_reading(one, last.event if last is not None else None) for one in options]


def _as_reading(option: cmd.Command, last: ev.Event | None) -> cmd.Command:
    if not isinstance(option, cmd.Correct) or option.said is None or option.temperature is None:
        return option
    if isinstance(last, ev.BirdRead):
        bird = last.bird if option.bird is None else option.bird
        return cmd.BirdReading(bird, option.temperature, option.said, last.spot)
    return cmd.GrillReading(option.temperature, option.said)


def _one_number(options: tuple[cmd.Command, ...]) -> list[cmd.BirdReading] | None:
    """The options, if all are the same reading, each of another bird."""
    readings = [one for one in options if isinstance(one, cmd.BirdReading)]
    if len(readings) < len(options) or len({(one.said, one.spot) for one in readings}) != 1:
        return None
    return readings


def _named(reading: Reading) -> str:
    if isinstance(reading, cmd.BirdReading):
        return capital(bird_spot(reading.bird, reading.spot))
    return "Grill"


def _grounds(ask: AskBack, state: Cook) -> tuple[str, ...]:
    first = ask.options[0] if ask.options else None
    last = None
    if isinstance(first, cmd.BirdReading):
        bird = state.bird(first.bird)
        last = bird.readings[-1] if bird is not None and bird.readings else None
    match ask.why:
        case "falls" | "jumps" if last is not None:
            return (f"It was {degrees(last.temperature_f, state)}.",)
        case "grill_far" if state.fire.readings:
            return (f"It was {degrees(state.fire.readings[-1].temperature_f, state)}.",)
        case "far_from_forecast":
            return ("Not what I expected.",)
        case "too_hot":
            return ("Too hot for meat.",)
        case "vents_where":
            return ("I don't know how it stood.",)
        case "too_cold":
            return ("Too cold for meat.",)
    return ()


def refusal(refuse: Refusal, state: Cook) -> Sentence:
    """Why it was not taken, and what to say instead where there is something."""
    return sentence(_refusal_text(refuse, state))


def _refusal_text(refuse: Refusal, state: Cook) -> str:
    match refuse:
        case no.NoMeatReads(command):
            return f"No meat reads {said_degrees(command.said, state)}. Read it again."
        case no.GrillImpossible(command):
            return f"No grill reads {said_degrees(command.said, state)}. Read it again."
        case no.NoBirdWeighs():
            return "No bird weighs that. Say it again."
        case no.BathDoubtful(true_f):
            return f"That should be near {degrees(true_f, state)}. Stir, wait, read again."
        case no.FuelCount(count):
            return _fuel(count)
        case no.NoTimer(name):
            return f"No {name} timer is running." if name else "No timer is running."
        case no.ServePast():
            return "That time has gone by. Say another one."
        case no.Minutes():
            return "I can count from a minute to a day. Say it again."
        case no.TooManyTimers(most):
            return f"{most} timers are running already. Cancel one first."
        case no.ClaimingName():
            return "I don't take that name: I can't say that of food. Give it another."
        case no.NotThen(known_s):
            return _not_then(known_s, state)
        case no.NothingToUndo():
            return "There is nothing to take back."
        case no.NothingToCorrect():
            return "There is no reading to correct."
        case _:
            return _no_such_bird(refuse, state)


def _not_then(known_s: float | None, state: Cook) -> str:
    if known_s is None:
        return "That is not in this evening so far. Say how many minutes ago."
    known = clock_text(known_s, state.zone)
    return f"That can't be before {known}, by what I have. Say the time again."


def _no_such_bird(
    refuse: no.BeyondTonight
    | no.NotOn
    | no.SaucedBeforeOn
    | no.UnknownBird
    | no.NoReading
    | no.NotOnYet
    | no.NoBirds
    | no.StillOn,
    state: Cook,
) -> str:
    match refuse:
        case no.BeyondTonight(bird, birds_):
            return f"There are {birds_} birds tonight, no bird {bird}."
        case no.NotOn(bird):
            if any(one.has_been_on and bird in {None, one.number} for one in state.birds):
                return off_already(bird, state)
            return f"Bird {bird} isn't on." if bird else "No bird is on."
        case no.SaucedBeforeOn(bird):
            some = f"Bird {bird} hasn't" if bird else "No bird has"
            return f"{some} been on yet. Nothing noted."
        case no.UnknownBird(bird):
            return f"I know of no bird {bird}."
        case no.NoReading(bird):
            return f"No reading of bird {bird} yet." if bird else "No readings yet."
        case no.NotOnYet():
            return "No bird has gone on yet."
        case no.NoBirds():
            return "No birds named yet."
        case no.StillOn(numbers):
            are, them = ("are", "them") if len(numbers) > 1 else ("is", "it")
            return f"{capital(birds(numbers))} {are} still on. Motor off, then tell me {them} off."


def _fuel(count: float) -> str:
    if count > 0:
        return f"{count:g} is more than a grill holds. Nothing noted."
    return "None added, so nothing noted."
