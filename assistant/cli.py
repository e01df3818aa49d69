"""What a person types; nothing else. Every command calls one function of another room."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import click

from assistant.journal.errors import JournalError

EXISTING = click.Path(exists=True, dir_okay=False, path_type=Path)
FOLDER = click.Path(file_okay=False, path_type=Path)
FILE = click.Path(dir_okay=False, path_type=Path)
json_option = click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")


@contextmanager
def _one_line(*kinds: type[Exception]) -> Iterator[None]:
    """Turn what a person can run into to one clear line and exit status 1."""
    caught: tuple[type[Exception], ...] = (JournalError, OSError, *kinds)
    try:
        yield
    except caught as error:
        raise click.ClickException(str(error)) from error


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="turnspit")
def main() -> None:
    """Turnspit: a hands-free, offline helper for the cook who roasts birds on a spit.

    Example: turnspit cook
    """


@main.command()
@click.option("--typed", is_flag=True, help="Read words from standard input.")
@click.option("--birds", type=click.IntRange(1, 8), help="How many birds are on the spit tonight.")
@click.option("--name", help="A name to find this cook by.")
@click.option("--status", type=FILE, help="Keep a plain-text status in this file.")
@click.option("--plain", is_flag=True, help="Line by line, for screen readers and logs.")
@json_option
def cook(**options: Any) -> None:
    """Run a live cook; goes on by itself with one that was interrupted.

    Example: turnspit cook --birds 3
    """
    from assistant.cooking import cook_typed

    with _one_line():
        cook_typed(**options)


@main.command()
@click.argument("script", type=EXISTING)
@json_option
@click.option("--say-to", type=FOLDER, help="Write what would be spoken as WAV files here.")
def rehearse(script: Path, as_json: bool, say_to: Path | None) -> None:  # noqa: FBT001 -- click's form
    """Run SCRIPT on the virtual clock, as fast as it can.

    Example: turnspit rehearse demo_sessions/family_dinner.txt
    """
    from assistant import rehearse as rehearsal
    from assistant.printing import printer
    from assistant.voice.synth import VoiceError
    from assistant.voice.wav_files import speaker_into

    try:
        steps = rehearsal.read_script(script)
    except rehearsal.ScriptError as error:
        raise click.UsageError(str(error)) from error
    with _one_line(VoiceError):
        speaker = speaker_into(say_to)
        rehearsal.rehearse(steps, printer(sys.stdout, as_json=as_json), speaker)
        speaker.close()
