"""A small real collection in which something of every kind waits."""

from __future__ import annotations

from pathlib import Path

from attrs import define
from doubtful_box import Doubtful

from solander.core.people import Person
from solander.core.questions import Asks
from solander.core.statements import About, Says, Statement, Sure
from solander.station.workbench import Workbench
from solander.tasks.ask import ask
from solander.tasks.collection import Collection
from solander.tasks.show import Shown
from solander.tasks.worth_asking import WorthAsking

FIRST, SECOND, THIRD = (f"B12-E34-P5-000{number}" for number in (1, 2, 3))
AT = "2026-01-02T10:00:00Z"
ASKED = (
    (Asks.WHO, FIRST, f"“Joe” on the slip of {FIRST}: is it Joe Berg or Joe Holm?"),
    (Asks.SAME_PERSON, "Joe Berg\nJoe Holm", "Joe Berg and Joe Holm may be one person. Are they?"),
    (Asks.WORDS, FIRST, f"“under the lindens” on the slip of {FIRST} was not understood."),
    (Asks.PAIR, THIRD, f"{THIRD} is a back without its front: which print does it belong to?"),
    (Asks.CAPTURE_AGAIN, SECOND, f"The front of {SECOND} is not sharp: capture it again?"),
    (Asks.SET_ASIDE, "cut off.jpg", "cut off.jpg was set aside: it ends too early. Copy it again from the card."),
)


@define
class Knowing(Shown):
    """The reading of a collection of which relatives are best asked two things."""

    def mends(self) -> list[str]:
        return [f"{FIRST}: dated “7 May 1945”. Without this, 2 of the 3 would be settled."]

    def worth_asking(self) -> list[WorthAsking]:
        vague = f"Who remembers in which year the picture ({SECOND}) was taken?"
        return [
            WorthAsking(SECOND, vague, "would narrow 1 print by 63 years", 63.0, 1),
            WorthAsking("Moving house", "Who remembers when “Moving house” was?", "would narrow 2 prints", 4.0, 2),
        ]


def asking_box(made: Doubtful, root: Path) -> Collection:
    """Three edges, which way up of the four prints and a back, and one of each of `ASKED`."""
    collection = Collection.open(made.copied_to(root).root)
    with collection.catalogue.act("test", "asked") as act, act.work() as work:
        for name in ("Joe Berg", "Joe Holm"):
            work.keep_person(Person(name))
        said = [
            (FIRST, Says.PERSON, "Joe"),
            (FIRST, Says.OCCASION, "Moving house"),
            (SECOND, Says.OCCASION, "Moving house"),
        ]
        for number, (subject, says, value) in enumerate(said):
            work.state(Statement(str(number), About.PRINT, subject, says, value, value, Sure.LIKELY, "slip", AT))
        for asks, subject, sentence in ASKED:
            ask(work, asks, subject, sentence)
        work.commit()
    return collection


def bench_over(collection: Collection) -> Workbench:
    """All desks over it."""
    from attrs import evolve

    bench = Workbench.over(collection)
    return evolve(bench, collection=Knowing(collection))
