"""A worked check of each kind of evidence, against a fact of the table or a source that the test names."""

from __future__ import annotations

import csv
from importlib.resources import files

import pytest

from solander.core.chronology import Months, Network
from solander.core.days import day, day_text
from solander.core.evidence import (
    ROLL_DAYS,
    ROLL_USUAL_DAYS,
    DatingFact,
    FormerName,
    Weight,
    evidence_of,
    printing_of,
    roll_thing,
    things_of,
)
from solander.core.people import Person
from solander.core.prints import Outline, Print, Side, View
from solander.core.statements import About, Says, Statement, Sure

ONE, TWO, THREE = "B1-0001", "B1-0002", "B1-0003"
PRINTS = tuple(Print(accession, "B1", number) for number, accession in enumerate((ONE, TWO, THREE), 1))


def fact(ident):
    """A row of the table in the package, which the tests of the table compare with its source."""
    text = files("solander.authorities").joinpath("dating_evidence.csv").read_text(encoding="utf-8")
    row = next(row for row in csv.DictReader(text.splitlines()) if row["id"] == ident)
    sizes = tuple(tuple(sorted(map(float, size.split("x")))) for size in row["size_mm"].split(";") if size)
    kept = ("id", "group", "earliest", "peak_from", "peak_to", "latest", "region", "confidence", "from_memory")
    return DatingFact(
        **{name: row[name] for name in kept},
        words=row["evidence"],
        source=f"{row['publisher']}: {row['source_title']}",
        bounds=row["bounds"],
        disputed=row["disputed"],
        sizes_mm=sizes,
    )


def said(ident, says, value, *, subject=ONE, sure=Sure.CERTAIN, words="", source="slip file box.csv"):
    return Statement(
        ident, About.PRINT, subject, says, value, words or value, sure, source, "2026-11-25T09:00:00Z"
    )


def evidence(*statements, prints=PRINTS, people=(), facts=(), former_names=()):
    named = {name: person for person in people for name in (person.name, *person.also_called)}
    return evidence_of(
        prints,
        statements,
        named,
        facts={one.id: one for one in facts},
        former_names=former_names,
    )


def one(ident, *statements, **given):
    return next(each for each in evidence(*statements, **given) if each.constraint.id == ident)


def ranges(*statements, prints=PRINTS, **given):
    """The days that all of it leaves, as text; what contradicts what came before is left out."""
    found = evidence(*statements, prints=prints, **given)
    network = Network(things_of(prints, found))
    for each in found:
        network.add(each.constraint)
    return {
        thing: tuple(None if end is None else day_text(end) for end in ends)
        for thing, ends in network.solution().ranges.items()
    }


# -- stated dates --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "months"),
    [
        ("XXXX-12-25", {12}),
        ("XXXX-07", {7}),
        ("XXXX-07~", {7}),
        ("XXXX-22", {6, 7, 8}),
        ("XXXX-24", {12, 1, 2}),
        ("XXXX-36", {10, 11, 12}),
        ("{XXXX-06,XXXX-08}", {6, 8}),
        ("XXXX-0X", set(range(1, 10))),
    ],
)
def test_a_month_or_season_without_a_year_keeps_its_months(value, months) -> None:
    """Seasons as this project reads them, quarters as ISO 8601-2 has them (36: October to December)."""
    assert one("s", said("s", Says.EXPOSURE, value)).constraint == Months("s", ONE, months, f"dated “{value}”")


def test_a_southern_summer_without_a_year_is_around_the_new_year() -> None:
    assert one("s", said("s", Says.EXPOSURE, "XXXX-30")).constraint.months == {12, 1, 2}


@pytest.mark.parametrize("value", ["XXXX", "XXXX-XX-05", "XXXX-XX", "../.."])
def test_a_value_that_tells_neither_year_nor_month_is_no_evidence(value) -> None:
    assert [each.rank for each in evidence(said("s", Says.EXPOSURE, value), prints=())] == []


def test_christmas_between_two_years_is_one_of_two_decembers() -> None:
    christmas = said("c", Says.EXPOSURE, "XXXX-12-25")
    assert ranges(said("y", Says.EXPOSURE, "[1948..1949]"), christmas)[ONE] == ("1948-12-01", "1949-12-31")


