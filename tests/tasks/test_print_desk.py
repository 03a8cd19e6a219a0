"""One print: what is typed is understood before it is kept, stands beside other views, and can be taken back."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from print_box import DATED, FIRST, desk_of, print_collection, typed

from solander.authorities.dating import dating_facts
from solander.authorities.dating_seen import seen_of_facts
from solander.core.dates import Bounds
from solander.core.errors import InvalidValue, NotFound, Trouble
from solander.core.questions import Asks
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.collection import Collection
from solander.tasks.line_of_one import line_of_one
from solander.tasks.print_desk import PrintDesk
from solander.tasks.seen_on_print import days_of_fact
from solander.tasks.typed import Field

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def filled(tmp_path_factory) -> Path:
    """The collection as all tests find it; each works on a copy of its own."""
    root = tmp_path_factory.mktemp("filled") / "box"
    print_collection(root).close()
    return root


@pytest.fixture
def desk(filled, tmp_path, monkeypatch) -> Iterator[PrintDesk]:
    monkeypatch.setenv("SOLANDER_GAZETTEER", str(tmp_path / "none.db"))
    with Collection.open(shutil.copytree(filled, tmp_path / "box")) as collection:
        yield desk_of(collection)


def said(desk: PrintDesk, accession: str = FIRST, says: Says | None = None) -> list[Statement]:
    there = desk.shown.collection.catalogue.statements(subject=accession)
    return [one for one in there if says in (None, one.says)]


def changes(desk: PrintDesk) -> int:
    return desk.shown.collection.catalogue.last_change()


# -- dates ------------------------------------------------


def test_looking_writes_nothing(desk):
    before = changes(desk)
    for field, words in ((Field.DATE, "summer 58"), (Field.PEOPLE, "Nan + a stranger"), (Field.PLACE, "Nowhere")):
        assert desk.look(typed(field, words)).meant.lines
    assert changes(desk) == before


def test_summer_58_is_understood_on_the_rule_before_it_is_kept(desk):
    # ISO 8601-2:2019, 4.8 gives summer the code 22; which months it has is ours (design.md: June to August).
    looked = desk.look(typed(Field.DATE, "summer 58"))
    assert looked.meant.edtf == "1958-22"
    assert [(line.words, line.sure) for line in looked.meant.lines] == [("Summer 1958", Sure.CERTAIN)]
    desk.say(typed(Field.DATE, "summer 58"))
    told = desk.told(FIRST)
    assert told.at == Bounds(date(1958, 6, 1).toordinal(), date(1958, 8, 31).toordinal())
    assert told.described.when.edtf == "1958-22"


def test_between_whitsun_1936_and_the_war_is_kept_with_both_ends(desk):
    # Whit Sunday 1936 was on 31 May (Easter 12 April 1936, tables of the Book of Common Prayer, + 49 days).
    desk.say(typed(Field.DATE, "between Whitsun 1936 and the war", by="Aunt Vera"))
    (one,) = said(desk)
    assert (one.words, one.source, one.sure) == ("between Whitsun 1936 and the war", "Aunt Vera", Sure.LIKELY)
    assert desk.told(FIRST).at.earliest == date(1936, 5, 31).toordinal()


def test_what_is_no_date_yet_is_kept_as_written_and_asked_about(desk):
    desk.say(typed(Field.DATE, "when we were happy"))
    assert [(one.says, one.value, one.words) for one in said(desk)] == [
        (Says.UNREAD_DATE, "", "when we were happy")
    ]
    assert [one.asks for one in desk.shown.collection.catalogue.questions()] == [Asks.WORDS]
    desk.say(typed(Field.DATE, "1958"))
    assert not desk.shown.collection.catalogue.questions()


def test_two_meanings_are_offered_and_the_chosen_one_is_certain(desk):
    # Written day first in Europe, month first in the United States (Unicode CLDR, short dates of en-GB and en-US).
    first = desk.look(typed(Field.DATE, "3/7/1948")).meant
    (choice,) = first.choices
    assert {"1948-07-03", "1948-03-07"} < {option.value for option in choice.options}
    assert first.edtf == "[1948-03-07,1948-07-03]"
    desk.say(typed(Field.DATE, "3/7/1948", chosen={"means-0": "1948-03-07"}))
    assert [(one.value, one.sure) for one in said(desk)] == [("1948-03-07", Sure.CERTAIN)]
    assert not desk.shown.collection.catalogue.questions()


def test_one_of_two_wars_is_asked_about_and_likely_at_most(desk):
    looked = desk.look(typed(Field.DATE, "in the war")).meant
    assert looked.lines[0].sure is Sure.LIKELY
    assert [kind for kind, _ in looked.asks] == [Asks.WORDS]
    assert desk.look(typed(Field.DATE, "in the war", chosen={"means-0": looked.edtf})).meant.asks == ()


def test_a_date_of_the_paper_bounds_the_picture_from_above_only(desk):
    # A picture is taken before it is printed; it can't be otherwise.
    desk.say(typed(Field.DATE, "1962", of_paper=True))
    assert desk.told(FIRST).at == Bounds(None, date(1962, 12, 31).toordinal())


def test_nothing_typed_keeps_nothing(desk):
    before = changes(desk)
    with pytest.raises(InvalidValue):
        desk.say(typed(Field.DATE, "  "))
    assert changes(desk) == before


# -- beside, never over ------------------------------------------------


def test_views_of_others_stay_side_by_side(desk):
    desk.say(typed(Field.DATE, "1958", by="Aunt Vera", sure=Sure.LIKELY))
    desk.say(typed(Field.DATE, "1960", by="Uncle Joe"))
    desk.say(typed(Field.DATE, "not before 1950"))
    views = desk.told(FIRST).voices[Field.DATE]
    assert [(one.source, one.said, one.believed) for one in views] == [
        ("Aunt Vera", "1958", False),
        ("Uncle Joe", "1960", True),
        ("archivist", "not before 1950", True),
    ]
    assert "1960" in views[0].why_not


def test_somebody_who_changes_their_mind_has_one_view_unless_both_are_kept(desk):
    desk.say(typed(Field.DATE, "1958", by="Aunt Vera"))
    looked = desk.look(typed(Field.DATE, "1959", by="Aunt Vera"))
    assert [one.words for one in looked.instead] == ["1958"]
    done = desk.say(typed(Field.DATE, "1959", by="Aunt Vera"))
    assert [one.words for one in said(desk)] == ["1959"]
    withdrawn = desk.shown.collection.catalogue.statements(subject=FIRST, withdrawn=True)
    assert [one.words for one in withdrawn] == ["1958", "1959"]
    desk.sitting.undo(done.act)
    assert [one.words for one in said(desk)] == ["1958"]
    desk.say(typed(Field.DATE, "1959", by="Aunt Vera"), instead=False)
    assert [one.words for one in said(desk)] == ["1958", "1959"]


def test_saying_the_same_again_changes_nothing(desk):
    desk.say(typed(Field.DATE, "1958", by="Aunt Vera"))
    before = changes(desk)
    assert desk.look(typed(Field.DATE, "1958", by="Aunt Vera")).nothing_new
    assert desk.say(typed(Field.DATE, "1958", by="Aunt Vera")).act is None
    assert changes(desk) == before


def test_the_same_words_with_another_sureness_are_a_new_view(desk):
    desk.say(typed(Field.DATE, "1958", by="Aunt Vera"))
    desk.say(typed(Field.DATE, "1958", by="Aunt Vera", sure=Sure.GUESS))
    assert [(one.words, one.sure) for one in said(desk)] == [("1958", Sure.GUESS)]


def test_who_was_named_before_is_offered_the_newest_first_without_files_and_oneself(desk):
    desk.say(typed(Field.NOTE, "a", by="Aunt Vera"))
    desk.say(typed(Field.NOTE, "b", by="Uncle Joe"))
    desk.say(typed(Field.NOTE, "c"))
    assert desk.named_before() == ["Uncle Joe", "Aunt Vera"]


def test_not_so_any_more_withdraws_and_can_be_undone(desk):
    desk.say(typed(Field.PEOPLE, "Ingrid Sollihøgda (31)"))
    assert [one.says for one in said(desk)] == [Says.PERSON, Says.AGE]
    done = desk.take_back(FIRST, said(desk)[0].id)
    assert said(desk) == []
    desk.sitting.undo(done.act)
    assert [one.says for one in said(desk)] == [Says.PERSON, Says.AGE]


def test_what_is_said_of_another_print_is_not_taken_back_here(desk):
    with pytest.raises(NotFound):
        desk.take_back(FIRST, "slip")
    assert said(desk, DATED)


def test_what_was_not_done_here_is_not_undone_here(desk):
    with pytest.raises(Trouble):
        desk.sitting.undo(1)


# -- people ------------------------------------------------


def test_people_typed_together_are_parted_with_their_ages_then(desk):
    looked = desk.look(typed(Field.PEOPLE, "Nan + Uncle Joe", DATED))
    # Ingrid was born on 2 April 1927: 24 or 25 in 1952. Joseph in 1905: 46 or 47.
    assert [line.words for line in looked.meant.lines] == [
        "Ingrid Sollihøgda (24 or 25)",
        "Joseph Weber (46 or 47)",
    ]
    desk.say(typed(Field.PEOPLE, "Nan + Uncle Joe", DATED))
    assert [one.value for one in said(desk, DATED, Says.PERSON)] == ["Ingrid Sollihøgda", "Joseph Weber"]
    assert [one.words for one in said(desk, DATED, Says.PERSON)] == ["Nan", "Uncle Joe"]


def test_nobody_is_made_of_a_neighbour_and_a_new_name_is_taken_as_typed(desk):
    before = set(desk.shown.collection.catalogue.headings())
    desk.say(typed(Field.PEOPLE, "Nan, Tom Brown and a neighbour"))
    assert [one.value for one in said(desk)] == ["Ingrid Sollihøgda", "Tom Brown", "a neighbour"]
    assert set(desk.shown.collection.catalogue.headings()) - before == {"Tom Brown"}


def test_a_name_of_two_is_asked_unless_one_is_chosen(desk):
    looked = desk.look(typed(Field.PEOPLE, "Anna Weber"))
    (choice,) = looked.meant.choices
    assert choice.taken == ""
    assert {"Anna Weber, 1881–1950", "Anna Weber, 1884–1960", "new"} <= {option.value for option in choice.options}
    before = set(desk.shown.collection.catalogue.headings())
    desk.say(typed(Field.PEOPLE, "Anna Weber"))
    assert [one.asks for one in desk.shown.collection.catalogue.questions()] == [Asks.WHO]
    assert set(desk.shown.collection.catalogue.headings()) == before
    desk.say(typed(Field.PEOPLE, "Anna Weber", DATED, chosen={"means-0": "Anna Weber, 1884–1960"}))
    assert [one.value for one in said(desk, DATED, Says.PERSON)] == ["Anna Weber, 1884–1960"]


def test_who_had_died_by_then_is_no_clear_choice(desk):
    # One Anna Weber died in 1950: in a print of 1952 only the other can be.
    (line,) = desk.look(typed(Field.PEOPLE, "Anna Weber", DATED)).meant.lines
    assert line.words.startswith("Anna Weber, 1884–1960")


# -- place, occasion, words ------------------------------------------------


def test_own_places_come_first_and_new_ones_are_entered(desk):
    own = desk.look(typed(Field.PLACE, "the boathouse")).meant
    assert (own.place.radius_m, own.is_new_place) == (30.0, False)
    desk.say(typed(Field.PLACE, "The far farm?"))
    assert [(one.value, one.sure) for one in said(desk)] == [("The far farm", Sure.GUESS)]
    assert "The far farm" in {place.name for place in desk.shown.collection.catalogue.places()}


def test_an_occasion_brings_its_date_along(desk):
    catalogue = desk.shown.collection.catalogue
    with catalogue.act("test", "dated the outing") as act, act.work() as work:
        outing = Statement(
            "o", About.OCCASION, "Whitsun outing", Says.EXPOSURE, "1958-05", "May 58", Sure.CERTAIN, "", "2026"
        )
        work.state(outing)
        work.commit()
    assert desk.look(typed(Field.OCCASION, "whitsun outing")).meant.lines[0].why == "May 1958"
    desk.say(typed(Field.OCCASION, "whitsun outing"))
    told = desk.told(FIRST)
    assert told.described.occasion == "Whitsun outing"
    assert told.described.when.edtf == "1958-05"
    assert [one.occasion for one in told.voices[Field.DATE] if one.occasion] == ["Whitsun outing"]


def test_a_date_in_the_writing_on_the_back_is_asked_about_and_not_taken(desk):
    desk.say(typed(Field.TRANSCRIPTION, "Bergen, 12 August 1958"))
    assert [one.says for one in said(desk)] == [Says.TRANSCRIPTION]
    (question,) = desk.shown.collection.catalogue.questions()
    assert (question.asks, "12 August 1958" in question.sentence) == (Asks.INSCRIPTION, True)


# -- evidence ------------------------------------------------


def test_what_is_seen_is_understood_by_its_words(desk):
    desk.say(typed(Field.EVIDENCE, "cabinet card; deckle edge"))
    assert [one.value for one in said(desk)] == ["E028", "E124"]


def test_words_for_no_fact_are_not_kept_and_near_ones_offered(desk):
    looked = desk.look(typed(Field.EVIDENCE, "dekle edge"))
    assert looked.meant.claims == ()
    assert "E124" in {option.value for option in looked.meant.choices[0].options}
    with pytest.raises(InvalidValue):
        desk.say(typed(Field.EVIDENCE, "dekle edge"))
    desk.say(typed(Field.EVIDENCE, "dekle edge", chosen={"means-0": "E124"}))
    assert [one.value for one in said(desk)] == ["E124"]


def test_a_flag_of_50_stars_and_1952_cannot_both_be_true_and_that_is_said_before(desk):
    # The flag of 50 stars flies since 4 July 1960 (Executive Order 10834 of 21 August 1959).
    against = desk.look(typed(Field.EVIDENCE, "50-star US flag", DATED)).against
    assert "1952" in against
    desk.say(typed(Field.EVIDENCE, "50-star US flag", DATED))
    (clash,) = desk.told(DATED).clashes
    assert [ident for _, _, ident in clash.reasons if ident] == ["slip", said(desk, DATED, Says.EVIDENCE)[0].id]
    desk.take_back(DATED, "slip")
    assert desk.told(DATED).clashes == ()
    assert desk.told(DATED).at.earliest == date(1960, 1, 1).toordinal()


def test_every_fact_has_a_place_to_look_and_words_for_the_eye():
    assert seen_of_facts().keys() == dating_facts().keys()
    assert all(one.looks and len(one.looks) <= 90 for one in seen_of_facts().values())


def test_facts_that_cannot_be_are_those_that_the_solver_refuses(desk):
    """What the list says of each fact against what comes out when it is entered."""
    desk.say(typed(Field.DATE, "between 1900 and 1912"))
    collection = desk.shown.collection
    told = {one.fact.id: one for where in desk.facts(FIRST) for one in where.facts}
    assert len(told) == len(dating_facts())
    refused = set()
    for ident in list(told)[::5]:
        seen = Statement("new", About.PRINT, FIRST, Says.EVIDENCE, ident, "", Sure.CERTAIN, "archivist", "2026")
        line = line_of_one(collection, FIRST, [seen])
        clashes = (*line.clashes, *line.overruled)
        if any(clash.left_out.constraint.id.split()[0] == "new" for clash in clashes):
            refused.add(ident)
        assert bool(told[ident].against) == (ident in refused), ident
    assert 3 < len(refused) < 30


def test_chosen_facts_become_evidence_of_whoever_says_so(desk):
    done = desk.say_facts(typed(Field.EVIDENCE, "", by="Aunt Vera", sure=Sure.LIKELY), ["E141", "E124"])
    assert [(one.value, one.source, one.sure) for one in said(desk)] == [
        ("E141", "Aunt Vera", Sure.LIKELY),
        ("E124", "Aunt Vera", Sure.LIKELY),
    ]
    desk.sitting.undo(done.act)
    assert said(desk) == []
    with pytest.raises(InvalidValue):
        desk.say_facts(typed(Field.EVIDENCE, ""), ["E999"])
    with pytest.raises(InvalidValue):
        desk.say_facts(typed(Field.EVIDENCE, ""), [])


def test_days_of_a_fact_allow_for_old_stock():
    # Resin-coated colour paper was sold in North America from 1968 (Graphics Atlas, Image Permanence Institute).
    assert days_of_fact("E015") == (date(1968, 1, 1).toordinal(), None)
    # VELOX with diamonds, 1907 to 1914, and two years of old stock and two of lag (see core.evidence.paper).
    first, last = days_of_fact("E103")
    assert date.fromordinal(first).year == 1907
    assert date.fromordinal(last).year in (1916, 1917, 1918)


# -- beside each other in time ------------------------------------------------


def test_the_prints_beside_are_those_next_in_time(desk):
    desk.say(typed(Field.DATE, "1940", FIRST))
    desk.say(typed(Field.DATE, "1990", "B1-0003"))
    told = desk.told(DATED)
    assert (told.before.print.accession, told.after.print.accession) == (FIRST, "B1-0003")
    assert told.total == 3


def test_a_number_that_is_not_there_says_so(desk):
    with pytest.raises(NotFound):
        desk.told("B9-0001")
    with pytest.raises(NotFound):
        desk.say(typed(Field.NOTE, "x", "B9-0001"))


def test_a_print_lies_in_one_occasion_at_a_time_and_a_note_is_put_right(desk):
    desk.say(typed(Field.OCCASION, "Regatta", by="Aunt Vera"))
    desk.say(typed(Field.OCCASION, "Whitsun outing"))
    desk.say(typed(Field.NOTE, "the red boot"))
    desk.say(typed(Field.NOTE, "the red boat"))
    assert [one.words for one in said(desk)] == ["Whitsun outing", "the red boat"]


def test_what_other_prints_tell_is_said_before_a_date_is_kept(desk):
    """Prints of one roll are exposed one after another: the second lies between the first and the third."""
    catalogue = desk.shown.collection.catalogue
    with catalogue.act("test", "numbered a roll") as act, act.work() as work:
        for number in (1, 2, 3):
            about = (About.PRINT, f"B1-000{number}")
            work.state(Statement(f"r{number}", *about, Says.ROLL, "roll 1", "roll 1", Sure.CERTAIN, "", "2026"))
            work.state(Statement(f"n{number}", *about, Says.ORDER, str(number), "", Sure.CERTAIN, "", "2026"))
        work.commit()
    desk.say(typed(Field.DATE, "1952", "B1-0003"))
    assert "1952" in desk.look(typed(Field.DATE, "1958", FIRST)).against
    assert desk.look(typed(Field.DATE, "1952", FIRST)).against == ""
