"""What a source would change: who is new, of whom it tells something else than before, who is gone from it.

Nobody is merged: a person of the source is one who is known only by a lasting key; by name and birth where a tree
was numbered anew and nobody else in it is told so; or by the heading where a list speaks of people from lists.
What a source no longer says is withdrawn, which the difference tells, and who is gone from it stays.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence

from attrs import evolve, field, frozen

from solander.core.dates import Dated
from solander.core.headings import heading_of
from solander.core.kin import Kin
from solander.core.language import marked
from solander.core.people import Person, life_of
from solander.core.phrases.tokens import folded
from solander.core.sentence import Sentence
from solander.core.statements import Says, Statement
from solander.core.told import Telling, Told, ToldOf, believed, by_hand, claim_words, name_of, stated

__all__ = ["Change", "Kept", "Known", "Plan", "list_key", "plan_of"]


@frozen
class Kept:
    """A person with all that is said of them, in order of entry, withdrawn too."""

    person: Person
    said: tuple[Statement, ...] = ()


@frozen
class Known:
    """What is known before: those `people` whom the source may mean, by heading; whose each lasting key is; all
    `headings` in use; the kin that the source told before, and who was told by it."""

    people: Mapping[str, Kept] = field(factory=dict)
    keys: Mapping[str, str] = field(factory=dict)
    headings: Container[str] = frozenset()
    kin: frozenset[Kin] = frozenset()
    told_before: frozenset[str] = frozenset()


@frozen
class Change:
    """A person before and after; the claims that came and those that were withdrawn, as words."""

    before: Kept | None
    after: Kept
    came: tuple[str, ...] = ()
    went: tuple[str, ...] = ()

    @property
    def heading(self) -> str:
        """The heading of the person."""
        return self.after.person.name

    @property
    def words(self) -> str:
        """What changed, as one line: "now born 12 March 1921; no longer born 1921"; else it is but the number."""
        parts = [f"now {', '.join(self.came)}"] * bool(self.came) + [f"no longer {', '.join(self.went)}"] * bool(
            self.went
        )
        return "; ".join(parts) or "has another number there"


@frozen
class Plan:
    """What taking a source in would do; `headings` are those of its people by their keys in the source."""

    source: str
    new: tuple[Change, ...]
    changed: tuple[Change, ...]
    gone: tuple[str, ...]
    kin_new: tuple[Kin, ...]
    kin_gone: tuple[Kin, ...]
    headings: Mapping[str, str]
    set_aside: tuple[str, ...]
    remarks: tuple[str, ...]

    @property
    def is_empty(self) -> bool:
        """Whether nothing would change."""
        return not (self.new or self.changed or self.kin_new or self.kin_gone)


def list_key(name: str) -> str:
    """The lasting key of somebody of whom lists speak by that name."""
    return f"list:{name}"


def plan_of(told: Telling, known: Known, *, now: str) -> Plan:
    """The difference between what is known and what a source tells; `now` is UTC, RFC 3339."""
    planning = _Planning(told, known, now)
    new, changed = planning.people()
    kin = frozenset(_kin(told, planning.headings))
    present = set(planning.headings.values())
    kin_gone = (one for one in known.kin - kin if told.whole and {one.person, one.other} <= present)
    order = {heading: place for place, heading in enumerate(planning.headings.values())}
    by_order = lambda one: (order.get(one.person, -1), order.get(one.other, -1), one.how)  # noqa: E731
    return Plan(
        told.source,
        tuple(new),
        tuple(changed),
        tuple(sorted(known.told_before - present)) if told.whole else (),
        tuple(sorted(kin - known.kin, key=by_order)),
        tuple(sorted(kin_gone, key=by_order)),
        planning.headings,
        (*told.set_aside, *planning.set_aside),
        (*told.remarks, *planning.remarks),
    )


def _kin(told: Telling, headings: Mapping[str, str]) -> Iterator[Kin]:
    for one in told.kin:
        if one.person in headings and one.other in headings:
            person, other = headings[one.person], headings[one.other]
            if one.how == "partner":
                yield Kin.partners(person, other, source=told.source)
            else:
                yield Kin(person, one.how, other, one.by, told.source)


class _Planning:
    """One source on its way into what is known."""

    def __init__(self, told: Telling, known: Known, now: str) -> None:
        self._told, self._known, self._now = told, known, now
        self._taken: set[str] = set()
        self.headings: dict[str, str] = {}
        self.set_aside: list[str] = []
        self.remarks: list[str] = []
        self._numbers = {key for one in told.people for key in one.lasting if key.startswith(f"{told.source}#")}
        self._told_so = Counter(_looks_told(one.told) for one in told.people)
        self._told_before = self._looks_known()

    def people(self) -> tuple[list[Change], list[Change]]:
        """Who is new and who is told of otherwise."""
        matched = {one.key: heading for one in self._told.people if (heading := self._match(one))}
        bearers = Counter(one.name for one in self._told.people if one.key not in matched)
        new, changed = [], []
        for one in self._told.people:
            heading = matched.get(one.key)
            change = (
                self._known_person(one, heading) if heading else self._newcomer(one, shared=bearers[one.name] > 1)
            )
            if change is not None and self._can_be(one, change):
                self.headings[one.key] = change.heading
                if change.before is None:
                    new.append(change)
                elif change.after != change.before:
                    changed.append(change)
        return new, changed

    def _match(self, one: ToldOf) -> str | None:
        """Whom the source means. A number in the file alone is not enough where the name is another's, nor where
        somebody else was told just so: the file may have been numbered anew."""
        numbers = [key for key in one.lasting if key in self._numbers]
        for key in one.lasting:
            if key not in numbers and (heading := self._known.keys.get(key)):
                return heading
        looks = _looks_told(one.told)
        if numbers and looks and self._told_so[looks] == 1 and (heading := self._told_before.get(looks)):
            return heading
        for key in numbers:
            if (heading := self._known.keys.get(key)) and self._is_like(one, heading):
                return heading
        if one.lasting:
            return None
        if heading := self._known.keys.get(list_key(one.name)):
            return heading
        kept = self._known.people.get(one.name)
        return one.name if kept and not _has_outside_keys(kept.person) else None

    def _looks_known(self) -> dict[tuple[str, ...], str]:
        """Those of whom the source told before, by what it told of them; who looks like another is left out."""
        found: dict[tuple[str, ...], str] = {}
        alike: set[tuple[str, ...]] = set()
        for heading in sorted(self._known.told_before):
            said = self._known.people[heading].said if heading in self._known.people else ()
            looks = _looks_said([one for one in said if one.source == self._told.source and not one.withdrawn])
            if looks in found:
                alike.add(looks)
            if looks:
                found[looks] = heading
        return {looks: heading for looks, heading in found.items() if looks not in alike}

    def _keys(self, before: Person, one: ToldOf) -> tuple[str, ...]:
        """The lasting keys of a known person now, without numbers that are another's in the file by now."""
        own = [key for key in before.known_as if key not in self._numbers or key in one.lasting]
        return _joined(own, one.lasting)

    def _is_like(self, one: ToldOf, heading: str) -> bool:
        kept = self._known.people[heading]
        before = {(said.says, _plain(said.value)) for said in kept.said if said.source == self._told.source}
        named = {(claim.says, _plain(claim.value)) for claim in one.told if claim.says in (Says.NAME, Says.BORN)}
        return not named or not before or bool(before & named)

    def _newcomer(self, one: ToldOf, *, shared: bool) -> Change:
        heading = one.name
        taken = _Both(self._known.headings, self._taken)
        if shared or not heading or heading in taken:
            person = believed("", self._stated(one, ""))
            heading = heading_of(one.name, person, taken=taken, shared=shared)
        self._taken.add(heading)
        said = self._stated(one, heading)
        keys = one.lasting or ((list_key(one.name),) if heading != one.name else ())
        return Change(None, Kept(believed(heading, said, known_as=keys), said))

    def _stated(self, one: ToldOf, heading: str) -> tuple[Statement, ...]:
        return tuple(stated(claim, heading, self._told.source, self._now) for claim in one.told)

    def _known_person(self, one: ToldOf, heading: str) -> Change:
        before = self._known.people[heading]
        said = [*by_hand(before.person, before.said), *before.said]
        repeated = {_sameness(claim) for claim in one.told}
        went = [place for place, each in enumerate(said) if self._is_taken_back(each, one, repeated)]
        own = {
            _sameness_said(each) for each in said if each.withdrawn is None and each.source == self._told.source
        }
        came = [claim for claim in one.told if _sameness(claim) not in own]
        if not came and not went:
            after = evolve(before.person, known_as=self._keys(before.person, one))
            return Change(before, evolve(before, person=after))
        for place in went:
            said[place] = evolve(said[place], withdrawn=self._now)
        said += [stated(claim, heading, self._told.source, self._now) for claim in came]
        person = believed(heading, said, known_as=self._keys(before.person, one))
        return Change(
            before,
            Kept(person, tuple(said)),
            tuple(claim_words(claim.says, claim.value, claim.words) for claim in came),
            tuple(claim_words(said[place].says, said[place].value, said[place].words) for place in went),
        )

    def _is_taken_back(self, each: Statement, one: ToldOf, repeated: set[tuple[str, ...]]) -> bool:
        if each.withdrawn is not None:
            return False
        if each.says in one.silent:
            return _sameness_said(each) not in repeated
        own = each.source == self._told.source and each.says in self._told.covers and self._told.whole
        return own and _sameness_said(each) not in repeated

    def _can_be(self, one: ToldOf, change: Change) -> bool:
        """Whether the person may have lived so; a list's line that can't be is set aside, a tree's is told."""
        person = change.after.person
        if not (person.born and person.died):
            return True
        before = change.before.person if change.before else None
        if not life_of(person).ends_before_it_begins or (before and life_of(before).ends_before_it_begins):
            return True
        told = {"name": person.name, "born": Dated(person.born), "died": Dated(person.died)}
        if one.lasting:
            message = marked("%(source)s: “%(name)s” has a life that ends before it begins: %(born)s to %(died)s.")
            self.remarks.append(Sentence(message, source=self._told.source, **told))
            return True
        message = marked(
            "%(source)s, %(where)s: “%(name)s” has a life that ends before it begins: %(born)s to %(died)s. "
            "Correct one."
        )
        self.set_aside.append(Sentence(message, source=self._told.source, where=one.where, **told))
        return False


