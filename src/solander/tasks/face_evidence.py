"""Gathers what speaks for whom a face shows, from faces that a person named and from what is said of the print."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from solander.core.dates import Bounds
from solander.core.days import day_of_text
from solander.core.descriptions import DescribedPrint
from solander.core.faces import Face
from solander.core.likely_people import FaceEvidence, LikelyPerson, likely_people
from solander.core.people import Person
from solander.tasks.group_faces import measures_of

__all__ = ["LIKE", "suggested"]

LIKE = 0.45
"""Cosine from which a named face is shown as looking like another: lower than for a group, for a person looks at
it, and higher than what its makers take for one person (docs/measured.md)."""


def suggested(
    face: Face,
    *,
    faces: Sequence[Face],
    measures: Mapping[str, bytes],
    described: DescribedPrint,
    people: Mapping[str, Person],
) -> tuple[LikelyPerson, ...]:
    """Who the face may show, the likeliest first; nobody whom another face of the print bears already."""
    theirs = {view.key for view in described.print.views}
    shown = {one.person for one in faces if one.view in theirs and one.person and one.key != face.key}
    named = [one for one in faces if one.person and one.person not in shown and one.key != face.key]
    found: dict[str, FaceEvidence] = {}
    alike = _likeness(face, named, measures)
    for name in {one.person for one in named}:
        own = [one for one in named if one.person == name]
        in_group = [one for one in own if face.group is not None and one.group == face.group]
        others = [alike[one.key] for one in own if one not in in_group and alike.get(one.key, 0.0) >= LIKE]
        if in_group or others:
            likest = max((alike.get(one.key, 0.0) for one in own), default=0.0)
            found[name] = FaceEvidence(len(in_group), len(others), likest)
    for person in described.people:
        name = person.person.name
        if name not in shown:
            known = found.get(name, FaceEvidence())
            found[name] = FaceEvidence(known.in_group, known.alike, known.likest, said=True)
    return likely_people(found, people=people, on=_days(described))


def _likeness(face: Face, named: Sequence[Face], measures: Mapping[str, bytes]) -> dict[str, float]:
    measured = [one for one in named if one.key in measures]
    if face.key not in measures or not measured:
        return {}
    cosines = measures_of(measures, measured) @ measures_of(measures, [face])[0]
    return {one.key: float(cosine) for one, cosine in zip(measured, cosines, strict=True)}


def _days(described: DescribedPrint) -> Bounds:
    when = described.when
    earliest, latest = (day_of_text(text) if text else None for text in (when.earliest, when.latest))
    return Bounds(earliest, latest)
