"""Containers: what is in each, where its paper is now, what waits, and the order in which it is put back."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from datetime import date

from attrs import frozen

from solander.core.errors import InvalidValue, NotFound
from solander.core.prints import Container, container_code
from solander.core.put_back import as_they_lay
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.collection import Collection
from solander.tasks.said_anew import say_instead

__all__ = [
    "ContainerTold",
    "bring_back",
    "container_told",
    "containers_told",
    "entitle",
    "mark_done",
    "mark_not_done",
    "new_container",
    "order_of",
    "say_where",
]


@frozen
class ContainerTold:
    """A container with what is known of it.

    `prints` counts the paper that lies in it now, `all_prints` also that in the containers within it; `waits`
    counts the questions about all of them. `kept_at` tells where it is now, itself or `kept_at_of` around it.
    `done` tells that it was put back, and when.
    """

    container: Container
    prints: int
    all_prints: int
    waits: int
    kept_at: Statement | None
    done: Statement | None
    within: tuple[str, ...] = ()
    """The codes of the containers directly in it."""

    @property
    def code(self) -> str:
        """Its code."""
        return self.container.code

    @property
    def depth(self) -> int:
        """How many containers are around it."""
        return self.code.count("/")


def containers_told(collection: Collection) -> list[ContainerTold]:
    """All containers in the order of their codes, each before those within it."""
    return _Shelf.of(collection).told()


def container_told(collection: Collection, code: str) -> ContainerTold:
    """One container.

    Raises
    ------
    NotFound
        When there is none of that code.
    """
    found = next((one for one in containers_told(collection) if one.code == code), None)
    if found is None:
        raise NotFound(
            Sentence("There is no container %(code)s", code=code), "", Sentence("Look at the list of containers")
        )
    return found


def order_of(collection: Collection, code: str) -> tuple[list[str], list[str]]:
    """The prints whose paper belongs into a container, in the order in which they lay, and those that came into
    it from another one."""
    catalogue = collection.catalogue
    found = catalogue.accessions_in(code)
    elsewhere = {one.subject for one in catalogue.said_of_prints(Says.KEPT_IN, found)}
    numbered = [*catalogue.said_of_prints(Says.ORDER, found), *catalogue.said_of_prints(Says.ROLL, found)]
    order = [one for one in as_they_lay(found, numbered) if one not in elsewhere]
    return order, list(dict.fromkeys(one.subject for one in catalogue.kept_elsewhere(code)))


@frozen
class _Shelf:
    """All containers with what is counted in them."""

    containers: Sequence[Container]
    prints: Mapping[str, int]
    waits: Mapping[str, int]
    kept_at: Mapping[str, Statement]
    done: Mapping[str, Statement]

    @classmethod
    def of(cls, collection: Collection) -> _Shelf:
        catalogue = collection.catalogue
        prints, waits = Counter(catalogue.container_counts()), Counter(catalogue.waits_by_container())
        moved = catalogue.kept_elsewhere()
        waiting = catalogue.waits_of(one.subject for one in moved)
        home = catalogue.containers_of(one.subject for one in moved)
        for one in moved:
            for counts, many in ((prints, 1), (waits, waiting.get(one.subject, 0))):
                counts[home.get(one.subject) or ""] -= many
                counts[one.value] += many
        return cls(
            catalogue.containers(),
            prints,
            waits,
            catalogue.said_of_containers(Says.KEPT_AT),
            catalogue.said_of_containers(Says.PUT_BACK),
        )

    def told(self) -> list[ContainerTold]:
        all_prints, all_waits = Counter[str](), Counter[str]()
        within: dict[str, list[str]] = defaultdict(list)
        for one in self.containers:
            if one.parent:
                within[one.parent].append(one.code)
            for code in _around(one.code):
                all_prints[code] += self.prints.get(one.code, 0)
                all_waits[code] += self.waits.get(one.code, 0)
        return [
            ContainerTold(
                one,
                self.prints.get(one.code, 0),
                all_prints[one.code],
                all_waits[one.code],
                next((self.kept_at[code] for code in _around(one.code) if code in self.kept_at), None),
                self.done.get(one.code),
                tuple(within[one.code]),
            )
            for one in self.containers
        ]


def _around(code: str) -> list[str]:
    """The code itself and those around it, the nearest first: B2/E5, B2."""
    parts = code.split("/")
    return ["/".join(parts[:end]) for end in range(len(parts), 0, -1)]


def new_container(collection: Collection, code: str, title: str = "", *, who: str = "archivist") -> int | None:
    """Enters a container and those around it that are missing; the act's number for undo.

    Raises
    ------
    InvalidValue
        When it is not written as a code, or there is one already.
    """
    code = container_code(code)
    if collection.catalogue.container(code) is not None:
        raise InvalidValue(
            Sentence("%(code)s was not entered", code=code),
            Sentence("there is a container of that code"),
            Sentence("Choose the next number"),
        )
    with (
        collection.catalogue.act(who, Sentence("entered the container %(code)s", code=code)) as act,
        act.work() as work,
    ):
        work.add_container(Container(code, " ".join(title.split())))
        work.commit()
    return act.number


def entitle(collection: Collection, code: str, title: str, *, who: str = "archivist") -> int | None:
    """Gives a container a title; an empty one takes it away.

    Raises
    ------
    NotFound
        When there is no such container.
    """
    title = " ".join(title.split())
    what = (
        Sentence("called %(code)s “%(title)s”", code=code, title=title)
        if title
        else Sentence("took the title off %(code)s", code=code)
    )
    with collection.catalogue.act(who, what) as act, act.work() as work:
        work.entitle_container(code, title)
        work.commit()
    return act.number


def say_where(
    collection: Collection, code: str, words: str, *, source: str = "", who: str = "archivist"
) -> int | None:
    """Says where a container is now: “in the hall cupboard”, “lent to Vera on 3 May”. Where it was stays readable.

    Raises
    ------
    InvalidValue
        When nothing was said.
    NotFound
        When there is no such container.
    """
    words = " ".join(words.split())
    if not words:
        raise InvalidValue(
            Sentence("Where %(code)s is was not said", code=code),
            Sentence("the field is empty"),
            Sentence("Write: in the hall cupboard"),
        )
    what = Sentence("%(container)s is now %(where)s", container=code, where=words)
    return _say(collection, _said(code, Says.KEPT_AT, words, source or who), what, who)


def bring_back(collection: Collection, code: str, *, who: str = "archivist") -> int | None:
    """Says that a container is no longer where it was said to be."""
    return _unsay(
        collection, code, Says.KEPT_AT, Sentence("%(container)s is where it belongs again", container=code), who
    )


def mark_done(
    collection: Collection, code: str, *, today: date | None = None, source: str = "", who: str = "archivist"
) -> int | None:
    """Says that all of a container was captured and put back.

    Raises
    ------
    NotFound
        When there is no such container.
    """
    day = (today or date.today()).isoformat()
    what = Sentence("%(container)s is done and put back", container=code)
    return _say(collection, _said(code, Says.PUT_BACK, day, source or who), what, who)


def mark_not_done(collection: Collection, code: str, *, who: str = "archivist") -> int | None:
    """Takes back that a container is done."""
    return _unsay(collection, code, Says.PUT_BACK, Sentence("%(container)s is not done yet", container=code), who)


def _said(code: str, says: Says, value: str, source: str) -> Statement:
    return Statement("", About.CONTAINER, code, says, value, value, Sure.CERTAIN, source, "")


def _say(collection: Collection, new: Statement, what: str, who: str) -> int | None:
    """States it in the place of what was said of the same."""
    catalogue, code = collection.catalogue, new.subject
    if catalogue.container(code) is None:
        raise NotFound(
            Sentence("There is no container %(code)s", code=code), "", Sentence("Look at the list of containers")
        )
    old = [one for one in catalogue.said_of_container(code) if one.says is new.says]
    with catalogue.act(who, what) as act, act.work() as work:
        say_instead(catalogue, work, old, [new])
        work.commit()
    return act.number


def _unsay(collection: Collection, code: str, says: Says, what: str, who: str) -> int | None:
    old = [one for one in collection.catalogue.said_of_container(code) if one.says is says]
    with collection.catalogue.act(who, what) as act, act.work() as work:
        work.withdraw_all(one.id for one in old)
        work.commit()
    return act.number
