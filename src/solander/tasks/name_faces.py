"""What a person says of faces: who it is, that it is no person, that two are not the same; and boxes by hand.

Naming a face says that the person is shown in the print, as any other statement does; what was only said by
pointing at a face is withdrawn when no face of the print bears the name any more.
"""

from __future__ import annotations

from collections.abc import Sequence

from attrs import evolve, frozen

from solander.authorities.naming import understood
from solander.catalogue.history import utc_now
from solander.catalogue.store import Act
from solander.catalogue.work import Work
from solander.core.errors import InvalidValue, Trouble
from solander.core.faces import Aside, Box, Face, Point
from solander.core.prints import View
from solander.core.sentence import Counted, Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.imaging.decode import Unreadable, decode
from solander.tasks.claims import how_sure
from solander.tasks.collection import Collection
from solander.tasks.face_reader import FaceReader, face_reader
from solander.tasks.face_switch import refuse_without_yes
from solander.tasks.identity import statement_identity
from solander.tasks.known_people import known_people
from solander.tasks.look_for_faces import SAME, face_key, face_seen, picture_of_view
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.stand_ins import name_stand_in

__all__ = ["FaceDone", "by_pointing", "draw_face", "name_faces", "part", "put_aside", "remove_face", "unname"]


@frozen
class FaceDone:
    """What a person did: the act's number for undo (None where nothing had to change), the face and its print."""

    act: int | None
    key: str
    accession: str


def by_pointing(who: str) -> str:
    """The source of a statement that was made by naming a face."""
    return f"{who}, pointing at the face"


def name_faces(collection: Collection, keys: Sequence[str], name: str, *, who: str = "archivist") -> FaceDone:
    """Says who the faces show; "Ingrid?" is a guess. Several faces are named in one act, as a group is.

    Raises
    ------
    InvalidValue
        When the name is empty.
    Trouble
        When two of the faces are in one print.
    NotFound
        When one of the faces is no longer there.
    """
    refuse_without_yes(collection)
    person, sure = how_sure(" ".join(name.split()))
    if not person:
        raise InvalidValue(
            Sentence("Nobody was named"),
            Sentence("the name is empty"),
            Sentence("Type a name, or leave the face for later"),
        )
    heading = _heading(collection, person)
    faces = [collection.catalogue.face(key) for key in keys]
    _refuse_twice_in_one_print(faces, heading)
    what = Counted("named a face %(name)s", "named %(num)s faces %(name)s", len(faces), name=heading)
    with collection.catalogue.act(who, what) as act:
        with act.work() as work:
            for face in faces:
                if face.person != heading:
                    _drop_name(collection, work, face)
                work.keep_face(evolve(face, person=heading, aside=None, by=who))
                _say(collection, work, _statement(collection, face, heading, name.strip(), sure, who))
            for group in {face.group for face in faces if face.group}:
                name_stand_in(collection, work, group, heading)
            work.commit()
        ask_about_contradictions(collection, act)
    return _done(collection, act, faces[0])


def unname(collection: Collection, key: str, *, who: str = "archivist") -> FaceDone:
    """Takes the name off a face; it is asked about again."""
    face = collection.catalogue.face(key)
    what = (
        Sentence("took the name %(person)s off a face", person=face.person)
        if face.person
        else Sentence("asked about a face again")
    )
    with collection.catalogue.act(who, what) as act:
        if face.person or face.aside:
            with act.work() as work:
                _drop_name(collection, work, face)
                work.keep_face(evolve(face, person="", aside=None, by=who))
                work.commit()
            ask_about_contradictions(collection, act)
    return _done(collection, act, face)


def put_aside(collection: Collection, key: str, aside: Aside, *, who: str = "archivist") -> FaceDone:
    """Says of a face that it is no person, a stranger, or for later.

    The measure of what is no person or a stranger is forgotten: nobody asked for it to be kept.
    """
    words = {
        Aside.NO_PERSON: Sentence("said that a face is no person"),
        Aside.STRANGER: Sentence("said that a face is a stranger’s"),
        Aside.LATER: Sentence("left a face for later"),
    }
    face = collection.catalogue.face(key)
    with collection.catalogue.act(who, words[aside]) as act:
        with act.work() as work:
            _drop_name(collection, work, face)
            work.keep_face(evolve(face, person="", aside=aside, by=who))
            if aside is not Aside.LATER:
                work.drop_measures(key)
            work.commit()
        if face.person:
            ask_about_contradictions(collection, act)
    return _done(collection, act, face)


def part(collection: Collection, keys: Sequence[str], *, who: str = "archivist") -> FaceDone:
    """Says that these faces are somebody else than the rest of their group; together they get a number of their
    own, and no machine puts them back."""
    faces = [collection.catalogue.face(key) for key in keys]
    with (
        collection.catalogue.act(
            who, Counted("parted a face from a group", "parted %(num)s faces from a group", len(faces))
        ) as act,
        act.work() as work,
    ):
        number = work.next_face_group()
        for face in faces:
            work.keep_face(evolve(face, group=number, by=who))
        work.commit()
    return _done(collection, act, faces[0])


