"""The look-back's files: page, tables, pictures."""

import csv
import io
import json
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from assistant.cook.vocabulary import events as ev
from assistant.lookback.facts import evening
from assistant.lookback.output import LookbackError, lookback
from assistant.lookback.page import page
from assistant.lookback.picture import evening_picture, forecast_picture, whole_picture
from assistant.lookback.tables import COLUMNS, csv_text, jsonl_text
from tests import browser
from tests.journal.evenings import BEGAN, family_dinner, family_evening, lines_of, told

NASTY = '</style><script>alert("x")</script><img src=http://example.invalid/x.png>&amp;'


def nasty() -> tuple[ev.Recorded, ...]:
    """An evening whose every free text tries to break out of a page."""
    recorded = list(told([(0, "birds on"), (3000, "bird one reads one twenty")]))
    for event in (
        ev.SauceAssigned(1, NASTY), ev.SauceAssigned(2, "$x_{2"), ev.TimerStarted(9e9, 1.0, NASTY),
        ev.WordsHeard(NASTY, 0.1, "refuse"), ev.WordsHeard("=1+1", 0.1, "refuse"),
    ):  # fmt: skip
        recorded.append(ev.Recorded(len(recorded) + 1, recorded[-1].at_s + 1, event))
    return tuple(recorded)


class Tags(HTMLParser):
    """The elements and ids of a page; complains about what is not closed."""

    VOID = frozenset({"meta", "br", "img", "link", "hr", "path", "use", "rect", "image"})

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: list[str] = []
        self.ids: list[str] = []
        self.links: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append(tag)
        self.ids += [value or "" for name, value in attrs if name == "id"]
        self.links += [
            value or "" for name, value in attrs if name in {"src", "href", "xlink:href"}
        ]
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in self.VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        if tag in self.VOID:
            return
        assert self.open.pop() == tag


def tags_of(text: str) -> Tags:
    found = Tags()
    found.feed(text)
    found.close()
    assert found.open == []
    return found


@pytest.mark.parametrize("recorded", [family_dinner, nasty], ids=["family", "nasty"])
def test_the_page_is_whole_and_needs_nothing_from_elsewhere(recorded: object) -> None:
    text = page(evening(recorded(), NASTY, NASTY))  # type: ignore[operator]  # the two above
    found = tags_of(text)
    assert not {"script", "img", "link", "iframe", "object"} & set(found.seen)
    assert len(found.ids) == len(set(found.ids))
    assert all(link.startswith("#") for link in found.links)
    assert all(f'id="{link[1:]}"' in text for link in found.links)


def test_the_page_tells_the_evening() -> None:
    text = page(evening(family_dinner(), "Family dinner", "The harissa went first."))
    for words in (
        "Saturday, 23 May 2026, 4:00 to 6:28 (America/New_York)", "The harissa went first.",
        "The last bird came off at 6:01", "taken back 15 s later", "corrected to 90 F",
        "Against the plan", "bird 3 off", "Cautions",
    ):  # fmt: skip
        assert words in text


def test_the_same_evening_gives_the_same_bytes() -> None:
    first, second = (evening(family_dinner(), "x") for _ in range(2))
    assert page(first) == page(second)
    assert evening_picture(first, "png") == evening_picture(second, "png")
    bird = first.cook.birds[0]
    assert forecast_picture(first, bird) == forecast_picture(second, bird)


@pytest.mark.parametrize("birds", [1, 5])
def test_one_picture_holds_the_evening_and_every_birds_forecasts(birds: int) -> None:
    recorded = told([(0, "birds on"), (3000, "bird one reads ninety")], ev.CookBegan(birds=birds))
    seen = evening(recorded, "x")
    assert len(seen.cook.birds) == birds
    svg = whole_picture(seen, "svg").decode()
    assert svg.count('id="axes_') == 4 + birds + (birds == 5)  # a place without a bird is blank
    assert whole_picture(seen, "svg").decode() == svg


def test_rows_are_readable_by_a_spreadsheet_and_run_nothing() -> None:
    rows = list(csv.DictReader(io.StringIO(csv_text(evening(nasty(), "")))))
    assert tuple(rows[0]) == COLUMNS
    assert not [cell for row in rows for cell in row.values() if cell and cell[0] in "=+-@"]
    reading = next(row for row in rows if row["kind"] == "bird_reading")
    assert (reading["bird"], reading["temperature_f"]) == ("1", "120.0")
    assert reading["elapsed_s"] == "3000.0"
    forecasts = [row for row in rows if row["kind"] == "forecast" and row["q50_s"]]
    assert all(float(r["q10_s"]) <= float(r["q50_s"]) <= float(r["q90_s"]) for r in forecasts)


