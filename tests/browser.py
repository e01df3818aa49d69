"""A real browser without a window: what a page looks like, and what it asks for.

    python -m tests.browser lookback.html --out pictures/

writes a picture of the page at desktop and phone width, and prints what the
console said and every address the page wanted.
"""

import argparse
import html
import json
import re
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

DESKTOP, PHONE = 1280, 390
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--disable-default-apps", "--disable-extensions", "--hide-scrollbars",
    "--enable-logging=stderr",
)  # fmt: skip
NARROWEST = 500  # a browser window cannot be narrower; the page sits in a frame
# Runs in a copy of the page, never in the page itself: what sticks out, what overlaps, and
# what was fetched.
PROBE = """
<script>
addEventListener('load', () => {
  const wide = [...document.querySelectorAll('body *')]
    .filter(e => !e.closest('.scroll') && !e.closest('svg'))
    .filter(e => e.getBoundingClientRect().right > innerWidth + 1)
    .map(e => e.tagName + ' ' + e.textContent.slice(0, 40));
  const overlaps = [];
  for (const parent of [document.body, ...document.querySelectorAll('section, figure')]) {
    const parts = [...parent.children].filter(e => e.getBoundingClientRect().height > 0);
    for (let i = 1; i < parts.length; i++)
      if (parts[i].getBoundingClientRect().top < parts[i - 1].getBoundingClientRect().bottom - 1)
        overlaps.push(parts[i].tagName + ' ' + parts[i].textContent.slice(0, 40));
  }
  parent.postMessage({wide, overlaps, height: document.documentElement.scrollHeight,
    fetched: performance.getEntriesByType('resource').map(e => e.name)}, '*');
});
</script></body>
"""
FRAME = """<!DOCTYPE html><meta charset="utf-8"><style>body {{ margin: 0 }}</style>
<iframe srcdoc="{page}" style="border: 0; width: {width}px; height: {height}px"></iframe>
<pre id="probe"></pre>
<script>addEventListener('message', e =>
  document.getElementById('probe').textContent = JSON.stringify(e.data))</script>
"""


@dataclass(frozen=True)
class Layout:
    """`wide` names what sticks out of the window, `overlaps` what covers what is above
    it, `fetched` every address the page asked for. `height` is in CSS pixels."""

    wide: list[str]
    overlaps: list[str]
    height: int
    fetched: list[str]


def chromium() -> str | None:
    """The browser on this machine, if there is one."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


def _run(*arguments: str) -> subprocess.CompletedProcess[str]:
    browser = chromium()
    assert browser is not None
    with tempfile.TemporaryDirectory() as profile:
        return subprocess.run(
            [browser, *FLAGS, f"--user-data-dir={profile}", *arguments],
            capture_output=True, text=True, timeout=100, check=False,
        )  # fmt: skip


def picture(page: Path, out: Path, width: int, height: int) -> str:
    """Write a PNG of the page at that size; what the browser's console said."""
    with tempfile.TemporaryDirectory() as folder:
        framed = _framed(page.read_text(encoding="utf-8"), width, height, Path(folder))
        window = f"--window-size={max(width, NARROWEST)},{height}"
        run = _run(window, f"--screenshot={out.resolve()}", framed.as_uri())
    with Image.open(out) as whole:
        cropped = whole.crop((0, 0, width, height))
    cropped.save(out)
    return "\n".join(line for line in run.stderr.splitlines() if "CONSOLE" in line)


def layout(page: Path, width: int) -> Layout:
    """Measure the page in a window of that width."""
    text = page.read_text(encoding="utf-8")
    text = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", text)
    with tempfile.TemporaryDirectory() as folder:
        framed = _framed(text.replace("</body>", PROBE), width, 900, Path(folder))
        run = _run("--window-size=1400,900", "--dump-dom", framed.as_uri())
    found = re.search(r'<pre id="probe">(.+?)</pre>', run.stdout, re.DOTALL)
    assert found is not None, run.stderr
    return Layout(**json.loads(html.unescape(found[1])))


def _framed(text: str, width: int, height: int, folder: Path) -> Path:
    """A page that shows `text` in a frame of that size."""
    path = folder / "framed.html"
    page = html.escape(text, quote=True)
    path.write_text(FRAME.format(page=page, width=width, height=height), encoding="utf-8")
    return path


def main() -> int:
    """Picture a page and report on it; 1 where something is wrong."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("page", type=Path)
    parser.add_argument("--out", type=Path, default=Path())
    chosen = parser.parse_args()
    chosen.out.mkdir(parents=True, exist_ok=True)
    if chromium() is None:
        print("no chromium here: apt-get install chromium", file=sys.stderr)
        return 1
    bad = False
    for name, width in (("desktop", DESKTOP), ("phone", PHONE)):
        measured = layout(chosen.page, width)
        out = chosen.out / f"{chosen.page.stem}-{name}.png"
        console = picture(chosen.page, out, width, measured.height)
        print(f"{out}: {width} x {measured.height} px")
        print(f"  sticking out: {measured.wide or 'nothing'}")
        print(f"  overlapping: {measured.overlaps or 'nothing'}")
        print(f"  asked for: {measured.fetched or 'nothing'}")
        print(f"  console: {console or 'silent'}")
        bad |= bool(measured.wide or measured.overlaps or measured.fetched or console)
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
