"""Side dishes, each back from the table on its own. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from assistant.cook.planning.plan import Moment

Where = Literal["kitchen", "grill"]
PLATED_S = 300.0  # ready this long before the table


@dataclass(frozen=True, slots=True)
class Side:
    """A dish under its free name, how long it takes, and where."""

    name: str
    minutes: float
    where: Where = "kitchen"


def side_moments(sides: Sequence[Side], serve_s: float, off_s: float, now_s: float) -> list[Moment]:
    """Return when to start each side: on the table with the birds at `serve_s`.

    One for the grill that starts before the last bird is off at `off_s` shares it with
    the birds ("side_beside"). Raises ValueError naming a side that is too late already.
    """
    found = []
    for side in sides:
        start_s = serve_s - PLATED_S - 60.0 * side.minutes
        if start_s < now_s:
            late_min = (now_s - start_s) / 60.0
            raise ValueError(
                f"{side.name} takes {side.minutes:g} min and is {late_min:.0f} min too late for"
                " that dinner; serve later or leave it out"
            )
        what = "side_" + side.where
        if side.where == "grill" and start_s < off_s:
            what = "side_beside"
        found.append(Moment(what, start_s, start_s, start_s, name=side.name, amount=side.minutes))
    return found