def test_json_lines_end_with_the_summary() -> None:
    lines = [json.loads(line) for line in jsonl_text(family_evening()).splitlines()]
    last = lines[-1]
    assert last["kind"] == "summary"
    assert 0.0 <= last["inside_80"] <= 1.0
    assert last["forecasts"] > 50
    assert {line["kind"] for line in lines} >= {
        "forecast", "reached", "mended", "called", "planned", "bird_reading",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("ending", "starts"),
    [(".html", b"<!DOCTYPE html>"), (".csv", b"elapsed_s,"), (".jsonl", b"{"), (".png", b"\x89PNG"),
     (".svg", b"<?xml")],
)  # fmt: skip
def test_the_ending_of_the_file_picks_what_is_written(
    tmp_path: Path, ending: str, starts: bytes
) -> None:
    out = tmp_path / f"evening{ending}"
    lookback(family_dinner(), out, title="x")
    assert out.read_bytes().startswith(starts)
    assert list(tmp_path.iterdir()) == [out]


def test_what_cannot_be_written_is_one_clear_line(tmp_path: Path) -> None:
    with pytest.raises(LookbackError, match=r"end the name with one of \.html"):
        lookback(family_dinner(), tmp_path / "evening.pdf")
    with pytest.raises(LookbackError, match="no events"):
        lookback((), tmp_path / "evening.html")
    with pytest.raises(LookbackError, match="cannot be written"):
        lookback(family_dinner(), tmp_path / "missing" / "evening.csv")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "lines",
    [
        "",
        "0:10:00 birds on",
        "0:10:00 bird one is on\n1:30:00 bird one reads one seventy",
        "0:00:10 grill is three fifty",
        "0:00:10 dinner at six thirty",
        "0:05:00 birds on\n0:06:00 lid off",
    ],
)
def test_an_evening_cut_short_can_still_be_looked_back_on(lines: str) -> None:
    recorded = told(lines_of(lines), ev.CookBegan(zone="Europe/Berlin", birds=2, scale="C"))
    text = page(evening(recorded, "short"))
    assert tags_of(text)
    assert csv_text(evening(recorded, "short"))


def test_a_cook_across_midnight_and_the_end_of_summer_time_draws() -> None:
    start_s = 1_793_507_400.0  # half past midnight, 1 November 2026: at two it is one again
    recorded = told([(0, "birds on"), (7200, "bird one reads one forty")], BEGAN, start_s)
    assert "Sunday, 1 November 2026, 12:30 to 1:30" in page(evening(recorded, "late"))


@pytest.mark.parametrize("zone", ["Nowhere/Town", "", "../etc/passwd", "\0", "x" * 5000])
def test_a_cook_from_a_zone_unknown_here_is_told_in_utc(zone: str) -> None:
    recorded = told([(0, "birds on")], ev.CookBegan(zone=zone, birds=1))
    assert "8:00 to 8:00 (UTC)" in page(evening(recorded, "elsewhere"))


@pytest.mark.slow
@pytest.mark.skipif(browser.chromium() is None, reason="no chromium on this machine")
@pytest.mark.parametrize("width", [browser.DESKTOP, browser.PHONE])
@pytest.mark.parametrize("recorded", [family_dinner, nasty], ids=["family", "nasty"])
def test_a_browser_shows_it_without_overlap_complaint_or_request(
    recorded: object, width: int, tmp_path: Path
) -> None:
    file = tmp_path / "lookback.html"
    title = NASTY if recorded is nasty else "Family dinner"
    lookback(recorded(), file, title=title, note=title)  # type: ignore[operator]  # the two above
    found = browser.layout(file, width)
    assert found.wide == []
    assert found.overlaps == []
    assert found.fetched == []
    picture = tmp_path / "page.png"
    assert browser.picture(file, picture, width, found.height) == ""
    assert picture.stat().st_size > 20_000


@pytest.mark.slow
@pytest.mark.skipif(browser.chromium() is None, reason="no chromium on this machine")
def test_the_browser_check_would_notice_a_request_an_error_and_an_overflow(
    tmp_path: Path,
) -> None:
    file = tmp_path / "bad.html"
    file.write_text(
        "<!DOCTYPE html><body><img src='http://127.0.0.1:9/x.png'>"
        "<div style='width: 3000px'>wide</div><script>console.error('no')</script></body>"
    )
    found = browser.layout(file, browser.PHONE)
    assert [url for url in found.fetched if re.search(r"127\.0\.0\.1:9", url)]
    assert found.wide
    assert "CONSOLE" in browser.picture(file, tmp_path / "bad.png", 500, 500)
