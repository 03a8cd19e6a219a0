"""Spans that several languages name; these and the days of reigns in the tables are from memory.

A span may be open: what comes after a war ends nowhere. An event without spans is known to be something else than
the words in it seem to say, and dates nothing.
"""

from __future__ import annotations

SECOND = ("1939-09-01", "1945-05-08")
FIRST = ("1914-08-01", "1918-11-11")
THE_WAR = (SECOND, FIRST)
"""The family's war: the second in Europe is taken first."""
BETWEEN = ("1918-11-12", "1939-08-31")
BEFORE_THE_WAR = (("", "1939-08-31"), ("", "1914-07-31"))
AFTER_THE_WAR = (("1945-05-09", ""), ("1918-11-12", ""))
START_OF_WAR = (("1939-09-01", "1939-09-01"), ("1914-08-01", "1914-08-01"))
END_OF_WAR = (("1945-05-08", "1945-05-08"), ("1918-11-11", "1918-11-11"))
TURN_OF_CENTURY = ("1899", "1901")
BELLE_EPOQUE = ("1871", "1914-07-31")
FRANCO_PRUSSIAN = (("1870-07-19", "1871-05-10"),)
KOREA = (("1950-06-25", "1953-07-27"),)
VIETNAM = (("1955-11-01", "1975-04-30"),)
ALGERIA = (("1954-11-01", "1962-03-19"),)
INDOCHINA = (("1946-12-19", "1954-07-21"),)
SPAIN = (("1936-07-17", "1939-04-01"),)
RUSSIA = (("1917-11-07", "1922-10-25"),)
OTHER: tuple[tuple[str, str], ...] = ()