class _Both:
    """What is in either of two."""

    def __init__(self, one: Container[str], two: Container[str]) -> None:
        self._one, self._two = one, two

    def __contains__(self, sought: object) -> bool:
        return sought in self._one or sought in self._two


def _has_outside_keys(person: Person) -> bool:
    return any(not key.startswith("list:") for key in person.known_as)


def _sameness(claim: Told) -> tuple[str, ...]:
    # Who is only said to be dead died before the file was written, a day that moves with each export.
    value = "" if claim.says is Says.DIED and claim.words == "Y" else claim.value
    return claim.says, value, claim.words or claim.value, claim.sure


def _sameness_said(said: Statement) -> tuple[str, ...]:
    return _sameness(Told(said.says, said.value, said.words, said.sure))


def _looks_told(told: Iterable[Told]) -> tuple[str, ...]:
    """By what a source's person is known again without a number: the first name, and all that is told of the
    birth; empty without a name."""
    claims = list(told)
    names = [_plain(one.value) for one in claims if one.says is Says.NAME]
    return (names[0], *sorted(one.value for one in claims if one.says is Says.BORN)) if names else ()


def _looks_said(said: Iterable[Statement]) -> tuple[str, ...]:
    return _looks_told(Told(one.says, one.value) for one in said)


def _plain(value: str) -> str:
    return folded(name_of(value).text) if "|" in value else value


def _joined(some: Sequence[str], more: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*some, *more)))
