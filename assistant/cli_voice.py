"""What a person types to have the ears fitted to their voice."""

import sys
from pathlib import Path

import click

from assistant.cli_errors import EXISTING, AskedWrongly, one_line


@click.command("fit-voice")
@click.argument("files", nargs=-1, type=EXISTING)
@click.option("--phrases", is_flag=True, help="Print the phrases to be read, a line each.")
@click.option("--forget", is_flag=True, help="Remove the fitting.")
def fit_voice(files: tuple[Path, ...], *, phrases: bool, forget: bool) -> None:
    """Fit the ears to one cook's voice, for high, deep and unusual ones: two minutes of
    reading, into the microphone or as recordings of the phrases in their order.

    Example: turnspit fit-voice
    """
    from assistant import fit_voice as fitting
    from assistant.ears import voice_fit
    from assistant.ears.sound_file import SoundError

    if phrases:
        click.echo("\n".join(voice_fit.PHRASES))
        return
    with one_line(voice_fit.UnfitError, SoundError):
        if forget:
            was_there = voice_fit.forget()
            click.echo("The fitting is removed." if was_there else "There was no fitting.")
            return
        if not files and not sys.stdin.isatty():
            raise AskedWrongly("nobody is here to read: give recordings, or run it in a terminal")
        made = (
            fitting.from_files(files)
            if files
            else fitting.from_microphone(lambda line: click.echo(line, err=True))
        )
        click.echo(fitting.told(made, voice_fit.keep(made)))
