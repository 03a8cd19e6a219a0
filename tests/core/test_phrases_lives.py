"""Dates told by the lives of known people, by known occasions, and by their place beside other dates."""

from __future__ import annotations

import datetime
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.dates import day_text, parse_edtf
from solander.core.people import Person
from solander.core.phrases import read_date
from solander.core.phrases.languages import LANGUAGES
from solander.core.phrases.lives import MEANINGS
from solander.core.statements import Sure

TODAY = datetime.date(2026, 11, 25)

PEOPLE = {
    "Nan": Person("Nan", ("Oma", "Mamie", "Nana", "Нана"), born="1921-05-12", died="1962-03-05"),
    "Nils": Person("Nils", born="1936"),
    "Ingrid": Person("Ingrid Larsen", born="1946-06-12"),
    "Leap": Person("Leap", born="1920-02-29"),
    "Bo": Person("Bo"),
}
EVENTS = {
    "wedding": "1948-06-12",
    "the wedding": "1948-06-12",
    "the move": "1951",
    "the tour": "1953-02/1953-05",
    "Blackpool": "1950",
}


def read(phrase, **how):
    return read_date(phrase, today=TODAY, people=PEOPLE, events=EVENTS, **how)


def edtf_of(phrase, **how):
    found = read(phrase, **how)
    assert found.unused == ()
    return [reading.edtf for reading in found.readings]


@pytest.mark.parametrize(
    ("phrase", "edtf"),
    [
        ("when Nan was six", "[1927-05-12..1928-05-11]"),
        ("when Nan was about six", "[1926-05-12~..1929-05-11~]"),
        ("Nan aged 6", "[1927-05-12..1928-05-11]"),
        ("Nan, aged five or six", "[1926-05-12..1928-05-11]"),
        ("Nan (6 yrs)", "[1927-05-12..1928-05-11]"),
        ("Nan 6yrs old", "[1927-05-12..1928-05-11]"),
        ("six year old Nan", "[1927-05-12..1928-05-11]"),
        ("when NAN was 6 years old", "[1927-05-12..1928-05-11]"),
        ("Nan at three months", "[1921-08-12..1921-09-11]"),
        ("Nan at 2 weeks", "[1921-05-26..1921-06-01]"),
        ("Nils at 3 months", "[1936-04-01..1937-04-29]"),
        ("when Nils was six", "[1942-01-01..1943-12-30]"),
        ("Nan's sixth birthday", "1927-05-12"),
        ("Nils' 6th birthday", "1942"),
        ("Nils's 6th birthday", "1942"),
        ("Ingrid's birthday 1952", "1952-06-12"),
        ("Ingrid Larsen's sixth birthday", "1952-06-12"),
        ("the day Ingrid was born", "1946-06-12"),
        ("the year Ingrid was born", "1946"),
        ("before Ingrid was born", "[..1946-06-11]"),
        ("after Ingrid's birth", "[1946-06-13..]"),
        ("before Nils was born", "[..1936-12-30]"),
        ("after Nils was born", "[1936-01-02..]"),
        ("just after Ingrid was born", "[1946-06-13..1947-06-12]"),
        ("between Ingrid's birth and Nan's death", "[1946-06-12..1962-03-05]"),
        ("when Nan died", "1962-03-05"),
        ("the year Nan died", "1962"),
        ("a year before Nan died", "1961"),
        ("when Nan was a baby", "[1921-05-12~..1923-05-11~]"),
        ("when Nan was little", "[1922-05-12~..1931-05-11~]"),
        ("Nan as a child", "[1921-05-12~..1934-05-11~]"),
        ("when Nan was a teenager", "[1934-05-12..1941-05-11]"),
        ("when Nan was in her twenties", "[1941-05-12..1951-05-11]"),
        ("Nan in her early thirties", "[1951-05-12..1955-05-11]"),
        # Nobody grows older after death.
        ("when Nan was in her forties", "[1961-05-12..1962-03-05]"),
        # Who is born on 29 February has birthdays on 28 February or 1 March.
        ("when Leap was one", "[1921-02-28..1922-02-27]"),
        ("the Christmas after Ingrid was born", "1946-12-25~"),
        ("the Christmas after Nils was born", "[1936-12-25~,1937-12-25~]"),
        ("the summer Nils was born", "1936-22"),
        ("the summer when Nan was six", "1927-22"),
    ],
)
def test_lives(phrase, edtf):
    """Our reading: common practice, no source."""
    assert edtf_of(phrase)[0] == edtf


