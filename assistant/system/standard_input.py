"""Typed words come from standard input and from nowhere else."""

import io
import os
import sys
from typing import TextIO


def standard_input() -> TextIO | None:
    """What is typed; None where standard input is closed.

    Redirected, standard input and standard error may be one file or one named pipe:
    whatever a sound library prints would come back as typed words. What is printed
    to it is then thrown away. A terminal is two ways and stays as it is. Bytes that are
    no text become signs that mean nothing: one wrong byte must not end an evening.
    """
    stream = sys.stdin
    if stream is None:  # the process was started with it closed
        return None
    if stream is sys.__stdin__ and _comes_back():
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 2)
        os.close(nowhere)
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(errors="replace")
    return stream


def _comes_back() -> bool:
    try:
        return os.path.sameopenfile(0, 2) and not os.isatty(0) and not _is_null()
    except OSError:  # one of them is closed
        return False


def _is_null() -> bool:
    return os.path.samestat(os.fstat(0), os.stat(os.devnull))  # noqa: PTH116 -- as fstat does
