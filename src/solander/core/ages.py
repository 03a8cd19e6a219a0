"""Ages as people write them beside a name: "Ingrid (6)", "Nan, about 6", "baby Tom", "Ingrid as a child".

Ages count whole years. Only a form that is an age from end to end is read; everything else is a name.
"""

from __future__ import annotations

import re

from attrs import field, frozen

from solander.core.statements import Sure

__all__ = ["Age", "NamedWithAge", "age_value", "read_age_value", "read_name_and_age"]

_OLDEST = 120


@frozen
class Age:
    """From `youngest` to `oldest` whole years, both included."""

    youngest: int = field()
    oldest: int

    @youngest.validator
    def _in_order(self, _: object, youngest: int) -> None:
        if not 0 <= youngest <= self.oldest <= _OLDEST:
            raise ValueError(f"no age: {youngest} to {self.oldest}")

    @property
    def words(self) -> str:
        """`6`, `6 or 7`, `5 to 7`, `under 1`: the years, for a sentence."""
        if self.oldest == 0:
            return "under 1 year old"
        if self.youngest == self.oldest:
            return f"{self.oldest} year{'' if self.oldest == 1 else 's'} old"
        link = "or" if self.oldest == self.youngest + 1 else "to"
        return f"{self.youngest} {link} {self.oldest} years old"


@frozen
class NamedWithAge:
    """A name, and the age that stood beside it; `sure` is a guess where the age was only estimated."""

    name: str
    age: Age | None = None
    sure: Sure = Sure.LIKELY


def age_value(name: str, age: Age) -> str:
    """The value of a statement of an age: `Ingrid|5..7`."""
    return f"{name}|{age.youngest}..{age.oldest}"


def read_age_value(value: str) -> tuple[str, Age]:
    """The name and the age in the value of a statement of an age."""
    name, _, years = value.rpartition("|")
    youngest, _, oldest = years.partition("..")
    return name, Age(int(youngest), int(oldest))


_ABOUT = (
    "about|abt|around|approximately|approx|circa|ca|c|roughly|maybe|perhaps|looks|~"
    "|ungefähr|etwa|rund|vielleicht|environ|vers|verso|unos|unas|cerca de|ongeveer|omkring|cirka|około|около"
)
_AGED = "aged|age|im alter von|alter|âgée?|anni|edad|leeftijd|alder|ålder"
_YEARS = "years?|yrs?|y|yo|jahren?|jahre?|ans?|años?|anos?|anni|anno|jaar|år|lata?|lat|года|год|лет"
_MONTHS = (
    "months?|mths?|mos?|weeks?|days?|monate?|wochen?|mois|meses|mesi|maanden?|måneder|månader|miesięcy|месяцев"
)
_OLD = r"old|alt|gammel|gammal|oud"

_AGE = re.compile(
    rf"(?P<about>(?:(?:{_ABOUT})\.?\s*)+)?(?:(?:{_AGED})\s+)?(?P<about2>(?:(?:{_ABOUT})\.?\s*)+)?"
    r"(?P<first>\d{1,3})(?:\s*(?:or|to|oder|bis|ou|o|of|eller|lub|или|[-–/])\s*(?P<second>\d{1,3}))?"
    rf"[\s-]*(?:(?P<months>{_MONTHS})|(?:{_YEARS}))?\.?[\s-]*(?:{_OLD})?\s*(?P<doubt>\?)?",
    re.IGNORECASE,
)
_UNITS = """zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen
seventeen eighteen nineteen twenty"""
_TENS = "thirty forty fifty sixty seventy eighty ninety"
_NUMBERS = {
    **{word: number for number, word in enumerate(_UNITS.split())},
    **{word: number for number, word in zip(range(30, 100, 10), _TENS.split(), strict=True)},
}

