"""What the workbench shows and does where faces are named: one at a time, on the print, the most useful first."""

from __future__ import annotations

import threading
from collections import defaultdict
from collections.abc import Sequence

from attrs import Factory, define, field, frozen

from solander.core.descriptions import DescribedPrint
from solander.core.errors import Trouble
from solander.core.faces import Aside, Box, Face, from_left
from solander.core.language import marked
from solander.core.likely_people import LikelyPerson
from solander.core.phrases.tokens import folded
from solander.core.prints import View
from solander.core.stand_ins import stand_in_name
from solander.engine.local import local_executor
from solander.tasks.collection import Progress
from solander.tasks.described_some import described_one
from solander.tasks.erase_faces import Erased, erase_faces
from solander.tasks.face_evidence import suggested
from solander.tasks.face_switch import are_faces_on, switch_faces
from solander.tasks.faces import face_model
from solander.tasks.look_for_faces import look_for_faces
from solander.tasks.name_faces import FaceDone, draw_face, name_faces, part, put_aside, remove_face, unname
from solander.tasks.put_in_order import people_by_name
from solander.tasks.show import Shown
from solander.tasks.sitting import Sitting

__all__ = ["FaceAsked", "FaceDesk", "FacePlace", "PrintFaces", "called"]


OFFERED = 12
"""So many names are offered while one types: more are not read (our choice)."""


@frozen
class FacePlace:
    """A face as a page marks it: its box as the print is shown, and which one from the left it is of how many."""

    face: Face
    box: Box
    place: tuple[int, int]


@frozen
class PrintFaces:
    """The faces of one view, from the left."""

    described: DescribedPrint
    view: View
    faces: tuple[FacePlace, ...]


@frozen
class FaceAsked:
    """A face to be named, beside the others of its print.

    `group` are the faces that look alike, this one among them, each with its print's accession number; `likely` is
    who it may be. `number` and `total` tell which of the waiting groups this is; `following` is the key of the
    face that is asked about after it, empty for none.
    """

    shown: PrintFaces
    asked: FacePlace
    group: tuple[tuple[str, Face], ...]
    likely: tuple[LikelyPerson, ...]
    number: int
    total: int
    following: str

    @property
    def unnamed(self) -> list[str]:
        """The keys of the faces of the group that nobody has named yet, this one first."""
        others = [face.key for _, face in self.group if face.is_asked_about and face.key != self.asked.face.key]
        return [self.asked.face.key, *others]

    @property
    def another(self) -> str:
        """The key of the next face of the group that nobody has named, for leafing through; empty for none."""
        keys = [face.key for _, face in self.group if face.is_asked_about]
        return keys[(keys.index(self.asked.face.key) + 1) % len(keys)] if len(keys) > 1 else ""


def called(face: Face) -> str:
    """The name that a person gave, else the stand-in."""
    return face.person or (stand_in_name(face.group) if face.group else "Somebody")


