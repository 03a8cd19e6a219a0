"""The form of a language's table: the words by which dates are told.

Words that mean the same are parted by `|`; a word may be several (`new year's eve`). They are compared without
accents and capitals. Everything a table leaves out is simply not understood in that language.
"""

from __future__ import annotations

from collections.abc import Mapping

from attrs import field, frozen

__all__ = ["Language"]

Spans = tuple[tuple[str, str], ...]


@frozen(eq=False)
class Language:
    """One language's words for dates.

    Parameters
    ----------
    code
        ISO 639-1.
    months, weekdays, seasons
        Twelve, Monday to Sunday, and spring to winter.
    feasts
        Name in `feasts.FEASTS`, with `~` when the word means the time about the day, to its words.
    events
        Words to the spans of days (EDTF) that they mean, the likeliest first.
    season_parts
        One word for a season (21 to 24) and a third of it (0 to 2): "Spätsommer".
    decades
        Words for decades of a century ("fifties") by their first year (50).
    decade_word
        Words before or after a number that make it a decade ("années 50").
    decade_endings, ordinal_endings
        What stands behind digits: `1950s`, `14th`.
    year_endings
        Endings of the number of a year in the cases of the language: "45-го".
    about_endings
        Endings of a year that mean the time about it: "1930ish".
    century_endings
        Endings by which round hundreds mean all hundred years: "1800-talet".
    numbers, ordinals
        Spoken numbers, and days of a month in words.
    hundreds, hundred_joints
        Words for the hundreds of years (1800, 1900, 2000), and what may stand between them and the rest.
    short_hundreds
        Words that are hundreds only before a number above nine: "nitten femti".
    streets, streets_behind
        Words behind which, and before which, a date is a name: "rue du 4 septembre", "June Street".
    labels
        Words behind which a number is none of time: "Neg. no. 1932".
    clock, hours
        Words before and behind a clock time: "kl. 18.20", "17 Uhr".
    born, born_behind
        Words before and behind the date of a birth or a death: "b. 1871".
    of_another
        Words before the date of something else than the picture: "letter of March 1948", "copied 1979".
    framing, framed_by
        Words before and behind two digits that make them a year: "das war achtundfünfzig", "fifty-eight it was".
    clauses
        Words that begin a new clause, so that what stands before them counts nothing: "in fifty-eight we went".
    something
        What stands for the last digit of a year: "nineteen twenty-something".
    denial
        Words before a date that is not meant: "not forty-eight".
    postmarks
        Twelve months as British postmarks shorten them (from memory, no source), understood in capitals between
        the numbers of a date; "DE" and "NO" only in English.
    year_counts
        Words behind a Roman number that counts years from a day, and the first day of the first year: "XII E.F.".
    age_words
        Words for a decade that behind a name tell an age: "Janek lat 50".
    units
        year, month, week and day to the words for one and for several.
    many
        Those of them that mean several, and count nothing by themselves.
    few
        Words for a number that is not told ("a few"), with the least and the most that they mean.
    just
        Words before "before" and "after" that mean: within a year.
    nearest
        Words for the first after, or the last before, something: "the next summer after the war".
    own
        Words that tell whose: "her twenties" are no decade of a century.
    lives
        What is told of people: a key of `lives.MEANINGS`, or two ages in years (`13-19`), to sentences. A
        sentence's words may be parted by `/` where one or the other stands, end with `?` where they may be
        missing, and hold `{who}`, `{whose}`, `{age}`, `{years}`, `{nth}` or `{tens}` (see `lives`).
    possessive
        Endings by which a name owns something: Ingrid's.
    cases
        Endings that a name may have in other cases.
    was
        "It was": may stand before a date, but not within one.
    feast_without_day
        Months whose name means a feast where no day stands before it: "jul".
    dash_years
        Whether a dash may stand for the century: "sommaren -58".
    year_follows
        Whether the word for year stands behind the number of a year, so that it does not tell a duration.
    day_first
        Whether 3/7/48 is surely the 3rd of July; None where both are usual.
    """

    code: str
    months: tuple[str, ...]
    seasons: tuple[str, ...]
    weekdays: tuple[str, ...] = ()
    feasts: Mapping[str, str] = field(factory=dict)
    events: Mapping[str, Spans] = field(factory=dict)
    season_parts: Mapping[str, tuple[int, int]] = field(factory=dict)
    decades: Mapping[int, str] = field(factory=dict)
    decade_word: str = ""
    decade_endings: str = ""
    year_endings: str = ""
    about_endings: str = ""
    century_endings: str = ""
    ordinal_endings: str = ""
    numbers: Mapping[str, int] = field(factory=dict)
    ordinals: Mapping[str, int] = field(factory=dict)
    century: str = ""
    about: str = ""
    about_after: str = ""
    maybe: str = ""
    early: str = ""
    mid: str = ""
    late: str = ""
    between: str = ""
    both: str = ""
    either: str = ""
    to: str = ""
    before: str = ""
    after: str = ""
    until: str = ""
    since: str = ""
    or_before: str = ""
    or_after: str = ""
    during: str = ""
    first_half: str = ""
    second_half: str = ""
    week_of: str = ""
    week_ending: str = ""
    lab: str = ""
    correction: str = ""
    filler: str = ""
    hundreds: Mapping[str, int] = field(factory=dict)
    hundred_joints: str = ""
    short_hundreds: Mapping[str, int] = field(factory=dict)
    streets: str = ""
    streets_behind: str = ""
    labels: str = ""
    clock: str = ""
    hours: str = ""
    born: str = ""
    born_behind: str = ""
    of_another: str = ""
    framing: str = ""
    framed_by: str = ""
    clauses: str = ""
    something: str = ""
    denial: str = ""
    postmarks: tuple[str, ...] = ("ja", "fe", "mr", "ap", "my", "ju", "jy", "au", "sp", "oc", "", "")
    year_counts: Mapping[str, str] = field(factory=dict)
    age_words: str = ""
    units: Mapping[str, str] = field(factory=dict)
    many: str = ""
    few: Mapping[str, tuple[int, int]] = field(factory=dict)
    just: str = ""
    nearest: str = ""
    own: str = ""
    lives: Mapping[str, str] = field(factory=dict)
    possessive: str = ""
    cases: str = ""
    feast_without_day: Mapping[str, str] = field(factory=dict)
    dash_years: bool = False
    year_follows: bool = False
    was: str = ""
    day_first: bool | None = True
