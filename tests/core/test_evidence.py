"""What each kind of claim says about time."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.core.chronology import Between, Difference, Network, Pieces
from solander.core.days import day
from solander.core.evidence import (
    OCCASION_DAYS,
    DatingFact,
    FormerName,
    evidence_of,
    in_dispute,
    occasion_thing,
    printing_of,
    things_of,
)
from solander.core.people import Person
from solander.core.prints import Print, accession_number
from solander.core.statements import About, Says, Statement, Sure

PRINTS = tuple(Print(accession_number("B1", number), "B1", number) for number in (1, 2, 3))
ONE, TWO, THREE = (print_.accession for print_ in PRINTS)


def said(ident, says, value, *, subject=ONE, about=About.PRINT, sure=Sure.CERTAIN, words=""):
    return Statement(
        ident, about, subject, says, value, words or value, sure, "slip file box.csv", "2026-11-25T09:00:00Z"
    )


def evidence(*statements, people=(), prints=PRINTS):
    named = {name: person for person in people for name in (person.name, *person.also_called)}
    return evidence_of(prints, statements, named)


def by_id(found):
    return {one.constraint.id: one for one in found}


def ranges(*statements, people=()):
    """The tightest ranges that follow; no statement may contradict another."""
    found = evidence(*statements, people=people)
    things = [thing for print_ in PRINTS for thing in (print_.accession, printing_of(print_.accession))]
    network = Network([*things, *(occasion_thing(one.value) for one in statements if one.says is Says.OCCASION)])
    for one in found:
        assert network.add(one.constraint) is None
    return network.solution().ranges


def test_without_statements_only_taking_comes_before_printing() -> None:
    found = evidence()
    assert [one.about for one in found] == [ONE, TWO, THREE]
    for one in found:
        assert one.constraint == Difference(
            one.constraint.id, one.about, printing_of(one.about), 0, None, one.reason.sentence
        )


def test_its_own_date_bounds_its_exposure() -> None:
    (own,) = (one for one in evidence(said("s1", Says.EXPOSURE, "1958-07", words="July 58")) if one.rank >= 0)
    assert own.constraint == Between("s1", ONE, day(1958, 7, 1), day(1958, 7, 31), "dated “July 58”")
    assert (own.reason.sentence, own.reason.source, own.reason.bounds_printing) == (
        "dated “July 58”",
        "slip file box.csv",
        False,
    )


def test_a_date_with_holes_keeps_them() -> None:
    own = by_id(evidence(said("s1", Says.EXPOSURE, "{1951-03,1951-07}")))["s1"]
    march, july = (day(1951, 3, 1), day(1951, 3, 31)), (day(1951, 7, 1), day(1951, 7, 31))
    assert own.constraint == Pieces("s1", ONE, (march, july), own.reason.sentence)


def test_a_southern_summer_is_the_turn_of_the_year() -> None:
    """EDTF 30 is the southern summer (ISO 8601-2); that it is December to February is this project's reading."""
    own = by_id(evidence(said("s1", Says.EXPOSURE, "1958-30")))["s1"]
    assert (own.constraint.earliest, own.constraint.latest) == (day(1958, 12, 1), day(1959, 2, 28))


def test_a_printing_date_binds_the_exposure_from_above_only() -> None:
    stamp = said("s1", Says.PRINTING, "1959-09", words="DEVELOPED SEP 59")
    found = ranges(stamp)
    assert found[printing_of(ONE)] == (day(1959, 9, 1), day(1959, 9, 30))
    assert found[ONE] == (None, day(1959, 9, 30))
    own = by_id(evidence(stamp))["s1"]
    assert own.reason.bounds_printing
    assert own.about == ONE


def test_an_exposure_binds_the_printing_from_below_only() -> None:
    assert ranges(said("s1", Says.EXPOSURE, "1948"))[printing_of(ONE)] == (day(1948, 1, 1), None)


