"""People found by what is said: a family of our own and what families say, by hand and from memory."""

from __future__ import annotations

import pytest

from solander.authorities.naming import Finder, Seen, find_people, read_people, split_people, understood
from solander.core.dates import parse_edtf
from solander.core.kin import Family, How, Kin
from solander.core.people import Name, NameKind, Person


def who(name, born="", died="", sex="", called=(), *names):
    return Person(name, also_called=called, born=born, died=died, sex=sex, names=names)


def named(text, surname, kind=NameKind.BIRTH):
    return Name(text, kind, surname)


PEOPLE = [
    who("Anna Weber, 1950–", "1950-04-02", "", "female"),
    who("Anna Weber, 1881–1950", "1881", "1950", "female", (), named("Anna Brandt", "Brandt"),
        named("Anna Weber", "Weber", NameKind.MARRIED)),
    who("Joseph Weber", "1920-06-01", "1980", "male"),
    who("Karl Weber", "1918", "1990", "male", ("Kalle",)),
    who("Heinrich Weber", "1878", "1949", "male"),
    who("Ingrid Holm", "1921-12-09", "2001", "female", ("Nan",)),
    who("Vera Holm", "1925", "2010", "female"),
    who("Sven Holm", "1892", "1960", "male"),
    who("Greta Holm", "1895", "1970", "female", (), named("Greta Øst", "Øst"),
        named("Greta Holm", "Holm", NameKind.MARRIED)),
    who("Margarete Lindqvist", "1924", "", "female"),
    who("Thomas Weber", "1953-01-30", "", "male"),
    who("Ruth Weber", "1947-05-05", "", "female"),
    who("Paul Weber", "1947-05-05", "", "male"),
    who("Иван Петров", "1900", "1970", "male"),
    who("Łukasz Kowalski", "1912", "1990", "male"),
    who("Hans Müller", "1919", "1944", "male"),
    who("Elizabeth Turnbull", "1919", "1999", "female", ("Auntie Bet",)),
    who("Giuseppe Conti", "1915", "1985", "male"),
    who("María Jiménez", "1922", "1998", "female"),
    who("Jean-Pierre Lefèvre", "1930", "2005", "male"),
]  # fmt: skip


def parent(one, *children):
    return [Kin(one, How.PARENT, child) for child in children]


KIN = [
    *parent("Karl Weber", "Anna Weber, 1950–", "Thomas Weber"),
    *parent("Ingrid Holm", "Anna Weber, 1950–", "Thomas Weber"),
    *parent("Heinrich Weber", "Karl Weber", "Joseph Weber"),
    *parent("Anna Weber, 1881–1950", "Karl Weber", "Joseph Weber"),
    *parent("Sven Holm", "Ingrid Holm", "Vera Holm"),
    *parent("Greta Holm", "Ingrid Holm", "Vera Holm"),
    *parent("Joseph Weber", "Ruth Weber", "Paul Weber"),
    *parent("Margarete Lindqvist", "Ruth Weber", "Paul Weber"),
    Kin.partners("Karl Weber", "Ingrid Holm"),
    Kin.partners("Heinrich Weber", "Anna Weber, 1881–1950"),
    Kin.partners("Sven Holm", "Greta Holm"),
    Kin.partners("Joseph Weber", "Margarete Lindqvist"),
    Kin.partners("Vera Holm", "Giuseppe Conti"),
]
ANNA = "Anna Weber, 1950–"
FINDER = Finder(PEOPLE, Family(KIN))
IN_1958 = Seen(ANNA, parse_edtf("1958").bounds())

