"""The evening as pictures, drawn with Matplotlib without a screen.

Matplotlib is imported only when something is drawn. The same evening gives the
same bytes. Birds differ by marker and line as well as by colour.
"""

import io
import re
from collections.abc import Callable, Sequence
from typing import Any

from assistant.cook.state import Bird
from assistant.lookback.facts import Evening
from assistant.lookback.panels import (
    birds_panel,
    clock_axis,
    forecast_panel,
    grill_panel,
    picture_start,
    prompts_panel,
    spit_panel,
)
from assistant.system.parts import load

MOST_IN_COLUMN = 3
WIDTH_IN = 5.4  # narrow, so that its letters can be read on a phone
_RC: Any = {
    "font.size": 10.0, "svg.hashsalt": "turnspit", "svg.fonttype": "path", "axes.grid": True,
    "text.parse_math": False,  # a sauce may be called "$"
    "grid.color": "#dddddd", "grid.linewidth": 0.6, "axes.axisbelow": True, "figure.dpi": 150,
    "axes.spines.top": False, "axes.spines.right": False, "legend.frameon": True,
    "legend.edgecolor": "none", "legend.framealpha": 0.85,
    "legend.fontsize": 9.0, "lines.linewidth": 1.4, "lines.markersize": 5.0,
}  # fmt: skip


def drawn(height_in: float, rows: Sequence[float], draw: Callable[..., None], kind: str) -> bytes:
    """A figure of `WIDTH_IN` by `height_in` with panels of these relative heights, one
    below the other; `draw` gets their axes. `kind` is "svg" or "png"."""

    def fill(figure: Any) -> None:
        axes = figure.subplots(
            len(rows), 1, sharex=True, squeeze=False, gridspec_kw={"height_ratios": list(rows)}
        )
        draw(*axes[:, 0])

    return figure_bytes((WIDTH_IN, height_in), fill, kind)


def figure_bytes(size_in: tuple[float, float], fill: Callable[[Any], None], kind: str) -> bytes:
    """A figure of that size that `fill` draws into, as "svg" or "png"."""
    mpl = load("matplotlib")  # here: a second of import that only pictures need
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    with mpl.rc_context(_RC):
        figure = Figure(figsize=size_in, layout="constrained")
        FigureCanvasAgg(figure)
        fill(figure)
        out = io.BytesIO()
        metadata = {"Date": None} if kind == "svg" else {"Software": None}
        figure.savefig(out, format=kind, metadata=metadata)
    return out.getvalue()


def evening_picture(evening: Evening, kind: str = "svg") -> bytes:
    """Readings, spit, grill and calls on one axis of clock time."""
    return drawn(
        6.4 + _spit_in(evening),
        _heights(evening),
        lambda *panels: _evening_panels(panels, evening),
        kind,
    )


def _spit_in(evening: Evening) -> float:
    return 0.3 + 0.22 * len(evening.cook.birds)


def _heights(evening: Evening) -> tuple[float, ...]:
    return (3.6, _spit_in(evening), 1.7, 1.1)


def _evening_panels(panels: Sequence[Any], evening: Evening) -> None:
    birds, spit, grill, prompts = panels
    birds_panel(birds, evening)
    spit_panel(spit, evening)
    grill_panel(grill, evening)
    prompts_panel(prompts, evening)
    clock_axis(prompts, evening.cook, picture_start(evening), evening.ended_s)


def whole_picture(evening: Evening, kind: str) -> bytes:
    """The evening on the left and every bird's forecasts on the right, in one picture."""
    birds = [bird for bird in evening.cook.birds if bird.has_been_on]
    if not birds:
        return evening_picture(evening, kind)
    columns = 1 if len(birds) <= MOST_IN_COLUMN else 2

    def fill(figure: Any) -> None:
        left, right = figure.subfigures(1, 2, width_ratios=(1.0, 0.85 * columns))
        panels = left.subplots(
            4, 1, sharex=True, gridspec_kw={"height_ratios": _heights(evening)}
        )  # fmt: skip
        _evening_panels(panels, evening)
        rows = -(-len(birds) // columns)
        axes = right.subplots(rows, columns, squeeze=False).flat
        for bird, panel in zip(birds, axes, strict=False):  # birds first: none is left out
            forecast_panel(panel, evening, bird)
            sauce = f", {bird.sauce[:24]}" if bird.sauce else ""
            panel.set_title(f"bird {bird.number}{sauce}: what was expected", fontsize=10)
        for panel in axes:  # a place without a bird
            panel.set_axis_off()

    return figure_bytes((5.6 + 4.9 * columns, 7.4 + _spit_in(evening)), fill, kind)


def forecast_picture(evening: Evening, bird: Bird, kind: str = "svg") -> bytes:
    """When the marks of `bird` were expected, as it stood at each moment, against what
    happened: across runs the evening, upwards the expected time."""

    def draw(panel: Any) -> None:
        forecast_panel(panel, evening, bird)

    return drawn(3.2, (1,), draw, kind)


def inline(svg: bytes, prefix: str, title: str) -> str:
    """An SVG made here as an element of a page: its ids made unique by `prefix`, with a
    `title` (already escaped) for those who cannot see it."""
    text = svg.decode("utf-8")
    text = text[text.index("<svg") :]
    text = re.sub(r"<metadata>.*?</metadata>", "", text, flags=re.DOTALL)
    text = re.sub(r'id="', f'id="{prefix}-', text)
    text = re.sub(r'href="#', f'href="#{prefix}-', text)
    text = re.sub(r"url\(#", f"url(#{prefix}-", text)
    text = re.sub(r'(<svg[^>]*?) width="[^"]*"', r"\1", text, count=1)
    text = re.sub(r'(<svg[^>]*?) height="[^"]*"', r"\1", text, count=1)
    return re.sub(r"<svg", f'<svg role="img" aria-label="{title}"', text, count=1)