def test_a_relative_says_not_before() -> None:
    vera = said("v", Says.EXPOSURE, "[1948..]", words="not before 1948", source="Aunt Vera, slip file box.csv")
    assert ranges(vera)[ONE] == ("1948-01-01", None)
    assert one("v", vera).reason.source == "Aunt Vera, slip file box.csv"


def test_a_laboratory_stamp_weighs_the_year_before_and_bounds_from_above() -> None:
    """Guides on dating: the picture is 0 to 12 months older than its processing date, sometimes more."""
    stamp = said("s", Says.PRINTING, "1959-09", words="DEVELOPED SEP 59")
    assert ranges(stamp)[ONE] == (None, "1959-09-30")
    weight = one("s", stamp).weight
    assert (weight.thing, day_text(weight.earliest), day_text(weight.latest)) == (ONE, "1958-09-01", "1959-09-30")
    assert weight.peak_from < day(1959, 9, 1) < weight.peak_to


# -- people --------------------------------------------------------------------------------------------------

NAN = Person("Nan", (), "1921-03-05", "")


def test_a_stated_age_is_a_year_of_life() -> None:
    age = said("a", Says.AGE, "Nan|6..6", words="Nan (6)", sure=Sure.LIKELY)
    assert ranges(age, people=[NAN])[ONE] == ("1927-03-05", "1928-03-04")
    found = one("a", age, people=[NAN])
    assert not found.soft
    assert found.reason.sentence == "Nan, born 5 March 1921, was 6 years old"


def test_an_age_that_is_only_looked_gives_way_and_weighs() -> None:
    """Worked example W3 of the checked dating problems: born 1921-03-05, looks 4 to under 9, that is
    1925-03-05 to 1930-03-05 there, by 365.25 days a year rounded outwards; by the calendar a day less."""
    age = said("a", Says.AGE, "Nan|4..8", sure=Sure.GUESS)
    found = one("a", age, people=[NAN])
    assert found.soft
    assert found.weight.peak_from == found.constraint.earliest == day(1925, 3, 5)
    assert found.weight.peak_to == found.constraint.latest == day(1930, 3, 4)
    assert found.weight.earliest < found.weight.peak_from
    assert "looks 4 to 8 years old" in found.reason.sentence


def test_an_age_and_a_birth_year_leave_two_years() -> None:
    """Born on 31 December 1921 at the latest, she turned 7 on that day of 1928."""
    born = Person("Nan", (), "1921", "")
    assert ranges(said("a", Says.AGE, "Nan|6..6"), people=[born])[ONE] == ("1927-01-01", "1928-12-30")


def test_a_birthday_on_the_29th_of_february() -> None:
    born = Person("Nan", (), "1920-02-29", "")
    assert ranges(said("a", Says.AGE, "Nan|0..0"), people=[born])[ONE] == ("1920-02-29", "1921-02-27")


@pytest.mark.parametrize("people", [[], [Person("Nan")], [Person("Nan", (), "", "1990")]])
def test_an_age_without_a_birth_is_no_evidence(people) -> None:
    assert all(each.constraint.id != "a" for each in evidence(said("a", Says.AGE, "Nan|6..6"), people=people))


# -- paper, process, format ----------------------------------------------------------------------------------


def test_high_confidence_with_a_source_binds_the_printing() -> None:
    """E012, Weaver and Long 2009: chromogenic prints from negatives begin in January 1942."""
    colour = said("e", Says.EVIDENCE, "E012")
    found = one("e", colour, facts=[fact("E012")])
    assert (found.soft, found.reason.sure, found.reason.bounds_printing) == (False, Sure.LIKELY, True)
    assert "Weaver and Long" in found.reason.source
    left = ranges(colour, facts=[fact("E012")])
    assert left[printing_of(ONE)] == ("1942-01-01", None)
    assert left[ONE] == (None, None), "the negative may be older than the print"


