"""A command in canonical words: what parses back to exactly that command."""

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.numbers import (
    FRACTIONS,
    below_hundred,
    long_form,
    spell_number,
    spell_temperature,
)

_SCALES = {"F": "fahrenheit", "C": "celsius"}
_FUEL = {"briquettes": "briquettes", "lump": "pieces of lump", "chimney": "chimneys"}
_ONE_FUEL = {"briquettes": "briquette", "lump": "lumps", "chimney": "chimneys"}
_VENTS = {"bottom": "bottom vent", "top": "top vent", "both": "both vents"}
_BATHS = {"ice": "ice water", "boiling": "boiling water"}
_PLACES = {1: "first", 2: "second", 3: "third"}
_TIMER_NAMES = {"potatoes": "potato"}
TROUBLES = {
    "wing_loose": "wing loose", "leg_loose": "leg loose", "flare_up": "flare up",
    "spit_stopped": "spit stopped", "drip_pan_full": "drip pan full",
    "fire_dying": "the fire is dying", "rain": "it's raining", "bird_stuck": "is stuck",
    "thermometer_doubted": "i doubt the thermometer", "fire_too_hot": "the fire is too hot",
    "burning": "it's burning", "wind": "it's windy", "cold": "it's getting cold",
}  # fmt: skip
ENDS = {
    "flare_up": "the flare up is over", "spit_stopped": "the spit is turning again",
    "rain": "the rain has stopped", "wind": "the wind has dropped", "cold": "it's warmer again",
    "wing_loose": "the wing is tied", "leg_loose": "the leg is tied",
    "drip_pan_full": "the drip pan is empty",
}  # fmt: skip


def say_back(command: cmd.Command) -> str:
    """Words that parse to `command` and to nothing else, in either scale."""
    if isinstance(command, cmd.BirdCommand):
        return _of_bird(command)
    if isinstance(command, cmd.FireCommand):
        return _of_fire(command)
    if isinstance(command, cmd.DinnerCommand):
        return _of_time(command)
    if isinstance(command, cmd.ListCommand):
        return _of_list(command)
    if isinstance(command, cmd.Question):
        return _of_question(command)
    return _of_talk(command)


def say_temperature(said: cmd.Said) -> str:
    """A temperature with its scale: "one thirty fahrenheit"."""
    return f"{spell_temperature(said.number)} {_SCALES[said.scale]}"


def _of_bird(command: cmd.BirdCommand) -> str:
    match command:
        case cmd.BirdReading(bird, _, said, spot, when):
            place = f" {spot}" if spot else ""
            return f"{say_bird(bird)}{place} reads {say_temperature(said)}" + say_earlier(when)
        case cmd.BirdWeight(bird, pounds, ounces, kilograms):
            return f"{say_bird(bird)} weighs {say_weight(pounds, ounces, kilograms)}"
        case cmd.BirdSauce(bird, sauce):
            return f"{say_bird(bird)} gets {sauce}"
        case cmd.BirdSkin(bird, skin):
            return f"{say_bird(bird)} has {'' if skin == 'on' else 'no '}skin"
        case cmd.BirdsOn(number, when):
            went = f"{say_bird(number)} {'went' if when else 'is'} on" if number else "birds on"
            return went + say_earlier(when)
        case cmd.BirdsOff(number, when):
            came = f"{say_bird(number)} {'came' if when else 'is'} off" if number else "birds off"
            return came + say_earlier(when)
        case cmd.Sauced(number, when):
            was = " was" if when else ""
            some = f"{say_bird(number)}{was} sauced" if number else "birds sauced"
            return some + say_earlier(when)
        case cmd.Rest(number):
            return f"{say_bird(number)} is resting" if number else "birds are resting"
        case cmd.Carve(number):
            return "carving" + (f" {say_bird(number)}" if number else "")
        case cmd.MotorSide(side):
            return f"the motor is on the {side}"


