"""The look-back as one HTML page that needs nothing else: no script, no font, no request."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from html import escape
from zoneinfo import ZoneInfo

from assistant.cook.state import Bird
from assistant.cook.vocabulary.prompts import Key
from assistant.heat.bird.evidence import Quantiles
from assistant.lookback.facts import MARKS, Evening
from assistant.lookback.phrases import clock, prompt_words, span
from assistant.lookback.picture import evening_picture, forecast_picture, inline
from assistant.lookback.scores import Summary, scored, summary
from assistant.lookback.stages import Stage, called, mended, stages, stretches
from assistant.lookback.words import cautions, held, lessons
from assistant.sentences.phrasing import degrees

# Nothing may be fetched, whatever the journal holds: the browser is told so as well.
POLICY = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
STYLE = """
:root { color-scheme: light; --ink: #222; --line: #ccc; --paper: #fff; --quiet: #555 }
* { box-sizing: border-box }
body { margin: 0 auto; max-width: 80rem; padding: 1rem 1.2rem; color: var(--ink);
  background: var(--paper); font: 1rem/1.5 system-ui, sans-serif; overflow-wrap: break-word }
h1 { font-size: 1.6rem; line-height: 1.2; margin: .5rem 0 0; overflow-wrap: anywhere }
h2 { font-size: 1.15rem; margin: 1.6rem 0 .4rem }
p { margin: .5rem 0; max-width: 46rem; overflow-wrap: anywhere }
.when, figcaption, .small { color: var(--quiet); font-size: .9rem }
.lesson { font-size: 1.08rem }
figure { margin: .5rem 0 1rem } figure svg { display: block; width: 100%; height: auto }
.first { display: grid; gap: 0 2.5rem; grid-template-columns: minmax(0, 1fr) }
@media (min-width: 60rem) { .first { grid-template-columns: max-content minmax(0, 1fr) } }
details { margin-top: 1.6rem } summary { cursor: pointer; font-weight: bold }
.pairs { display: grid; gap: 0 2rem;
  grid-template-columns: repeat(auto-fit, minmax(min(100%, 32rem), 1fr)) }
.pairs > * { min-width: 0 }
.scroll { overflow-x: auto }
table { border-collapse: collapse; font-variant-numeric: tabular-nums; font-size: .95rem }
th, td { text-align: left; vertical-align: top; padding: .25rem .8rem .25rem 0;
  border-bottom: 1px solid var(--line) }
.cautions { border-left: .3rem solid #b3261e; padding: .1rem 0 .1rem .9rem; margin-top: 1.6rem }
.cautions h2 { margin-top: 0 } .cautions ul { padding-left: 1.1rem; max-width: 46rem; margin: 0 }
@media (max-width: 40rem) { th, td { padding-right: .5rem; font-size: .85rem } }
@page { margin: 1.4cm }
@media print { body { max-width: none; padding: 0; font-size: 9.5pt; line-height: 1.35 }
  h1 { font-size: 16pt } h2 { margin: .9rem 0 .3rem; break-after: avoid }
  figure, tr, .cautions { break-inside: avoid } .small { break-before: avoid }
  .evening { max-width: 11.5cm } .scroll { overflow: visible }
  .pairs { display: block } .pairs figure { display: inline-block; width: 48% }
  th, td { padding: .1rem .6rem .1rem 0; font-size: 8.5pt } }
"""


def page(evening: Evening) -> str:
    """The whole page. The same evening gives the same text."""
    title = escape(evening.title)
    body = [
        f"<h1>{title}</h1>",
        f'<p class="when">{escape(_when(evening))}</p>',
        f"<p>{escape(evening.note)}</p>" if evening.note else "",
        _better(evening),
        f'<div class="first">\n{_readings(evening)}\n{_evening(evening)}\n</div>',
        '<div class="pairs">',
        *(f"<section>{part}</section>" for part in _sections(evening) if part),
        "</div>",
        _cautions(evening),
        _curious(evening),
    ]
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="referrer" content="no-referrer">\n'
        f"<title>{title}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n"
        + "\n".join(part for part in body if part)
        + "\n</body>\n</html>\n"
    )


def _sections(evening: Evening) -> tuple[str, ...]:
    tables = (_took, _stages, _called, _mended)
    return tuple(table(evening) for table in tables)


def _when(evening: Evening) -> str:
    cook = evening.cook
    began = datetime.fromtimestamp(evening.began_s, ZoneInfo(cook.zone))
    birds = ", ".join(
        f"bird {bird.number}" + (f" {bird.sauce}" if bird.sauce else "") for bird in cook.birds
    )
    day = f"{began:%A}, {began.day} {began:%B %Y}"
    times = f"{clock(evening.began_s, cook)} to {clock(evening.ended_s, cook)}"
    return f"{day}, {times} ({cook.zone}). {birds}"


def _better(evening: Evening) -> str:
    """What to do better next time, first of all."""
    items = "".join(f"<li>{escape(one)}</li>\n" for one in lessons(evening))
    return f'<h2>Next time</h2>\n<ul class="lesson">\n{items}</ul>'


def _readings(evening: Evening) -> str:
    """What was read of each bird, and when."""
    rows = [
        (one.at_s, (
            clock(one.at_s, evening.cook), f"bird {bird.number}", one.spot or "",
            degrees(one.temperature_f, evening.cook),
        ))
        for bird in evening.cook.birds
        for one in bird.readings
    ]  # fmt: skip
    if not rows:
        return ""
    table = _table(("when", "bird", "spot", evening.cook.scale), [row for _, row in sorted(rows)])
    return f"<section><h2>What was read</h2>\n{table}</section>"


def _evening(evening: Evening) -> str:
    if not _roasted(evening) and not evening.cook.fire.readings:
        return ""
    whole = inline(evening_picture(evening), "evening", "Readings, spit, grill and calls")
    return (
        "<section><h2>The evening</h2>\n"
        f'<figure class="evening">{whole}<figcaption>B breast, T thigh, W wing. A star on a '
        "bar: sauced. An arrow: charcoal added.</figcaption></figure></section>"
    )


def _roasted(evening: Evening) -> list[Bird]:
    return [bird for bird in evening.cook.birds if bird.has_been_on]


def _curious(evening: Evening) -> str:
    """How the forecasts did, folded away."""
    told = f"<p>{escape(held(evening))}</p>" if held(evening) else ""
    parts = [part for part in (_fans(evening), _scores(evening), told) if part]
    if not parts:
        return ""
    return "<details>\n<summary>For the curious</summary>\n" + "\n".join(parts) + "\n</details>"


def _fans(evening: Evening) -> str:
    roasted = _roasted(evening)
    if not roasted:
        return ""
    parts = [
        "<h2>What was expected, and when</h2>",
        '<p class="small">Shaded: the 80 % range as it stood at each moment of the evening. '
        "The slanted line is now; a star is when the mark was reached.</p>",
        '<div class="pairs">',
    ]
    for bird in roasted:
        name = f"Bird {bird.number}" + (f", {escape(bird.sauce)}" if bird.sauce else "")
        fan = inline(forecast_picture(evening, bird), f"bird{bird.number}", f"{name}: forecasts")
        parts.append(f"<figure>{fan}<figcaption>{name}</figcaption></figure>")
    return "\n".join([*parts, "</div>"])


def _table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    titles = "".join(f'<th scope="col">{escape(one)}</th>' for one in head)
    body = "".join(
        "<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>\n" for row in rows
    )
    return (
        f'<div class="scroll"><table>\n<thead><tr>{titles}</tr></thead>\n'
        f"<tbody>\n{body}</tbody></table></div>"
    )


def _scores(evening: Evening) -> str:
    scores = scored(evening)
    if not scores:
        return ""
    rows = [("all", summary(scores))]
    for mark in MARKS:
        rows += [
            (f"bird {bird.number}, {mark} mark", summary(some))
            for bird in evening.cook.birds
            if (some := [one for one in scores if (one.bird, one.mark) == (bird.number, mark)])
        ]
    head = ("minutes", "forecasts", "in the 80 % range", "off by", "interval score", "CRPS")
    return (
        "<h2>How good the forecasts were</h2>\n"
        + _table(head, (_score_row(name, found) for name, found in rows))
        + '<p class="small">Each forecast that stood after a reading, until the mark was read. '
        "Off by: the median size of the error. Interval score and CRPS: mean, smaller is "
        "better; CRPS is estimated from three quantiles. What happened lies between two "
        "readings and is taken where a straight line between them crosses the mark.</p>"
    )


def _score_row(name: str, found: Summary) -> tuple[str, ...]:
    values = (found.error_s, found.interval_score_s, found.crps_s)
    inside = "-" if found.inside is None else f"{found.inside:.0%}"
    return (name, str(found.count), inside, *(_minutes(value) for value in values))


def _minutes(seconds: float | None) -> str:
    return "-" if seconds is None else f"{seconds / 60:.1f}"


def _took(evening: Evening) -> str:
    took = [(one.what, span(one.took_s), _expected(one.expected_s)) for one in stretches(evening)]
    if not took:
        return ""
    table = _table(("stage", "took", "expected when it went on"), took)
    return f"<h2>How long it took</h2>\n{table}"


def _stages(evening: Evening) -> str:
    planned = [_stage(one, evening) for one in stages(evening)]
    if not planned:
        return ""
    return (
        "<h2>Against the plan</h2>\n"
        + _table(("what", "plan", "was", "difference"), planned)
        + '<p class="small">The plan back from dinner, as it stands with all weights known.</p>'
    )


def _expected(times: Quantiles | None) -> str:
    if times is None or times.q50 is None:
        return "-"
    low, high = (span(one) if one is not None else "?" for one in (times.q10, times.q90))
    return f"{span(times.q50)} ({low} to {high})"


def _stage(stage: Stage, evening: Evening) -> tuple[str, ...]:
    plan = clock(stage.likely_s, evening.cook)
    if stage.early_s < stage.late_s:
        early, late = clock(stage.early_s, evening.cook), clock(stage.late_s, evening.cook)
        plan += f" ({early} to {late})"
    if stage.actual_s is None:
        return (stage.what, plan, "not recorded", "")
    off_s = stage.actual_s - stage.likely_s
    way = "on time" if abs(off_s) < 60 else f"{span(abs(off_s))} {'late' if off_s > 0 else 'early'}"
    return (stage.what, plan, clock(stage.actual_s, evening.cook), way)


def _mended(evening: Evening) -> str:
    rows = [(clock(one.at_s, evening.cook), one.first, one.then) for one in mended(evening)]
    if not rows:
        return "<h2>Heard wrong and put right</h2>\n<p>Nothing.</p>"
    return "<h2>Heard wrong and put right</h2>\n" + _table(("when", "first", "then"), rows)


def _called(evening: Evening) -> str:
    alike: dict[tuple[str, str, str, str], list[str]] = {}
    for one in called(evening):
        haste = _HASTE.get(one.urgency, one.urgency)
        row = (clock(one.at_s, evening.cook), haste, Key.read(one.key).kind, one.answer)
        alike.setdefault(row, []).append(one.key)
    if not alike:
        return ""
    rows = [(at, haste, prompt_words(*keys), then) for (at, haste, _, then), keys in alike.items()]
    return "<h2>What was called out</h2>\n" + _table(("when", "haste", "call", "then"), rows)


_HASTE = {"convenient": "no hurry"}  # as the picture has it


def _cautions(evening: Evening) -> str:
    items = "".join(f"<li>{escape(one)}</li>\n" for one in cautions(evening))
    return f'<div class="cautions"><h2>Cautions</h2>\n<ul>\n{items}</ul></div>'