def draw_face(
    collection: Collection, view_key: str, box: Box, *, reader: FaceReader | None = None, who: str = "archivist"
) -> FaceDone:
    """Adds a face where a person drew a box on the picture as it is shown.

    Where the models can tell the face in it, it is measured and joins the asking; else it can be named all the
    same.

    Raises
    ------
    InvalidValue
        When the box is too small, lies beside the picture, or on a face that is there already.
    """
    refuse_without_yes(collection)
    accession, view = collection.catalogue.view(view_key)
    drawn = box.on_paper()
    if drawn is None:
        raise InvalidValue(
            Sentence("No face was added"),
            Sentence("the box is too small or lies beside the picture"),
            Sentence("Draw it again"),
        )
    laid = drawn.turned(-view.turn)
    there = [face for face in collection.catalogue.faces(view=view_key) if face.box.overlap(laid) > SAME]
    if any(face.is_shown for face in there):
        raise InvalidValue(
            Sentence("No face was added"),
            Sentence("there is one in that place already"),
            Sentence("Name that one"),
        )
    points, measure = _told_there(collection, view, drawn, reader or face_reader())
    key = face_key(view, laid)
    with (
        collection.catalogue.act(who, Sentence("drew a face in %(accession)s", accession=accession)) as act,
        act.work() as work,
    ):
        refuse_without_yes(collection)  # telling the face takes a while: it may be switched off or erased by now
        for face in there:  # a find that somebody took for none: now it is one
            work.remove_face(face.key)
        work.keep_face(Face(key, view_key, laid, points, group=work.next_face_group(), by=who))
        if measure:
            work.keep_measures({key: measure})
        work.commit()
    return FaceDone(act.number, key, accession)


def remove_face(collection: Collection, key: str, *, who: str = "archivist") -> FaceDone:
    """Takes a box away: one that was drawn is gone, a find counts as no person, so that it is not found again."""
    face = collection.catalogue.face(key)
    if face.score is not None:
        return put_aside(collection, key, Aside.NO_PERSON, who=who)
    accession, _ = collection.catalogue.view(face.view)
    with collection.catalogue.act(who, Sentence("took a face off %(accession)s", accession=accession)) as act:
        with act.work() as work:
            _drop_name(collection, work, face)
            work.remove_face(key)
            work.commit()
        if face.person:
            ask_about_contradictions(collection, act)
    return FaceDone(act.number, key, accession)


def _heading(collection: Collection, person: str) -> str:
    """The heading of the one person whom the words clearly mean, by name or kinship; else the words."""
    known = known_people(collection.catalogue)
    if person in known.by_heading:
        return person
    meant = understood(known.find(person))
    return meant.person.name if meant and not meant.others else person


def _refuse_twice_in_one_print(faces: Sequence[Face], heading: str) -> None:
    views = [face.view for face in faces]
    if len(set(views)) < len(views):
        raise Trouble(
            Sentence("Nobody was named"),
            Sentence("two of the faces are in one picture and can’t both be %(heading)s", heading=heading),
            Sentence("Part them first"),
        )


def _drop_name(collection: Collection, work: Work, face: Face) -> None:
    """Withdraws what was said by pointing at this face, unless another face of the print says it as well."""
    if not face.person:
        return
    accession, _ = collection.catalogue.view(face.view)
    theirs = {view.key for view in collection.catalogue.print(accession).views}
    others = (other for other in collection.catalogue.faces() if other.view in theirs and other.key != face.key)
    if any(other.person == face.person for other in others):
        return
    for said in _said_of(collection, accession, face.person):
        if said.source.endswith(by_pointing("")):
            work.withdraw(said.id)


def _statement(collection: Collection, face: Face, heading: str, words: str, sure: Sure, who: str) -> Statement:
    accession, _ = collection.catalogue.view(face.view)
    source, now = by_pointing(who), utc_now()
    return Statement("", About.PRINT, accession, Says.PERSON, heading, words, sure, source, now)


def _say(collection: Collection, work: Work, said: Statement) -> None:
    """States that somebody is shown, unless that is said already as surely."""
    enough = (said.sure, Sure.CERTAIN)
    if any(one.sure in enough for one in _said_of(collection, said.subject, said.value)):
        return
    taken = {one.id for one in collection.catalogue.statements(subject=said.subject, withdrawn=True)}
    work.state(evolve(said, id=statement_identity(said, taken=taken)))


def _said_of(collection: Collection, accession: str, person: str) -> list[Statement]:
    statements = collection.catalogue.statements(subject=accession)
    return [one for one in statements if one.says is Says.PERSON and one.value == person]


def _told_there(
    collection: Collection, view: View, box: Box, reader: FaceReader | None
) -> tuple[tuple[Point, ...], bytes]:
    """The points and the measure of the face in a box; both empty where the models can't tell it."""
    if reader is None:
        return (), b""
    try:
        seen = reader.face_here(decode(picture_of_view(collection.root, view)), box)
    except (Unreadable, Trouble):
        return (), b""  # a capture damaged since is verify's to tell
    return (face_seen(seen, view).points, seen.measure) if seen else ((), b"")


def _done(collection: Collection, act: Act, face: Face) -> FaceDone:
    accession, _ = collection.catalogue.view(face.view)
    return FaceDone(act.number, face.key, accession)
