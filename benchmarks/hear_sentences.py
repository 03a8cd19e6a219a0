"""Sentences that people say at the stand, made by chance, and talk that is none; each with what must be heard.

All names are invented. The talk for tuning and the talk for judging were written for this (no source); lines
marked so are the "Harvard sentences" of IEEE Recommended Practice for Speech Quality Measurements (1969), from
memory.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence

from attrs import frozen

from solander.core.orders import Order
from solander.reading.speech import Names
from solander.reading.speech.english import ENGLISH

__all__ = ["CHATTER", "NAMES", "PHRASES", "Case", "cases", "many_names"]


@frozen
class Case:
    """What is said, as text for a voice (`…` is a long pause), and what must be heard: typed words or an order."""

    said: str
    words: str = ""
    order: Order | None = None
    kind: str = ""


NAMES = {
    "tune": Names(
        people=(
            "Ingrid Ternvåg",
            "Ingrid",
            "Nils Ternvåg",
            "Nils",
            "Håkon Ternvåg",
            "Håkon",
            "Anna Weatherby",
            "Anna",
            "Wilhelm Brandt",
            "Wilhelm",
            "Rosalind Quill",
            "Rosalind",
            "Edmund Hartwhistle",
            "Edmund",
            "Ned",
            "Zofia Mewińska",
            "Zofia",
            "Aunt Zofia",
            "Tadeusz Mewiński",
            "Tadeusz",
            "Livvy",
            "Sverre Ternvåg",
            "Sverre",
            "Margaret Oakes",
            "Margaret",
            "Peggy",
            "Harold Oakes",
            "Harold",
            "Constance Pell",
            "Constance",
            "Connie",
            "Friedrich Lenz",
            "Friedrich",
            "Fritz",
            "Elsbeth Lenz",
            "Elsbeth",
            "Dorothy Marsh",
            "Dorothy",
            "Dot",
        ),
        places=(
            "Bergen",
            "Ternholm",
            "Ternvik",
            "Lyngfjell",
            "Sandvær",
            "Nether Quay",
            "Kamome Harbour",
            "Hamburg",
            "Lower Marsh",
            "Edinburgh",
            "Lake Morrow",
            "Saint Austin",
            "Whitby",
            "Rosenheim",
        ),
        occasions=("Ternvik regatta", "Walk over the pass", "Anna's wedding", "School outing", "Harvest supper"),
    ),
    "judge": Names(
        people=(
            "Astrid Solberg",
            "Astrid",
            "Lars Solberg",
            "Lars",
            "Clara Whitmore",
            "Clara",
            "Josephine Whitmore",
            "Josephine",
            "Josie",
            "Albert Finch",
            "Albert",
            "Bertie",
            "Heinrich Vogel",
            "Heinrich",
            "Mathilde Vogel",
            "Mathilde",
            "Gunnar Ekdal",
            "Gunnar",
            "Beatrice Thornbury",
            "Beatrice",
            "Walter Thornbury",
            "Walter",
            "Uncle Walter",
            "Agnes Kowalska",
            "Agnes",
            "Stefan Kowalski",
            "Stefan",
            "Millicent Drew",
            "Millicent",
            "Millie",
            "Percival Drew",
            "Percival",
            "Percy",
            "Johanna Reuter",
            "Johanna",
            "Hanna",
            "Gottfried Reuter",
            "Gottfried",
            "Eleanor Hobbs",
            "Eleanor",
            "Nell",
            "Theodore Hobbs",
            "Theodore",
        ),
        places=(
            "Trondheim",
            "Kestrel Bay",
            "Oldenburg",
            "Marlow Heath",
            "Fiskevik",
            "Silverdale",
            "Harrowgate",
            "Saint Brannock",
            "Upper Wick",
            "Lindau",
            "Copenhagen",
            "Bristol",
            "Green Hollow",
            "Kilmarnock",
            "Lake Ostrow",
        ),
        occasions=(
            "Clara's christening",
            "Summer at the lake",
            "Silver wedding",
            "Choir festival",
            "Moving house",
            "Boat race",
        ),
    ),
}

_UNITS = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
_TEENS = [
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
]
_TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_DAYS = [
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
    "eleventh",
    "twelfth",
    "thirteenth",
    "fourteenth",
    "fifteenth",
    "sixteenth",
    "seventeenth",
    "eighteenth",
    "nineteenth",
    "twentieth",
]
_MONTHS = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
]


def _number(number: int) -> str:
    if number < 20:
        return [*_UNITS, *_TEENS][number - 1]
    ten, unit = divmod(number, 10)
    return _TENS[ten - 2] + (f" {_UNITS[unit - 1]}" if unit else "")


def _year(year: int) -> str:
    century, rest = divmod(year, 100)
    if rest == 0:
        return f"{_number(century)} hundred"
    return f"{_number(century)} {'oh ' if rest < 10 else ''}{_number(rest)}"


def _day(day: int) -> tuple[str, str]:
    ending = "th" if 10 < day < 20 else {1: "st", 2: "nd", 3: "rd"}.get(day % 10, "th")
    said = (
        _DAYS[day - 1]
        if day <= 20
        else "thirtieth"
        if day == 30
        else f"{_TENS[day // 10 - 2]} {_DAYS[day % 10 - 1]}"
    )
    return said, f"{day}{ending}"


Told = tuple[str, str]


def _date(chance: random.Random) -> Told:
    year = chance.choice([*range(1890, 1990), *range(1920, 1975)])
    spoken = _year(year)
    month, season = chance.choice(_MONTHS), chance.choice(["spring", "summer", "autumn", "winter"])
    day, written = _day(chance.choice([*range(1, 31)]))
    tens = chance.choice(["twenties", "thirties", "forties", "fifties", "sixties"])
    later = year + chance.randint(1, 6)
    return chance.choice(
        [
            (spoken, str(year)),
            (spoken, str(year)),
            (f"{season} {spoken}", f"{season} {year}"),
            (f"{season} {spoken}", f"{season} {year}"),
            (f"{month} {spoken}", f"{month} {year}"),
            (f"{day} of {month} {spoken}", f"{written} {month} {year}"),
            (f"{month} {day} {spoken}", f"{month} {written} {year}"),
            (f"about {spoken}", f"about {year}"),
            (f"before {spoken}", f"before {year}"),
            (f"after {spoken}", f"after {year}"),
            (f"between {spoken} and {_year(later)}", f"between {year} and {later}"),
            (f"the {tens}", tens),
            (f"early {tens}", f"early {tens}"),
            (f"christmas {spoken}", f"christmas {year}"),
            (f"easter {spoken}", f"easter {year}"),
            ("before the war", "before the war"),
            ("during the war", "during the war"),
        ]
    )


def _people(chance: random.Random, names: Names) -> Told:
    one, two, three = chance.sample(names.people, 3)
    kin = chance.choice(["her brother", "his sister", "her mother", "his wife", "my uncle", "their daughter"])
    return chance.choice(
        [
            (one, f"with {one}"),
            (f"with {one}", f"with {one}"),
            (f"{one} and {two}", f"with {one} and {two}"),
            (f"with {one} and {two}", f"with {one} and {two}"),
            (f"{one}, {two} and {three}", f"with {one} and {two} and {three}"),
            (f"with {one} and {kin} {two}", f"with {one} and {kin} {two}"),
            (f"{one} and {kin}", f"with {one} and {kin}"),
            (f"without {one}", f"without {one}"),
        ]
    )


def _container(chance: random.Random) -> Told:
    one, two = chance.randint(1, 40), chance.randint(1, 30)
    return chance.choice(
        [
            (f"box {_number(one)}", f"box {one}"),
            (f"envelope {_number(two)}", f"envelope {two}"),
            (f"box {_number(one)}, envelope {_number(two)}", f"B{one}/E{two}"),
            (f"album {_number(one % 9 + 1)}, page {_number(two)}", f"A{one % 9 + 1}/P{two}"),
            ("next envelope", "next envelope"),
        ]
    )


def cases(which: str, count: int, *, seed: int) -> Iterator[Case]:
    """So many sentences: orders, one part, several parts, hesitating, with a long pause, correcting oneself."""
    chance, names = random.Random(seed), NAMES[which]
    orders = [(order, phrase) for order, phrases in ENGLISH.orders.items() for phrase in phrases.split("|")]
    makers: list[Callable[[], Told]] = [
        lambda: _date(chance),
        lambda: _people(chance, names),
        lambda: _container(chance),
        lambda: (place := chance.choice(names.places), place),
        lambda: (occasion := chance.choice(names.occasions), occasion),
    ]
    for number in range(count):
        match number % 8:
            case 0:
                order, phrase = chance.choice(orders)
                yield Case(phrase, order=order, kind="order")
            case 1 | 2:
                said, words = chance.choice([makers[0], makers[0], *makers])()
                yield Case(said, words, kind="one part")
            case 3 | 4 | 5:
                yield _joined(
                    [make() for make in chance.sample(makers, chance.choice([2, 2, 3]))], ", ", "several parts"
                )
            case 6:
                made = [make() for make in chance.sample(makers, 2)]
                yield _joined(made, chance.choice([", er, ", " … "]), "hesitating or pausing")
            case _:
                yield _correcting(chance, names)


def _joined(made: Sequence[Told], joint: str, kind: str) -> Case:
    return Case(joint.join(said for said, _ in made), ", ".join(words for _, words in made), kind=kind)


def _correcting(chance: random.Random, names: Names) -> Case:
    if chance.random() < 0.5:
        year, other = chance.sample(range(1900, 1980), 2)
        return Case(f"{_year(year)}, no, {_year(other)}", f"{year}, no, {other}", kind="correcting oneself")
    one, two = chance.sample(names.people, 2)
    return Case(f"{one}, sorry, {two}", f"with {two}", kind="correcting oneself")


PHRASES = [phrase for phrases in ENGLISH.orders.values() for phrase in phrases.split("|")]

_TUNE_TALK = """
could you put the kettle on please
I think the postman has just been
no I haven't seen your glasses anywhere
it looks as if it is going to rain again
where did I leave the scissors
this one is stuck to the page
what a lovely dress she is wearing
do you want a biscuit with that
hang on the phone is ringing
the cat is on the table again
I can't make out what it says here
that must be the old car we had
my back is killing me today
let's have lunch at half past one
who on earth is that man in the hat
oh look at his funny little shoes
mind the edge it is very thin
turn the radio down a bit please
I wonder what happened to that house
she never liked having her picture taken
did you remember to lock the shed
these corners are all bent
we ought to ring your sister tonight
there is dust all over the glass
how many more of these are there
I'll be back in a minute
give me the other pile please
he always stood like that
that was a long time ago
yes I know what you mean
""".strip().splitlines()

_JUDGE_TALK = """
have you had your breakfast yet
the neighbours are mowing the lawn again
can you pass me that cloth please
it is getting rather cold in here
I need a new pair of gloves
what time does the train leave
the dog wants to go out
this pile goes over there
we should really do this more often
somebody has written on the back of it
nobody remembers who took these
I'm sure that's the house by the church
look how young they all were
the light is much better by the window
be careful with the scissors
you have dropped one under the chair
I'd love a cup of coffee now
there's somebody at the door
he sold the boat years later
don't bend it like that
that smells of old cellar
my eyes are tired let's stop soon
she lived next door to the baker
what was the name of that song
they had seven children and a goat
it cost a fortune in those days
ask him when he comes home
put it back where you found it
we are nearly through the second bundle
I could sit here all day long
the soup is boiling over
did anybody feed the hens
no no that one was already done
wait until you see the next one
and then the whole roof blew off
well that's what mother always said
the birch canoe slid on the smooth planks
glue the sheet to the dark blue background
it's easy to tell the depth of a well
these days a chicken leg is a rare dish
rice is often served in round bowls
the juice of lemons makes fine punch
the box was thrown beside the parked truck
the hogs were fed chopped corn and garbage
four hours of steady work faced us
a large size in stockings is hard to sell
the boy was there when the sun rose
a rod is used to catch pink salmon
the source of the huge river is the clear spring
kick the ball straight and follow through
""".strip().splitlines()

CHATTER = {"tune": _TUNE_TALK, "judge": _JUDGE_TALK}
"""Talk that is not meant for the program; the last fourteen lines for judging are Harvard sentences."""


def many_names(people: int, places: int) -> Names:
    """So many invented names, for the size of a grammar."""
    chance = random.Random(5)
    parts = [
        "ber",
        "dal",
        "el",
        "fen",
        "gar",
        "hol",
        "in",
        "jor",
        "kas",
        "lund",
        "mar",
        "nor",
        "ol",
        "per",
        "ro",
        "sol",
        "ter",
        "ul",
        "vik",
        "wal",
        "yn",
        "zel",
    ]
    name = lambda: "".join(chance.sample(parts, chance.choice([2, 2, 3]))).title()  # noqa: E731
    given, family = [name() for _ in range(400)], [name() for _ in range(600)]
    whole = {f"{chance.choice(given)} {chance.choice(family)}" for _ in range(people)}
    return Names((*sorted(whole), *given), tuple(sorted({name() for _ in range(2 * places)})[:places]), ())