def _of_fire(command: cmd.FireCommand) -> str:
    match command:
        case cmd.GrillReading(_, said, when):
            return f"grill is {say_temperature(said)}" + say_earlier(when)
        case cmd.FuelAdded(float() as count, kind, when):
            return "added " + say_fuel(count, kind) + say_earlier(when)
        case cmd.FuelAdded(_, kind, when):
            return f"added some {_FUEL[kind] if kind else 'charcoal'}" + say_earlier(when)
        case cmd.WoodAdded(when):
            return "added wood" + say_earlier(when)
        case cmd.LidOff(when):
            return "lid off" + say_earlier(when)
        case cmd.LidOn(when):
            return "lid on" + say_earlier(when)
        case cmd.FireLit(when):
            return "fire lit" + say_earlier(when)
        case cmd.Vents(which, float() as opening, _, when):
            return f"{_VENTS[which]} {say_opening(opening)}" + say_earlier(when)
        case cmd.Vents(which, _, "back", when):
            return f"{_VENTS[which]} back" + say_earlier(when)
        case cmd.Vents(which, _, change, when):
            return f"{_VENTS[which]} a bit {change}" + say_earlier(when)
        case cmd.Trouble(when=when):
            return _of_trouble(command) + say_earlier(when)
        case cmd.TroubleOver(trouble, when):
            return ENDS[trouble] + say_earlier(when)


def _of_trouble(command: cmd.Trouble) -> str:
    match command:
        case cmd.Trouble("burning", int() as bird):
            return f"{say_bird(bird)} is burning"
        case cmd.Trouble("bird_stuck", bird):
            return f"{say_bird(bird)} is stuck" if bird else "a bird is stuck"
        case cmd.Trouble(trouble, bird):
            return TROUBLES[trouble] + (f" on {say_bird(bird)}" if bird else "")


def _of_list(command: cmd.ListCommand) -> str:
    match command:
        case cmd.ReadinessStart():
            return "read the list"
        case cmd.ItemSkip():
            return "skip"
        case cmd.ItemBack():
            return "go back"
        case cmd.ThermometerCheck(bath, _, said):
            return f"thermometer reads {say_temperature(said)} in {_BATHS[bath]}"


def say_fuel(count: float, kind: cmd.FuelKind | None) -> str:
    """An amount of fuel: "twelve briquettes", "half a chimney"."""
    if kind == "chimney" and count in {0.5, 1.0}:
        return "a chimney" if count == 1.0 else "half a chimney"
    names = _ONE_FUEL if count == 1.0 else _FUEL
    return spell_number(count) + (f" {names[kind]}" if kind else "")


def _of_time(command: cmd.DinnerCommand) -> str:
    match command:
        case cmd.ServeAt(time, vague, day):
            return f"dinner {day + ' ' if day else ''}at {say_time(time, vague=vague)}"
        case cmd.ServeIn(minutes):
            return f"dinner in {say_minutes(minutes)}"
        case cmd.Hold(by):
            return "hold dinner" + (f" for {say_minutes(by)}" if by is not None else "")
        case cmd.TimerSet(minutes, name):
            title = f"{_TIMER_NAMES.get(name, name)} " if name else ""
            return f"set a {title}timer for {say_minutes(minutes)}"
        case cmd.TimerCancel(name):
            return f"cancel the {_TIMER_NAMES.get(name, name) + ' ' if name else ''}timer"


def _of_question(command: cmd.Question) -> str:
    match command:
        case cmd.AskWhen(bird):
            return "how long" + (f" for {say_bird(bird)}" if bird else "")
        case cmd.AskLast(bird):
            return "last reading" + (f" {say_bird(bird)}" if bird else "")
        case cmd.AskSauce(bird):
            return "which sauce" + (f" for {say_bird(bird)}" if bird else "")
        case cmd.AskWhy(bird):
            return "why" + (f" {say_bird(bird)}" if bird else "")
        case cmd.AskWhatIf(_, said):
            runs = f"the grill runs at {say_temperature(said)}" if said else "i sauce now"
            return f"what if {runs}"
        case cmd.AskNext():
            return "what's next"
        case cmd.AskStatus():
            return "how are we doing"
        case cmd.AskElapsed():
            return "how long has it been"
        case cmd.AskFire():
            return "how is the fire"
        case cmd.AskLeft():
            return "how many are left"
        case cmd.AskHeard():
            return "what did i say"
        case cmd.AskHelp():
            return "what can i say"
        case cmd.AskLeftovers():
            return "when do the leftovers go in"
        case cmd.AskTime():
            return "what time is it"