def test_a_person_is_in_a_picture_only_while_alive() -> None:
    lived = Person("Håkon Ternvåg", ("Uncle Håkon",), "1911", "1967")
    found = ranges(said("s1", Says.PERSON, "Uncle Håkon"), people=[lived])
    assert found[ONE] == (day(1911, 1, 1), day(1967, 12, 31))
    reason = by_id(evidence(said("s1", Says.PERSON, "Uncle Håkon"), people=[lived]))["s1"].reason
    assert reason.sentence == "Håkon Ternvåg was born 1911 and died 1967"


@pytest.mark.parametrize(
    ("born", "died", "expected"),
    [("1911", "", (day(1911, 1, 1), None)), ("", "1967", (None, day(1967, 12, 31))), ("", "", (None, None))],
)
def test_half_a_life_bounds_one_side(born, died, expected) -> None:
    assert ranges(said("s1", Says.PERSON, "Inga"), people=[Person("Inga", (), born, died)])[ONE] == expected


def test_a_life_that_ends_before_it_begins_is_no_evidence() -> None:
    wrong = Person("Inga", (), "1967", "1911")
    assert ranges(said("s1", Says.PERSON, "Inga"), people=[wrong])[ONE] == (None, None)


@pytest.mark.parametrize(
    ("born", "sure"),
    [("1911", Sure.CERTAIN), ("1911~", Sure.LIKELY), ("1911?", Sure.GUESS), ("1911%", Sure.GUESS)],
)
def test_a_birth_that_is_not_sure_binds_less(born, sure) -> None:
    shown = said("s1", Says.PERSON, "Inga")
    found = by_id(evidence(shown, people=[Person("Inga", (), born)]))["s1"]
    assert found.reason.sure is sure
    certain = by_id(evidence(shown, people=[Person("Inga", (), "1911")]))["s1"]
    assert (found.rank > certain.rank) is (sure is not Sure.CERTAIN)


def test_a_doubtful_birth_leaves_a_certain_death_as_it_is() -> None:
    found = by_id(evidence(said("s1", Says.PERSON, "Inga"), people=[Person("Inga", (), "1911~", "1967")]))
    birth, death = found["s1 born"], found["s1 died"]
    assert (birth.reason.sure, death.reason.sure) == (Sure.LIKELY, Sure.CERTAIN)
    assert (birth.constraint.earliest, birth.constraint.latest) == (day(1911, 1, 1), None)
    assert (death.constraint.earliest, death.constraint.latest) == (None, day(1967, 12, 31))
    assert (birth.reason.sentence, death.reason.sentence) == ("Inga was born about 1911", "Inga died 1967")


def test_one_life_is_shared_by_all_prints_that_show_the_person() -> None:
    lived = Person("Håkon Ternvåg", ("Uncle Håkon",), "1911", "1967")
    shown = said("s1", Says.PERSON, "Uncle Håkon"), said("s2", Says.PERSON, "Håkon Ternvåg", subject=TWO)
    found = by_id(evidence(*shown, people=[lived]))
    assert found["s1"].shared == found["s2"].shared == "life Håkon Ternvåg"


def test_people_of_an_occasion_bound_no_print() -> None:
    guest = said("s1", Says.PERSON, "Inga", about=About.OCCASION, subject="Regatta")
    assert "s1" not in by_id(evidence(guest, people=[Person("Inga", (), "1911", "1967")]))


def test_an_occasion_gives_its_prints_its_date() -> None:
    regatta = said("d", Says.EXPOSURE, "1948-07", about=About.OCCASION, subject="Regatta", words="July 48")
    found = by_id(evidence(regatta, said("m", Says.OCCASION, "Regatta")))
    dated = found["m d"]
    assert dated.constraint == Between("m d", ONE, day(1948, 7, 1), day(1948, 7, 31), dated.reason.sentence)
    assert dated.reason.sentence == "belongs to “Regatta”, dated “July 48”"
    assert found["m"].soft, "31 days is our choice and asks nobody"
    assert found["m"].constraint.max_days == OCCASION_DAYS - 1 == 30, "the first and the last of 31 days"
    assert "an occasion lasts 31 days at most, as a rule" in found["m"].reason.sentence


