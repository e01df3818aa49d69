"""Spans of time that are ended by what comes next. Pure."""

from assistant.heat.bird.evidence import Span


def closed(spans: tuple[Span, ...], at_s: float) -> tuple[Span, ...]:
    """The spans with the last one ended, if it was open."""
    if spans and spans[-1].end_s is None:
        return (*spans[:-1], Span(spans[-1].start_s, max(at_s, spans[-1].start_s)))
    return spans
