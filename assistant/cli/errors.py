"""How the command line tells what went wrong: one clear line and an exit status."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import click

from assistant.journal.errors import JournalError
from assistant.system.parts import PartMissing

EXISTING = click.Path(exists=True, dir_okay=False, path_type=Path)
FOLDER = click.Path(file_okay=False, path_type=Path)
FILE = click.Path(dir_okay=False, path_type=Path)
json_option = click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")


class AskedWrongly(click.ClickException):
    """One clear line and exit status 2."""

    exit_code = 2


@contextmanager
def one_line(*kinds: type[Exception]) -> Iterator[None]:
    """Turn what a person can run into to one clear line and exit status 1."""
    caught: tuple[type[Exception], ...] = (JournalError, OSError, PartMissing, *kinds)
    try:
        yield
    except caught as error:
        raise click.ClickException(str(error)) from error
