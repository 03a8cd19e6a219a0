"""A life on the measuring rule: one bar from birth to death, and under it the prints that show the person."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup, escape

from solander.core.language import _
from solander.core.people import Life, Person, life_of
from solander.look.ruler import RulerBar, Span, bars_svg, span_of, year_of

__all__ = ["life_rule", "life_years_words"]


def life_rule(person: Person, bars: Sequence[RulerBar]) -> Markup:
    """The rule with the life and the prints; empty where neither is dated."""
    life = life_of(person)
    known = [day for day in (life.born_from, life.born_to, life.died_from, life.died_to) if day is not None]
    whole = RulerBar("", "", min(known, default=None), max(known, default=None), None)
    span = span_of([*bars, *([whole] if known else [])])
    if span is None:
        return Markup("")
    if known:
        days = [*known, *(bar.guess for bar in bars if bar.guess is not None)]
        years = [int(year_of(day)) for day in days]
        span = Span(min(years) // 10 * 10, max(years) // 10 * 10 + 10)
    told = life_years_words(person) or _("no dates known")
    label = _("The life of %(name)s, %(years)s, and the prints", name=person.name, years=told)
    return Markup(bars_svg(bars, span=span, label=str(escape(label)), above=_life(life, span)))


def _life(life: Life, span: Span) -> str:
    """One bar: full where the person surely lived, fading over the days of birth and death that are not sure, and
    to the end of the rule where one is not known."""
    if (life.born_from, life.born_to, life.died_from, life.died_to) == (None,) * 4:
        return ""
    left = _percent(span, life.born_to, 0.0)
    right = _percent(span, life.died_from, 100.0)
    first = _percent(span, life.born_from, left if life.born_to is not None else 0.0)
    last = _percent(span, life.died_to, right)
    open_born, open_died = life.born_to is None, life.died_from is None
    look = (
        'class="life"' if not (open_born or open_died) else f'fill="url(#fade-{"left" if open_born else "right"})"'
    )
    pieces = [
        _piece(first, left, 'fill="url(#fade-left)"') if first < left else "",
        _piece(left, right, look),
        _piece(right, last, 'fill="url(#fade-right)"') if last > right else "",
    ]
    ends = [at for at, is_open in ((left, open_born), (right, open_died)) if not is_open]
    ticks = [f'<line class="guess" x1="{at}%" x2="{at}%" y1="47" y2="62"/>' for at in ends]
    return "".join([*pieces, *ticks])


def _percent(span: Span, day: int | None, otherwise: float) -> float:
    return otherwise if day is None else span.percent(year_of(day))


def _piece(left: float, right: float, look: str) -> str:
    return f'<rect {look} x="{left}%" width="{round(max(0.0, right - left), 3)}%" y="50" height="9"/>'


def life_years_words(person: Person) -> str:
    """ "1904–1978", "born 1934", "died 1967"; empty where nothing is known."""
    born, died = (_years(first, last) for first, last in _ends(life_of(person)))
    if born and died:
        return f"{born}–{died}"
    if born:
        return _("born %(year)s", year=born)
    return _("died %(year)s", year=died) if died else ""


def _ends(life: Life) -> tuple[tuple[int | None, int | None], tuple[int | None, int | None]]:
    return (life.born_from, life.born_to), (life.died_from, life.died_to)


def _years(first: int | None, last: int | None) -> str:
    if first is None and last is None:
        return ""
    if first is None or last is None:
        known = int(year_of(first if first is not None else last or 0))
        if last is None:
            return _("after %(year)s", year=known - 1)
        return _("before %(year)s", year=known + 1)
    low, high = int(year_of(first)), int(year_of(last))
    if high - low < 3:
        return str(low) if low == high else f"{low}/{high}"
    return _("about %(year)s", year=(low + high) // 2)