SAID = [
    ("Uncle Joe", "Joseph Weber"),
    ("Joe", "Joseph Weber"),
    ("Onkel Sepp", "Joseph Weber"),
    ("J. Weber", "Joseph Weber"),
    ("Nan", "Ingrid Holm"),
    ("Kalle", "Karl Weber"),
    ("Kalle Weber", "Karl Weber"),
    ("Carl Weber", "Karl Weber"),
    ("my father", "Karl Weber"),
    ("mein Vater", "Karl Weber"),
    ("Papa", "Karl Weber"),
    ("mon père", "Karl Weber"),
    ("mi madre", "Ingrid Holm"),
    ("Mum", "Ingrid Holm"),
    ("my brother", "Thomas Weber"),
    ("Tommy", "Thomas Weber"),
    ("Nan's sister", "Vera Holm"),
    ("Aunt Vera", "Vera Holm"),
    ("Tante Vera", "Vera Holm"),
    ("Vera Conti", "Vera Holm"),
    ("Mrs Conti", "Vera Holm"),
    ("Signora Conti", "Vera Holm"),
    ("Vera's husband", "Giuseppe Conti"),
    ("Beppe Conti", "Giuseppe Conti"),
    ("Joe Conti", "Giuseppe Conti"),
    ("Joe's wife", "Margarete Lindqvist"),
    ("Mrs Joseph Weber", "Margarete Lindqvist"),
    ("Peggy Lindqvist", "Margarete Lindqvist"),
    ("Grete Lindquist", "Margarete Lindqvist"),
    ("Margaret Weber", "Margarete Lindqvist"),
    ("Frau Weber geb. Holm", "Ingrid Holm"),
    ("Ingrid Weber née Holm", "Ingrid Holm"),
    ("Inga Weber", "Ingrid Holm"),
    ("Ingrid (Holm)", "Ingrid Holm"),
    ("Greta Oest", "Greta Holm"),
    ("Greta Öst", "Greta Holm"),
    ("Greta née Øst", "Greta Holm"),
    ("Nan's mother", "Greta Holm"),
    ("la mère de Nan", "Greta Holm"),
    ("Omas Mutter", None),  # Nan and Anna's two grandmothers are all called so: anybody's guess
    ("my mother's father", "Sven Holm"),
    ("der Vater von Nan", "Sven Holm"),
    ("Opa Sven", "Sven Holm"),
    ("Ivan Petrov", "Иван Петров"),
    ("Iwan Petrow", "Иван Петров"),
    ("Vanya Petrov", "Иван Петров"),
    ("Lukasz Kowalski", "Łukasz Kowalski"),
    ("Hans Mueller", "Hans Müller"),
    ("Hans Muller", "Hans Müller"),
    ("Hannes Müller", "Hans Müller"),
    ("Auntie Bet", "Elizabeth Turnbull"),
    ("Betty Turnbull", "Elizabeth Turnbull"),
    ("Lizzie Turnbul", "Elizabeth Turnbull"),
    ("Mrs Turnbull", "Elizabeth Turnbull"),
    ("Dr. Turnbull", "Elizabeth Turnbull"),
    ("Maria Jimenez", "María Jiménez"),
    ("Maruja Jiménez", "María Jiménez"),
    ("Jean Pierre Lefevre", "Jean-Pierre Lefèvre"),
    ("J.-P. Lefèvre", "Jean-Pierre Lefèvre"),
    ("Anna Weber", ANNA),  # the other one was dead
    ("Weber, Anna", ANNA),
    ("the old Anna Weber née Brandt", None),
    ("Ruth", "Ruth Weber"),
    ("my cousin Ruth", "Ruth Weber"),
    ("Joseph Weber's son", "Paul Weber"),
    ("la fille de Joseph Weber", "Ruth Weber"),
    ("die Tochter von Onkel Joe", "Ruth Weber"),
    ("Uncle Joe's daughter", "Ruth Weber"),
    ("mein Cousin", "Paul Weber"),
    ("Vera Holmm", "Vera Holm"),
    ("Karl Webber", "Karl Weber"),
    ("Giusepe Conty", "Giuseppe Conti"),
]


def test_two_whole_names_with_a_comma_between_them_are_two_people():
    told = read_people(FINDER, "Vera Holm, Karl Weber", IN_1958)
    assert [mention.candidates[0].person.name for mention in told] == ["Vera Holm", "Karl Weber"]


@pytest.mark.parametrize(("said", "meant"), [each for each in SAID if each[1]])
def test_what_families_say(said, meant):
    if "," in said:
        (mention,) = read_people(FINDER, said, IN_1958)
        candidates = mention.candidates
    else:
        candidates = FINDER.find(said, IN_1958)
    assert candidates[0].person.name == meant, [(each.person.name, each.fit) for each in candidates]


def test_nobody_is_chosen_where_two_fit_alike():
    grandmothers = FINDER.find("Oma", Seen(ANNA))
    assert {each.person.name for each in grandmothers[:2]} == {"Greta Holm", "Anna Weber, 1881–1950"}
    assert understood(FINDER.find("Mrs Weber", IN_1958)) is None
    assert understood(FINDER.find("Weber", IN_1958)) is None


def test_a_word_for_a_relative_is_nobodys_misspelt_name():
    assert FINDER.find("Oma") == ()
    assert "Thomas Weber" not in {each.person.name for each in FINDER.find("Oma", IN_1958)}


