"""A figure of what treatments did: for each kind a column, for each print a line from before to after."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape

__all__ = ["figure"]

WIDE, HIGH, ROOM = 200, 190, 44


def figure(kinds: Mapping[str, Sequence[tuple[float, float]]]) -> str:
    """An SVG of all kinds that hold what is drawn: colour differences and PSNR, each on a scale of its own."""
    drawn = {name: pairs for name, pairs in kinds.items() if _is_drawn(name, pairs)}
    across = 4
    down = -(-len(drawn) // across)
    parts = [_column(name, pairs, at % across, at // across) for at, (name, pairs) in enumerate(drawn.items())]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {across * WIDE} {down * HIGH + 6}"'
        ' font-family="sans-serif" font-size="9" role="img">'
        "<title>Prints before and after treatment, a line each</title>"
        f'<rect width="100%" height="100%" fill="#fbfaf6"/>{"".join(parts)}</svg>\n'
    )


def _is_drawn(name: str, pairs: Sequence[tuple[float, float]]) -> bool:
    return "found" not in name and "elsewhere" not in name and "grain" not in name and bool(pairs)


def _column(name: str, pairs: Sequence[tuple[float, float]], column: int, row: int) -> str:
    unit, low, top = ("PSNR, dB", 25.0, 45.0) if "PSNR" in name else ("mean ΔE00", 0.0, 20.0)
    left, right = column * WIDE + ROOM, (column + 1) * WIDE - 24
    base, height = row * HIGH + HIGH - 26, HIGH - 62
    label = escape(name.replace(" (PSNR)", ""))
    first, _, rest = label.partition(":")

    def at(value: float) -> str:
        return f"{base - height * (min(max(value, low), top) - low) / (top - low):.1f}"

    lines = "".join(f'<path d="M{left} {at(before)}L{right} {at(after)}"/>' for before, after in pairs)
    ticks = "".join(
        f'<text x="{left - 5}" y="{base - height * share + 3:.1f}" text-anchor="end">'
        f"{low + (top - low) * share:g}</text>"
        f'<path d="M{left} {base - height * share:.1f}H{right}" stroke="#d9d4c7" stroke-width=".6"/>'
        for share in (0, 0.5, 1)
    )
    return (
        f'<text x="{left - 30}" y="{row * HIGH + 14}" font-weight="bold">{first}</text>'
        f'<text x="{left - 30}" y="{row * HIGH + 25}">{rest.strip()} ({len(pairs)})</text>{ticks}'
        f'<g fill="none" stroke="#3b5b66" stroke-opacity=".35" stroke-width=".8">{lines}</g>'
        f'<text x="{left}" y="{base + 13}">before</text>'
        f'<text x="{right}" y="{base + 13}" text-anchor="end">after, {unit}</text>'
    )
