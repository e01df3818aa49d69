"""How the command line tells what went wrong: one clear line and an exit status."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import click

from assistant.journal.errors import JournalError
from assistant.system import console
from assistant.system.parts import PartMissing


class _PlainFile(click.Path):
    """A file that is there and has an end: a pipe or a device would be waited for."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """As click's, and refuses what is no plain file."""
        found = super().convert(value, param, ctx)
        if str(found) != "-" and not Path(str(found)).is_file():
            self.fail(f"{click.format_filename(found)} is not a plain file.", param, ctx)
        return found


EXISTING = _PlainFile(exists=True, dir_okay=False, path_type=Path)
LINES = _PlainFile(exists=True, dir_okay=False, allow_dash=True, path_type=Path)
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
    except BrokenPipeError:  # nobody reads on: click ends without a word
        raise
    except caught as error:
        raise click.ClickException(console.one_line(str(error))) from error