def test_less_confidence_is_a_rule_of_thumb_that_weighs() -> None:
    """E124, A. Krentz 2014: deckle edges, mid-twentieth century in North America; stock used up two years
    later, and two more for papers that are dated for North America alone."""
    deckle = one("e", said("e", Says.EVIDENCE, "E124"), facts=[fact("E124")])
    assert deckle.soft
    assert deckle.reason.sentence == (
        "deckle (ragged) edge: in use from about 1930 to about 1969, mostly 1938 to 1958; old stock was"
        " used up for 2 years more; other countries may be 2 years behind"
    )
    assert "Krentz" in deckle.reason.source
    assert (deckle.constraint.x, deckle.constraint.earliest) == (printing_of(ONE), day(1930, 1, 1))
    assert deckle.constraint.latest == day(1973, 12, 31)
    assert deckle.weight == Weight(
        ONE, day(1929, 1, 1), day(1938, 1, 1), day(1958, 12, 31), day(1973, 12, 31), deckle.weight.trust
    )
    assert deckle.weight.trust < fact("E012").trust


@pytest.mark.parametrize(
    ("ident", "told"),
    [
        (
            "E077",
            "AZO stamp box, four triangles up: in use from 1904 to 1918; old stock was used up for 2 years more",
        ),
        (
            "E063",
            "cabinet card: scalloped edges: in use from about 1888 to about 1903, mostly 1890 to 1899; old stock",
        ),
        ("E141", "50-star US flag: in use from 1960"),
        ("E059", "US internal revenue stamp on the back: in use from 1 August 1864 to 31 August 1866, mostly"),
    ],
)
def test_a_sentence_says_what_its_bound_rests_on(ident, told) -> None:
    """Nothing is added where the table has no end or nothing is left over, and no years are told twice."""
    sentence = one("e", said("e", Says.EVIDENCE, ident), facts=[fact(ident)]).reason.sentence
    assert sentence.startswith(told)
    assert ("old stock" in sentence) is (ident in ("E077", "E063"))
    assert ("mostly" in sentence) is (ident in ("E063", "E059"))


def test_a_stated_date_overrules_the_edge_of_its_paper() -> None:
    deckle, dated = said("e", Says.EVIDENCE, "E124"), said("p", Says.PRINTING, "1985")
    order = [each.constraint.id for each in evidence(deckle, dated, facts=[fact("E124")])]
    assert order.index("p") < order.index("e")
    assert ranges(deckle, dated, facts=[fact("E124")])[printing_of(ONE)] == ("1985-01-01", "1985-12-31")


def test_a_mount_may_be_used_up_three_years_late() -> None:
    """E027: cartes de visite in the United States to 1889."""
    card = said("e", Says.EVIDENCE, "E027")
    assert ranges(card, facts=[fact("E027")])[printing_of(ONE)] == ("1859-01-01", "1892-12-31")


def test_years_that_another_source_disputes_do_not_bind() -> None:
    """E028, cabinet cards 1866 to 1903, high; its note: other guides 1863 to 1920."""
    assert one("e", said("e", Says.EVIDENCE, "E028"), facts=[fact("E028")]).soft


def test_a_revenue_stamp_has_the_days_of_the_tax() -> None:
    """E059: the tax began on 1 August 1864; a cancel of 23 August 1866 is known."""
    stamp = said("e", Says.EVIDENCE, "E059")
    assert ranges(stamp, facts=[fact("E059")])[printing_of(ONE)] == ("1864-08-01", "1866-08-31")


def test_a_picture_made_in_the_camera_has_one_date() -> None:
    """E001: daguerreotypes 1839 to 1860; the plate was in the camera."""
    left = ranges(said("e", Says.EVIDENCE, "E001"), facts=[fact("E001")])
    assert left[ONE] == ("1839-01-01", "1862-12-31")
    assert left[printing_of(ONE)] == ("1839-01-01", "1863-01-01")


def test_film_bounds_the_exposure_from_its_first_sale() -> None:
    """E133: 126 cartridges from 1963."""
    film = said("e", Says.EVIDENCE, "E133")
    left = ranges(film, facts=[fact("E133")])
    assert (left[ONE][0], left[printing_of(ONE)]) == ("1963-01-01", ("1963-01-01", None))


