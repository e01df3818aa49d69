"""The board as rows of text: a pure function of what there is to show and the size.

From the top: where the evening stands, the one thing to do now as large as it fits and
its time, every bird, the fire, what comes next, what was last heard and said. Red asks
for hands at once, yellow soon, green is as it should be; marks and words say the same,
so that nothing is lost without colour.
"""

from collections.abc import Iterable
from textwrap import wrap

from rich.console import Group
from rich.text import Text

from assistant.board.birds import bird_rows
from assistant.board.figures import draw, rows_needed
from assistant.board.heading import Headline, headline
from assistant.board.phrases import clean, clock, duration
from assistant.board.view import BoardView
from assistant.board.waiting import Weight, fire_line
from assistant.cook.rules.due_dinner import table_of

WIDE = 110  # columns from which fire, next and talk stand beside the birds
MARGIN = 1
MOST_ROWS = 4  # of one thing that is due or said
GOOD = "green"
LARGEST = 4
OFF_BY_S = 600.0
STEP_S = 300.0
GAP = 4  # cells between the instruction and its time
STYLES: dict[Weight, str] = {"calm": "bold", "soon": "bold yellow", "now": "bold red"}
MARKERS: dict[Weight, str] = {"calm": "   ", "soon": "!  ", "now": "!! "}


def render(view: BoardView, width: int, height: int, log: tuple[str, ...] = ()) -> Group:
    """The board in exactly `height` rows of at most `width` cells; `log` holds lines
    of the evening, newest last, which fill what is left."""
    return Group(*board_rows(view, width, height, log))


def board_rows(
    view: BoardView, width: int, height: int, log: tuple[str, ...] = ()
) -> tuple[Text, ...]:
    """The rows that `render` groups."""
    heading, scale = _headline_rows(view, width, height)
    top = [_status_row(view, width), *heading]
    left = max(0, height - len(top))
    body = _wide_body if width >= WIDE else _narrow_body
    # The instruction is the largest thing, then its time: no bird's figure is larger.
    largest = min(scale, max(1, scale - 1))
    rows = [*top, *body(view, width, left, log, largest)][:height]
    rows += [Text("")] * (height - len(rows))
    return tuple(_fit(row, width) for row in rows)


def _fit(row: Text, width: int) -> Text:
    fitted = row.copy()
    fitted.truncate(width, overflow="ellipsis", pad=True)
    fitted.no_wrap = True
    fitted.overflow = "crop"
    return fitted


def _status_row(view: BoardView, width: int) -> Text:
    cook = view.cook
    parts = [clock(view.now_s, cook.zone)]
    if cook.began_s is not None:
        until_s = cook.ended_s if cook.ended_s is not None else view.now_s
        parts.append(f"{duration(until_s - cook.began_s)} into the cook")
    if cook.serve_s is not None:
        parts.append(f"dinner {clock(cook.serve_s, cook.zone)}{_likely(view)}")
    if cook.asleep:
        parts.append("STANDING BY: say listen again")
    if view.level:
        parts.append(clean(view.level))
    if view.notice:
        parts.append(clean(view.notice))
    text = " " * MARGIN + "  |  ".join(parts)
    if len(text) > width:  # what cannot be missed first
        text = text.replace(_likely(view), "")
    return Text(text.ljust(width), style="reverse")


def _likely(view: BoardView) -> str:
    """Where dinner stands by the forecasts, if not about when it was set."""
    table_s, serve_s = table_of(view.cook), view.cook.serve_s
    if table_s is None or serve_s is None or view.cook.ended_s is not None:
        return ""
    if abs(table_s - serve_s) < OFF_BY_S or table_s < view.now_s:
        return ""
    return f", likely {clock(STEP_S * round(table_s / STEP_S), view.cook.zone)}"


