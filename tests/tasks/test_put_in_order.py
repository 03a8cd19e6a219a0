"""Order by every kind of evidence: rolls, paper, rules of thumb that give way, and what is best asked next."""

from __future__ import annotations

import pytest
from attrs import evolve

from solander.core.dates import day, from_day
from solander.core.descriptions import DescribedPrint, PersonShown, When
from solander.core.people import Person
from solander.core.prints import Print, accession_number
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.put_in_order import Timeline, mend_words, people_by_name, timeline_of
from solander.tasks.worth_asking import worth_asking

BOX = [Print(accession_number("B1", number), "B1", number) for number in range(1, 7)]
ONE, TWO, THREE, FOUR, FIVE, SIX = (print_.accession for print_ in BOX)


def said(subject: str, says: Says, value: str, *, about: About = About.PRINT) -> Statement:
    ident = f"{subject} {says} {value}"
    return Statement(ident, about, subject, says, value, value, Sure.CERTAIN, "slips", "2026-11-25T09:00:00Z")


def line_of(*statements: Statement, people: dict[str, Person] | None = None) -> Timeline:
    return timeline_of(BOX, statements, people or {})


def guess_year(line: Timeline, accession: str) -> int:
    guess = next(placed.guess for placed in line.placed if placed.thing == accession)
    assert guess is not None
    return from_day(guess)[0]


def order(line: Timeline) -> list[str]:
    return [placed.thing for placed in line.placed]


def test_a_roll_carries_a_date_to_its_other_frames() -> None:
    roll = [said(one, Says.ROLL, "film 7") for one in (ONE, TWO, THREE)]
    frames = [said(one, Says.ORDER, number) for one, number in ((THREE, "1"), (ONE, "2"), (TWO, "3"))]
    line = line_of(*roll, *frames, said(ONE, Says.EXPOSURE, "1936-08"))
    assert order(line)[:3] == [THREE, ONE, TWO]
    assert {guess_year(line, one) for one in (ONE, TWO, THREE)} == {1936}
    first, last = line.solution.ranges[THREE]
    assert first is not None
    assert last is not None
    assert (day(1936, 1, 1) < first, last < day(1936, 9, 1)) == (True, True)


def test_a_print_that_nothing_is_known_of_comes_last_and_has_no_guess() -> None:
    alone = Print("C1-0001", "C1", 1)
    line = timeline_of([alone, *BOX], [said(ONE, Says.EXPOSURE, "1936")], {})
    assert line.placed[-1].thing == alone.accession
    assert line.placed[-1].guess is None
    assert all(placed.guess for placed in line.placed[:-1])


def test_a_rule_of_thumb_gives_way_to_a_date_without_a_question() -> None:
    """E124: a deckle edge from 1930 on (a thesis, partly from memory), so the rule is soft."""
    line = line_of(said(ONE, Says.EVIDENCE, "E124"), said(ONE, Says.EXPOSURE, "1980"))
    assert line.clashes == ()
    assert [clash.left_out.about for clash in line.overruled] == [ONE]
    assert guess_year(line, ONE) == 1980


def test_a_rule_of_thumb_dates_what_nothing_else_does() -> None:
    line = line_of(said(ONE, Says.EVIDENCE, "E124"))
    assert 1935 <= guess_year(line, ONE) <= 1960
    assert line.overruled == ()


def test_a_fact_with_a_sure_source_is_asked_about_when_a_date_contradicts_it() -> None:
    """E136: the first instant prints were sold in 1948 (RMIT student reference page)."""
    line = line_of(said(ONE, Says.EVIDENCE, "E136"), said(ONE, Says.EXPOSURE, "1931"))
    assert [clash.left_out.about for clash in line.clashes] == [ONE]
    assert line.overruled == ()