def _of_talk(command: cmd.TalkCommand) -> str:
    match command:
        case cmd.Correct(_, said, bird):
            of = f" {say_bird(bird)}" if bird else ""
            return "correction" + of + (f" {say_temperature(said)}" if said else "")
        case cmd.Number(_, number):
            return say_temperature(number)
        case cmd.Choose(place):
            return f"the {_PLACES[place]} one"
        case cmd.AwayFor(minutes):
            return f"away {say_minutes(minutes)}"
        case cmd.Snooze(minutes):
            return "snooze" + (f" {say_minutes(minutes)}" if minutes is not None else "")
        case cmd.Acknowledge():
            return "got it"
        case cmd.ItemDone():
            return "done"
        case cmd.Undo():
            return "take that back"
        case cmd.Repeat():
            return "say again"
        case cmd.Yes():
            return "yes"
        case cmd.No():
            return "no"
        case cmd.StartCook() | cmd.EndCook():
            return "start cook" if isinstance(command, cmd.StartCook) else "end cook"
        case cmd.Sleep():
            return "stand by"
        case cmd.Wake():
            return "listen again"
        case cmd.Quieter() | cmd.Louder() | cmd.Hush():
            return {"hush": "quiet"}.get(command.NAME, command.NAME)


def say_bird(number: int) -> str:
    """ "bird two"."""
    return f"bird {below_hundred(number)}"


def say_earlier(when: cmd.Earlier | None) -> str:
    """ " five minutes ago", " at six fifteen"; "" where it happened as it was told."""
    if when is None:
        return ""
    if when.ago is not None:
        return f" {say_minutes(when.ago)} ago"
    return f" at {say_time(when.at or 0, vague=when.vague)}"


def say_weight(pounds: float | None, ounces: float | None, kilograms: float | None) -> str:
    """A weight in the units it was said in."""
    if kilograms is not None:
        return f"{spell_number(kilograms)} {'kilo' if kilograms == 1 else 'kilos'}"
    words = f"{spell_number(pounds or 0.0)} {'pound' if pounds == 1 else 'pounds'}"
    if ounces is not None:
        words += f" {spell_number(ounces)} {'ounce' if ounces == 1 else 'ounces'}"
    return words


def say_opening(opening: float) -> str:
    """A vent's opening: "two thirds", "shut", "forty percent"."""
    if opening in {0.0, 1.0}:
        return "open" if opening else "shut"
    share = FRACTIONS.get(opening)
    return share or f"{long_form(round(100 * opening))} percent"


def say_minutes(minutes: float) -> str:
    """A time span: "an hour and a half", "ten minutes"."""
    hours, rest = divmod(minutes, 60.0)
    if hours == 13 and rest < 40:  # only up to twelve hours have a name
        hours, rest = 12.0, rest + 60
    if minutes < 60 or rest != int(rest) or hours > 12:
        return f"{spell_number(minutes)} {'minute' if minutes == 1 else 'minutes'}"
    words = "an hour" if hours == 1 else f"{below_hundred(int(hours))} hours"
    if rest == 0:
        return words
    if rest == 30 and hours > 1:
        return f"{below_hundred(int(hours))} and a half hours"
    return f"{words} and {'a half' if rest == 30 else f'{below_hundred(int(rest))} minutes'}"


def say_time(minutes: int, *, vague: bool) -> str:
    """A time of day given in minutes after midnight: "six thirty", "six thirty p m"."""
    if not vague and minutes in {0, 720}:
        return "noon" if minutes else "midnight"
    hour, minute = divmod(minutes, 60)
    twelve = below_hundred((hour - 1) % 12 + 1)
    past = f" oh {below_hundred(minute)}" if minute < 10 else f" {below_hundred(minute)}"
    words = twelve + (past if minute else " o'clock")
    return words if vague else f"{words} {'a m' if hour < 12 else 'p m'}"