def _headline_rows(view: BoardView, width: int, height: int) -> tuple[list[Text], int]:
    """The instruction as large as it fits, its time beside or below it, and the whole
    sentence; and the scale it is drawn at, 0 where it is not. They get at most a third of
    the height, a quarter with many birds."""
    top = headline(view)
    style, mark = STYLES[top.weight], f" {MARKERS[top.weight]}"
    when = f"{top.figure.lower()}: " if top.figure else ""
    room = max(4, height // (4 if len(view.cook.birds) > 4 else 3))
    lines = wrap(top.label, width - len(mark) - MARGIN) or [""]
    drawn: list[str] = []
    timed, scale = False, 0
    if height >= 12:
        drawn, timed, scale = _drawn(top, width - 2 * MARGIN, room - len(lines))
    if not drawn:
        lines = wrap(f"{top.sign}  {when}{top.label}", width - len(mark) - MARGIN)
    elif not timed:
        lines = wrap(f"{when}{top.label}", width - len(mark) - MARGIN)
    indents = (mark, *(" " * len(mark) for _ in lines[1:]))
    labels = [Text(indent + line, style=style) for indent, line in zip(indents, lines, strict=True)]
    return [*(Text("  " + row, style=style) for row in drawn), *labels], scale


def _drawn(top: Headline, width: int, room: int) -> tuple[list[str], bool, int]:
    """The instruction at the largest scale, its time beside it or below it, whether that is
    there, and the scale; nothing where there is no room."""
    for scale in range(LARGEST, 0, -1):
        sign = list(draw(top.sign, scale))
        if len(sign[0]) > width or len(sign) > room:
            continue
        if not top.figure:
            return sign, True, scale
        beside = draw(top.figure, scale)
        if len(sign[0]) + GAP * scale + len(beside[0]) <= width:
            rows = [f"{one}{' ' * GAP * scale}{two}" for one, two in zip(sign, beside, strict=True)]
            return rows, True, scale
        smaller = max(1, scale - 1)
        below = draw(top.figure, smaller)
        if len(sign) + 1 + rows_needed(smaller) <= room and len(below[0]) <= width:
            return [*sign, "", *below], True, scale
        if scale == 1:
            return sign, False, scale
    return [], False, 0


def _rule(width: int, title: str) -> Text:
    return Text(f"── {title} " + "─" * max(0, width - len(title) - 4), style="dim")


def _narrow_body(
    view: BoardView, width: int, height: int, log: tuple[str, ...], largest: int
) -> list[Text]:
    """One below the other: what is said, the fire and the next two things whole, the birds
    in what is left."""
    fire, talk = _fire_rows(view, width), _talk_rows(view, width)
    coming = _next_rows(view, width, 2)
    spare = height - len(fire) - len(talk) - 1 - max(1, len(view.cook.birds))
    while len(coming) > max(1, spare):
        coming = coming[:-1]
    room = height - len(fire) - len(talk) - len(coming) - 1
    birds = bird_rows(view, width, room, largest)
    rows = [_rule(width, "birds"), *birds, *fire]
    more = _next_rows(view, width, 5)
    rows += more if len(rows) + len(more) + len(talk) <= height else coming
    rows += _log_rows(log, height - len(rows) - len(talk), width)
    return rows + talk


def _wide_body(
    view: BoardView, width: int, height: int, log: tuple[str, ...], largest: int
) -> list[Text]:
    """Birds on the left, all else on the right."""
    right_width = max(44, width * 2 // 5)
    left_width = width - right_width - 3
    left = [_rule(left_width, "birds"), *bird_rows(view, left_width, height - 1, largest)]
    talk = [Text.assemble("  ", row) for row in _talk_rows(view, right_width - 2)]
    right = [_rule(right_width, "fire"), *_fire_rows(view, right_width, label=False)]
    right += [_rule(right_width, "next"), *_next_rows(view, right_width, 5, label=False)]
    right.append(_rule(right_width, "talk"))
    right += _log_rows(log, height - len(right) - len(talk), right_width)
    right += talk
    return list(_beside(left, left_width, right, right_width, height))


def _beside(
    left: list[Text], left_width: int, right: list[Text], right_width: int, height: int
) -> Iterable[Text]:
    for number in range(height):
        row = _fit(left[number] if number < len(left) else Text(""), left_width)
        other = _fit(right[number] if number < len(right) else Text(""), right_width)
        yield Text.assemble(row, ("   ", ""), other)


def _fire_rows(view: BoardView, width: int, *, label: bool = True) -> list[Text]:
    """Reading and verdict first; band, outlook and what may help follow on the row or the
    next."""
    fire = fire_line(view)
    lead = " Fire  " if label else "   "
    verdict = f"{MARKERS[fire.weight]}{fire.verdict}".strip()
    style = STYLES[fire.weight]
    if fire.weight == "calm" and view.cook.fire.readings:
        style = GOOD
    row = Text.assemble((lead, "bold"), (fire.reading, "bold"), "   ", (verdict, style))
    rows = [row]
    for part in filter(None, (fire.band, fire.outlook, fire.help)):
        if rows[-1].cell_len + len(part) + 3 > width:
            rows.append(Text(" " * len(lead) + part))
        else:
            rows[-1] = Text.assemble(rows[-1], f"   {part}")
    return rows


def _next_rows(view: BoardView, width: int, count: int, *, label: bool = True) -> list[Text]:
    """The next `count` things due, each in as many rows as it needs."""
    rows: list[Text] = []
    for number, due in enumerate(view.coming()[:count]):
        lead = (" Next  " if number == 0 else "       ") if label else "   "
        when = "now" if due.at_s <= view.now_s else clock(due.at_s, view.cook.zone)
        late = due.at_s <= view.now_s and due.urgency == "now"
        mark = MARKERS["now" if late else "calm"]
        head = Text.assemble((f"{lead}{when:>5}{mark}", "bold"))
        rows += _hanging(head, clean(due.text), width, MOST_ROWS, STYLES["now"] if late else "")
    return rows or [Text.assemble((" Next  " if label else "   ", "bold"), "nothing is due")]


def _talk_rows(view: BoardView, width: int) -> list[Text]:
    """What was heard and what became of it: taken and answered, or not taken and why."""
    heard = clean(view.heard) if view.heard else "nothing yet"
    if view.missed is not None:
        why = f"Not taken: {clean(view.missed)}"
        return [
            *_hanging(Text(" Heard ", style="bold"), heard, width, 2),
            *_hanging(Text(" MISSED ", style=STYLES["soon"]), why, width, MOST_ROWS),
        ]
    said = clean(view.said) if view.said else "nothing yet"
    return [
        *_hanging(Text(" Heard ", style="bold"), heard, width, 2),
        *_hanging(Text(" Said  ", style="bold"), said, width, MOST_ROWS),
    ]


def _log_rows(log: tuple[str, ...], room: int, width: int) -> list[Text]:
    """Exactly `room` rows (none if that is negative) that end with the newest line."""
    rows: list[Text] = []
    for line in reversed(log):
        if len(rows) >= room:
            break
        parts = wrap(clean(line), width - 4, max_lines=3, subsequent_indent="  ", placeholder=" …")
        rows = [*(Text(f"   {part}", style="dim") for part in parts), *rows]
    rows = rows[-room:] if room > 0 else []
    return [Text("")] * max(0, room - len(rows)) + rows


def _hanging(head: Text, text: str, width: int, most: int, style: str = "") -> list[Text]:
    """`text` after `head`, wrapped under itself into at most `most` rows; the last row
    is cut with an ellipsis where there is more."""
    room = max(10, width - head.cell_len - MARGIN)
    parts = wrap(text, room, max_lines=most, placeholder=" …")
    first, *others = parts or [""]
    indent = " " * head.cell_len
    return [
        Text.assemble(head, (first, style)),
        *(Text.assemble(indent, (other, style)) for other in others),
    ]
