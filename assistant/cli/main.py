"""What a person types; nothing else. Every command calls one function of another room."""

import json
import sys
from pathlib import Path
from typing import Any

import click

from assistant.cli import ahead, past
from assistant.cli.errors import EXISTING, FILE, FOLDER, LINES, AskedWrongly, json_option, one_line
from assistant.system.console import guarded, outlive_readers


class _Commands(click.Group):
    """All commands, behind the edge to the terminal, the wrongly asked ones too."""

    def main(self, *args: Any, **kwargs: Any) -> Any:
        with guarded():
            return super().main(*args, **kwargs)


@click.group(
    cls=_Commands,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
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
    from assistant.app.cook import Asked, cook_by_voice, cook_typed
    from assistant.app.settings import SettingsError
    from assistant.ears.ears import EarsError
    from assistant.sound.files import SoundError

    outlive_readers()
    shown = ("birds", "names", "name", "status", "plain", "as_json")
    asked = Asked(**{key: options.pop(key) for key in shown})
    with one_line(SettingsError, EarsError, SoundError):
        if typed:
            cook_typed(asked)
        else:
            cook_by_voice(asked, **options)


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
    from assistant.cook.rules.due import load as prompt_load
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
@click.argument("files", nargs=-1, type=click.Path(path_type=Path))
@click.option("--text", type=LINES,
              help="Typed lines instead: one utterance a line, a blank line begins anew; - reads"
              " standard input.")  # fmt: skip
@click.option("--scale", type=click.Choice(["F", "C"]), default="F", show_default=True,
              help="With --text: what a number without its scale is in.")  # fmt: skip
@click.option(
    "--engine",
    type=click.Choice(["whisper", "vosk"]),
    help="Default: Whisper; Vosk where only that is there.",
)
@click.option("--birds", type=click.IntRange(1, 8), help="Default: 8, with --text 2.")
@click.option("--names", "--sauces", default="",
              help='Tonight\'s sauce names, like "apricot,harissa".')  # fmt: skip
@click.option("--address", type=click.Choice(["required", "free"]), default="free",
              help="Whether the address word must open the sentence.")  # fmt: skip
@click.option("--grammar", type=EXISTING, help="Any JSGF grammar; then words only.")
@click.option("--cut", is_flag=True,
              help="Long recordings: one line an utterance, cut as a live cook is.")  # fmt: skip
def hear(files: tuple[Path, ...], names: str, grammar: Path | None, **options: Any) -> None:
    """Recognise recordings (WAV, FLAC), each one utterance; one JSON object a line.

    Example: turnspit hear --names "apricot,harissa" line.wav
    """
    from assistant.app.begin import sauces_named

    if options["text"] is not None:
        if files:
            raise click.UsageError("--text takes the one file behind it: leave recordings out")
        _hear_text(options["text"], options["birds"] or 2, sauces_named(names), options["scale"])
        return
    if not files:
        raise click.UsageError("name a recording, or --text and a file of lines")
    from assistant.ears.ears import EarsError
    from assistant.ears.hear_files import hear_files
    from assistant.grammar.grammar import Names
    from assistant.grammar.network import GrammarError
    from assistant.live.cut import hear_cut

    if options["cut"] and grammar is not None:
        raise click.UsageError("--cut hears a cook's commands: leave --grammar out")
    tonight = Names(options["birds"] or 8, sauces_named(names))
    how: dict[str, Any] = {
        "engine": options["engine"],
        "address_required": options["address"] == "required",
        "notice": _say_aside,
    }
    failed = False
    with one_line(EarsError, GrammarError, ValueError):
        if options["cut"]:
            lines = hear_cut(files, tonight, **how)
        else:
            text = grammar.read_text(encoding="utf-8") if grammar else None
            lines = hear_files(files, names=None if text else tonight, grammar=text, **how)
        for line in lines:
            if "error" in line:
                failed = True
                _say_aside(f"Error: {line['error']}")
            click.echo(json.dumps(line, ensure_ascii=False))
    sys.exit(1 if failed else 0)


def _hear_text(path: Path, birds: int, sauces: tuple[str, ...], scale: Any) -> None:
    from assistant.app.hear_text import hear_text
    from assistant.grammar.free.context import tonight

    with one_line(ValueError), click.open_file(str(path), "r", "utf-8", "replace") as lines:
        for line in hear_text(lines, tonight(birds, sauces, scale)):
            click.echo(json.dumps(line, ensure_ascii=False))


@main.command()
@click.option("--voices", is_flag=True, help="Hear the voices there are, and choose one.")
@click.option("--report", is_flag=True, help="Print what a report needs; nothing personal.")
@json_option
def check(voices: bool, report: bool, as_json: bool) -> None:
    """Try every part: what works, what does not, and the one line that mends it.

    Example: turnspit check
    """
    from assistant.app import check as checks
    from assistant.app.report import report_lines
    from assistant.system.clock import wall_time

    if voices:
        _choose_voice()
        return
    found = []
    ask = _say_aside if sys.stdin.isatty() and not report else None
    for finding in checks.run_checks(wall_time, ask):
        found.append(finding)
        shown = (
            () if report else checks.json_lines([finding]) if as_json else checks.lines([finding])
        )
        for text in shown:
            click.echo(text)
    for text in report_lines(found) if report else ():
        click.echo(text)
    sys.exit(1 if any(one.state == "broken" for one in found) else 0)


def _choose_voice() -> None:
    from assistant.app import choose_voice
    from assistant.app.settings import SettingsError
    from assistant.voice.chosen import known_voices

    known = known_voices()
    for line in choose_voice.listed(known):
        click.echo(line)
    if known and sys.stdin.isatty():
        with one_line(SettingsError), choose_voice.played() as play:
            choose_voice.choose(known, sys.stdin, click.echo, play)
    sys.exit(0 if known else 1)


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
    from assistant.app import settings
    from assistant.sentences.card import phrase_card

    with one_line(settings.SettingsError):
        click.echo(phrase_card(settings.load().address))


def _say_aside(text: str) -> None:
    """One line that is not data."""
    click.echo(text, err=True)


for command in (*ahead.COMMANDS, *past.COMMANDS):
    main.add_command(command)


if __name__ == "__main__":
    main()