@define
class FaceDesk:
    """The faces of a collection for one workbench."""

    shown: Shown
    sitting: Sitting = field(default=Factory(lambda desk: Sitting(desk.shown.collection), takes_self=True))
    looking: Progress | None = field(default=None, init=False)
    erased: Erased | None = field(default=None, init=False)
    _trouble: str = field(default="", init=False)

    @property
    def is_on(self) -> bool:
        """Whether a person said yes to faces."""
        return are_faces_on(self.shown.collection)

    @property
    def is_set_up(self) -> bool:
        """Whether the model that finds faces is there."""
        return face_model() is not None

    def waiting(self, within: str = "") -> list[Face]:
        """One face of each group in which somebody is unnamed, the largest group first, those left for later last;
        with `within` only faces in prints of that container."""
        if not self.is_on:
            return []
        inside = self._views(within)
        groups: defaultdict[int | None, list[Face]] = defaultdict(list)
        for face in self.shown.collection.catalogue.faces():
            if face.is_asked_about and face.view in inside:
                groups[face.group].append(face)

        def usefulness(face: Face) -> tuple[bool, int, int]:
            return face.aside is Aside.LATER, -len(groups[face.group]), face.group or 0

        return sorted((min(group, key=_clearest) for group in groups.values()), key=usefulness)

    def asked(self, key: str, within: str = "") -> FaceAsked | None:
        """The face of that key where it still waits, else the first that does; None where none does."""
        waiting, faces = self.waiting(within), self.shown.collection.catalogue.faces()
        if not waiting:
            return None
        sought = next((face for face in faces if face.key == key), waiting[0])
        place = next((at for at, one in enumerate(waiting) if one.group == sought.group), 0)
        face = sought if sought.is_asked_about else waiting[place]
        shown = self.in_view(face.view)
        asked = next(one for one in shown.faces if one.face.key == face.key)
        following = waiting[(place + 1) % len(waiting)].key if len(waiting) > 1 else ""
        likely = self._likely(face, faces, shown.described)
        return FaceAsked(shown, asked, self._group(face, faces), likely, place + 1, len(waiting), following)

    def _group(self, face: Face, faces: Sequence[Face]) -> tuple[tuple[str, Face], ...]:
        """The faces that have the group of this one, each with its print's accession number."""
        prints = self._views("")
        alike = [one for one in faces if one.group == face.group and one.is_shown and one.view in prints]
        return tuple((prints[one.view][0], one) for one in alike)

    def _likely(self, face: Face, faces: Sequence[Face], described: DescribedPrint) -> tuple[LikelyPerson, ...]:
        catalogue = self.shown.collection.catalogue
        named = people_by_name(catalogue.people_called(one.person for one in faces if one.person))
        people = {**named, **{one.person.name: one.person for one in described.people}}
        measures = catalogue.face_measures()
        return suggested(face, faces=faces, measures=measures, described=described, people=people)

    def in_view(self, key: str) -> PrintFaces:
        """The faces of a view in use, from the left.

        Raises
        ------
        NotFound
            When no view in use has that key.
        """
        accession, view = self.shown.collection.catalogue.view(key)
        described = described_one(self.shown.collection, accession)
        turn, faces = view.turn, self.shown.collection.catalogue.faces(view=key)
        there = [face for face in faces if face.is_shown]
        placed = [FacePlace(one, one.box.turned(turn), from_left(one, there, turn=turn)) for one in there]
        return PrintFaces(described, view, tuple(sorted(placed, key=lambda one: one.place)))

    def called(self, begun: str) -> list[str]:
        """A few headings of whom `begun` may become the name of: those who are known, then who is only named on
        faces."""
        catalogue = self.shown.collection.catalogue
        words = [f" {word}" for word in folded(begun).split()]
        faces = {face.person for face in catalogue.faces() if face.person} if words else set()
        named = [name for name in sorted(faces) if all(word in f" {folded(name)}" for word in words)]
        return list(dict.fromkeys((*catalogue.headings_like(begun, OFFERED), *named)))[:OFFERED]

    def containers(self) -> list[str]:
        """The containers in whose prints somebody is unnamed."""
        views, waiting = self._views(""), self.waiting()
        return sorted({container for face in waiting if (container := views[face.view][1])})

    def name(self, keys: Sequence[str], words: str) -> FaceDone:
        """Says who it is."""
        return self.sitting.kept(name_faces(self.shown.collection, keys, words))

    def unname(self, key: str) -> FaceDone:
        """Takes a name off."""
        return self.sitting.kept(unname(self.shown.collection, key))

    def put_aside(self, key: str, aside: Aside) -> FaceDone:
        """Says that it is no person, a stranger, or for later."""
        return self.sitting.kept(put_aside(self.shown.collection, key, aside))

    def part(self, key: str) -> FaceDone:
        """Says that it is somebody else than the rest of its group."""
        return self.sitting.kept(part(self.shown.collection, [key]))

    def draw(self, view: str, box: Box) -> FaceDone:
        """Adds a face by hand."""
        return self.sitting.kept(draw_face(self.shown.collection, view, box))

    def remove(self, key: str) -> FaceDone:
        """Takes a frame away."""
        return self.sitting.kept(remove_face(self.shown.collection, key))

    def switch(self, *, on: bool) -> int | None:
        """Says yes or no; the act's number."""
        self.erased = None
        return self.sitting.noted(switch_faces(self.shown.collection, on=on))

    def erase(self, *, names_too: bool) -> None:
        """Erases all that is kept of faces; `erased` tells what it was."""
        with self.shown.undisturbed():
            self.erased = erase_faces(self.shown.collection, names_too=names_too)

    def look(self) -> None:
        """Begins to look for faces, beside all else that the workbench does; `looking` tells how far it is."""
        if self.looking is None:
            self.looking, self._trouble = Progress(marked("Looking for faces"), "", 0, None), ""
            threading.Thread(target=self._look, daemon=True).start()

    @property
    def trouble(self) -> str:
        """Why the last look ended early; empty where it did not."""
        return self._trouble

    def _look(self) -> None:
        try:
            with local_executor() as executor:
                look_for_faces(self.shown.collection, executor=executor, watch=self._watch)
        except Trouble as trouble:
            self._trouble = trouble.sentence
        finally:
            self.looking = None

    def _watch(self, progress: Progress) -> None:
        self.looking = progress

    def _views(self, within: str) -> dict[str, tuple[str, str]]:
        """Number and container of the prints by the keys of their views with faces; with `within` those of that
        container and what lies in it."""
        return {
            view: (accession, container or "")
            for view, (accession, container) in self.shown.collection.catalogue.prints_of_faces().items()
            if not within or f"{container or ''}/".startswith(f"{within}/")
        }


def _clearest(face: Face) -> tuple[bool, float]:
    """The largest first: it is the best to tell somebody by; those left for later last."""
    return face.aside is Aside.LATER, -face.box.width * face.box.height * (face.score or 1.0)
