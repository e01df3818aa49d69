"""The commands about cooks in the journal, added to the command line by `assistant.cli.main`."""

import sys
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import click

from assistant.cli.errors import FILE, AskedWrongly, json_option, one_line
from assistant.system.clock import local_zone, wall_time
from assistant.system.console import overwrite

which_cook = click.argument("which", metavar="[COOK]", default="last")


@click.command()
@which_cook
@click.option(
    "--speed",
    type=click.FloatRange(min=0, min_open=True),
    help="Keep the evening's pauses, this many times as fast. Default: no pauses.",
)
@click.option("--from", "since", default="0:00:00", show_default=True, help="Start at this moment.")
@click.option("--at", help="Only tell state and forecast at this moment, like 0:40:00.")
@click.option("--aloud", is_flag=True, help="Speak it too.")
@click.option(
    "--steps",
    is_flag=True,
    help="By event: Enter goes on, b back, s tells the state, a moment jumps, q stops.",
)
@json_option
def replay(which: str, **options: Any) -> None:
    """Print (and speak) a past cook again. COOK is a name, an id or "last".

    Example: turnspit replay last --speed 60
    """
    from assistant.app.keep import replay_cook
    from assistant.voice.synth import VoiceError

    with one_line(VoiceError):
        try:
            replay_cook(which, **options)
        except ValueError as error:
            raise AskedWrongly(str(error)) from error


@click.command()
@click.option("--plain", is_flag=True, help="Its lines instead of its board.")
@json_option
def watch(as_json: bool, plain: bool) -> None:
    """Look on while another Turnspit runs the cook: its board until it ends, or Ctrl-C.

    Example: turnspit watch
    """
    from assistant.app.keep import watch_cook

    with one_line(), suppress(KeyboardInterrupt):
        watch_cook(as_json=as_json, plain=plain, now=wall_time)


@click.command()
@which_cook
@click.option(
    "--out",
    type=FILE,
    default=Path("lookback.html"),
    show_default=True,
    help="The ending picks the form: .html, .csv, .jsonl, .png, .svg.",
)
def lookback(which: str, out: Path) -> None:
    """Report on a past cook: pictures, scores, what to do better. COOK as for replay.

    Example: turnspit lookback last --out sunday.html
    """
    from assistant.app.keep import look_back
    from assistant.lookback.output import LookbackError

    with one_line(LookbackError):
        look_back(which, out)
    click.echo(f"look-back: {out}", err=True)


@click.command()
@click.option("--since", help="Begun on or after this day, like 2026-05-01.")
@click.option("--until", help="Begun before this day.")
@click.option("--text", help="In the name or the note.")
@click.option("--kind", help="With a bird of this kind.")
@click.option("--sauce", help="With this sauce.")
@click.option("--unfinished", is_flag=True, help="Cooks that never ended too.")
@click.option("--picture", type=FILE, help="Draw forecast error over cooks (.png or .svg).")
@json_option
def history(since: str | None, until: str | None, **options: Any) -> None:
    """Past cooks side by side, and what this kitchen learned from them.

    Example: turnspit history --kind chicken --picture errors.png
    """
    from assistant.app.keep import history as all_cooks
    from assistant.lookback.history import Wanted
    from assistant.lookback.output import LookbackError

    picture, as_json = options.pop("picture"), options.pop("as_json")
    zone = local_zone()
    wanted = Wanted(_day(since, zone), _day(until, zone), **options)
    with one_line(LookbackError):
        text = all_cooks(
            wanted, zone=zone, as_json=as_json, picture=picture, progress=_progress, say=_aside
        )
    click.echo(text)


@click.group()
def cooks() -> None:
    """Keep the journal's cooks: name, note, delete, carry to another machine.

    Example: turnspit cooks rename last "the windy one"
    """


def _says(call: Callable[[], str]) -> None:
    with one_line():
        text = call()
    click.echo(text, err=True)


@cooks.command()
@click.argument("which", metavar="COOK")
@click.argument("name")
def rename(which: str, name: str) -> None:
    """Give a cook a name. Example: turnspit cooks rename last "the windy one"."""
    from assistant.app import keep as past

    _says(lambda: past.rename(which, name, wall_time()))


@cooks.command()
@click.argument("which", metavar="COOK")
@click.argument("text")
def note(which: str, text: str) -> None:
    """Keep what the table said. Example: turnspit cooks note last "crisp, a bit salty"."""
    from assistant.app import keep as past

    _says(lambda: past.note(which, text, wall_time()))


@cooks.command()
@click.argument("which", metavar="COOK")
@click.confirmation_option(prompt="Delete this cook for good?")
def delete(which: str) -> None:
    """Forget a cook for good. Example: turnspit cooks delete "the windy one" --yes."""
    from assistant.app import keep as past

    _says(lambda: past.delete(which, wall_time()))


@cooks.command("export")
@click.argument("which", metavar="[COOK]", required=False)
@click.option("--out", type=FILE, default=Path("cooks.jsonl"), show_default=True)
def export(which: str | None, out: Path) -> None:
    """Write a cook (or all) as JSON lines. Example: turnspit cooks export last --out one.jsonl."""
    from assistant.app import keep as past

    _says(lambda: past.export_to(which, out, _aside))


@cooks.command("import")
@click.argument("path", type=FILE)
def import_(path: Path) -> None:
    """Bring in cooks of an export; twice is once. Example: turnspit cooks import one.jsonl."""
    from assistant.app import keep as past

    _says(lambda: past.import_from(path, wall_time()))


@cooks.command()
def mend() -> None:
    """Carry what can be read of a damaged journal over into a whole one; the damaged one is
    kept beside it. Example: turnspit cooks mend."""
    from assistant.app import keep as past

    _says(lambda: past.mend(wall_time()))


@cooks.command()
@click.argument("which", metavar="COOK")
@click.option("--again", is_flag=True, help="Let it teach again.")
def exclude(which: str, again: bool) -> None:
    """Let an odd cook teach the kitchen nothing. Example: turnspit cooks exclude last."""
    from assistant.app import keep as past

    _says(lambda: past.teach(which, wall_time(), teaches=again))


@cooks.command("reset")
@click.confirmation_option(prompt="Forget what was learned of this kitchen?")
def reset() -> None:
    """Forget what was learned of this kitchen. Example: turnspit cooks reset --yes."""
    from assistant.app import keep as past

    _says(lambda: past.reset_kitchen(wall_time()))


def _day(text: str | None, zone: str) -> float | None:
    if text is None:
        return None
    try:
        return datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone)).timestamp()
    except ValueError as error:
        raise AskedWrongly(f"{text!r} is not a day; write it like 2026-05-01") from error


def _aside(text: str) -> None:
    click.echo(text, err=True)


def _progress(done: int, of: int) -> None:
    if sys.stderr.isatty() and of > 1:
        overwrite(f"scoring cooks: {done} of {of}", ends=done == of)


COMMANDS = (replay, watch, lookback, history, cooks)
