"""What a person types; nothing else. Every command calls one function of another room."""

import json
import sys
from pathlib import Path
from typing import Any

import click

from assistant.cli.errors import EXISTING, FILE, FOLDER, AskedWrongly, json_option, one_line
from assistant.cli.past import COMMANDS


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="turnspit")
def main() -> None:
    """Turnspit: a hands-free, offline helper for the cook who roasts birds on a spit.

    Example: turnspit cook
    """


@main.command()
@click.option("--typed", is_flag=True, help="Read words from standard input.")
@click.option("--birds", type=click.IntRange(1, 8), help="How many birds are on the spit tonight.")
@click.option("--names", default="", help='Tonight\'s sauce names, like "apricot,harissa".')
@click.option("--name", help="A name to find this cook by.")
@click.option("--status", type=FILE, help="Keep a plain-text status in this file.")
@click.option("--plain", is_flag=True, help="Line by line, for screen readers and logs.")
@json_option
@click.option("--recording", type=EXISTING, help="Hear this file, in real time, as a microphone.")
@click.option("--microphone", default="", help="A part of its name. Default: the system's own.")
@click.option("--speaker", default="", help="A part of its name. Default: the system's own.")
@click.option("--headset", is_flag=True, help="Listen while speaking (needs a headset).")
@click.option("--push-to-talk", is_flag=True, help="Listen only after Enter or the pedal.")
@click.option("--pedal", type=FILE, help="A key device (/dev/input/by-id/...) as push to talk.")
@click.option("--keep-audio", is_flag=True, help="Keep recordings of what was said to it.")
@click.option("--small", is_flag=True, help="For a single-board computer: less work, longer waits.")
def cook(typed: bool, **options: Any) -> None:
    """Run a live cook; goes on by itself with one that was interrupted.

    Example: turnspit cook --birds 3
    """
    from assistant.app.settings import SettingsError

    shown = {
        key: options.pop(key) for key in ("birds", "names", "name", "status", "plain", "as_json")
    }
    if typed:
        from assistant.app.cook_typed import cook_typed

        with one_line(SettingsError):
            cook_typed(**shown)
        return
    from assistant.app.cook_by_voice import cook_by_voice
    from assistant.ears.ears import EarsError
    from assistant.sound.files import SoundError

    with one_line(SettingsError, EarsError, SoundError):
        cook_by_voice(**shown, **options)


@main.command()
@click.argument("script", type=EXISTING)
@json_option
@click.option("--say-to", type=FOLDER, help="Write what would be spoken as WAV files here.")
@click.option("--keep", is_flag=True,
              help="Put it into the journal, marked, to try replay and lookback.")  # fmt: skip
def rehearse(script: Path, as_json: bool, say_to: Path | None, keep: bool) -> None:
    """Run SCRIPT on the virtual clock, as fast as it can, with the settings of cook.toml.

    Example: turnspit rehearse demo_sessions/family_dinner.txt
    """
    from assistant.app import rehearse as rehearsal
    from assistant.app import settings
    from assistant.app.keep import keep_rehearsal
    from assistant.cook.prompts import load as prompt_load
    from assistant.ears.ears import EarsError
    from assistant.session.log import MemoryLog
    from assistant.session.printing import load_text, printer
    from assistant.sound.files import SoundError
    from assistant.system.clock import wall_time
    from assistant.voice.synth import VoiceError
    from assistant.voice.wav_files import speaker_into

    with one_line(settings.SettingsError):
        begin = settings.load().began("UTC")
    try:
        steps = rehearsal.read_script(script, begin.scale)
    except rehearsal.ScriptError as error:
        raise AskedWrongly(str(error)) from error
    with one_line(VoiceError, EarsError, SoundError):
        start_s = rehearsal.starts_s(begin.zone, wall_time() if keep else None)
        unwritten: list[str] = []
        speaker = speaker_into(say_to, unwritten.append)
        show = printer(sys.stdout, as_json=as_json)
        log = MemoryLog()
        with rehearsal.hearing(steps, _say_aside) as hear:
            rehearsal.rehearse(
                steps, show, speaker, begin=begin, log=log, hear=hear, start_s=start_s
            )
        speaker.close()
        if keep:
            _say_aside(keep_rehearsal(script.stem, log.recorded, wall_time()))
        if not as_json:
            click.echo(load_text(prompt_load(log.recorded)))
    if unwritten:
        more = f" ({len(unwritten)} files in all)" if len(unwritten) > 1 else ""
        raise click.ClickException(f"{unwritten[0]}{more}")


