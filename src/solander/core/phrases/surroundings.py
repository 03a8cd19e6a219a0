"""What stands beside a number and makes it something else: a telephone, a clock time, a street, a spoken year.

All words of a phrase have their usual meanings before; here the few terms are changed that their neighbours
make something else. What is no date becomes a word and is given back unread. Common practice, no source.
"""

from __future__ import annotations

from attrs import evolve

from solander.core.days import day, day_text
from solander.core.phrases.language import Language
from solander.core.phrases.makers import MAKERS
from solander.core.phrases.neighbours import Tables, Words, tables_of, words_of
from solander.core.phrases.terms import Kind, Term
from solander.core.phrases.tokens import MONTHS_IN_ROMAN, Token, roman

__all__ = ["in_their_places", "tells_a_birth"]

_MEASURES = frozenset(
    ["m", "ft", "km", "kg", "lb", "lbs", "mt", "cm", "mm", "hp", "hk", "ps", "cv", "л", "км", "м", "кг"]
)
"""What stands behind a number that is measured; in small letters only."""

_DATED = (Kind.MONTH, Kind.SEASON, Kind.FEAST, Kind.ORDINAL, Kind.ABOUT, Kind.PART)
_AFTER_A_YEAR = (Kind.SEPARATOR, Kind.CORRECTION, Kind.WAS, Kind.MAYBE, Kind.ABOUT_AFTER, Kind.EITHER, Kind.TO)
_SHARES = frozenset(["of", "von", "de", "des", "dei", "di", "van", "av", "af", "z", "из"])
"""Words by which a number counts: "thirty-four of them"."""

_CHOSEN_FROM = 5
"""Years between which somebody hesitates: further apart they are two numbers of something."""

_LEAST_SPOKEN = 20
"""Smaller numbers are ages and days more often than years."""


def in_their_places(terms: list[Term], tokens: list[Token], language: Language) -> list[Term]:
    """The terms of a phrase with those changed that their neighbours make something else."""
    here = _Surroundings(list(terms), tokens, tables_of(language), language)
    for place in range(len(terms)):
        here.settle(place)
    return here.terms


def tells_a_birth(tokens: list[Token], term: Term, language: Language) -> bool:
    """Whether a date that begins with a term is that of a birth or a death, or of a copy: "b. 1871"."""
    tables = tables_of(language)
    return any(words.before(tokens, term.first) > 0 for words in (tables.born, tables.of_another))


