"""Finds prints that show one photograph: one print captured twice, two prints of one negative, a part of another.

Candidates come from whole pictures that are alike (`hash_index`) and from points in common (`point_tables`, which
crops can't escape); each is looked at closely once (`one_negative`), and what came of it is kept beside the views.
Nothing is joined and nothing deleted: a person says what they are.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from enum import StrEnum
from functools import lru_cache
from pathlib import Path

from attrs import asdict, evolve, field, fields_dict, frozen

from solander.catalogue.store import Act
from solander.core.errors import Trouble
from solander.core.negatives import of_one_negative
from solander.core.prints import Print, View
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.engine.local import Executor, SerialExecutor
from solander.imaging.decode import Unreadable
from solander.imaging.hash_index import HashIndex
from solander.imaging.one_negative import Likeness, likeness
from solander.tasks.ask import ask
from solander.tasks.collection import Collection, Progress, Watch, unwatched
from solander.tasks.known_points import Alike, KnownPoints, small_picture
from solander.tasks.seen_twice import duplicate_sentence, prints_asked_about
from solander.vault.store import Vault

__all__ = ["Kind", "Pair", "ask_about_duplicates", "compared", "duplicates", "sentence_of"]

FRAME_OFF = 0.012
"""Long sides by which the corners of one print captured twice may lie apart; see docs/duplicates.md."""


class Kind(StrEnum):
    """What two prints seem to be."""

    ONE_PRINT = "one print"
    ONE_NEGATIVE = "one negative"
    PART = "part"
    MIRRORED = "mirrored"


@frozen
class Pair:
    """Two prints of one photograph, the one that was there first before the other; of a part, which it is."""

    earlier: str
    later: str
    kind: Kind
    likeness: Likeness
    part: str = ""


def ask_about_duplicates(collection: Collection, act: Act, new: Sequence[str]) -> None:
    """Asks about each new print that shows the photograph of another."""
    if not new:
        return
    prints = collection.catalogue.prints()
    keys = [one.recto.key for one in prints if one.accession in set(new) and one.recto]
    known = KnownPoints.of(collection, prints)
    pairs = _judged(collection, prints, [*_whole_alike(prints, keys), *known.near(keys)])
    _ask(collection, act, pairs)


def duplicates(
    collection: Collection,
    *,
    executor: Executor | None = None,
    watch: Watch = unwatched,
    who: str = "archivist",
) -> list[Pair]:
    """All pairs of the collection, asking about those that nobody was asked about; what was compared before is not
    compared again."""
    prints = collection.catalogue.prints()
    watch(Progress("Looking for prints of one negative", "all prints", 0, None))
    keys = [one.recto.key for one in prints if one.recto]
    near = [*_whole_alike(prints, keys), *KnownPoints.of(collection, prints).all_near()]
    pairs = list(_judged(collection, prints, near, executor=executor, watch=watch))
    with collection.catalogue.act(who, Sentence("looked for prints of one negative")) as act:
        _ask(collection, act, pairs)
    return pairs


def compared(collection: Collection, one: str, other: str) -> Likeness | None:
    """What came of comparing two views, by their keys, the first first; None where they were not compared."""
    found = _Compared.read(collection).of(one, other)
    return evolve(found, within=found.within[::-1]) if found and one > other else found


def sentence_of(pair: Pair) -> Sentence:
    """What is asked about two prints."""
    if pair.kind is Kind.ONE_PRINT:
        return duplicate_sentence(pair.later, pair.earlier)
    if pair.kind is Kind.PART:
        whole = pair.earlier if pair.part == pair.later else pair.later
        return Sentence(
            "%(part)s seems to show a part of %(whole)s: are they prints of one negative?",
            part=pair.part,
            whole=whole,
        )
    if pair.kind is Kind.MIRRORED:
        return Sentence(
            "%(later)s seems to be %(earlier)s the wrong way round: are they prints of one negative?",
            later=pair.later,
            earlier=pair.earlier,
        )
    return Sentence(
        "%(later)s seems to be another print of %(earlier)s: are they prints of one negative?",
        later=pair.later,
        earlier=pair.earlier,
    )


def _ask(collection: Collection, act: Act, pairs: Iterable[Pair]) -> None:
    """Asks about the pairs of which nothing is said, and that nobody was asked about before."""
    asked = {
        frozenset(prints_asked_about(one))
        for one in collection.catalogue.questions(settled=True)
        if one.asks is Asks.DUPLICATE
    }
    said = of_one_negative(collection.catalogue.of_one_negative())
    with act.work() as work:
        for pair in pairs:
            both = frozenset((pair.earlier, pair.later))
            if both not in asked and pair.later not in said.get(pair.earlier, ()):
                asked.add(both)
                ask(work, Asks.DUPLICATE, pair.later, sentence_of(pair))
        work.commit()


def _whole_alike(prints: Sequence[Print], keys: Iterable[str]) -> Iterator[Alike]:
    """Fronts whose whole pictures are alike: those with hardly a point to be known by are found so."""
    fronts = [one.recto for one in prints if one.recto and one.recto.condition]
    index = HashIndex.of(_fingerprint(view) for view in fronts)
    wanted = set(keys)
    for view in fronts:
        if view.key in wanted:
            for other in index.near(_fingerprint(view)).tolist():
                if fronts[other].key != view.key:
                    yield Alike(view.key, fronts[other].key, 0, mirrored=False)


def _fingerprint(view: View) -> int:
    return int(view.condition.fingerprint, 16) if view.condition else 0


def _judged(
    collection: Collection,
    prints: Sequence[Print],
    near: Iterable[Alike],
    *,
    executor: Executor | None = None,
    watch: Watch = unwatched,
) -> Iterator[Pair]:
    """The pairs that show one photograph, each candidate compared once for good."""
    place = {one.recto.key: (number, one) for number, one in enumerate(prints) if one.recto}
    by_votes = sorted(near, key=lambda one: one.votes)
    wanted = {(min(each.one, each.other), max(each.one, each.other)): each.mirrored for each in by_votes}
    kept = _Compared.read(collection)
    jobs = [
        _Job(collection.root, _front(place[one][1]), _front(place[other][1]), mirrored)
        for (one, other), mirrored in wanted.items()
        if not kept.tells(one, other, mirrored=mirrored)
    ]
    for done, (job, outcome) in enumerate((executor or SerialExecutor()).map(_compare, jobs), start=1):
        watch(Progress("Comparing pictures", job.one.key[:8], done, len(jobs)))
        if isinstance(outcome, Likeness):  # a picture that can't be read now is compared the next time
            kept.keep(job.one.key, job.other.key, outcome)
    for one, other in sorted(wanted, key=lambda pair: sorted(place[key][0] for key in pair)):
        found = kept.of(one, other)
        if found is not None and found.is_one_negative:
            yield _pair(place[one], place[other], found)


def _pair(one: tuple[int, Print], other: tuple[int, Print], found: Likeness) -> Pair:
    accessions = one[1].accession, other[1].accession
    earlier, later = accessions if one[0] < other[0] else accessions[::-1]
    if accessions[0] != earlier:
        found = evolve(found, within=found.within[::-1])
    if found.is_part:
        return Pair(earlier, later, Kind.PART, found, (earlier, later)[found.within[1] > found.within[0]])
    if found.is_mirrored:
        return Pair(earlier, later, Kind.MIRRORED, found)
    is_one = found.frame_off <= FRAME_OFF
    return Pair(earlier, later, Kind.ONE_PRINT if is_one else Kind.ONE_NEGATIVE, found)


def _front(print_: Print) -> View:
    assert print_.recto is not None
    return print_.recto


@frozen
class _Job:
    """Two views of the collection at `root` to be compared."""

    root: Path
    one: View
    other: View
    mirrored: bool


def _compare(job: _Job) -> Likeness:
    views_root, vault = job.root / "views", Vault(job.root)
    try:
        pictures = [small_picture(views_root, vault, view) for view in (job.one, job.other)]
    except OSError as error:
        raise Trouble(Sentence("Two pictures were not compared"), error.strerror or str(error)) from error
    except Unreadable as reason:
        raise Trouble(Sentence("Two pictures were not compared"), reason.why, reason.todo) from reason
    return likeness(*pictures, mirrored=job.mirrored)


@lru_cache(maxsize=2)
def _lines_of(path: Path, _changed: int, _size: int) -> Mapping[tuple[str, str], Likeness]:
    """What a file tells, read once while it stays as it is: each question that is shown looks something up."""
    found = {}
    names = set(fields_dict(Likeness))
    with suppress(OSError):
        for line in path.read_text(encoding="utf-8").splitlines():
            with suppress(ValueError, TypeError, KeyError):
                told = json.loads(line)
                one, other = told.pop("views")
                if set(told) == names:
                    found[one, other] = Likeness(**{**told, "within": tuple(told["within"])})
    return found


@frozen
class _Compared:
    """What came of comparing views: a line of JSON each in a file beside them, which may be deleted."""

    path: Path
    found: dict[tuple[str, str], Likeness] = field(factory=dict)

    @classmethod
    def read(cls, collection: Collection) -> _Compared:
        """All that was kept; lines that were cut off, or tell less than is told now, are left out."""
        path = collection.views_root / "compared.jsonl"
        try:
            state = path.stat()
        except OSError:
            return cls(path)
        return cls(path, dict(_lines_of(path, state.st_mtime_ns, state.st_size)))

    def of(self, one: str, other: str) -> Likeness | None:
        """What came of these two, as of the first of the sorted keys."""
        return self.found.get((min(one, other), max(one, other)))

    def tells(self, one: str, other: str, *, mirrored: bool) -> bool:
        """Whether these two need not be compared (again) in this way."""
        found = self.of(one, other)
        return found is not None and (found.is_one_negative or found.is_mirrored == mirrored)

    def keep(self, one: str, other: str, found: Likeness) -> None:
        """Keeps it; where nothing can be written it is compared again the next time."""
        self.found[one, other] = found
        with suppress(OSError):
            self.path.parent.mkdir(parents=True, exist_ok=True)
            with self.path.open("a", encoding="utf-8") as file:
                file.write(json.dumps({"views": [one, other], **asdict(found)}) + "\n")