@main.command()
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option(
    "--engine", type=click.Choice(["vosk", "sphinx"]), help="Default: Vosk if it is there."
)
@click.option("--birds", type=click.IntRange(1, 8), default=8, show_default=True)
@click.option("--names", default="", help='Tonight\'s sauce names, like "apricot,harissa".')
@click.option("--address", type=click.Choice(["required", "free"]), default="free",
              help="Whether the address word must open the sentence.")  # fmt: skip
@click.option("--grammar", type=EXISTING, help="Any JSGF grammar; then words only.")
@click.option("--no-judge", is_flag=True, help="Without the second listener.")
def hear(files: tuple[Path, ...], names: str, grammar: Path | None, **options: Any) -> None:
    """Recognise recordings (WAV, FLAC), each one utterance; one JSON object a line.

    Example: turnspit hear --names "apricot,harissa" line.wav
    """
    from assistant.app.cook_typed import sauces_named
    from assistant.ears.ears import EarsError
    from assistant.ears.hear_files import hear_files
    from assistant.grammar.grammar import Names
    from assistant.grammar.network import GrammarError

    sauces = sauces_named(names)
    failed = False
    with one_line(EarsError, GrammarError, ValueError):
        for line in hear_files(
            files,
            names=None if grammar else Names(options["birds"], sauces),
            grammar=grammar.read_text(encoding="utf-8") if grammar else None,
            engine=options["engine"],
            judge=False if options["no_judge"] else None,
            address_required=options["address"] == "required",
            notice=_say_aside,
        ):
            if "error" in line:
                failed = True
                _say_aside(f"Error: {line['error']}")
            click.echo(json.dumps(line, ensure_ascii=False))
    sys.exit(1 if failed else 0)


@main.command("plan")
@click.option("--serve", required=True, metavar="WHEN",
              help='Dinner on the table: 19:00, "tomorrow 18:30", "Saturday 6 pm".')  # fmt: skip
@click.option("--bird", "birds", multiple=True, metavar="BIRD",
              help='Like "3.5 lb", "1.6 kg with apricot", "hen 20 oz"; once for each.')  # fmt: skip
@click.option("--guests", type=click.IntRange(1, 60),
              help="People at the table; without --bird, how many birds to buy.")  # fmt: skip
@click.option("--frozen", is_flag=True, help="The birds are frozen: plan the thaw.")
@click.option("--side", "sides", multiple=True, metavar="DISH",
              help='A side dish, like "potatoes 45 min grill", "slaw 20 min".')  # fmt: skip
@click.option("--grill", help='The temperature the grill will run at, like "370 F".')
@click.option("--outside", "outside_f", type=float,
              help="Air temperature outside, F.  [default: cook.toml's, or 68]")  # fmt: skip
@click.option("--at-once", type=click.IntRange(1, 8), default=8, show_default=True,
              help="Birds the spit takes; more are roasted in batches.")  # fmt: skip
@click.option("--list", "as_list", is_flag=True, help="Print the shopping and kit list instead.")
@click.option("--keep", is_flag=True, help="Make this the plan of the next `turnspit cook`.")
@click.option("--calendar", "--out", "calendar", type=FILE, metavar="FILE",
              help="Write a calendar (.ics) that reminds you through the days.")  # fmt: skip
