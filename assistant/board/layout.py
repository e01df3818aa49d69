"""The board as rows of text: a pure function of what there is to show and the size.

From the top: where the evening stands, the one thing that matters now in large
figures, every bird, the fire, what comes next, what was last heard and said.
Emphasis is bold and reverse; colour only repeats what a word already says.
"""

from collections.abc import Iterable
from textwrap import wrap

from rich.console import Group
from rich.text import Text

from assistant.board.birds import bird_rows
from assistant.board.figures import draw, fitting_scale
from assistant.board.phrases import clean, clock, duration
from assistant.board.view import BoardView
from assistant.board.waiting import Headline, Weight, fire_line, headline

WIDE = 110  # columns from which fire, next and talk stand beside the birds
MARGIN = 1
STYLES: dict[Weight, str] = {"calm": "bold", "soon": "bold magenta", "now": "bold red"}
MARKERS: dict[Weight, str] = {"calm": "   ", "soon": "!  ", "now": "!! "}


def render(view: BoardView, width: int, height: int, log: tuple[str, ...] = ()) -> Group:
    """The board in exactly `height` rows of at most `width` cells; `log` holds lines
    of the evening, newest last, which fill what is left."""
    return Group(*board_rows(view, width, height, log))


def board_rows(
    view: BoardView, width: int, height: int, log: tuple[str, ...] = ()
) -> tuple[Text, ...]:
    """The rows that `render` groups."""
    top = [_status_row(view, width), *_headline_rows(view, width, height)]
    left = max(0, height - len(top))
    body = _wide_body if width >= WIDE else _narrow_body
    rows = [*top, *body(view, width, left, log)][:height]
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
        parts.append(f"dinner {clock(cook.serve_s, cook.zone)}")
    if cook.asleep:
        parts.append("ASLEEP: say wake")
    if view.level:
        parts.append(clean(view.level))
    if view.notice:
        parts.append(clean(view.notice))
    return Text((" " * MARGIN + "  |  ".join(parts)).ljust(width), style="reverse")


def _headline_rows(view: BoardView, width: int, height: int) -> list[Text]:
    """Label and figures. They get at most a third of the height, a fifth when many
    birds need the rows; a label takes two rows where there are enough."""
    top = headline(view)
    style, mark = STYLES[top.weight], f" {MARKERS[top.weight]}"
    crowded = len(view.cook.birds) > 4
    room = max(3, height // (5 if crowded else 3) - 1)
    scale = min(fitting_scale(top.figure, width - 2 * MARGIN, room), 4)
    if scale == 0 or height < 12:
        return [Text(f"{mark}{top.figure}  {top.label}", style=style)]
    lines = wrap(top.label, width - len(mark) - MARGIN) or [""]
    if len(lines) > 1 and (crowded or height < 20):
        lines = [top.label]
    labels = [Text(mark + lines[0], style=style)]
    if len(lines) > 1:
        labels.append(Text(" " * len(mark) + " ".join(lines[1:]), style=style))
    return [*labels, *_figure_rows(top, scale, width)]


def _figure_rows(top: Headline, scale: int, width: int) -> list[Text]:
    drawn = draw(top.figure, scale)
    indent = " " * min(3, max(0, width - len(drawn[0])))
    return [Text(indent + row, style=STYLES[top.weight]) for row in drawn]


def _rule(width: int, title: str) -> Text:
    return Text(f"── {title} " + "─" * max(0, width - len(title) - 4), style="dim")


def _narrow_body(view: BoardView, width: int, height: int, log: tuple[str, ...]) -> list[Text]:
    """One below the other; what is said may take two rows where the birds leave room."""
    fire = _fire_rows(view, width)
    talk = _talk_rows(view, width, 1)
    birds = bird_rows(view, width, height - len(fire) - len(talk) - 2)
    rows = [_rule(width, "birds"), *birds, *fire]
    spare = height - len(rows) - len(talk)
    if spare > 3:
        talk = _talk_rows(view, width, 2)
        spare = height - len(rows) - len(talk)
    rows += _next_rows(view, width, max(1, min(spare, 4)), 1)
    rows += _log_rows(log, height - len(rows) - len(talk), width)
    return rows + talk


def _wide_body(view: BoardView, width: int, height: int, log: tuple[str, ...]) -> list[Text]:
    """Birds on the left, all else on the right."""
    right_width = max(44, width * 2 // 5)
    left_width = width - right_width - 3
    left = [_rule(left_width, "birds"), *bird_rows(view, left_width, height - 1)]
    talk = [Text.assemble("  ", row) for row in _talk_rows(view, right_width - 2, 3)]
    right = [_rule(right_width, "fire"), *_fire_rows(view, right_width, label=False)]
    right += [_rule(right_width, "next"), *_next_rows(view, right_width, 5, 2, label=False)]
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
    """Reading and verdict first; band and outlook follow on the row or the next."""
    fire = fire_line(view)
    lead = " Fire  " if label else "   "
    verdict = f"{MARKERS[fire.weight]}{fire.verdict}".strip()
    style = "" if fire.weight == "calm" else STYLES[fire.weight]
    row = Text.assemble((lead, "bold"), (fire.reading, "bold"), "   ", (verdict, style))
    rows = [row]
    for part in filter(None, (fire.band, fire.outlook)):
        if rows[-1].cell_len + len(part) + 3 > width:
            rows.append(Text(" " * len(lead) + part))
        else:
            rows[-1] = Text.assemble(rows[-1], f"   {part}")
    return rows


def _next_rows(
    view: BoardView, width: int, count: int, most: int, *, label: bool = True
) -> list[Text]:
    """The next `count` things due, each in at most `most` rows."""
    rows: list[Text] = []
    for number, due in enumerate(view.coming()[:count]):
        lead = (" Next  " if number == 0 else "       ") if label else "   "
        when = "now" if due.at_s <= view.now_s else clock(due.at_s, view.cook.zone)
        late = due.at_s <= view.now_s and due.urgency == "now"
        mark = MARKERS["now" if late else "calm"]
        head = Text.assemble((f"{lead}{when:>5}{mark}", "bold"))
        rows += _hanging(head, clean(due.text), width, most, STYLES["now"] if late else "")
    return rows or [Text.assemble((" Next  " if label else "   ", "bold"), "nothing is due")]


def _talk_rows(view: BoardView, width: int, most: int) -> list[Text]:
    heard = clean(view.heard) if view.heard else "nothing yet"
    said = clean(view.said) if view.said else "nothing yet"
    return [
        *_hanging(Text(" Heard ", style="bold"), heard, width, most),
        *_hanging(Text(" Said  ", style="bold"), said, width, most),
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
    parts = wrap(text, room, max_lines=most, placeholder=" …") if most > 1 else [text]
    first, *others = parts or [""]
    indent = " " * head.cell_len
    return [
        Text.assemble(head, (first, style)),
        *(Text.assemble(indent, (other, style)) for other in others),
    ]