def test_a_thing_in_the_picture_bounds_the_exposure() -> None:
    """E141: the flag of 50 stars is of 1960."""
    assert ranges(said("e", Says.EVIDENCE, "E141"), facts=[fact("E141")])[ONE] == ("1960-01-01", None)


def test_a_postal_code_in_a_stamp_dates_the_paper() -> None:
    """E167 is among the contents but stands on the back: four digits in West Germany 1961 to June 1993."""
    code = one("e", said("e", Says.EVIDENCE, "E167"), facts=[fact("E167")])
    assert code.constraint.x == printing_of(ONE)
    assert code.constraint.latest == day(1993, 6, 30)


def test_a_year_that_stands_for_still_made_bounds_nothing() -> None:
    """E008: gelatin silver paper "2005", still made in small amounts."""
    found = one("e", said("e", Says.EVIDENCE, "E008"), facts=[fact("E008")])
    assert found.constraint.latest is None
    assert "2005" not in found.reason.sentence


def test_what_no_source_says_never_binds() -> None:
    """E149, autochromes: high confidence, but no source was read."""
    assert one("e", said("e", Says.EVIDENCE, "E149"), facts=[fact("E149")]).soft


def test_doubt_whether_it_is_that_paper_makes_it_soft() -> None:
    sure, doubted = (
        one("e", said("e", Says.EVIDENCE, "E012", sure=how), facts=[fact("E012")])
        for how in (Sure.CERTAIN, Sure.GUESS)
    )
    assert (sure.soft, doubted.soft) == (False, True)
    assert doubted.weight.trust < sure.weight.trust


def test_a_fact_that_is_not_in_the_table_says_nothing() -> None:
    assert all(each.constraint.id != "e" for each in evidence(said("e", Says.EVIDENCE, "E012")))


# -- size ----------------------------------------------------------------------------------------------------


def sized(width_mm, height_mm, ppi=300.0):
    outline = Outline(((0, 0), (1, 0), (1, 1), (0, 1)), 1.0)
    pixels = (round(side / 25.4 * (ppi or 300)) for side in (width_mm, height_mm))
    return Print(ONE, "B1", 1, (View("0" * 64, 0, outline, Side.RECTO, *pixels, ppi=ppi),))


@pytest.mark.parametrize("sides", [(89, 89), (88, 90)])
def test_a_square_snapshot_is_of_1949_or_later(sides) -> None:
    """E123: square prints of 3 1/2 inches, 88.9 mm, from 1949."""
    found = one(f"size {ONE}", prints=[sized(*sides)], facts=[fact("E123")])
    assert found.soft
    assert found.constraint.earliest == day(1949, 1, 1)
    assert "measures" in found.reason.source


@pytest.mark.parametrize("print_", [sized(89, 89, ppi=None), sized(89, 95), sized(60, 60), PRINTS[0]])
def test_no_scale_or_another_size_says_nothing(print_) -> None:
    assert all(
        not each.constraint.id.startswith("size") for each in evidence(prints=[print_], facts=[fact("E123")])
    )


# -- names of places -----------------------------------------------------------------------------------------

LENINGRAD = FormerName("Leningrad", "Saint Petersburg", "1924", "1991", False, "place cases", "GeoNames")
SALISBURY = FormerName("Salisbury, Rhodesia", "Harare", "", "1982", False, "place cases")


@pytest.mark.parametrize("says", [Says.TRANSCRIPTION, Says.CAPTION])
def test_a_former_name_on_the_back_bounds_the_exposure_from_above(says) -> None:
    """Leningrad was the name from 1924 to 1991 (place cases of the project, years common knowledge)."""
    written = said("w", says, "Leningrad, the embankment")
    found = one("w Leningrad", written, former_names=[LENINGRAD])
    assert found.soft
    assert (found.constraint.earliest, found.constraint.latest) == (None, day(1996, 12, 31))
    assert (found.weight.peak_from, found.weight.peak_to) == (day(1924, 1, 1), day(1991, 12, 31))
    assert "Saint Petersburg was called Leningrad from 1924 until 1991" in found.reason.sentence
    assert found.reason.sentence.endswith("old names are written on for 5 years or so")
    assert found.reason.source == "GeoNames; written: slip file box.csv"