def test_undated_neighbours_lie_beside_the_dated_ones() -> None:
    dates = [said(ONE, Says.EXPOSURE, "1931-06"), said(SIX, Says.EXPOSURE, "1931-08")]
    line = line_of(*dates)
    assert {guess_year(line, print_.accession) for print_ in BOX} == {1931}


def guessed(subject: str, value: str) -> Statement:
    return evolve(said(subject, Says.EXPOSURE, value), sure=Sure.GUESS)


def test_one_claim_that_stands_against_several_is_told() -> None:
    """Three prints follow the one that is dated 1960, and each is guessed to be earlier."""
    numbers = [said(one, Says.ORDER, str(number)) for number, one in enumerate((ONE, TWO, THREE, FOUR), start=1)]
    guesses = [guessed(TWO, "1931"), guessed(THREE, "1932"), guessed(FOUR, "1933")]
    line = line_of(*numbers, said(ONE, Says.EXPOSURE, "1960"), *guesses)
    assert len(line.clashes) == 3
    told = list(mend_words(line))
    assert f"{ONE}: dated “1960”. Without this, 3 of the 3 would be settled." in told
    assert all(sentence.endswith("of the 3 would be settled.") for sentence in told)


def test_an_occasions_date_that_its_prints_contradict_is_told_once() -> None:
    members = (TWO, THREE, FOUR)
    date = said("Harvest", Says.EXPOSURE, "1960", about=About.OCCASION)
    own = [said(one, Says.EXPOSURE, "1950") for one in members]
    line = line_of(*(said(one, Says.OCCASION, "Harvest") for one in members), date, *own)
    assert len(line.clashes) == 3
    (told,) = mend_words(line)
    assert (
        told == "Belongs to “Harvest”, dated “1960”: said of 3 prints. Without this, 3 of the 3 would be settled."
    )


def test_a_birth_that_several_prints_contradict_is_told_once() -> None:
    ida = {"Ida": Person("Ida", (), "1950", "")}
    claims = [said(one, says, value) for one in (ONE, TWO) for says, value in (
        (Says.EXPOSURE, "1931"), (Says.PERSON, "Ida"))]  # fmt: skip
    line = line_of(*claims, people=ida)
    assert len(line.clashes) == 2
    (told,) = mend_words(line)
    assert told == "Ida was born 1950: said of 2 prints. Without this, 2 of the 2 would be settled."


def test_claims_that_settle_only_one_contradiction_are_not_told() -> None:
    born = {name: Person(name, (), "1950", "") for name in ("Ida", "Tom")}
    claims = [said(one, says, value) for one, name in ((ONE, "Ida"), (TWO, "Tom")) for says, value in (
        (Says.EXPOSURE, "1931"), (Says.PERSON, name))]  # fmt: skip
    line = line_of(*claims, people=born)
    assert len(line.clashes) == 2
    assert list(mend_words(line)) == []


def test_a_name_goes_before_what_others_are_called() -> None:
    anna, nan = Person("Anna", ("Nan", "Granny"), "1850", "1900"), Person("Nan", (), "1950")
    assert people_by_name([anna, nan]) == {"Anna": anna, "Nan": nan, "Granny": anna}


def test_what_two_people_are_called_leads_to_nobody() -> None:
    two = [Person("Anna", ("Nan",), "1850"), Person("Berta", ("Nan",), "1950")]
    assert "Nan" not in people_by_name(two)


def test_a_bare_name_gives_way_to_the_one_who_is_called_so() -> None:
    known = Person("Marie Lefaure", ("Mamie",), "1924-03-12", "2001")
    assert people_by_name([Person("Mamie"), known])["Mamie"] == known


# -- what is best asked next ---------------------------------------------------------------------------------


def described(line: Timeline, occasions: dict[str, str], **people: Person) -> list[DescribedPrint]:
    undated = When("", "", None, None, None, Sure.GUESS, False)
    by_accession = {print_.accession: print_ for print_ in BOX}
    shown = tuple(PersonShown(person, Sure.CERTAIN) for person in people.values())
    return [
        DescribedPrint(by_accession[one], number, undated, people=shown, occasion=occasions.get(one, ""))
        for number, one in enumerate(order(line), start=1)
    ]


