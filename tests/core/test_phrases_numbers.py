"""Numbers in words: years, days and ages as they are said."""

from __future__ import annotations

import csv
import datetime
from pathlib import Path

import pytest

from solander.core.phrases import read_date
from solander.core.phrases.languages import LANGUAGES
from solander.core.phrases.lexicon import lexicon
from solander.core.phrases.terms import Kind
from solander.core.phrases.tokens import tokens_of

TODAY = datetime.date(2026, 11, 25)

# Made with num2words 0.5.14 (to="year", to="cardinal" for numbers, to="ordinal" for days and Slavic years);
# Swedish years are left out, for it has none, and so are words that it misspells (sv förtio, da treds, tredivete).
with (Path(__file__).parent / "data" / "spoken-numbers.csv").open(encoding="utf-8", newline="") as table:
    SPOKEN = list(csv.DictReader(table))


@pytest.mark.parametrize("row", SPOKEN, ids=[f"{row['language']} {row['words']}" for row in SPOKEN])
def test_number_as_another_library_says_it(row):
    tokens = tokens_of(row["words"])
    term = lexicon(LANGUAGES[row["language"]]).term(tokens, 0)
    assert (term.value, term.last) == (int(row["number"]), len(tokens))
    assert term.kind in (Kind.SPOKEN, Kind.ORDINAL)


def edtf_of(phrase, **how):
    found = read_date(phrase, today=TODAY, **how)
    assert found.unused == ()
    return found.readings[0].edtf


@pytest.mark.parametrize(
    ("phrase", "edtf"),
    [
        ("en el verano de mil novecientos cincuenta y dos", "1952-22"),
        ("el doce de mayo de mil novecientos treinta y seis", "1936-05-12"),
        ("estate millenovecentocinquantadue", "1952-22"),
        ("estate mille novecento cinquantadue", "1952-22"),
        ("dodici maggio millenovecentotrentasei", "1936-05-12"),
        ("verão de mil novecentos e cinquenta e dois", "1952-22"),
        ("doze de maio de mil novecentos e trinta e seis", "1936-05-12"),
        ("zomer negentienhonderd tweeënvijftig", "1952-22"),
        ("zomer negentien tweeënvijftig", "1952-22"),
        ("zomer negentienhonderdtweeënvijftig", "1952-22"),
        ("twaalf mei negentien zesendertig", "1936-05-12"),
        ("de twaalfde mei negentienhonderd zesendertig", "1936-05-12"),
        ("nittonhundrafemtiotvå", "1952"),
        ("sommaren nittonhundra femtitvå", "1952-22"),
        ("den tolfte maj nittonhundratrettiosex", "1936-05-12"),
        ("nitten femtito", "1952"),
        ("nitten toogfemti", "1952"),
        ("nittenhundreogfemtito", "1952"),
        ("tolvte mai nitten trettiseks", "1936-05-12"),
        ("enogtyvende mai nitten trettiseks", "1936-05-21"),
        ("nittenhundrede og tooghalvtreds", "1952"),
        ("nitten hundrede og tooghalvtreds", "1952"),
        ("nitten tooghalvtreds", "1952"),
        ("den tolvte maj nitten seksogtredive", "1936-05-12"),
        ("tysiąc dziewięćset pięćdziesiąty drugi", "1952"),
        ("w tysiąc dziewięćset pięćdziesiątym drugim roku", "1952"),
        ("dwunastego maja tysiąc dziewięćset trzydziestego szóstego roku", "1936-05-12"),
        ("тысяча девятьсот пятьдесят второй год", "1952"),
        ("летом тысяча девятьсот пятьдесят второго года", "1952-22"),
        ("двенадцатого мая тысяча девятьсот тридцать шестого года", "1936-05-12"),
        ("zwölfter Mai neunzehnhundertsechsunddreißig", "1936-05-12"),
        ("am einunddreißigsten Mai 1936", "1936-05-31"),
        # Words that are a month and a number.
        ("le sept mai 1936", "1936-05-07"),
        ("sept. 1936", "1936-09"),
        ("mil novecentos e dez", "1910"),
        ("dez de maio de 1936", "1936-05-10"),
        ("dez. 1936", "1936-12"),
        ("dix-neuvième siècle", "18XX"),
        ("diciannovesimo secolo", "18XX"),
        ("XIX wiek", "18XX"),
        ("siglo XIX", "18XX"),
        ("XIXe siècle", "18XX"),
        ("XIX век", "18XX"),
        ("XIX secolo", "18XX"),
    ],
)
def test_spoken_dates(phrase, edtf):
    """Common practice, no source."""
    assert edtf_of(phrase) == edtf


@pytest.mark.parametrize(
    ("phrase", "edtf"),
    [
        ("12.VII.1936", "1936-07-12"),
        ("12. VII. 1936", "1936-07-12"),
        ("12 VII 1936 r.", "1936-07-12"),
        ("12/VII/36", "1936-07-12"),
        ("12-VII-36", "1936-07-12"),
        ("VII.1936", "1936-07"),
        ("VII/36", "1936-07"),
        ("VII 1936", "1936-07"),
        ("3 IX 39", "1939-09-03"),
    ],
)
@pytest.mark.parametrize("language", [None, "pl", "ru", "it", "de", "fr", "en"])
def test_months_in_roman_figures(phrase, edtf, language):
    assert read_date(phrase, language=language, today=TODAY).readings[0].edtf == edtf


@pytest.mark.parametrize("phrase", ["George VI 1937", "Pius XII 1950"])
def test_kings_and_popes_are_no_months(phrase):
    assert [reading.edtf for reading in read_date(phrase, today=TODAY).readings] == [phrase[-4:]]


@pytest.mark.parametrize("phrase", ["62 years", "62 Jahre", "62 ans", "62 años", "62 jaar", "62 år", "62 лет"])
def test_a_number_of_years_is_no_year(phrase):
    assert read_date(phrase, today=TODAY).readings == ()


@pytest.mark.parametrize(
    ("phrase", "edtf"),
    [
        ("19??", "19XX"),
        ("[19??]", "19XX"),
        ("192?", "192X"),
        ("19__", "19XX"),
        ("18??", "18XX"),
        ("1921?", "1921?"),
    ],
)
def test_years_with_gaps_are_no_other_years(phrase, edtf):
    """Common practice, no source: "19??" is some year of the 1900s, not perhaps 1919."""
    assert edtf_of(phrase) == edtf


@pytest.mark.parametrize(("phrase", "gap"), [("summer 19??", "19??"), ("Bergen 19--", "19--")])
def test_a_century_within_a_phrase_is_told_as_not_understood(phrase, gap):
    found = read_date(phrase, today=TODAY)
    assert found.readings == ()
    assert gap in found.unused