@pytest.mark.parametrize(
    ("says", "written"),
    [
        (Says.PLACE, "Leningrad"),
        (Says.NOTE, "Leningrad"),
        (Says.CAPTION, "Leningrader"),
        (Says.CAPTION, "Salisbury cathedral"),
    ],
)
def test_what_is_entered_today_and_other_words_say_nothing(says, written) -> None:
    found = evidence(said("w", says, written), former_names=[LENINGRAD, SALISBURY])
    assert all(each.constraint.id.startswith("taken-before-printed") for each in found)


def test_a_name_of_several_words_needs_them_all() -> None:
    written = said("w", Says.CAPTION, "Market day, Salisbury (Rhodesia)")
    assert one("w Salisbury, Rhodesia", written, former_names=[SALISBURY]).constraint.latest == day(1987, 12, 31)


# -- order ---------------------------------------------------------------------------------------------------


def test_prints_of_a_roll_lie_close_together() -> None:
    """Worked example W2 of the checked dating problems: one roll is finished within 120 days."""
    roll = [said(f"r{number}", Says.ROLL, "film 7", subject=subject) for number, subject in enumerate((ONE, TWO))]
    dated = said("d", Says.EXPOSURE, "1958-07-04")
    assert ROLL_USUAL_DAYS == 120
    assert ranges(*roll, dated)[TWO] == ("1958-03-06", "1958-11-01")
    assert ranges(*roll, dated)[THREE] == (None, None)
    far = said("f", Says.EXPOSURE, "1959-06", subject=TWO)
    left = ranges(*roll, dated, far)
    assert left[TWO] == ("1959-06-01", "1959-06-30"), "the rule of thumb gives way"
    assert day(1959, 6, 30) - day(1958, 7, 4) < ROLL_DAYS


def test_a_roll_that_stayed_in_the_camera_for_years_asks_nobody() -> None:
    """400 and 120 days are our choice: both give way, the shorter first."""
    roll = [said(f"r{number}", Says.ROLL, "film 7", subject=subject) for number, subject in enumerate((ONE, TWO))]
    dates = said("d", Says.EXPOSURE, "1958"), said("f", Says.EXPOSURE, "1962", subject=TWO)
    assert ranges(*roll, *dates)[TWO] == ("1962-01-01", "1962-12-31")
    told = [each for each in evidence(*roll) if each.constraint.id.startswith("r")]
    assert [each.constraint.max_days for each in told] == [ROLL_DAYS, ROLL_DAYS, ROLL_USUAL_DAYS, ROLL_USUAL_DAYS]
    assert all(each.soft and each.reason.sure is Sure.GUESS for each in told)


def test_frames_follow_each_other_on_their_roll_whatever_their_container() -> None:
    elsewhere = Print("B2-0001", "B2", 1)
    frames = [
        said(f"{says}{subject}", says, value, subject=subject)
        for subject, number in ((ONE, "4"), ("B2-0001", "9"))
        for says, value in ((Says.ROLL, "film 7"), (Says.ORDER, number))
    ]
    found = one("orderB1-0001 orderB2-0001", *frames, prints=(*PRINTS, elsewhere))
    assert found.reason.sentence == "B2-0001 follows B1-0001 on roll “film 7”"


def test_a_print_without_the_roll_is_no_frame_of_it() -> None:
    frames = said("r", Says.ROLL, "film 7"), said("o", Says.ORDER, "1"), said("p", Says.ORDER, "2", subject=TWO)
    found = evidence(*frames)
    assert all(each.constraint.id.startswith("taken-before-printed") for each in found)
    assert roll_thing("film 7") not in things_of(PRINTS, found)


def test_pages_of_an_album_follow_each_other_by_number() -> None:
    prints = [Print(f"A1-P{page}-0001", f"A1/P{page}", 1) for page in (2, 3, 10)]
    dated = said("d", Says.EXPOSURE, "1936-06-14", subject="A1-P3-0001")
    left = ranges(dated, prints=prints)
    assert left["A1-P2-0001"] == (None, "1936-06-14")
    assert left["A1-P10-0001"] == ("1936-06-14", None)
    assert all(each.soft for each in evidence(prints=prints) if not each.constraint.id.startswith("taken"))


