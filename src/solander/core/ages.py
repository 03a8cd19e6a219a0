"""Ages as people write them beside a name: "Ingrid (6)", "Nan, about 6", "baby Tom", "Ingrid as a child".

Ages count whole years. Only a form that is an age from end to end is read, and only beside the name of one person;
everything else is a name.
"""

from __future__ import annotations

import re

from attrs import field, frozen

from solander.core.names_of_one import is_name_of_one
from solander.core.sentence import Counted, Sentence
from solander.core.statements import Sure

__all__ = ["Age", "NamedWithAge", "age_value", "read_age_value", "read_name_and_age"]

_OLDEST = 120
_OLDEST_READ = 110
"""Beyond this a number beside a name is no age (our choice; hardly anybody has grown older)."""


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
            return Sentence("under 1 year old")
        if self.youngest == self.oldest:
            return Counted("%(num)s year old", "%(num)s years old", self.oldest)
        if self.oldest == self.youngest + 1:
            return Sentence("%(first)s or %(last)s years old", first=self.youngest, last=self.oldest)
        return Sentence("%(first)s to %(last)s years old", first=self.youngest, last=self.oldest)


@frozen
class NamedWithAge:
    """A name, and the age that stood beside it; `sure` is a guess where the age was only estimated.

    `not_understood` is what stood there like an age that can't be ("200", "-2"): it is in neither of the two.
    """

    name: str
    age: Age | None = None
    sure: Sure = Sure.LIKELY
    not_understood: str = ""


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
_AGED = "aged|age|im alter von|alter|w wieku|в возрасте|à l'âge de|âgée?|anni|edad|leeftijd|alder|ålder"
_YEARS = "years?|yrs?|y|yo|jahren?|jahre?|ans?|años?|anos?|anni|anno|jaar|år|lata?|lat|года|год|лет"
_MONTHS = (
    "months?|mths?|mos?|weeks?|days?|monate?|wochen?|mois|meses|mesi|maanden?|måneder|månader|miesięcy|месяцев"
)
_OLD = r"old|alt|gammel|gammal|oud"

_NEARLY = (
    "nearly|almost|not quite|not yet|fast|beinahe|knapp|noch nicht|presque|bientôt|casi|quasi|quase|bijna|nesten"
    "|nästan|næsten|prawie|почти"
)
_OVER = (
    "over|past|above|more than|at least|über|mindestens|plus de|más de|mais de|oltre|meer dan|över|mer än|mer enn"
    "|mere end|ponad|больше|старше"
)
_UNDER = "under|below|less than|unter|moins de|menos de|meno di|onder|poniżej|младше"
_OR = "or|to|oder|bis|ou|o|of|eller|lub|или|[-–/]"