def test_prints_of_an_undated_occasion_lie_within_a_month_of_each_other() -> None:
    found = ranges(
        said("m1", Says.OCCASION, "Regatta"),
        said("m2", Says.OCCASION, "Regatta", subject=TWO),
        said("d", Says.EXPOSURE, "1948-07-03"),
    )
    assert found[TWO] == (day(1948, 7, 3) - 30, day(1948, 7, 3) + 30)
    assert found[THREE] == (None, None)


@pytest.mark.parametrize(
    ("date", "days"),
    [("1958-22", 92), ("1958-06-01/1958-08-05", 66), ("1958-07-03", 31), ("195X", 31), ("../1958", 31)],
)
def test_an_occasion_may_last_as_long_as_its_date_spans(date, days) -> None:
    """June to August is 92 days; a decade is no length but says how little is known."""
    told = said("d", Says.EXPOSURE, date, about=About.OCCASION, subject="Cottage")
    found = by_id(evidence(told, said("m", Says.OCCASION, "Cottage")))["m"]
    assert found.constraint.max_days == days - 1
    assert f"{days} days at most" in found.reason.sentence


def test_prints_of_a_long_summer_do_not_contradict() -> None:
    summer = said("d", Says.EXPOSURE, "1958-22", about=About.OCCASION, subject="Cottage")
    dated = [
        said("own1", Says.EXPOSURE, "1958-06-03"),
        said("own2", Says.EXPOSURE, "1958-08-20", subject=TWO),
        said("m1", Says.OCCASION, "Cottage"),
        said("m2", Says.OCCASION, "Cottage", subject=TWO),
    ]
    assert ranges(summer, *dated)[TWO] == (day(1958, 8, 20), day(1958, 8, 20))


@pytest.mark.parametrize(
    ("belongs", "date", "sure"),
    [
        (Sure.CERTAIN, Sure.CERTAIN, Sure.CERTAIN),
        (Sure.GUESS, Sure.CERTAIN, Sure.GUESS),
        (Sure.CERTAIN, Sure.LIKELY, Sure.LIKELY),
    ],
)
def test_an_occasions_date_is_as_sure_as_date_and_belonging(belongs, date, sure) -> None:
    told = said("d", Says.EXPOSURE, "1948", about=About.OCCASION, subject="Regatta", sure=date)
    assert by_id(evidence(told, said("m", Says.OCCASION, "Regatta", sure=belongs)))["m d"].reason.sure is sure


def test_numbered_prints_of_a_container_follow_each_other() -> None:
    found = ranges(
        said("o1", Says.ORDER, "10", subject=ONE),
        said("o2", Says.ORDER, "2", subject=TWO),
        said("d", Says.EXPOSURE, "1948", subject=TWO),
    )
    assert found[ONE] == (day(1948, 1, 1), None)


def test_the_same_number_twice_tells_no_order() -> None:
    found = evidence(said("o1", Says.ORDER, "1", subject=ONE), said("o2", Says.ORDER, "1", subject=TWO))
    assert all(one.constraint.id.startswith("taken-before-printed") for one in found)


def test_both_sides_numbered_are_still_one_print() -> None:
    """Front 1 and back 2 are two slips about one print: it has the first place, and never follows itself."""
    numbered = [said(f"o{number}", Says.ORDER, str(number)) for number in (1, 2)]
    after = said("o3", Says.ORDER, "3", subject=TWO)
    assert "o1 o3" in by_id(evidence(*numbered, after))


def test_a_number_that_stands_twice_comes_before_all_of_the_next() -> None:
    """1, 1, 2: both first prints come before the second, whichever of them was entered last."""
    doubled = [said(f"o{place}", Says.ORDER, "1", subject=subject) for place, subject in enumerate((ONE, TWO))]
    after, dated = said("o9", Says.ORDER, "2", subject=THREE), said("d", Says.EXPOSURE, "1948", subject=THREE)
    found = ranges(*doubled, after, dated)
    assert found[ONE][1] == found[TWO][1] == day(1948, 12, 31)


