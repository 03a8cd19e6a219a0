"""The form of a language's table of what may be said at the stand."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import frozen

from solander.core.orders import Order
from solander.core.phrases.language import Language

__all__ = ["Counting", "Table"]


@frozen(eq=False)
class Counting:
    """How a language says numbers; what means the same is parted by `|`, and words are said one by one.

    Parameters
    ----------
    units
        1 to 9 as they stand alone.
    teens
        10 to 19.
    tens
        20, 30 … 90.
    joint
        The word between a unit and a ten where the unit goes first ("acht und fünfzig"); empty where the ten does.
    joined_units
        1 to 9 as they stand before `joint`.
    centuries
        What stands before the last two digits of a year: "nineteen", "neunzehn hundert".
    round_years
        Years ending in two noughts.
    zero
        Words for the nought of "nineteen oh five"; empty where nothing is said for it.
    later
        What stands before the last digits of years from 2000 to 2019 besides: "two thousand", "two thousand and".
    later_teens
        The same before 10 to 19 alone: "twenty".
    days
        The 31 days of a month.
    day_endings
        What is written behind the digits of each: "st", ".".
    """

    units: str
    teens: str
    tens: str
    centuries: str
    round_years: str
    days: tuple[str, ...]
    day_endings: tuple[str, ...]
    joint: str = ""
    joined_units: str = ""
    zero: str = ""
    later: str = ""
    later_teens: str = ""


@frozen(eq=False)
class Table:
    """One language's words; what means the same is parted by `|`.

    Parameters
    ----------
    dates
        The language's table for dates.
    counting
        How it says numbers.
    orders
        The phrases of each order: two words or more, none like another in sound.
    joints
        Words between parts that tell nothing: "with", "in".
    back
        Words that take back what was said before: "no", "I mean".
    kinds_of_container
        Spoken word to the letter of its code: "envelope" to `E`.
    months, seasons, feasts, events
        Words for them as they are said; of those that core/phrases understands the ones that sound like nothing
        else.
    decades
        The decades of a century as they are said: "fifties".
    decade_leads
        What may stand before them: "nineteen".
    of, article
        Words that may stand within a date and need not be typed: "the third of June", "summer of 1958".
    about, before, after, during, early
        Words before a date.
    between, and_
        "between 1948 and 1952".
    hesitations
        What one says while one thinks.
    next_container
        "Next envelope".
    people_leads
        Joints that matter before people: with them, besides those before, without them.
    whole_people
        Phrases for all people of a print, and what is typed for each.
    whose
        Words that tell whose relative: "her brother".
    relatives, titles
        Words for relatives; `titles` stand before a name without telling whose: "uncle Joseph".
    """

    code: str
    dates: Language
    counting: Counting
    orders: Mapping[Order, str]
    joints: str
    back: str
    kinds_of_container: Mapping[str, str]
    months: tuple[str, ...]
    seasons: tuple[str, ...]
    feasts: str
    events: str
    decades: str
    decade_leads: str
    of: str
    article: str
    about: str
    before: str
    after: str
    during: str
    early: str
    between: str
    and_: str
    next_container: str
    people_leads: str
    whole_people: Mapping[str, str]
    whose: str
    relatives: str
    titles: str
    hesitations: str
