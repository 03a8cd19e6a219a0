"""The rule for pages where one may come closer: the drawing that needs no script, with the bars' data beside it.

The page script `static/ruler.js` takes the drawing's place when it runs. The data stands in an attribute, not in a
script element, so that the strictest page may carry it; days are numbers (`solander.core.days`).

Data: `all`, the first day of the whole rule and the first one after it; `links`, addresses by a decade's first
year; `words`, every date in words once, with what is likely in it; `href`, what all addresses begin and end with;
`bars`, one list a print in the collection's order: name, earliest, latest, guess, likely from, likely to, place in
`words`, the middle of its address, and for a contradiction what was left out.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from html import escape
from itertools import takewhile
from typing import Any

from solander.look.ruler import RulerBar, Span, ruler_svg, span_of

__all__ = ["ruler_data", "ruler_figure"]


def ruler_figure(
    bars: Sequence[RulerBar],
    hrefs: Sequence[str],
    *,
    links: Mapping[int, str] | None = None,
    span: Span | None = None,
) -> str:
    """The rule as HTML; an empty text when nothing is dated.

    `hrefs` holds the address of each bar's page; `links` gives an address for the decades that have one.
    """
    span = span or span_of(bars)
    if span is None:
        return ""
    data = ruler_data(bars, hrefs, links=links or {}, span=span)
    return f"<div class=\"rule\" data-rule='{_attribute(data)}'>{ruler_svg(bars, span=span, links=links)}</div>"


def ruler_data(
    bars: Sequence[RulerBar], hrefs: Sequence[str], *, links: Mapping[int, str], span: Span
) -> dict[str, Any]:
    """The data of the module's heading, ready for JSON."""
    before = _shared_beginning(hrefs)
    middles = [href.removeprefix(before) for href in hrefs]
    after = _shared_beginning([middle[::-1] for middle in middles])[::-1]
    words = {text: place for place, text in enumerate(dict.fromkeys(bar.words for bar in bars))}
    return {
        "all": span.days,
        "links": links,
        "words": list(words),
        "href": (before, after),
        "bars": [
            _row(bar, words[bar.words], middle.removesuffix(after))
            for bar, middle in zip(bars, middles, strict=True)
        ],
    }


def _shared_beginning(texts: Sequence[str]) -> str:
    """What all texts begin with: what the first and the last in alphabetical order share."""
    pairs = zip(min(texts, default=""), max(texts, default=""), strict=False)
    return "".join(one for one, _ in takewhile(lambda pair: pair[0] == pair[1], pairs))


def _row(bar: RulerBar, words: int, middle: str) -> list[str | int | None]:
    days = (bar.earliest, bar.latest, bar.guess, bar.likely_from, bar.likely_to)
    row = [bar.name, *days, words, middle]
    return [*row, bar.contradicts] if bar.contradicts else row


def _attribute(data: Mapping[str, Any]) -> str:
    """JSON for an attribute in single quotes, so that its many double ones stay one sign long."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return escape(text, quote=False).replace("'", "&#39;")