@click.option("--page", type=FILE, metavar="FILE", help="Write one page (.html) for the fridge.")
@json_option
def plan_command(
    as_list: bool, as_json: bool, keep: bool, calendar: Path | None, page: Path | None,
    outside_f: float | None, **asked: Any,
) -> None:  # fmt: skip
    """Plan dinner back from the table, from the day before to the leftovers.

    Turnspit does not run in the days between; --calendar is the reminder.

    Example: turnspit plan --serve "tomorrow 18:30" --bird "3.5 lb with apricot" --bird "4 lb"
    """
    from assistant.app import plan, settings
    from assistant.system.clock import local_zone, wall_time

    with one_line(settings.SettingsError):
        own = settings.load()
    now_s, zone = wall_time(), own.zone or local_zone()
    outside_f = own.outside_f if outside_f is None else outside_f
    wanted = plan.Wanted(kind=own.kind, outside_f=outside_f, **asked)
    try:
        dinner = plan.make_dinner(wanted, now_s, zone, plan.learned_kitchen())
    except ValueError as error:
        raise AskedWrongly(str(error)) from error
    click.echo(plan.shown(dinner, zone, as_json=as_json, as_list=as_list))
    with one_line(ValueError):
        for line in plan.write(dinner, now_s, zone, calendar=calendar, page=page, keep=keep):
            _say_aside(line)


@main.command()
@click.option("--trial", required=True, metavar="WEIGHT", help="The trial weight, like '8 oz'.")
@click.option("--radius", required=True, metavar="LENGTH", help="How far off the spit it hangs.")
@click.option("--turned", required=True, type=float, metavar="DEGREES",
              help="How far the spit then turned toward it.")  # fmt: skip
@click.option("--bird", metavar="WEIGHT", help="A bird that could be shifted instead.")
def balance(trial: str, radius: str, turned: float, bird: str | None) -> None:
    """Balance the spit: from one trial weight to a counterweight or a shift.

    Let the loaded spit stop, heavy side down. Hang the trial weight a quarter turn
    away and see how far the spit turns.

    Example: turnspit balance --trial "8 oz" --radius "6 in" --turned 40 --bird "4 lb"
    """
    from assistant.sentences.balance_text import balance_text

    try:
        click.echo(balance_text(trial, radius, turned, bird))
    except ValueError as error:
        raise AskedWrongly(str(error)) from error


@main.command()
@json_option
def check(as_json: bool) -> None:
    """Try every part: what works, what does not, and the one line that mends it.

    Example: turnspit check
    """
    from assistant.app import check as checks
    from assistant.system.clock import wall_time

    found = []
    ask = _say_aside if sys.stdin.isatty() else None
    for finding in checks.run_checks(wall_time, ask):
        found.append(finding)
        for text in checks.json_lines([finding]) if as_json else checks.lines([finding]):
            click.echo(text)
    sys.exit(1 if any(one.state == "broken" for one in found) else 0)


@main.command()
@json_option
def demo(as_json: bool) -> None:
    """Hear, record, forecast, prompt: an invented dinner, with no sound hardware.

    Example: turnspit demo
    """
    from assistant.app import demo as dinner
    from assistant.ears.ears import EarsError
    from assistant.session.printing import printer
    from assistant.voice.synth import VoiceError

    with one_line(EarsError, VoiceError), dinner.ears(_say_aside) as ear:
        outcome = dinner.run_demo(printer(sys.stdout, as_json=as_json), ear)
    for line in dinner.summary(outcome):
        click.echo(line, err=as_json)


@main.command()
def card() -> None:
    """Print the phrases on one page, made from the grammar.

    Example: turnspit card | lp
    """
    from assistant.sentences.card import phrase_card

    click.echo(phrase_card())


def _say_aside(text: str) -> None:
    """One line that is not data."""
    click.echo(text, err=True)


for command in COMMANDS:
    main.add_command(command)


if __name__ == "__main__":
    main()