SIX = "[1927-05-12..1928-05-11]"
BORN = "[..1946-06-11]"
SAID = [
    ("de", "als Oma sechs war", SIX),
    ("de", "Omas sechster Geburtstag", "1927-05-12"),
    ("de", "Oma mit 6 Jahren", SIX),
    ("de", "bevor Ingrid geboren wurde", BORN),
    ("de", "nach Omas Tod", "[1962-03-06..]"),
    ("de", "das Jahr nach Omas Tod", "1963"),
    ("fr", "quand Mamie avait six ans", SIX),
    ("fr", "Mamie à 6 ans", SIX),
    ("fr", "sixième anniversaire d'Ingrid", "1952-06-12"),
    ("fr", "avant la naissance d'Ingrid", BORN),
    ("es", "cuando Nan tenía seis años", SIX),
    ("es", "antes de que naciera Ingrid", BORN),
    ("it", "quando Nan aveva sei anni", SIX),
    ("it", "prima della nascita di Ingrid", BORN),
    ("pt", "quando a Nan tinha seis anos", SIX),
    ("pt", "antes de a Ingrid nascer", BORN),
    ("nl", "toen Oma zes was", SIX),
    ("nl", "Oma's zesde verjaardag", "1927-05-12"),
    ("nl", "voordat Ingrid geboren werd", BORN),
    ("sv", "när Nan var sex år", SIX),
    ("sv", "Ingrids sjätte födelsedag", "1952-06-12"),
    ("sv", "innan Ingrid föddes", BORN),
    ("no", "da Nan var seks år", SIX),
    ("no", "Ingrids sjette bursdag", "1952-06-12"),
    ("no", "før Ingrid ble født", BORN),
    ("da", "da Nan var seks", SIX),
    ("da", "før Ingrid blev født", BORN),
    ("pl", "kiedy Nana miała sześć lat", SIX),
    ("pl", "szóste urodziny Nany", "1927-05-12"),
    ("pl", "zanim urodziła się Ingrid", BORN),
    ("ru", "когда Нане было шесть лет", SIX),
    ("de", "als Oma zwischen fünf und sieben war", "[1926-05-12..1929-05-11]"),
    ("de", "als Oma in ihren Zwanzigern war", "[1941-05-12..1951-05-11]"),
    ("de", "das Jahr, in dem Nils geboren wurde", "1936"),
    ("fr", "l'année où Nils est né", "1936"),
    ("es", "el año en que nació Nils", "1936"),
    ("it", "l'anno in cui è nato Nils", "1936"),
    ("pt", "o ano em que o Nils nasceu", "1936"),
    ("sv", "året då Nils föddes", "1936"),
    ("no", "året Nils ble født", "1936"),
    ("da", "året hvor Nils blev født", "1936"),
    ("pl", "rok urodzenia Nilsa", "1936"),
    ("de", "ein Jahr vor Omas Tod", "1961"),
    ("fr", "un an avant la mort de Mamie", "1961"),
    ("es", "un año antes de la muerte de Nan", "1961"),
    ("it", "un anno prima della morte di Nan", "1961"),
    ("pt", "um ano antes da morte da Nan", "1961"),
    ("nl", "een jaar voor Oma's dood", "1961"),
    ("sv", "ett år före Nans död", "1961"),
    ("no", "et år før Nans død", "1961"),
    ("pl", "rok przed śmiercią Nany", "1961"),
    ("ru", "за год до смерти Наны", "1961"),
    ("ru", "до рождения Наны", "[..1921-05-11]"),
]


@pytest.mark.parametrize(("language", "phrase", "edtf"), SAID, ids=[phrase for _, phrase, _ in SAID])
@pytest.mark.parametrize("told", [True, False], ids=["told", "untold"])
def test_lives_in_other_languages(language, phrase, edtf, told):
    assert edtf_of(phrase, language=language if told else None) == [edtf]


ABOUT_SIX = [
    *("als Oma etwa sechs war", "quand Mamie avait environ six ans", "cuando Nan tenía unos seis años"),
    *("quando Nan aveva circa sei anni", "quando a Nan tinha uns seis anos", "toen Oma ongeveer zes was"),
    *("när Nan var ungefär sex år", "da Nan var omtrent seks år", "da Nan var cirka seks år"),
    *("kiedy Nana miała około sześciu lat", "когда Нане было около шести лет"),
]


LITTLE = [
    *("when Nan was little", "als Oma klein war", "quand Mamie était petite", "cuando Nan era pequeña"),
    *("quando Nan era piccola", "quando a Nan era pequena", "toen Oma klein was", "när Nan var liten"),
    *("da Nan var liten", "da Nan var lille", "kiedy Nana była mała", "когда Нана была маленькой"),
]