def test_many_of_one_number_come_before_all_of_the_next_in_few_bounds() -> None:
    prints = [Print(accession_number("B1", number), "B1", number) for number in range(1, 101)]
    orders = [
        said(f"o{place}", Says.ORDER, str(place % 2 + 1), subject=print_.accession)
        for place, print_ in enumerate(prints)
    ]
    dated = said("d", Says.EXPOSURE, "1948", subject=prints[1].accession)  # numbered 2
    found = evidence(*orders, dated, prints=prints)
    network = Network(things_of(prints, found))
    assert all(network.add(one.constraint) is None for one in found)
    latest = {thing: bounds[1] for thing, bounds in network.solution().ranges.items()}
    assert {latest[print_.accession] for print_ in prints[0::2]} == {day(1948, 12, 31)}
    assert {latest[print_.accession] for print_ in prints[3::2]} == {None}
    assert len([one for one in found if one.constraint.id.startswith("o")]) == len(prints)
    assert "number 1 precedes number 2 in B1" in {one.reason.sentence for one in found}


def test_a_number_or_roll_that_another_source_tells_otherwise_is_reported() -> None:
    first = said("o1", Says.ORDER, "4"), said("r1", Says.ROLL, "film 7")
    vera = [
        evolve(one, id=f"{one.id}v", value=value, source="Aunt Vera")
        for one, value in zip(first, "79", strict=True)
    ]
    same, back = evolve(first[0], id="o2", source="Aunt Vera"), evolve(first[0], id="o3", value="5")
    told = in_dispute(PRINTS, [*first, *vera, same, back])
    assert [(one.id, other.id) for one, other in told] == [("o1", "o1v"), ("r1", "r1v")]


def test_order_counts_within_a_container_only() -> None:
    elsewhere = Print("B2-0001", "B2", 1)
    first, second = said("o1", Says.ORDER, "1"), said("o2", Says.ORDER, "2", subject="B2-0001")
    assert "o1 o2" not in by_id(evidence(first, second, prints=(*PRINTS, elsewhere)))


def test_the_surer_is_believed_first_and_the_prints_own_before_its_company() -> None:
    found = evidence(
        said("guess", Says.EXPOSURE, "1950", sure=Sure.GUESS),
        said("order1", Says.ORDER, "1"),
        said("order2", Says.ORDER, "2", subject=TWO),
        said("member", Says.OCCASION, "Regatta"),
        said("date", Says.EXPOSURE, "1948", about=About.OCCASION, subject="Regatta"),
        said("likely", Says.EXPOSURE, "1949", sure=Sure.LIKELY),
        said("shown", Says.PERSON, "Inga"),
        said("own", Says.EXPOSURE, "1948"),
        people=[Person("Inga", (), "1908", "")],
    )
    told = [one.constraint.id for one in found if one.rank >= 0]
    assert told == ["own", "shown", "member date", "likely", "order1 order2", "guess", "member"]


VALUES = {
    Says.EXPOSURE: st.sampled_from(
        ["1958", "1958-22~", "[1948..1952]", "{1951-03,1951-07}", "../..", "195X", "XXXX-12-25", "XXXX-22", "XXXX"]
    ),
    Says.PRINTING: st.sampled_from(["1959-09", "../1961", "1960?"]),
    Says.PERSON: st.sampled_from(["Inga", "Mother", "nobody known"]),
    Says.OCCASION: st.sampled_from(["Regatta", "Easter", ONE]),
    Says.ORDER: st.integers(-2, 3).map(str),
    Says.PLACE: st.just("Ternvik"),
    Says.NOTE: st.text(max_size=5),
    Says.AGE: st.sampled_from(["Inga|5..7", "Mother|40..40", "Odd|0..0", "nobody known|3..3"]),
    Says.ROLL: st.sampled_from(["film 1", "film 2"]),
    Says.EVIDENCE: st.sampled_from(["E001", "E124", "nothing"]),
    Says.CAPTION: st.sampled_from(["Leningrad", "at home"]),
}  # fmt: skip
PEOPLE = (Person("Inga", ("Mother",), "1908-05~", "1991"), Person("Odd", ("nobody",), "1967", "1911"))
SUBJECTS = st.sampled_from([ONE, TWO, THREE, "Regatta", "Easter"])


