"""Gives each new face a group: one that it is like, or a number of its own. Groups that exist are never joined."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from solander.catalogue.work import Work
from solander.core.faces import Aside, Face
from solander.reading.likeness import ALIKE, LENGTH, grouped

__all__ = ["group_new_faces", "measures_of"]

Measures = NDArray[np.float32]


def measures_of(kept: Mapping[str, bytes], faces: Sequence[Face]) -> Measures:
    """The measures of faces that all have one, shape (n, 128)."""
    rows = [np.frombuffer(kept[face.key], "<f4") for face in faces]
    return np.stack(rows).astype(np.float32) if rows else np.zeros((0, LENGTH), np.float32)


def group_new_faces(work: Work, faces: Sequence[Face], kept: Mapping[str, bytes]) -> int:
    """Groups the faces that have no group yet; gives how many new groups there are.

    A face joins the group that it is most like on average, from `ALIKE`, unless somebody of that group is in the
    same picture; the rest are grouped among themselves, and who is like nobody has a group alone, so that they
    too can be asked about. What a person put into a group, or took out of one, stays.
    """
    new = [face for face in faces if face.group is None and face.aside not in (Aside.NO_PERSON, Aside.STRANGER)]
    measured = [face for face in new if face.key in kept]
    joined = _join_known(work, measured, [face for face in faces if face.group is not None], kept)
    left = [face for face in measured if face.key not in joined]
    numbers = grouped(measures_of(kept, left), [face.view for face in left])
    fresh = {number: work.next_face_group() for number in dict.fromkeys(numbers.tolist())}
    for face, number in zip(left, numbers.tolist(), strict=True):
        work.keep_face(evolve(face, group=fresh[number]))
    alone = [face for face in new if face.key not in kept]
    for face in alone:
        work.keep_face(evolve(face, group=work.next_face_group()))
    return len(fresh) + len(alone)


def _join_known(work: Work, new: Sequence[Face], known: Sequence[Face], kept: Mapping[str, bytes]) -> set[str]:
    """The keys of the new faces that joined a group, the most alike first."""
    members: defaultdict[int, list[Face]] = defaultdict(list)
    for face in known:
        if face.group is not None and face.key in kept and face.is_shown:
            members[face.group].append(face)
    if not members or not new:
        return set()
    numbers = list(members)
    means = _mean_likeness(measures_of(kept, new), [measures_of(kept, members[number]) for number in numbers])
    pictures = {number: {face.view for face in members[number]} for number in numbers}
    joined: set[str] = set()
    for place in np.argsort(-means, axis=None, kind="stable"):
        row, column = divmod(int(place), len(numbers))
        if means[row, column] < ALIKE:
            break
        face, number = new[row], numbers[column]
        if face.key not in joined and face.view not in pictures[number]:
            work.keep_face(evolve(face, group=number))
            pictures[number].add(face.view)
            joined.add(face.key)
    return joined


def _mean_likeness(new: Measures, groups: Sequence[Measures]) -> NDArray[np.float32]:
    """Mean cosine of each face with each group, shape (faces, groups): the cosine with the group's mean vector."""
    middles = np.stack([group.mean(axis=0) for group in groups])
    return np.asarray(new @ middles.T, np.float32)
