"""The birds' part of the board, in as much detail as the rows allow."""

from rich.text import Text

from assistant.board.figures import draw, rows_needed
from assistant.board.phrases import age, clean, clock, on_spit, place_of, reading, temperature
from assistant.board.spread import Axis, axis_for, bar, scale_line
from assistant.board.view import BoardView
from assistant.board.waiting import Wait, wait_of, wait_texts
from assistant.cook.state import Bird

FIGURE_CELLS = 15  # "165" in figures at scale 1, and a gap
LEFT_CELLS = 3  # before any is read there is no figure to stand beside
MOST_AIR = 9  # rows a bird may have beyond its figure
LINE_CELLS = 46  # what stands beside figures at scale 1 needs about this much,
ROWS_CELLS = 36  # and beside larger ones, where each fact has a row of its own
PLACES_UP_TO = 4  # with more birds the rows keep "motor end" and "far end" only


def bird_rows(view: BoardView, width: int, room: int, largest: int = 4) -> list[Text]:
    """All birds, in at most `room` rows if one row a bird fits: with figures as large as
    there is room for, up to `largest`, else two rows each with a bar, else one row each."""
    birds = view.cook.birds
    if not birds:
        count = view.cook.expected_birds
        return [Text(f"   {count} birds, none described yet" if count else "   no birds yet")]
    waits = [wait_of(bird, view) for bird in birds]
    for scale in range(largest, 0, -1):
        rows = (rows_needed(scale) + 1) * len(birds)
        beside = LINE_CELLS if scale == 1 else ROWS_CELLS
        if room >= rows and width >= FIGURE_CELLS * scale + beside:
            return _with_figures(view, waits, width, scale, room)
    if room >= 2 * len(birds) + 1:
        return _with_bars(view, waits, width)
    return [_one_row(bird, wait, view, width) for bird, wait in zip(birds, waits, strict=True)]


def _axis(view: BoardView, waits: list[Wait], width: int) -> Axis:
    return axis_for(view.now_s, tuple(wait.times for wait in waits if wait.times), width)


def _with_figures(
    view: BoardView, waits: list[Wait], width: int, scale: int, room: int
) -> list[Text]:
    """Each bird's last reading in figures, the facts beside them; rows to spare hold what it
    read before, and air between the birds."""
    read = any(bird.readings for bird in view.cook.birds)
    cells = FIGURE_CELLS * scale + 2 if read else LEFT_CELLS
    birds = len(view.cook.birds)
    spare = max(0, room - (rows_needed(scale) + 1) * birds) // birds
    axis = _axis(view, waits, width - cells - 1)
    rows: list[Text] = []
    for bird, wait in zip(view.cook.birds, waits, strict=True):
        last = bird.readings[-1] if bird.readings else None
        value = temperature(last.temperature_f, view.cook.scale).split()[0] if last else " "
        drawn = draw(value, scale)
        beside = width - cells
        lines = _facts(bird, wait, view, beside, on_one_row=scale == 1 and spare < 2)
        if spare >= 2 and len(bird.readings) > 1:
            lines.insert(2, _before(bird, view, beside))
        lines.append(Text(bar(wait.times, axis, view.cook.serve_s)))
        height = rows_needed(scale) + min(spare, MOST_AIR)
        if height >= 2 * len(lines):
            lines = [row for line in lines for row in (line, Text(""))]
        style = _style(bird)
        for number in range(height):
            figure = f"  {drawn[number]}" if read and number < len(drawn) else ""
            line = lines[number] if number < len(lines) else ""
            rows.append(Text.assemble((figure.ljust(cells), style), line))
        rows.append(Text(""))
    rows[-1] = Text(" " * cells + scale_line(axis, view.cook.zone), style="dim")
    return rows


