"""What is written on a print: its lines, what stands out as a maker's or a laboratory's, and the facts in it."""

from __future__ import annotations

from solander.core.inscriptions.blocks import Block, blocks_of
from solander.core.inscriptions.borders import BorderDate, border_date, print_number
from solander.core.inscriptions.facts import Lookups, facts_of
from solander.core.inscriptions.records import Fact, FactKind, Inscription, Line, Word

__all__ = [
    "Block",
    "BorderDate",
    "Fact",
    "FactKind",
    "Inscription",
    "Line",
    "Lookups",
    "Word",
    "blocks_of",
    "border_date",
    "facts_of",
    "print_number",
]