def test_an_occasion_that_dates_many_is_asked_about_first() -> None:
    harvest = [said(one, Says.OCCASION, "Harvest") for one in (ONE, TWO, THREE, FOUR)]
    bounds = [said(print_.accession, Says.EXPOSURE, "[1931..1938]") for print_ in BOX]
    line = line_of(*harvest, *bounds)
    asked = worth_asking(line, described(line, {one.subject: "Harvest" for one in harvest}))
    assert asked[0].subject == "Harvest"
    assert asked[0].prints == 4
    # Eight years become one, for four prints.
    assert asked[0].gain_years == pytest.approx(4 * 7, abs=0.2)
    assert "“Harvest” (B1, prints 1 to 4)" in asked[0].sentence
    assert "1931 to 1938" in asked[0].sentence
    assert [each.subject for each in asked[1:]] == [FIVE, SIX], "the harvest's own prints are dated by then"


def test_a_question_helps_with_a_child_that_is_shown() -> None:
    line = line_of(said(ONE, Says.EXPOSURE, "[1931..1938]"))
    asked = worth_asking(line, described(line, {}, ida=Person("Ida Moor", (), "1930-02-03")))
    assert any("Ida Moor" in each.sentence for each in asked)
    assert all(len(each.sentence) <= 200 for each in asked)


def test_nothing_is_asked_when_every_year_is_known() -> None:
    line = line_of(*(said(print_.accession, Says.EXPOSURE, "1936") for print_ in BOX))
    assert worth_asking(line, described(line, {})) == []


def test_an_occasion_in_one_of_two_summers_is_asked_about_once() -> None:
    holiday = [said(one, Says.OCCASION, "Lake") for one in (ONE, TWO)]
    line = line_of(*holiday, said("Lake", Says.EXPOSURE, "[1958-22,1959-22]", about=About.OCCASION))
    asked = worth_asking(line, described(line, {one.subject: "Lake" for one in holiday}))
    assert asked[0].subject == "Lake"
    assert {ONE, TWO}.isdisjoint(each.subject for each in asked)
    assert asked[0].gain == "would date its 2 prints: 2 years less doubt in all"


def of_print(accession: str, prints: list[DescribedPrint], **known: object) -> list[DescribedPrint]:
    return [evolve(one, **known) if one.print.accession == accession else one for one in prints]


def test_a_print_of_which_nothing_is_known_is_asked_about_last() -> None:
    """It seems to gain most, for the whole era is open to it, but nobody can recognise anything by it."""
    line = line_of(said(ONE, Says.EXPOSURE, "[1931..1938]"))
    asked = worth_asking(line, of_print(ONE, described(line, {}), caption="The well"))
    assert asked[0].subject == ONE
    assert asked[0].gain_years < asked[1].gain_years
    assert "the undated picture in B1, number" in asked[1].sentence


def test_a_bare_print_whose_date_helps_others_is_asked_about_before_one_that_helps_none() -> None:
    numbers = [said(one, Says.ORDER, str(at)) for at, one in enumerate((ONE, TWO, THREE), start=1)]
    line = line_of(*numbers, said(ONE, Says.EXPOSURE, "1931"), said(THREE, Says.EXPOSURE, "1960"))
    asked = worth_asking(line, described(line, {}))
    assert asked[0].subject == TWO


def asked_about(accession: str, line: Timeline, prints: list[DescribedPrint]) -> str:
    (sentence,) = (each.sentence for each in worth_asking(line, prints) if each.subject == accession)
    return sentence


def others_dated(*but: str) -> list[Statement]:
    return [said(one.accession, Says.EXPOSURE, "1936") for one in BOX if one.accession not in but]