def test_who_is_alone_in_fitting_is_understood():
    assert understood(FINDER.find("Uncle Joe", IN_1958)).person.name == "Joseph Weber"
    assert understood(FINDER.find("J. Weber", IN_1958)).person.name == "Joseph Weber"


def test_a_doubtful_spelling_is_asked_about():
    candidates = FINDER.find("Jesop Wibor", IN_1958)
    assert understood(candidates) is None


def test_reasons_are_told_in_words():
    first = FINDER.find("Uncle Joe", IN_1958)[0]
    assert first.reasons == (
        "uncle of Anna Weber, 1950–",
        "Joe and Joseph are forms of one name",
        "was 37 or 38 then",
    )
    assert "was born Holm" in FINDER.find("Frau Weber geb. Holm", IN_1958)[0].reasons


def test_who_lived_then_comes_first():
    early = FINDER.find("Anna Weber", Seen(None, parse_edtf("1920").bounds()))
    assert [each.person.name for each in early[:2]] == ["Anna Weber, 1881–1950", ANNA]
    assert early[1].reasons[-1] == "was born only 2 April 1950"
    late = FINDER.find("Anna Weber", Seen(None, parse_edtf("1958").bounds()))
    assert late[0].person.name == ANNA
    dead = next(each for each in late if each.person.name == "Anna Weber, 1881–1950")
    assert dead.not_then
    assert dead.reasons[-1] == "had died 1950"
    assert understood(FINDER.find("Anna Weber")) is None


def test_a_title_is_no_possessive():
    people = [Person("Jaione Conde", sex="female"), Person("José Marí", sex="male")]
    found = find_people(
        "Mrs Marí née Conde", people=people, family=Family([Kin.partners("Jaione Conde", "José Marí")])
    )
    assert found[0].person.name == "Jaione Conde"


def test_an_initial_in_another_script():
    people = [Person("Жанна Бирюкова", sex="female"), Person("Анна Бирюкова", sex="female")]
    assert find_people("Ж. Бирюкова", people=people, family=Family([]))[0].person.name == "Жанна Бирюкова"


def test_the_same_accents_come_first_but_are_asked_about():
    people = [Person("Irene Karlsson"), Person("Iréne Karlsson")]
    found = find_people("Iréne Karlsson", people=people, family=Family([]))
    assert [each.person.name for each in found] == ["Iréne Karlsson", "Irene Karlsson"]
    assert understood(found) is None


def test_an_age_tells_two_apart():
    by_age = Seen(None, parse_edtf("1950").bounds())
    told = read_people(FINDER, "Anna Weber (69)", by_age)[0]
    assert told.candidates[0].person.name == "Anna Weber, 1881–1950"
    assert told.name == "Anna Weber"
    assert told.told.age.youngest == 69


def test_several_in_one_breath():
    told = read_people(FINDER, "Nan + Uncle Joe", IN_1958)
    assert [each.understood.person.name for each in told] == ["Ingrid Holm", "Joseph Weber"]
    told = read_people(FINDER, "Nan, Joe and the twins", IN_1958)
    assert [each.said for each in told] == ["Nan", "Joe", "the twins"]
    assert {one.name for one in told[2].understood.everybody} == {"Ruth Weber", "Paul Weber"}


def test_her_brother_is_the_brother_of_who_was_named_before():
    told = read_people(FINDER, "Vera, her sister and her husband", IN_1958)
    assert told[1].understood.person.name == "Ingrid Holm"
    told = read_people(FINDER, "Joe and his brother", IN_1958)
    assert told[1].understood.person.name == "Karl Weber"


def test_a_family_name_is_lent():
    told = read_people(FINDER, "Ruth and Paul Weber", IN_1958)
    assert [each.understood.person.name for each in told] == ["Ruth Weber", "Paul Weber"]


def test_parents_are_two():
    (both,) = read_people(FINDER, "my parents", IN_1958)
    assert {one.name for one in both.understood.everybody} == {"Karl Weber", "Ingrid Holm"}