def _before(bird: Bird, view: BoardView, width: int) -> Text:
    """What the bird read before, the newest first, as many as fit: "before: 118 at 5:46"."""
    text = ""
    for one in bird.readings[-2::-1]:
        value = temperature(one.temperature_f, view.cook.scale).split()[0]
        spot = f"{one.spot} " if one.spot else ""
        longer = f"{text}{', ' if text else 'before: '}{spot}{value} at "
        longer += clock(one.at_s, view.cook.zone)
        if len(longer) > width:
            break
        text = longer
    return Text(text, style="dim")


def _with_bars(view: BoardView, waits: list[Wait], width: int) -> list[Text]:
    axis = _axis(view, waits, width - 8)
    rows: list[Text] = []
    for bird, wait in zip(view.cook.birds, waits, strict=True):
        rows.append(_one_row(bird, wait, view, width))
        rows.append(Text(f"       {bar(wait.times, axis, view.cook.serve_s)}"))
    rows.append(Text(f"       {scale_line(axis, view.cook.zone)}", style="dim"))
    return rows


def _style(bird: Bird) -> str:
    """A bird whose last spots have read its mark stands out."""
    return "bold green" if bird.is_done else "bold"


def _facts(bird: Bird, wait: Wait, view: BoardView, width: int, *, on_one_row: bool) -> list[Text]:
    """Which bird, its last reading, its minutes on the spit and what it waits for."""
    sauce = "no sauce said" if bird.sauce is None else clean(bird.sauce)
    title = Text.assemble(
        (f"Bird {bird.number}", "bold"), f"  {place_of(bird, view)}  ", (sauce, "bold")
    )
    on = on_spit(bird, view.now_s)
    last = bird.readings[-1] if bird.readings else None
    read = f"{last.spot or 'read'} {age(last.at_s, view.now_s)}" if last else "not read yet"
    if on_one_row:
        title.append(f"  {on}" if on else "")
        return [
            title,
            Text.assemble(f"{read}   ", _fitting_wait(wait, view, width - len(read) - 4)),
        ]
    return [title, Text(f"{read}   {on}" if on else read), _fitting_wait(wait, view, width)]


def _fitting_wait(wait: Wait, view: BoardView, spare: int) -> Text:
    texts = wait_texts(wait, view.cook.zone)
    text = next((text for text in texts if len(text) <= spare), texts[-1])
    return Text(f"! {text}", style=_due_style(wait)) if wait.due else Text(text)


def _due_style(wait: Wait) -> str:
    """Red where hands are asked for at once, as in the heading."""
    return "bold red" if wait.what == "to come off" else "bold yellow"


def _one_row(bird: Bird, wait: Wait, view: BoardView, width: int) -> Text:
    """One row with as much as fits whole: the wait gives way first, then the place, the
    time on the spit and the sauce; the reading always stays."""
    place = place_of(bird, view)
    ends = place.endswith("end")
    where = f" {place}" if ends or len(view.cook.birds) <= PLACES_UP_TO else ""
    sauce = "" if bird.sauce is None else f" {clean(bird.sauce)}"
    on = on_spit(bird, view.now_s)
    on = f"  {on}" if on else ""
    read = reading(bird.readings[-1], view) if bird.readings else "not read yet"
    texts = [f"! {text}" if wait.due else text for text in wait_texts(wait, view.cook.zone)]
    keeps = ((where, on, sauce), ("", on, sauce), ("", "", sauce), ("", "", ""))
    for kept in keeps:
        head = f"   {bird.number} {kept[0]}{kept[2]}  {read}{kept[1]}"
        for text in texts:
            if len(head) + len(text) + 3 <= width:
                break
        else:
            continue
        break
    left = Text.assemble(
        (f"   {bird.number} ", "bold"), kept[0], (kept[2], "bold"), "  ", (read, _style(bird)),
        kept[1],
    )  # fmt: skip
    right = Text(text, style=_due_style(wait) if wait.due else "")
    gap = max(2, width - left.cell_len - right.cell_len - 1)
    return Text.assemble(left, " " * gap, right)