@pytest.mark.parametrize("named", ["Ida Moor", "Idchen"])
def test_an_age_that_the_slip_tells_is_not_asked(named: str) -> None:
    line = line_of(said(ONE, Says.EXPOSURE, "[1931..1938]"), *others_dated(ONE))
    ida, otto = Person("Ida Moor", ("Idchen",), "1930-02-03"), Person("Otto Moor", (), "1928")
    prints = of_print(
        ONE, described(line, {}, ida=ida, otto=otto), statements=(said(ONE, Says.AGE, f"{named}|3..5"),)
    )
    sentence = asked_about(ONE, line, prints)
    assert "Was Otto Moor nearer 2 or 10 then?" in sentence


def test_years_of_a_rule_of_thumb_are_asked_as_probable() -> None:
    line = line_of(said(ONE, Says.EXPOSURE, "[1931..1938]"), *others_dated(ONE))
    probable = When("1931/1938", "", "1931-01-01", "1938-12-31", None, Sure.GUESS, False)
    certain = evolve(probable, sure=Sure.LIKELY)
    for when, years in (
        (probable, "It was probably between 1931 and 1938."),
        (certain, "It may be any year from 1931 to 1938."),
    ):
        prints = of_print(ONE, described(line, {}), when=when)
        sentence = asked_about(ONE, line, prints)
        assert years in sentence


def dated_occasions(line: Timeline, years: dict[str, str]) -> list[DescribedPrint]:
    """Prints of one occasion each, dated to the year by what is said of it."""
    prints = described(line, {})
    for accession, year in years.items():
        when = When(year, year, f"{year}-01-01", f"{year}-12-31", None, Sure.CERTAIN, True)
        prints = of_print(accession, prints, when=when, occasion=f"Feast of {year}")
    return prints


def test_one_event_is_remembered_by_in_two_questions_at_most() -> None:
    open_ones = [said(one, Says.EXPOSURE, "[1931..1949]") for one in (THREE, FOUR, FIVE, SIX)]
    line = line_of(said(ONE, Says.EXPOSURE, "1940"), said(TWO, Says.EXPOSURE, "1944"), *open_ones)
    asked = worth_asking(line, dated_occasions(line, {ONE: "1940", TWO: "1944"}))
    sentences = " ".join(each.sentence for each in asked)
    assert {each.subject for each in asked} == {THREE, FOUR, FIVE, SIX}
    assert sentences.count("before or after “Feast of 1940”?") == 2
    assert sentences.count("before or after “Feast of 1944”?") == 2


def test_the_event_of_the_same_people_is_remembered_by_first() -> None:
    line = line_of(said(ONE, Says.EXPOSURE, "1940"), said(TWO, Says.EXPOSURE, "1947"),
                   said(THREE, Says.EXPOSURE, "[1931..1949]"))  # fmt: skip
    shown = (PersonShown(Person("Otto"), Sure.CERTAIN),)
    prints = [evolve(one, print=evolve(one.print, container=None)) for one in
              dated_occasions(line, {ONE: "1940", TWO: "1947"})]  # fmt: skip
    for one in (TWO, THREE):
        prints = of_print(one, prints, people=shown)
    sentence = asked_about(THREE, line, prints)
    assert "before or after “Feast of 1947”?" in sentence


def test_a_neighbour_names_a_picture_only_where_it_shows_somebody_or_an_occasion() -> None:
    line = line_of(said(ONE, Says.EXPOSURE, "[1931..1938]"), *others_dated(ONE, TWO))
    farm = of_print(ONE, described(line, {}), caption="Unknown farm")
    with_otto = of_print(ONE, farm, people=(PersonShown(Person("Otto"), Sure.CERTAIN),))
    for prints, picture in (
        (farm, f"the undated picture in B1, number 2 ({TWO}) was"),
        (with_otto, f"the undated picture that lies after “Unknown farm” ({TWO}) was"),
    ):
        sentence = asked_about(TWO, line, prints)
        assert picture in sentence
