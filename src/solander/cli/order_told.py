"""The order of a collection as a terminal shows it: 80 columns, nothing cut off, a heading for each decade."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from itertools import groupby

from solander.core.descriptions import DescribedPrint, Reason, When
from solander.look.words import counted, likely_words, reason_words, slip_words
from solander.tasks.chronology import OrderTold

__all__ = ["order_lines"]

WIDTH = 80
REASONS_SHOWN = 3
"""More reasons than this are counted: the print's page shows all of them."""


def order_lines(told: OrderTold) -> Iterator[str]:
    """The lines: how many prints of which years, the order by decades, what is undated, what contradicts, and
    what is best asked next."""
    yield from _wrapped(_head(told.prints), "")
    for heading, prints in _decades(told.prints):
        yield ""
        yield heading
        for one in prints:
            yield from _print_lines(one, len(str(len(told.prints))))
    yield from _section("These can't all be true", [(each.sentence, "") for each in told.contradictions])
    if told.contradictions:
        yield "To settle it, correct the slip file or the list and enter it again by its name."
    yield from _section("What would mend most", [(each, "") for each in told.mends])
    yield from _section("Best asked next", [(each.sentence, f"It {each.gain}.") for each in told.questions])


def _head(prints: Sequence[DescribedPrint]) -> str:
    undated = sum(one.when.guess is None for one in prints)
    years = [one.when.guess[: one.when.guess.index("-", 1)] for one in prints if one.when.guess]
    span = f", {years[0]} to {years[-1]}" if years and years[0] != years[-1] else f", {years[0]}" if years else ""
    rest = f"; {undated} with nothing to go by" if undated else ""
    return f"{counted(len(prints), 'print')} in order of time{span}{rest}."


def _decades(prints: Sequence[DescribedPrint]) -> Iterator[tuple[str, Sequence[DescribedPrint]]]:
    for decade, group in groupby(prints, key=lambda one: _decade(one.when)):
        heading = "Nothing tells yet when these were taken" if decade is None else f"{decade}s"
        yield heading, list(group)


def _decade(when: When) -> int | None:
    return int(when.guess.rsplit("-", 2)[0]) // 10 * 10 if when.guess else None


def _print_lines(one: DescribedPrint, digits: int) -> Iterator[str]:
    head = f"{one.order:{digits + 2}d}  {one.print.accession:<11} "
    indent = " " * len(head)
    likely = likely_words(one.when)
    yield from _wrapped(slip_words(one) + (f". {likely}" if likely else ""), head, indent)
    told = [f"{reason_words(reason)}{source}" for reason, source in _sourced(one.when.reasons)][:REASONS_SHOWN]
    if (more := len(one.when.reasons) - len(told)) > 0:
        told.append(f"and {counted(more, 'more reason')}")
    told += [f"Left out, a rule of thumb that does not agree: {sentence}" for sentence in one.when.overruled]
    for line in told:
        yield from _wrapped(line, f"{indent}· ", f"{indent}  ")


def _sourced(reasons: Sequence[Reason]) -> Iterator[tuple[Reason, str]]:
    """Each reason with its source in brackets, which is not said again while it stays the same."""
    before = ""
    for reason in reasons:
        yield reason, f" ({reason.source})" if reason.source != before else ""
        before = reason.source


def _section(heading: str, items: Sequence[tuple[str, str]]) -> Iterator[str]:
    if not items:
        return
    yield ""
    yield heading
    for number, (sentence, more) in enumerate(items, start=1):
        yield from _wrapped(sentence, f"{number:3d}. ", "     ")
        if more:
            yield from _wrapped(more, "     ", "     ")


def _wrapped(text: str, first: str, others: str = "") -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=others, break_long_words=True, break_on_hyphens=False
    )