_AGE = re.compile(
    rf"(?P<about>(?:(?:{_ABOUT})\.?\s*)+)?(?:(?:{_AGED})\s+)?(?P<about2>(?:(?:{_ABOUT})\.?\s*)+)?"
    rf"(?:(?P<nearly>(?:{_NEARLY})\s+)|(?P<over>(?:{_OVER})\s+)|(?P<under>(?:{_UNDER})\s+))?"
    r"(?P<minus>[-−]\s?)?(?P<first>\d{1,3})(?:\s*[¼½¾]|\s+1/2|[.,]5)?(?P<plus>\+)?"
    rf"(?:\s*(?:{_OR})\s*(?P<second>\d{{1,3}}))?"
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
_AFTER_NAME = re.compile(
    rf"(?P<name>\D*[^\W\d])\s+(?P<age>(?:{_AGED})\s+\d.*|\d{{1,3}}[\s-]*(?:{_YEARS}|{_MONTHS})\b.*)", re.IGNORECASE
)
_BABY_BEFORE = re.compile(r"(?P<stage>(?:baby|Baby(?=\s+\S+\Z)))\s+(?P<name>\S.*)")
"""A capital may begin the cell or a byname, so that only one name may follow it."""
_STAGE_AFTER = re.compile(
    r"(?P<name>.*\S)\s+(?:as|als)\s+(?:an?\s+)?(?:(?:small|little|kleines?)\s+)?(?P<stage>\S+(?: \S+)?)",
    re.IGNORECASE,
)

_PLACE = re.compile(
    "(?:(?:on|at|in|to|the|far|back|front|top|bottom|upper|lower|row|second|first|third|from|à|en|au|ganz|von|der)\\s+)*"
    "(?:left|right|cent(?:re|er)|middle|front|back|row|standing|sitting|seated|kneeling|lying"
    "|links|rechts|mitte|hinten|vorn|vorne|stehend|sitzend|gauche|droite|centre|debout|assise?"
    "|izquierda|derecha|centro|sinistra|destra|vänster|höger|venstre|høyre|højre|midden)",
    re.IGNORECASE,
)
"""Where in the picture somebody is; in the languages in which we know the words (from memory)."""
_PLACE_AFTER = re.compile(
    rf"(?P<name>.*\S)\s*(?:\(\s*(?:{_PLACE.pattern})\s*\)|,\s*(?:{_PLACE.pattern}))\s*(?P<doubt>\?)?",
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

    An age is read only beside what looks like a person's name (`is_name_of_one`) and from 0 to 110 years; what is
    no such age stays in the name, but a number of years that nobody reaches, which is told as `not_understood`.

    "about 6" allows a year to either side, from 8 years on a fifth of the age (our choice, no source); "6 or 7",
    "6" and "6½" are taken as they stand, "nearly 6" is 5, "over 80" is 80 to 110. Months, weeks and days count as
    the years that they fill. Where somebody stands ("left", "seated") is no part of the name.
    """
    plain = _without_place(cell)
    for form in (_IN_BRACKETS, _AFTER_COMMA, _AFTER_NAME):
        found = form.fullmatch(plain)
        name = _without_place(found["name"]) if found else ""
        if found and is_name_of_one(name) and (read := _age(_without_places(found["age"]))):
            doubt = " ?" if "doubt" in found.groupdict() and found["doubt"] else ""
            age, sure = read
            return NamedWithAge(name + doubt, age, sure, "" if age else found["age"].strip())
    return _with_stage(plain) or NamedWithAge(plain)


def _with_stage(cell: str) -> NamedWithAge | None:
    """A name with a time of life: "baby Tom", "Ingrid as a child"; "Baby Face Nelson" is a name."""
    for form in (_BABY_BEFORE, _STAGE_AFTER):
        found = form.fullmatch(cell)
        stage = _STAGES.get(found["stage"].rstrip("?").casefold()) if found else None
        if found and stage and is_name_of_one(found["name"]):
            return NamedWithAge(found["name"].strip(), stage, Sure.GUESS)
    return None


def _without_place(cell: str) -> str:
    """Without the words at the end that only say where in the picture somebody is."""
    while (found := _PLACE_AFTER.fullmatch(cell)) and is_name_of_one(re.sub(r"[\d(),]+", " ", found["name"])):
        cell = found["name"] + (" ?" if found["doubt"] else "")
    return cell


def _without_places(written: str) -> str:
    """What an age's brackets hold besides the place: "6, left" is "6"."""
    told = [part.strip() for part in written.split(",") if not _PLACE.fullmatch(part.strip())]
    return ", ".join(told)


def _in_digits(written: str) -> str:
    """The same with English numbers in digits: "aged six" is "aged 6"."""
    return re.sub(r"[^\W\d_]+", lambda word: str(_NUMBERS.get(word[0].casefold(), word[0])), written)


def _age(written: str) -> tuple[Age | None, Sure] | None:
    """The age, and how sure it is; None for the age where nobody reaches it; None for what is no age."""
    if (stage := _STAGES.get(written.casefold()) or _decade(written)) is not None:
        return stage, Sure.GUESS
    found = _AGE.fullmatch(_in_digits(written))
    if found is None:
        return None
    first, second = _span(found)
    if first < 0 or first > second or second > _OLDEST_READ:
        return None, Sure.LIKELY
    if not (found["about"] or found["about2"] or found["doubt"]):
        return Age(first, second), Sure.LIKELY
    return Age(max(first - _tolerance(first), 0), min(second + _tolerance(second), _OLDEST_READ)), Sure.GUESS


def _span(found: re.Match[str]) -> tuple[int, int]:
    """The first and the last whole year of what was written."""
    first, second = int(found["first"]), int(found["second"] or found["first"])
    if found["months"]:
        first, second = _years_filled(first, found["months"]), _years_filled(second, found["months"])
    if found["minus"] or max(first, second) > _OLDEST_READ:
        return -1, -1
    if found["over"] or found["plus"]:
        return first, _OLDEST_READ
    if found["under"]:
        return 0, second - 1
    return (first - 1, second - 1) if found["nearly"] else (first, second)


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