def test_pages_give_way_to_dates_and_other_containers_are_no_pages() -> None:
    prints = [Print("A1-P1-0001", "A1/P1", 1), Print("A1-P2-0001", "A1/P2", 1), Print("A2-P1-0001", "A2/P1", 1)]
    dates = [
        said("late", Says.EXPOSURE, "1950", subject="A1-P1-0001"),
        said("early", Says.EXPOSURE, "1940", subject="A1-P2-0001"),
    ]
    left = ranges(*dates, prints=prints)
    assert (left["A1-P1-0001"][0], left["A1-P2-0001"][0]) == ("1950-01-01", "1940-01-01")
    assert left["A2-P1-0001"] == (None, None)
    assert all(each.constraint.id.startswith("taken") for each in evidence(prints=prints[1:]))
    envelopes = [Print("B1-E1-0001", "B1/E1", 1), Print("B1-E2-0001", "B1/E2", 1)]
    assert all(each.constraint.id.startswith("taken") for each in evidence(prints=envelopes))


def test_a_print_that_lies_against_the_pages_pushes_no_other() -> None:
    """The second print of page 1 was stuck in 20 years later; the undated ones stay between the dated."""
    prints = [Print(f"A1-P{page}-000{number}", f"A1/P{page}", number) for page in (1, 2, 3) for number in (1, 2)]
    dates = [
        said("a", Says.EXPOSURE, "1936", subject="A1-P1-0001"),
        said("stray", Says.EXPOSURE, "1956", subject="A1-P1-0002"),
        said("b", Says.EXPOSURE, "1938", subject="A1-P3-0001"),
        said("c", Says.EXPOSURE, "1939", subject="A1-P3-0002"),
    ]
    assert ranges(*dates, prints=prints)["A1-P2-0001"] == ("1936-01-01", "1938-12-31")


def test_a_roll_that_runs_against_the_pages_is_believed() -> None:
    prints = [Print("A1-P1-0001", "A1/P1", 1), Print("A1-P2-0001", "A1/P2", 1)]
    frames = [
        said(f"{says}{subject}", says, value, subject=subject)
        for subject, number in (("A1-P1-0001", "9"), ("A1-P2-0001", "4"))
        for says, value in ((Says.ROLL, "film 7"), (Says.ORDER, number))
    ]
    dated = said("d", Says.EXPOSURE, "1958-07-04", subject="A1-P2-0001")
    assert ranges(*frames, dated, prints=prints)["A1-P1-0001"] == ("1958-07-04", "1958-11-01")


def test_what_is_soft_comes_last_and_the_more_trusted_first() -> None:
    found = evidence(
        said("guess", Says.EXPOSURE, "1950", sure=Sure.GUESS),
        said("low", Says.EVIDENCE, "E126"),
        said("medium", Says.EVIDENCE, "E116"),
        said("high", Says.EVIDENCE, "E012"),
        facts=[fact(ident) for ident in ("E126", "E116", "E012")],
    )
    told = [each.constraint.id for each in found if not each.constraint.id.startswith("taken")]
    assert told == ["high", "guess", "medium", "low"]


def test_every_reason_has_a_sentence_and_a_source() -> None:
    found = evidence(
        said("e", Says.EVIDENCE, "E124"),
        said("a", Says.AGE, "Nan|6..6"),
        said("w", Says.CAPTION, "Leningrad"),
        *(said(f"r{subject}", Says.ROLL, "film 7", subject=subject) for subject in (ONE, TWO)),
        people=[NAN],
        facts=[fact("E124")],
        former_names=[LENINGRAD],
        prints=(*PRINTS, Print("A1-P1-0001", "A1/P1", 1), Print("A1-P2-0001", "A1/P2", 1)),
    )
    assert len(found) == 5 + 1 + 1 + 1 + 4 + 2
    assert all(each.reason.sentence and each.reason.source for each in found)
    assert all(each.reason.sentence == each.constraint.why for each in found)
    assert {each.about for each in found} <= {ONE, TWO, THREE, "A1-P1-0001", "A1-P2-0001"}
