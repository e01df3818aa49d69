"""A command or a recorded fact in a few printed words: "bird 2, 130", "12 briquettes"."""

from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.sayback import say_back
from assistant.sentences.phrasing import minutes_text, said_degrees

_FUEL = {"briquettes": ("briquette", "briquettes"), "lump": ("piece of lump", "pieces of lump"),
         "chimney": ("chimney", "chimneys"), None: ("piece", "pieces")}  # fmt: skip
_SHARES = {0.0: "shut", 1 / 4: "1/4", 1 / 3: "1/3", 1 / 2: "1/2", 2 / 3: "2/3", 3 / 4: "3/4",
           1.0: "open"}  # fmt: skip
_VENTS = {"bottom": "bottom vent", "top": "top vent", "both": "both vents"}
TROUBLE_NAMES = {
    "wing_loose": "wing loose", "leg_loose": "leg loose", "flare_up": "flare-up",
    "spit_stopped": "spit stopped", "drip_pan_full": "drip pan full",
    "fire_dying": "fire dying", "rain": "rain", "bird_stuck": "bird stuck",
    "thermometer_doubted": "thermometer doubted", "fire_too_hot": "fire too hot",
    "burning": "burning", "wind": "wind", "cold": "cold",
}  # fmt: skip


def command_text(command: cmd.Command, state: Cook) -> str:
    """What a command says, numbers in digits; without a verb where none is needed."""
    match command:
        case cmd.BirdReading(bird, _, said, spot):
            return f"{bird_spot(bird, spot)}, {said_degrees(said, state)}"
        case cmd.GrillReading(_, said):
            return f"grill {said_degrees(said, state)}"
        case cmd.BirdWeight(bird, pounds, ounces, kilograms):
            return f"bird {bird}, {weight_text(pounds, ounces, kilograms)}"
        case cmd.FuelAdded(float() as count, kind):
            return fuel_text(count, kind)
        case cmd.Vents(which, float() as opening):
            return vent_text(which, opening)
        case cmd.ServeAt(time, _, day):
            return f"dinner {day + ' ' if day else ''}at {time // 60}:{time % 60:02d}"
        case cmd.ServeIn(minutes):
            return f"dinner in {minutes_text(minutes)}"
        case cmd.TimerSet(minutes, name):
            return timer_text(minutes, name)
        case cmd.Number(_, said):
            return said_degrees(said, state)
        case cmd.Correct(_, said, bird) if said is not None:
            of = f"bird {bird}, " if bird else ""
            return f"correction, {of}{said_degrees(said, state)}"
        case cmd.ThermometerCheck(bath, _, said):
            return f"thermometer {said_degrees(said, state)} in {bath_text(bath)}"
    return _other_text(command)


def _other_text(command: cmd.Command) -> str:
    match command:
        case cmd.Hold(minutes) if minutes is not None:
            return f"hold dinner {minutes_text(minutes)}"
        case cmd.AwayFor(minutes):
            return f"away {minutes_text(minutes)}"
        case cmd.Snooze(minutes) if minutes is not None:
            return f"snooze {minutes_text(minutes)}"
        case cmd.Trouble(kind, bird):
            return TROUBLE_NAMES[kind] + (f" on bird {bird}" if bird else "")
        case cmd.AskWhen(bird) | cmd.AskLast(bird) | cmd.AskSauce(bird) | cmd.AskWhy(bird) if bird:
            return say_back(type(command)()) + f", bird {bird}"
        case cmd.BirdSauce(bird, sauce):
            return f"bird {bird}, {sauce}"
        case cmd.BirdsOn(bird) | cmd.BirdsOff(bird) if bird:
            return f"bird {bird} {'on' if isinstance(command, cmd.BirdsOn) else 'off'}"
        case cmd.Sauced(bird) if bird:
            return f"bird {bird} sauced"
        case cmd.AskWhatIf(_, said) if said is not None:
            return f"what if the grill runs at {said.number:g} {said.scale}"
    return say_back(command)


def bird_spot(bird: int, spot: cmd.Spot | None) -> str:
    """ "bird 1 thigh"."""
    return f"bird {bird}" + (f" {spot}" if spot else "")


def weight_text(pounds: float | None, ounces: float | None, kilograms: float | None) -> str:
    """A weight in the units it was said in: "5 lb 8 oz"."""
    if kilograms is not None:
        return f"{kilograms:g} kg"
    return f"{pounds or 0:g} lb" + (f" {ounces:g} oz" if ounces else "")


def fuel_text(count: float, kind: cmd.FuelKind | None) -> str:
    """An amount of fuel: "12 briquettes", "half a chimney"."""
    one, many = _FUEL[kind]
    if count == 0.5:
        return f"half a {one}"
    return f"{count:g} {one if count == 1 else many}"


def vent_name(which: cmd.Vent) -> str:
    """ "bottom vent"."""
    return _VENTS[which]


def vent_text(which: cmd.Vent, opening: float) -> str:
    """A vent and how far it is open: "bottom vent 2/3"."""
    return f"{_VENTS[which]} {share_text(opening)}"


def share_text(opening: float) -> str:
    """An opening: "2/3", "shut", "40%"."""
    return _SHARES.get(opening, f"{100 * opening:.0f}%")


def timer_text(minutes: float, name: str | None) -> str:
    """A timer with its name: "rice timer, 10 minutes"."""
    return f"{name + ' ' if name else ''}timer, {minutes_text(minutes)}"


def bath_text(bath: cmd.Bath) -> str:
    """The water a thermometer is checked in."""
    return "ice water" if bath == "ice" else "boiling water"