class _Surroundings:
    """The terms of one phrase while they are settled from left to right."""

    def __init__(self, terms: list[Term], tokens: list[Token], tables: Tables, language: Language) -> None:
        self.terms = terms
        self.tokens = tokens
        self.tables = tables
        self.language = language

    def settle(self, place: int) -> None:
        match self.terms[place].kind:
            case Kind.NUMBER if len(self.terms[place].value) <= 4:
                if self._is_no_date(place):
                    self._is_a_word(place)
                elif self._is_a_decade(place):
                    self._is(place, Kind.DECADE, int(self.terms[place].value))
                else:
                    self._short_year(place)
            case Kind.NUMBER if len(self.terms[place].value) == 8 and not self._is_labelled(place):
                # "19460817", the basic form of ISO 8601.
                digits = self.terms[place].value
                self._is(place, Kind.NUMBERS, ((digits[:4], digits[4:6], digits[6:]), "-"))
            case Kind.NUMBERS:
                self._numbers(place)
            case Kind.SPOKEN | Kind.ORDINAL:
                if self._is_a_decade(place):
                    self._is(place, Kind.DECADE, self.terms[place].value)
                else:
                    self._short_year(place)
            case Kind.WORD | Kind.OWN | Kind.FILLER | Kind.BOTH | Kind.CORRECTION | Kind.TO if self._text(
                place
            ).isupper():
                self._in_capitals(place)
            case Kind.STREETS:
                self._street_before(place)
            case Kind.STREET:
                self._street_behind(place)

    # -- looking about ---------------------------------------------------------------------------------------

    def _kind(self, place: int) -> Kind | None:
        return self.terms[place].kind if 0 <= place < len(self.terms) else None

    def _text(self, place: int) -> str:
        return self.tokens[self.terms[place].first].text if 0 <= place < len(self.terms) else ""

    def _before(self, words: Words, place: int) -> int:
        return words.before(self.tokens, self.terms[place].first)

    def _behind(self, words: Words, place: int) -> int:
        return words.at(self.tokens, self.terms[place].last)

    def _is(self, place: int, kind: Kind, value: object) -> None:
        self.terms[place] = evolve(self.terms[place], kind=kind, value=value)

    def _is_a_word(self, *places: int) -> None:
        for place in places:
            self._is(place, Kind.WORD, None)

    # -- numbers that date nothing ---------------------------------------------------------------------------

    def _is_no_date(self, place: int) -> bool:
        return (
            self._is_labelled(place)
            or (len(self.terms[place].value) <= 2 and self._behind(self.tables.hours, place) > 0)
            or self._behind(self.tables.born_behind, place) > 0
            or self._text(place + 1) in _MEASURES
            or self._is_a_model(place)
        )

    def _is_labelled(self, place: int) -> bool:
        """ "Neg. no. 1932", "Tel. Hastings 1947"."""
        length = self._before(self.tables.labels, place)
        if length:
            return not self._takes_back(self.terms[place].first - length)
        back = place
        while back > max(place - 3, 0) and self._kind(back - 1) is Kind.WORD:
            back -= 1
            if self._before(self.tables.far_labels, back):
                return True
        return False

    def _takes_back(self, token: int) -> bool:
        """Whether "no." behind a number takes it back: "1972, no. 1973"."""
        if self.tokens[token].folded != "no" or token < 2:
            return False
        return self.tokens[token - 1].kind == "sign" and self.tokens[token - 2].kind == "number"

    def _is_a_model(self, place: int) -> bool:
        """ "1952 Ford": the year of a car, which may be much older than its picture."""
        text = self._text(place + 1)
        if len(self.terms[place].value) != 4 or text.lower() not in MAKERS or not text[0].isupper():
            return False
        return self._kind(place - 1) not in _DATED and self._kind(place - 2) not in _DATED

    def _numbers(self, place: int) -> None:
        """Clock times, and the year behind "22/6 26"."""
        numbers, sign = self.terms[place].value
        if len(numbers) != 2 or not all(number.isdigit() and len(number) <= 2 for number in numbers):
            self._other_numbers(place, numbers)
            return
        timed = self._before(self.tables.clock, place) and sign in ".:"
        if timed or self._behind(self.tables.hours, place) or self._is_labelled(place):
            self._is_a_word(place)
        elif self._kind(place + 1) is Kind.NUMBER and self._may_end_a_date(place + 1, numbers):
            self._is(place + 1, Kind.SHORT_YEAR, self.terms[place + 1].value)

    def _other_numbers(self, place: int, numbers: tuple[str, ...]) -> None:
        """No date behind "Tel."; the plain year in "1934-XII E.F."."""
        counted = (self._behind(words_of(words), place) for words in self.language.year_counts)
        if self._is_labelled(place):
            self._is_a_word(place)
        elif len(numbers[0]) == 4 and not numbers[1].isdigit() and any(counted):
            self._is(place, Kind.NUMBER, numbers[0])

    def _may_end_a_date(self, place: int, numbers: tuple[str, ...]) -> bool:
        first, second = (int(number) for number in numbers)
        is_day = (1 <= first <= 31 and 1 <= second <= 12) or (1 <= first <= 12 and 1 <= second <= 31)
        value = self.terms[place].value
        return is_day and len(value) == 2 and int(value) > 12 and not self._text(place + 1)[:1].islower()

    # -- years as they are said ------------------------------------------------------------------------------

    def _is_a_decade(self, place: int) -> bool:
        """ "Nineteen twenty-something", "en el cuarenta y tantos"."""
        number = int(self.terms[place].value)
        length = self._behind(self.tables.something, place)
        if (
            not length
            or number % 10
            or not (1800 <= number < 2100 or (20 <= number < 100 and self._is_framed(place)))
        ):
            return False
        last = self.terms[place].last + length
        self._swallow(place, last)
        return True

    def _swallow(self, place: int, last: int) -> None:
        """The term reaches as far as the token `last`; what it takes in becomes nothing."""
        for taken in range(place + 1, len(self.terms)):
            if self.terms[taken].first < last:
                self._is(taken, Kind.FILLER, None)

    def _short_year(self, place: int) -> None:
        """ "In sechsundfünfzig", "fifty-eight it was", "fifty-seven, no, fifty-eight"."""
        if not self._may_be_a_year(place):
            return
        told = self._is_framed(place) or self._is_year_word(place + 1) or self._stands_as_a_year(place)
        if told or self._is_a_choice(place):
            self._is(place, Kind.SHORT_YEAR, f"{int(self.terms[place].value):02d}")

    def _stands_as_a_year(self, place: int) -> bool:
        aside = self._kind(place + 1) is Kind.SEPARATOR and self._behind(self.tables.framed_by, place + 1) > 0
        framed = aside or self._behind(self.tables.framed_by, place) > 0
        return self._begins(place) and (framed or self._is_corrected(place))

    def _is_a_choice(self, place: int) -> bool:
        """ "Sixty-one or sixty-two", with nothing before it that it may belong to."""
        other = place + 2 if self._kind(place + 1) is Kind.EITHER else len(self.terms)
        if self._kind(other) not in (Kind.SPOKEN, Kind.ORDINAL) or not self._begins(place):
            return False
        apart = int(self.terms[other].value) - int(self.terms[place].value)
        return 0 < apart <= _CHOSEN_FROM and self._may_be_a_year(other)

    def _may_be_a_year(self, place: int) -> bool:
        """Whether it has two digits and counts nothing that follows."""
        term = self.terms[place]
        least = 32 if term.kind is Kind.ORDINAL and not self.language.year_follows else _LEAST_SPOKEN
        if term.kind is Kind.NUMBER and len(term.value) != 2:
            return False
        number = int(term.value)
        ahead = self._kind(place + 1)
        if self._is_year_word(place + 1):
            return 10 <= number < 100 and term.kind is Kind.ORDINAL
        if not least <= number < 100 or self._text(place + 1).lower() in _SHARES:
            return False
        if ahead is Kind.MONTH:
            return number > 31
        ends = ahead in (None, Kind.FILLER, *_AFTER_A_YEAR) or self._behind(self.tables.clauses, place) > 0
        return ends or self._behind(self.tables.framed_by, place) > 0

    def _is_year_word(self, place: int) -> bool:
        if not self.language.year_follows or self._kind(place) is not Kind.FILLER:
            return False
        return bool(self.terms[place].value == "year")

    def _is_framed(self, place: int) -> bool:
        """Whether it is told as a year: "in fifty-eight", "in about fifty-eight"."""
        while not self._before(self.tables.framing, place):
            if self._kind(place - 1) not in (Kind.ABOUT, Kind.MAYBE):
                return False
            place -= 1
        return True

    def _begins(self, place: int) -> bool:
        """Whether nothing stands before it that it may belong to: "she was fifty-four" is an age."""
        back = place - 1
        if self._kind(back) in (Kind.CORRECTION, Kind.NOT, Kind.MAYBE, Kind.ABOUT):
            return True
        return self._kind(back) in (None, Kind.SEPARATOR) and self._text(back) not in ("/", "-", "–")

    def _is_corrected(self, place: int) -> bool:
        """Whether another two-digit year takes it back."""
        ahead = self._past(place + 1)
        if self._kind(ahead) is not Kind.CORRECTION:
            return False
        while self._kind(ahead) in (Kind.CORRECTION, Kind.NOT, Kind.SEPARATOR, Kind.FILLER, Kind.WAS):
            ahead += 1
        other = self.terms[ahead] if ahead < len(self.terms) else None
        if other is None or other.kind not in (Kind.SPOKEN, Kind.NUMBER) or not self._may_be_a_year(ahead):
            return False
        return not self._is_labelled(ahead)

    def _past(self, place: int) -> int:
        while self._kind(place) in (Kind.SEPARATOR, Kind.MAYBE):
            place += 1
        return place

    # -- capitals --------------------------------------------------------------------------------------------

    def _in_capitals(self, place: int) -> None:
        """Months of postmarks and in Roman figures, and years of an era: "AU 14 36", "6 I 1937", "XII E.F."."""
        text = self._text(place)
        if (month := self._stamped_month(place, text)) is not None:
            self._is(place, Kind.MONTH, month)
        elif text in MONTHS_IN_ROMAN and self._is_day(place - 1) and self._kind(place + 1) is Kind.NUMBER:
            self._is(place, Kind.MONTH, MONTHS_IN_ROMAN[text])
        else:
            self._year_of_an_era(place, roman(text))

    def _stamped_month(self, place: int, text: str) -> int | None:
        within = self._kind(place + 1) in (Kind.NUMBER, Kind.SHORT_YEAR) and self._is_day(place - 1)
        ahead = self._is_day(place + 1) and self._kind(place + 2) in (Kind.NUMBER, Kind.SHORT_YEAR)
        if not (within or ahead) or text.lower() not in self.language.postmarks:
            return None
        return self.language.postmarks.index(text.lower()) + 1

    def _is_day(self, place: int) -> bool:
        if self._kind(place) is not Kind.NUMBER or len(self.terms[place].value) > 2:
            return False
        return 1 <= int(self.terms[place].value) <= 31

    def _year_of_an_era(self, place: int, number: int | None) -> None:
        for words, first_day in self.language.year_counts.items() if number else ():
            length = self._behind(words_of(words), place)
            if length:
                year, month_and_day = int(first_day[:4]) + (number or 0) - 1, first_day[4:]
                last = day_text(day(year + 1, *map(int, month_and_day.strip("-").split("-"))) - 1)
                self._is(place, Kind.EVENT, ((f"{year:04d}{month_and_day}", last),))
                self._swallow(place, self.terms[place].last + length)

    # -- streets ---------------------------------------------------------------------------------------------

    def _street_before(self, place: int) -> None:
        """ "Rue du 4 septembre", "Via XX Settembre 12", "Rua 1.º de Dezembro, 43"."""
        first = ahead = self._past_joints(place + 1)
        numbered = self._is_numeral(ahead)
        if numbered:
            ahead = self._past_joints(ahead + 1)
        kind = self._kind(ahead)
        if kind in (Kind.FEAST, Kind.EVENT) or (kind is Kind.MONTH and (numbered or not self._year_at(ahead + 1))):
            self._is_a_word(*range(first, ahead + 1))
            self._house_number(ahead + 1)

    def _past_joints(self, place: int) -> int:
        while self._kind(place) is Kind.FILLER or self._text(place) in (".", "º", "°"):
            place += 1
        return place

    def _is_numeral(self, place: int) -> bool:
        kind = self._kind(place)
        if kind in (Kind.ORDINAL, Kind.SPOKEN):
            return int(self.terms[place].value) <= 31
        text = self._text(place)
        return (kind is Kind.NUMBER and len(text) <= 2) or (kind is Kind.WORD and roman(text) is not None)

    def _year_at(self, place: int) -> bool:
        place = self._past_joints(place)
        if self._kind(place) is Kind.NUMBER:
            return len(self.terms[place].value) == 4
        return self._kind(place) is Kind.SPOKEN and int(self.terms[place].value) > 1000

    def _house_number(self, place: int) -> None:
        if self._kind(place) is Kind.NUMBER:
            # "Avenue du 11 Novembre 1918"
            self._is_a_word(place)
        while self._kind(place) is Kind.SEPARATOR:
            place += 1
        if self._kind(place) is Kind.NUMBER and len(self._text(place)) <= 3:
            self._is_a_word(place)

    def _street_behind(self, place: int) -> None:
        """ "12 June Street", "17. mai-gata"."""
        hyphen = self._text(place - 1) == "-"
        named = place - 2 if hyphen else place - 1
        if self._kind(named) not in (Kind.MONTH, Kind.FEAST, Kind.EVENT):
            return
        if not hyphen and not self._text(place)[0].isupper():
            return
        self._is_a_word(named)
        back = named - 1
        while self._text(back) == ".":
            back -= 1
        if self._is_numeral(back):
            self._is_a_word(back)