@pytest.mark.parametrize("phrase", LITTLE)
def test_little(phrase):
    assert edtf_of(phrase) == ["[1922-05-12~..1931-05-11~]"]


@pytest.mark.parametrize("phrase", ABOUT_SIX)
def test_about_six(phrase):
    assert edtf_of(phrase) == ["[1926-05-12~..1929-05-11~]"]
    assert read(phrase).readings[0].sure is Sure.LIKELY


@pytest.mark.parametrize(
    "phrase",
    [
        *("when Zoe was six", "when Bo was six", "Bo's sixth birthday", "before Bo was born", "after Bo died"),
        *("when Zoe was in her twenties", "two years after Zoe was born", "the summer after Bo was born"),
        *("Ingrid at 6 Mill Lane", "Ingrid at 7 o'clock", "the year Zoe was born", "when Ingrid was 99"),
        *("before Nils died", "the Christmas before the accident", "Ingrids sechster"),
        # Whose wedding, and who is six, is not known.
        *("Ida's wedding", "her wedding", "Nan and Ingrid, aged 6 and 4"),
    ],
)
def test_nothing_is_guessed_of_who_is_not_known(phrase):
    found = read(phrase)
    assert found.readings == ()
    assert " ".join(found.unused) == phrase.replace(",", "")


def test_who_is_born_on_no_known_day_is_not_dated_by_it():
    people = {"May": Person("May", born="[..1920]"), "June": Person("June", born="no date")}
    for phrase in ("when May was six", "when June was six"):
        assert read_date(phrase, today=TODAY, people=people).readings == ()


def test_two_people_of_one_name_give_two_readings():
    people = {"a": Person("Nan", born="1921"), "b": Person("Nan", born="1951")}
    assert [r.edtf for r in read_date("the year Nan was born", today=TODAY, people=people).readings] == [
        "1921",
        "1951",
    ]


def test_the_longest_name_is_meant():
    people = {"a": Person("Ingrid", born="1921"), "b": Person("Ingrid Larsen", born="1951")}
    found = read_date("when Ingrid Larsen was born", today=TODAY, people=people)
    assert [reading.edtf for reading in found.readings] == ["1951"]


@pytest.mark.parametrize(
    ("phrase", "edtf"),
    [
        ("Ingrid at seventeen, on her bicycle", ["[1963-06-12..1964-06-11]"]),
        ("Ingrid at 17 Acacia Avenue", []),
        ("Ingrid at six June Terrace", []),
        ("Nan on her fortieth birthday", ["1961-05-12"]),
        ("the year Ingrid turned ten", ["1956"]),
        ("the summer Ingrid turned ten", ["1956-22"]),
        # Her birthday is no day of autumn: that of its year is meant.
        ("the autumn Ingrid turned ten", ["1956-23"]),
        ("the year after the coronation", ["1954", "1938"]),
    ],
)
def test_ages_and_birthdays_by_the_way(phrase, edtf):
    """Our reading: common practice, no source."""
    assert [reading.edtf for reading in read(phrase).readings] == edtf


def test_years_without_their_number_may_be_about():
    found = read("когда Нане было лет шесть", language="ru")
    assert [reading.edtf for reading in found.readings] == ["[1926-05-12~..1929-05-11~]"]


def test_a_person_called_like_a_month():
    people = {"May": Person("May", born="1921-05-12")}
    assert [r.edtf for r in read_date("May 1950", today=TODAY, people=people).readings] == ["1950-05"]
    assert [r.edtf for r in read_date("when May was born", today=TODAY, people=people).readings] == ["1921-05-12"]


def test_without_people_nothing_is_known():
    assert read_date("when Nan was about six", today=TODAY).readings == ()


def test_nothing_is_dated_after_today():
    people = {"Kim": Person("Kim", born="2020-05-12")}
    assert read_date("when Kim was ten", today=TODAY, people=people).readings == ()
    found = read_date("when Kim was six", today=TODAY, people=people).readings
    assert [day_text(found[0].earliest), day_text(found[0].latest)] == ["2026-05-12", "2026-11-25"]


