"""Spans that several languages name; days from memory."""

from __future__ import annotations

SECOND = ("1939-09-01", "1945-05-08")
FIRST = ("1914-08-01", "1918-11-11")
THE_WAR = (SECOND, FIRST)
"""The family's war: the second in Europe is taken first."""
BETWEEN = ("1918-11-12", "1939-08-31")
TURN_OF_CENTURY = ("1899", "1901")