@pytest.mark.parametrize(
    ("phrase", "parts"),
    [
        ("Nan + Uncle Joe", ["Nan", "Uncle Joe"]),
        ("Anna (6), baby Tom", ["Anna (6)", "baby Tom"]),
        ("Anna (6, left), Tom", ["Anna (6, left)", "Tom"]),
        ("Mr and Mrs Weber", ["Mr Weber", "Mrs Weber"]),
        ("Herr und Frau Karl Weber", ["Herr Karl Weber", "Frau Karl Weber"]),
        ("von links nach rechts: Oma, Opa und Tante Vera", ["Oma", "Opa", "Tante Vera"]),
        ("Santiago Ramón y Cajal", ["Santiago Ramón y Cajal"]),
        ("Pepe y Carmen García", ["Pepe", "Carmen García"]),
        ("Nan", ["Nan"]),
        ("", []),
    ],
)
def test_people_of_a_phrase_one_by_one(phrase, parts):
    assert split_people(phrase) == parts


def test_nobody_is_found_where_nobody_is_known():
    assert find_people("Uncle Joe", people=[], family=Family([])) == ()
    assert FINDER.find("Ebenezer Scrooge", IN_1958) == ()
    assert FINDER.find("", IN_1958) == ()


@pytest.mark.parametrize(
    "said", ["?", "...", "12", "née", "of", "'s", "Mr", "von", "🙂", "née née", "the", "((", "my"]
)
def test_odd_words_do_no_harm(said):
    FINDER.find(said, IN_1958)
    read_people(FINDER, said, IN_1958)


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("old Anna", "Anna Weber, 1881–1950"),
        ("die kleine Anna", ANNA),
        ("little Anna", ANNA),
        ("Anna Weber sen.", "Anna Weber, 1881–1950"),
        ("Old Sven", "Sven Holm"),
    ],
)
def test_who_is_called_old_or_little_is_the_elder_or_the_younger_of_those_called_so(said, meant):
    assert FINDER.find(said)[0].person.name == meant


def test_old_anna_is_still_a_question_where_two_are_called_so():
    assert understood(FINDER.find("old Anna")) is None


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("Grandma on my mother's side", "Greta Holm"),
        ("grandma on mother's side", "Greta Holm"),
        ("Oma mütterlicherseits", "Greta Holm"),
        ("maternal grandmother", "Greta Holm"),
        ("ma grand-mère maternelle", "Greta Holm"),
        ("grandfather on Dad's side", "Heinrich Weber"),
        ("Opa väterlicherseits", "Heinrich Weber"),
        ("Thomas's aunt on his mother's side", "Vera Holm"),
        ("Ingrid (my mother)", "Ingrid Holm"),
        ("Greta (Nan's mother)", "Greta Holm"),
        ("me", ANNA),
        ("ich", ANNA),
        ("I", ANNA),
    ],
)
def test_relatives_of_one_side_relatives_in_brackets_and_the_teller(said, meant):
    assert understood(FINDER.find(said, Seen(ANNA))).person.name == meant


def test_a_nickname_in_brackets_that_is_a_word_for_a_relative_too():
    people = [who("Ingrid Holm", "1921", "", "female", ("Nan",)), who("Tom Holm", "1950"), who("Ingrid Moor")]
    finder = Finder(people, Family(parent("Ingrid Holm", "Tom Holm")))
    assert finder.find("Ingrid (Nan)", Seen("Tom Holm"))[0].person.name == "Ingrid Holm"


def test_a_form_of_address_before_a_particle_is_no_wife_of_somebody():
    people = [who("Linette van der Veiver", "1950", "", "female"), who("Karl Laon", "", "", "male")]
    finder = Finder(people, Family([Kin.partners("Linette van der Veiver", "Karl Laon")]))
    for said in ("Frau van Laon geb. van der Veiver", "Frau van der Veiver", "die Frau von Karl"):
        assert finder.find(said)[0].person.name == "Linette van der Veiver", said


def test_a_name_that_is_rather_that_of_who_was_dead_is_asked_about():
    people = [who("Anna Weber", "1921"), who("Mary-Anne Moor")]
    finder = Finder(people, Family(()))
    assert understood(finder.find("Anna")).person.name == "Anna Weber"
    assert understood(finder.find("Anna", Seen(on=parse_edtf("1910").bounds()))) is None


def test_a_number_behind_a_comma_is_the_age_of_who_stands_before():
    found = read_people(FINDER, "Tommy, 5, u. Ruth, 11", Seen(ANNA))
    assert [(each.name, each.told.age.youngest) for each in found] == [("Tommy", 5), ("Ruth", 11)]


def test_thousands_in_one_breath_are_told_at_once_and_the_first_of_them_looked_for():
    found = read_people(FINDER, "Joe," * 3000, Seen(ANNA))  # took half a minute before it was bounded
    assert len(found) == 3000
    assert found[199].understood.person.name == "Joseph Weber"
    assert found[200].candidates == ()
