"""The dinner as one printed page: no script, no font, no request."""

from html import escape

from assistant.cook.clocktimes import clock_text, date_text
from assistant.cook.planning.whole_dinner import Dinner
from assistant.sentences.dinner_list import dinner_list
from assistant.sentences.dinner_text import CAUTIONS, notes
from assistant.sentences.plan_text import TOO_LATE, between, moment_words

POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
STYLE = """
:root { color-scheme: light }
* { box-sizing: border-box }
body { margin: 0 auto; max-width: 48rem; padding: 1rem; color: #111; background: #fff;
  font: 1rem/1.35 system-ui, sans-serif; overflow-wrap: anywhere }
h1 { font-size: 1.7rem; line-height: 1.15; margin: 0 0 .6rem }
h2 { font-size: 1.05rem; margin: 1rem 0 .3rem }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums }
td { border-bottom: 1px solid #bbb; padding: .18rem .7rem .18rem 0; vertical-align: top }
td:first-child { font-weight: 600; white-space: nowrap }
td.spread { color: #444; font-size: .85rem; white-space: nowrap }
th { text-align: left; padding: .7rem 0 .1rem }
ul { margin: 0; padding-left: 1.2rem } .lists { columns: 2; column-gap: 2rem }
.lists section { break-inside: auto } .lists ul { list-style: "\\2610\\20" }
.cautions { border: 2px solid #111; padding: .4rem .7rem; margin-top: .8rem; font-weight: 600 }
.cautions p { margin: .1rem 0 }
@media (max-width: 34rem) { .lists { columns: 1 } td.spread { white-space: normal } }
@page { margin: 1.1cm }
@media print { body { max-width: none; padding: 0; font-size: 8.5pt; line-height: 1.2 }
  h1 { font-size: 14pt; margin: 0 } h2 { font-size: 10pt; margin: .35rem 0 .1rem }
  th { padding: .25rem 0 0 } td { padding: .03rem .6rem .03rem 0 } td.spread { font-size: 8pt }
  .lists { columns: 3; column-gap: 1rem } .cautions { margin: .2rem 0; padding: .1rem .5rem }
  tr, .cautions, li { break-inside: avoid } }
"""


def fridge_page(dinner: Dinner, zone: str) -> str:
    """Return the whole page; the same dinner gives the same text."""
    serve_s = dinner.plan.serve_s
    title = escape(f"Dinner at {clock_text(serve_s, zone, hours=24)}, {date_text(serve_s, zone)}")
    late = "" if dinner.plan.on_time else f'<p class="cautions">{escape(TOO_LATE)}</p>'
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{title}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n"
        f"<h1>{title}</h1>\n{_cautions()}\n{late}{_times(dinner, zone)}\n"
        f"<h2>Know</h2>\n{_notes(dinner, zone)}\n"
        f'<div class="lists">{_lists(dinner)}</div>\n</body>\n</html>\n'
    )


def _times(dinner: Dinner, zone: str) -> str:
    rows, day = [], ""
    for one in dinner.plan.moments:
        if date_text(one.likely_s, zone) != day:
            day = date_text(one.likely_s, zone)
            rows.append(f'<tr><th colspan="3">{escape(day)}</th></tr>')
        cells = (
            f"<td>{clock_text(one.likely_s, zone, hours=24)}</td>",
            f'<td class="spread">{escape(between(one, zone))}</td>',
            f"<td>{escape(moment_words(one))}</td>",
        )
        rows.append(f"<tr>{''.join(cells)}</tr>")
    return f"<table>\n{chr(10).join(rows)}\n</table>"


def _notes(dinner: Dinner, zone: str) -> str:
    return "<ul>" + "".join(f"<li>{escape(one)}</li>" for one in notes(dinner, zone)) + "</ul>"


def _lists(dinner: Dinner) -> str:
    return "\n".join(
        f"<section><h2>{escape(heading)}</h2><ul>"
        + "".join(f"<li>{escape(item)}</li>" for item in items)
        + "</ul></section>"
        for heading, items in dinner_list(dinner)
    )


def _cautions() -> str:
    lines = "".join(f"<p>{escape(line)}</p>" for line in CAUTIONS)
    return f'<div class="cautions">{lines}</div>'
