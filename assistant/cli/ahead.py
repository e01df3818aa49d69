"""Commands for before the fire: the plan, and the balance of the spit."""

from pathlib import Path
from typing import Any

import click

from assistant.cli.errors import FILE, AskedWrongly, json_option, one_line


@click.command("plan")
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
    wanted = plan.Wanted(kind=own.kind, outside_f=outside_f, heat=own.heat, **asked)
    try:
        dinner = plan.make_dinner(wanted, now_s, zone, plan.learned_kitchen())
    except ValueError as error:
        raise AskedWrongly(str(error)) from error
    click.echo(plan.shown(dinner, zone, as_json=as_json, as_list=as_list))
    with one_line(ValueError):
        for line in plan.write(dinner, now_s, zone, calendar=calendar, page=page, keep=keep):
            click.echo(line, err=True)


@click.command()
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


COMMANDS = (plan_command, balance)
