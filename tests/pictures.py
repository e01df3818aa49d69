"""The pictures of the README, made from the shipped family dinner.

    python -m tests.pictures docs

writes evening.png (the evening as the look-back draws it) and board.svg (the board an
hour and a half into it, 100 columns), both from demo_sessions/family_dinner.txt on the
virtual clock: the same script gives the same bytes.
"""

import io
import re
import sys
from pathlib import Path

from rich.console import Console

from assistant.app.rehearse import read_script, rehearse
from assistant.app.replay import parse_moment, view_at
from assistant.board.layout import render
from assistant.cook.vocabulary.events import CookBegan
from assistant.lookback.output import lookback
from assistant.session.log import MemoryLog
from assistant.voice.silent import SilentSpeaker

SCRIPT = Path(__file__).parents[1] / "demo_sessions" / "family_dinner.txt"
MOMENT = "1:24:00"
ZONE = "America/New_York"
FONT_FETCHED = re.compile(r"@font-face \{.*?\}", re.DOTALL)  # a picture fetches nothing
FOUR_S = 1_790_539_200.0  # Sunday, 27 September 2026, four in the afternoon in New York


def main(folder: Path) -> None:
    """Write the pictures into `folder`."""
    folder.mkdir(exist_ok=True)
    log = MemoryLog()
    began = CookBegan(zone=ZONE, birds=3, name="Family dinner")
    steps = read_script(SCRIPT)
    rehearse(steps, lambda _: None, SilentSpeaker(), begin=began, log=log, start_s=FOUR_S)
    lookback(log.recorded, folder / "evening.png", title="Family dinner (invented)")
    view = view_at(log.recorded, parse_moment(MOMENT))
    assert view is not None
    console = Console(
        width=100, record=True, file=io.StringIO(), force_terminal=True, color_system="truecolor"
    )
    console.print(render(view, 100, 26))
    svg = console.export_svg(title="turnspit cook --birds 3")
    (folder / "board.svg").write_text(FONT_FETCHED.sub("", svg), encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1] if len(sys.argv) > 1 else "docs"))