_DECADE = re.compile(
    r"(?:in\s+(?:her|his|their)\s+)?(?:(?P<word>twent|thirt|fort|fift|sixt|sevent|eight|ninet)ies|(?P<digits>[2-9]0)'?s)",
    re.IGNORECASE,
)
_IN_BRACKETS = re.compile(r"(?P<name>.*\S)\s*\((?P<age>[^()]*)\)\s*(?P<doubt>\?)?")
_AFTER_COMMA = re.compile(r"(?P<name>.*\S)\s*,\s*(?P<age>[^,]*)")
_STAGE_BEFORE = re.compile(r"(?P<stage>baby)\s+(?P<name>\S.*)", re.IGNORECASE)
_STAGE_AFTER = re.compile(
    r"(?P<name>.*\S)\s+(?:as|als)\s+(?:an?\s+)?(?:(?:small|little|kleines?)\s+)?(?P<stage>\S+(?: \S+)?)",
    re.IGNORECASE,
)

_STAGES = {
    **dict.fromkeys(("baby", "infant", "säugling"), Age(0, 1)),
    **dict.fromkeys(("toddler", "kleinkind"), Age(1, 3)),
    **dict.fromkeys(("child", "boy", "girl", "kind"), Age(2, 13)),
    **dict.fromkeys(("teenager", "teen", "youth", "jugendliche", "jugendlicher"), Age(12, 20)),
    **dict.fromkeys(("young woman", "young man", "junge frau", "junger mann"), Age(16, 35)),
}
"""What the words for a time of life mean in years (our choice, no source; wide, and never binding)."""


def read_name_and_age(cell: str) -> NamedWithAge:
    """The name in a cell and the age beside it.

    "about 6" allows a year to either side, from 8 years on a fifth of the age (our choice, no source); "6 or 7"
    and "6" are taken as they stand. Months, weeks and days count as the years that they fill.
    """
    for form in (_IN_BRACKETS, _AFTER_COMMA):
        if (found := form.fullmatch(cell)) and (read := _age(found["age"].strip())):
            doubt = " ?" if "doubt" in found.groupdict() and found["doubt"] else ""
            return NamedWithAge(found["name"].strip() + doubt, *read)
    for form in (_STAGE_BEFORE, _STAGE_AFTER):
        if (found := form.fullmatch(cell)) and (stage := _STAGES.get(found["stage"].rstrip("?").casefold())):
            return NamedWithAge(found["name"].strip(), stage, Sure.GUESS)
    return NamedWithAge(cell)


def _in_digits(written: str) -> str:
    """The same with English numbers in digits: "aged six" is "aged 6"."""
    return re.sub(r"[^\W\d_]+", lambda word: str(_NUMBERS.get(word[0].casefold(), word[0])), written)


def _age(written: str) -> tuple[Age, Sure] | None:
    if (stage := _STAGES.get(written.casefold()) or _decade(written)) is not None:
        return stage, Sure.GUESS
    found = _AGE.fullmatch(_in_digits(written))
    if found is None:
        return None
    first, second = int(found["first"]), int(found["second"] or found["first"])
    if found["months"]:
        first, second = _years_filled(first, found["months"]), _years_filled(second, found["months"])
    estimated = bool(found["about"] or found["about2"] or found["doubt"])
    if estimated:
        first, second = first - _tolerance(first), second + _tolerance(second)
    if second > _OLDEST or first > second:
        return None
    return Age(max(first, 0), second), Sure.GUESS if estimated else Sure.LIKELY


def _decade(written: str) -> Age | None:
    """The ten years of "in her twenties", "30s"."""
    found = _DECADE.fullmatch(written)
    if found is None:
        return None
    first = int(found["digits"]) if found["digits"] else _NUMBERS[found["word"].casefold() + "y"]
    return Age(first, first + 9)


def _tolerance(years: int) -> int:
    return 0 if years == 0 else max(1, round(years / 5))


def _years_filled(count: int, unit: str) -> int:
    unit = unit.casefold()
    in_a_year = 365 if unit.startswith("da") else 52 if unit.startswith(("we", "wo")) else 12
    return count // in_a_year