# -- occasions and relative dates ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("phrase", "edtf"),
    [
        ("the wedding", ["1948-06-12"]),
        ("before the wedding", ["[..1948-06-11]"]),
        ("the winter after the wedding", ["1948-24"]),
        ("the day before the wedding", ["1948-06-11"]),
        ("the week after the wedding", ["[1948-06-13..1948-06-19]"]),
        ("three weeks after the wedding", ["[1948-06-30..1948-07-06]"]),
        ("the month after the wedding", ["1948-07"]),
        ("two months before the wedding", ["1948-04"]),
        ("the summer after the wedding", ["[1948-06-13..1948-08-31]", "1949-22"]),
        ("the summer before the wedding", ["1947-22", "[1948-06-01..1948-06-11]"]),
        ("before the move", ["[..1951-12-30]"]),
        ("the year after the move", ["1952"]),
        ("the summer after the move", ["[1951-22,1952-22]"]),
        ("before the tour", ["[..1953-01]"]),
        ("after the tour", ["[1953-06..]"]),
        ("two years after the war", ["1947", "1920"]),
        ("two or three years after the war", ["[1947..1948]", "[1920..1921]"]),
        ("a few years before the war", ["[1934..1937]", "[1909..1912]"]),
        ("about two years after the war", ["1947~", "1920~"]),
        ("just before the war", ["[1938-09..1939-08]", "[1913-08..1914-07]"]),
        ("the summer before the war", ["1939-22", "[1914-06..1914-07]", "1913-22"]),
        ("the first Christmas after the war", ["1945-12-25~", "1918-12-25~"]),
        ("the second Christmas after the war", ["1946-12-25~", "1919-12-25~"]),
        ("the last summer before the second world war", ["1939-22"]),
        ("the first winter of the second world war", ["1939-24"]),
        ("the last winter of the second world war", ["1944-24"]),
        ("the year before the coronation", ["1952", "1936"]),
        ("the summer of the coronation", ["1953-22"]),
        ("the day after Christmas 1950", ["1950-12-26"]),
        ("the week after Easter 1950", ["[1950-04-10..1950-04-16]"]),
        ("two years after 1950", ["1952"]),
        ("the Christmas before 1950", ["1949-12-25~"]),
    ],
)
def test_relative_dates(phrase, edtf):
    """Our reading: common practice, no source."""
    assert edtf_of(phrase) == edtf


RELATIVE = [
    ("de", "der Sommer vor dem Krieg", "1939-22"),
    ("de", "zwei Jahre nach dem Krieg", "1947"),
    ("de", "ein paar Jahre vor dem Krieg", "[1934..1937]"),
    ("de", "kurz nach dem Krieg", "[1945-05-09..1946-05-08]"),
    ("fr", "l'été avant la guerre", "1939-22"),
    ("fr", "deux ans après la guerre", "1947"),
    ("fr", "quelques années avant la guerre", "[1934..1937]"),
    ("fr", "juste avant la guerre", "[1938-09..1939-08]"),
    ("es", "el verano antes de la segunda guerra mundial", "1939-22"),
    ("es", "dos años después de la segunda guerra mundial", "1947"),
    ("es", "unos años después de la segunda guerra mundial", "[1947..1950]"),
    ("es", "poco después de la segunda guerra mundial", "[1945-05-09..1946-05-08]"),
    ("it", "l'estate prima della guerra", "1939-22"),
    ("it", "due anni dopo la guerra", "1947"),
    ("it", "qualche anno dopo la guerra", "[1947..1950]"),
    ("it", "poco dopo la guerra", "[1945-05-09..1946-05-08]"),
    ("pt", "o verão antes da guerra", "1939-22"),
    ("pt", "dois anos depois da guerra", "1947"),
    ("pt", "uns anos depois da guerra", "[1947..1950]"),
    ("pt", "pouco depois da guerra", "[1945-05-09..1946-05-08]"),
    ("nl", "de zomer voor de oorlog", "1939-22"),
    ("nl", "twee jaar na de oorlog", "1947"),
    ("nl", "een paar jaar na de oorlog", "[1947..1950]"),
    ("nl", "vlak na de oorlog", "[1945-05-06..1946-05-05]"),
    ("sv", "sommaren före kriget", "1939-22"),
    ("sv", "två år efter kriget", "1947"),
    ("sv", "några år efter kriget", "[1947..1950]"),
    ("sv", "strax efter kriget", "[1945-05-09..1946-05-08]"),
    ("no", "sommeren før krigen", "1939-22"),
    ("no", "to år etter krigen", "1947"),
    ("no", "noen år etter krigen", "[1947..1950]"),
    ("no", "rett etter krigen", "[1945-05-09..1946-05-08]"),
    ("no", "jul etter krigen", "1945-12-25~"),
    ("da", "sommeren før krigen", "1939-22"),
    ("da", "to år efter krigen", "1947"),
    ("da", "nogle år efter krigen", "[1947..1950]"),
    ("da", "lige efter krigen", "[1945-05-06..1946-05-05]"),
    ("pl", "lato przed wojną", "1939-22"),
    ("pl", "dwa lata po wojnie", "1947"),
    ("pl", "kilka lat po wojnie", "[1947..1950]"),
    ("pl", "tuż po wojnie", "[1945-05-09..1946-05-08]"),
    ("ru", "лето перед войной", "1940-22"),
    ("ru", "через два года после войны", "1947"),
    ("ru", "несколько лет после войны", "[1947..1950]"),
    ("ru", "вскоре после войны", "[1945-05-10..1946-05-09]"),
]


