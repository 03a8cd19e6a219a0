"""How languages write dates: one table of all, names of months and seasons, and the few rules that no table holds.

German and French are written from memory; names of months are those of CLDR (a test compares), and what is written
is understood again by the grammar that reads dates (a test asks it).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from attrs import frozen

__all__ = ["TONGUES", "Tongue"]


def _as_it_is(said: str) -> str:
    return said


@frozen
class Tongue:
    """One language.

    `day` writes a day of a month; `alone` the day where its month comes later ("7 and 9 March"). `at`, `from_`,
    `to` and `by` give a date the form that it has after "between", "from", "to" and "before": with its article,
    its case, or as it is. `parts` are the quarters, thirds and halves of a year.
    """

    months: tuple[str, ...]
    seasons: tuple[str, ...]
    parts: tuple[str, ...]
    day: Callable[[int], str]
    alone: Callable[[int], str]
    say: Mapping[str, str]
    at: Callable[[str], str] = _as_it_is
    from_: Callable[[str], str] = _as_it_is
    to: Callable[[str], str] = _as_it_is
    by: Callable[[str], str] = _as_it_is


_SAY = {
    "~": ("about {}", "etwa {}", "vers {}"),
    "?": ("perhaps {}", "vielleicht {}", "peut-être {}"),
    "%": ("perhaps about {}", "vielleicht etwa {}", "peut-être vers {}"),
    "and": ("and", "und", "et"),
    "or": ("or", "oder", "ou"),
    "bc": ("{} BC", "{} v. Chr.", "{} av. J.-C."),
    "about": (
        "about {year} (between {first} and {last})",
        "etwa {year} (zwischen {first} und {last})",
        "vers {year} (entre {first} et {last})",
    ),
    "some day": (
        "a day from {first} to {last}",
        "ein Tag zwischen dem {first} und dem {last}",
        "un jour entre le {first} et le {last}",
    ),
    "months": (
        "between {first} and {last} {year}",
        "zwischen {first} und {last} {year}",
        "entre {first} et {last} {year}",
    ),
    "decade": ("the {}s", "die {}er Jahre", "les années {}"),
    "unknown": ("an unknown year", "ein unbekanntes Jahr", "une année inconnue"),
    "of unknown": ("of an unknown year", "eines unbekannten Jahres", "d’une année inconnue"),
    "years": ("between {first} and {last}", "zwischen {first} und {last}", "entre {first} et {last}"),
    "of years": (
        "of a year between {first} and {last}",
        "eines Jahres zwischen {first} und {last}",
        "d’une année entre {first} et {last}",
    ),
    "northern": (" (northern)", " (Norden)", " (nord)"),
    "southern": (" (southern)", " (Süden)", " (sud)"),
    "from to": ("from {start} to {end}", "{start} bis {end}", "{start} {end}"),
    "from": ("from {start} on", "{start} an", "à partir {start}"),
    "from unknown": ("from {start}, end unknown", "{start} an, Ende unbekannt", "à partir {start}, fin inconnue"),
    "to": ("until {end}", "bis {end}", "jusqu’{end}"),
    "to unknown": ("until {end}, beginning unknown", "bis {end}, Beginn unbekannt", "jusqu’{end}, début inconnu"),
    "any": ("at any time", "irgendwann", "à tout moment"),
    "between": ("between {start} and {end}", "zwischen {start} und {end}", "entre {start} et {end}"),
    "before": ("before {}", "vor {}", "avant {}"),
    "or before": ("{} or before", "{} oder früher", "{} ou avant"),
    "after": ("after {}", "nach {}", "après {}"),
    "or after": ("{} or after", "{} oder später", "{} ou après"),
}  # fmt: skip
"""What dates are written with, in English, German and French."""


def _say(column: int) -> Mapping[str, str]:
    return {what: told[column] for what, told in _SAY.items()}


_ENGLISH = Tongue(
    months=(
        "January", "February", "March", "April", "May", "June",
        "July", "August", "September", "October", "November", "December",
    ),
    seasons=("spring", "summer", "autumn", "winter"),
    parts=(
        "the first quarter of", "the second quarter of", "the third quarter of", "the fourth quarter of",
        "the first third of", "the second third of", "the third third of",
        "the first half of", "the second half of",
    ),
    day=str,
    alone=str,
    say=_say(0),
)  # fmt: skip

_GERMAN_SEASONS = ("Frühling", "Sommer", "Herbst", "Winter")


def _dative(said: str) -> str:
    """ "dem 7. März 1948", "dem Sommer 1958", "den 1950er Jahren"; years and months stand without an article."""
    if said.startswith("die "):
        return f"den {said.removeprefix('die ')}n"
    with_article = said[:1].isdigit() and ". " in said[:4]
    return f"dem {said}" if with_article or said.startswith(_GERMAN_SEASONS) else said


def _contracted(before: str, short: str) -> Callable[[str], str]:
    """The word before a date, run together with its article: "von dem" is "vom"."""

    def told(said: str) -> str:
        dative = _dative(said)
        return f"{short} {dative.removeprefix('dem ')}" if dative.startswith("dem ") else f"{before} {dative}"

    return told


def _german_end(said: str) -> str:
    dative = _dative(said)
    if dative.startswith("dem "):
        return f"zum {dative.removeprefix('dem ')}"
    return f"zu {dative}" if dative.startswith("den ") else dative


_GERMAN = Tongue(
    months=(
        "Januar", "Februar", "März", "April", "Mai", "Juni",
        "Juli", "August", "September", "Oktober", "November", "Dezember",
    ),
    seasons=_GERMAN_SEASONS,
    parts=(
        "erstes Quartal", "zweites Quartal", "drittes Quartal", "viertes Quartal",
        "erstes Drittel", "zweites Drittel", "letztes Drittel",
        "erste Hälfte", "zweite Hälfte",
    ),
    day="{}.".format,
    alone="{}.".format,
    say=_say(1),
    at=_dative,
    from_=_contracted("von", "vom"),
    to=_german_end,
    by=_dative,
)  # fmt: skip


def _articled(said: str) -> str:
    """ "le 7 mars 1948", "l’été 1958", "le printemps 1958"; years and months stand without an article."""
    if said.startswith(("été", "automne", "hiver")):
        return f"l’{said}"
    is_day = said[:1].isdigit() and " " in said and not said.endswith("av. J.-C.")
    is_part = said.startswith(("printemps", "premier", "deuxième", "troisième", "quatrième", "dernier"))
    return f"le {said}" if is_day or is_part else said


def _french(before: str, contractions: Mapping[str, str], elided: str = "") -> Callable[[str], str]:
    """The word before a date, run together with its article: "de le" is "du"."""

    def told(said: str) -> str:
        articled = _articled(said)
        for article, short in contractions.items():
            if articled.startswith(article):
                return short + articled.removeprefix(article)
        if elided and articled[:1] in "aeo":
            return elided + articled
        return f"{before} {articled}"

    return told


_FRENCH = Tongue(
    months=(
        "janvier", "février", "mars", "avril", "mai", "juin",
        "juillet", "août", "septembre", "octobre", "novembre", "décembre",
    ),
    seasons=("printemps", "été", "automne", "hiver"),
    parts=(
        "premier trimestre", "deuxième trimestre", "troisième trimestre", "quatrième trimestre",
        "premier tiers de", "deuxième tiers de", "dernier tiers de",
        "première moitié de", "seconde moitié de",
    ),
    day=lambda day: "1er" if day == 1 else str(day),
    alone=lambda day: "1er" if day == 1 else str(day),
    say=_say(2),
    at=_articled,
    from_=_french("de", {"le ": "du ", "les ": "des "}, "d’"),
    to=_french("à", {"le ": "au ", "les ": "aux "}),
    by=_articled,
)  # fmt: skip

TONGUES: Mapping[str, Tongue] = {"en": _ENGLISH, "de": _GERMAN, "fr": _FRENCH}
"""By the code of the language (ISO 639-1)."""