FACTS = {
    "E001": DatingFact(
        "E001",
        "process",
        "daguerreotype",
        "1839",
        "1842",
        "1856",
        "1860",
        "US",
        "high",
        "a guide",
        "no",
        "original",
    ),
    "E124": DatingFact(
        "E124",
        "border",
        "deckle edge",
        "1930",
        "1938",
        "1958",
        "1969",
        "US",
        "medium",
        "a guide",
        "no",
        "printing",
    ),
}
NAMES = (FormerName("Leningrad", "Saint Petersburg", "1924", "1991", False, "a gazetteer"),)


@st.composite
def statements(draw):
    says = draw(st.sampled_from(list(VALUES)))
    about = About.OCCASION if (subject := draw(SUBJECTS)) in ("Regatta", "Easter") else About.PRINT
    return said("", says, draw(VALUES[says]), subject=subject, about=about, sure=draw(st.sampled_from(list(Sure))))


@given(st.lists(statements(), max_size=14))
@settings(deadline=None)
def test_any_statements_give_evidence_that_a_network_takes(drawn) -> None:
    """Ids are unique, every thing is known, and the order is by rank: `Network.add` raises on the first two."""
    numbered = [
        said(f"s{number}", one.says, one.value, subject=one.subject, about=one.about, sure=one.sure)
        for number, one in enumerate(drawn)
    ]
    named = {name: person for person in PEOPLE for name in (person.name, *person.also_called)}
    found = evidence_of(PRINTS, numbered, named, facts=FACTS, former_names=NAMES)
    assert len({one.constraint.id for one in found}) == len(found)
    assert [one.rank for one in found] == sorted(one.rank for one in found)
    assert [one.soft for one in found] == sorted(one.soft for one in found)
    assert all(one.reason.sentence and one.about in (ONE, TWO, THREE) for one in found)
    network = Network(things_of(PRINTS, found))
    for one in found:
        network.add(one.constraint)


TODAY = day(2026, 11, 25)


def of_lifespans(person: Person):
    shown = said("s1", Says.PERSON, person.name)
    found = evidence_of(PRINTS, [shown], {person.name: person}, today=TODAY)
    return by_id(found).get("s1 lifespan")


def test_nobody_is_in_a_picture_more_than_110_years_after_birth() -> None:
    found = of_lifespans(Person("Anna Weber", born="1881-03-05"))
    assert found is not None
    assert found.soft
    assert (found.constraint.earliest, found.constraint.latest) == (None, day(1991, 3, 5))
    assert found.reason.sentence == (
        "Anna Weber was born 5 March 1881, and hardly anybody lives longer than 110 years"
    )


def test_nobody_is_in_a_picture_more_than_110_years_before_death() -> None:
    found = of_lifespans(Person("Anna Weber", died="1950"))
    assert found is not None
    assert (found.constraint.earliest, found.constraint.latest) == (day(1840, 1, 1), None)


@pytest.mark.parametrize(
    "person",
    [Person("A", born="1950"), Person("A", born="1881", died="1950"), Person("A"), Person("A", born="1930")],
)
def test_a_lifespan_tells_nothing_of_who_has_both_dates_or_may_be_living(person: Person) -> None:
    assert of_lifespans(person) is None


def test_without_today_lifespans_tell_nothing() -> None:
    found = evidence(said("s1", Says.PERSON, "A"), people=[Person("A", born="1801")])
    assert "s1 lifespan" not in by_id(found)