@pytest.mark.parametrize(("language", "phrase", "edtf"), RELATIVE, ids=[phrase for _, phrase, _ in RELATIVE])
def test_relative_dates_in_other_languages(language, phrase, edtf):
    assert edtf_of(phrase, language=language)[0] == edtf


def test_the_name_of_an_occasion_dates_nothing_beside_a_date():
    found = read("Nan and Bill, Blackpool 1953")
    assert [reading.edtf for reading in found.readings] == ["1953"]
    assert found.unused == ("Nan", "and", "Bill", "Blackpool")
    assert [reading.edtf for reading in read("Nan and Bill, Blackpool").readings] == ["1950"]


def test_an_occasion_called_like_a_feast_is_not_told_apart_from_it():
    found = read_date("Christmas 1952", today=TODAY, events={"Christmas": "1950-12-25"})
    assert [reading.edtf for reading in found.readings] == ["1952-12-25~"]


def test_years_without_their_number_count_nothing():
    found = read("years before the war")
    assert found.readings[0].edtf == "[..1939-08]"
    assert found.unused == ("years",)


# -- what must never happen ----------------------------------------------------------------------------------

words = st.sampled_from(
    [
        *("when", "Nan", "Nan's", "Nils", "was", "were", "about", "six", "6", "6th", "aged", "birthday", "born"),
        *("years", "year", "old", "the", "a", "few", "before", "after", "just", "summer", "Christmas", "war"),
        *("wedding", "Ingrid", "Larsen", "in", "her", "twenties", "early", "died", "1950", "or", "first", "last"),
        *("three", "months", "als", "Oma", "war", "vor", "quand", "Mamie", "avait", "ans", "'", ",", "(", "?"),
        *("Нане", "было", "лет", "sześć", "lat", "Nany", "29", "February", "week", "day", "to", "of", "Leap"),
    ]
)
life_dates = st.sampled_from(
    [
        "",
        "1921",
        "1921-05-12",
        "[..1920]",
        "1920~",
        "192X",
        "1920-02-29",
        "9998",
        "0001",
        "x",
        "1920/1930",
        "-0044",
    ]
)


@given(
    st.text(max_size=60) | st.lists(words, max_size=12).map(" ".join),
    st.sampled_from([None, *LANGUAGES]),
    life_dates,
    life_dates,
)
def test_any_text(phrase, language, born, died):
    people = PEOPLE | {"Nan": Person("Nan", ("Oma", "", "?"), born, died)}
    found = read_date(
        phrase, today=TODAY, language=language, people=people, events=EVENTS | {"wedding": born, "": born}
    )
    for reading in found.readings:
        bounds = parse_edtf(reading.edtf).bounds()
        assert (bounds.earliest, bounds.latest) == (reading.earliest, reading.latest)
    for word in found.unused:
        assert word in unicodedata.normalize("NFC", phrase)


@pytest.mark.parametrize(
    "word", ["before", "the year before", "early", "summer after", "two years after", "or", "no"]
)
def test_a_long_row_of_one_word(word):
    assert read(f"{word} " * 2000 + "1950").readings


@given(st.integers(0, 100), st.dates(datetime.date(1850, 1, 1), datetime.date(1920, 12, 31)))
def test_an_age_lasts_from_birthday_to_birthday(age, born):
    people = {"Kim": Person("Kim", born=born.isoformat())}
    reading = read_date(f"Kim aged {age}", today=TODAY, people=people).readings[0]
    first = datetime.date.fromordinal(reading.earliest)
    last = datetime.date.fromordinal(reading.latest)
    assert [
        date.year - born.year - ((date.month, date.day) < (born.month, born.day)) for date in (first, last)
    ] in (
        [age, age],
        [age - 1, age],
    )
    assert (last - first).days in (364, 365, 366)


@pytest.mark.parametrize("code", sorted({table.code for table in LANGUAGES.values()}))
def test_every_table_tells_of_lives_by_known_meanings(code):
    for meaning in LANGUAGES[code].lives:
        ages = meaning.split("-")
        assert meaning in MEANINGS or (len(ages) == 2 and int(ages[0]) < int(ages[1]))
