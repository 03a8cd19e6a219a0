"""A raw file and a JPEG of one shot are one picture: which of them the print is cut from.

The raw file, for it holds all that the camera saw, and nothing in it was bent or thrown away; the JPEG where the
raw file can't be read, or where prints were cut from it before. Both are kept.
"""

from __future__ import annotations

from collections.abc import Sequence

from solander.catalogue.store import Act
from solander.imaging.decode import probe
from solander.intake.arrivals import Arrival
from solander.intake.shots import raw_beside
from solander.tasks.collection import Collection
from solander.tasks.stand import capture_of
from solander.vault.store import sha256_of

__all__ = ["beside_key", "beside_of", "keep_beside", "mains_first"]


def beside_of(collection: Collection, arrivals: Sequence[Arrival]) -> dict[str, str]:
    """The name of each file that is kept beside another of the same shot, with the name of that other."""
    by_name = {arrival.name: arrival for arrival in arrivals}
    beside: dict[str, str] = {}
    for developed, raw in raw_beside(by_name).items():
        if _has_prints(collection, by_name[developed]):
            beside[raw] = developed
        else:
            beside[developed] = raw
    return {name: beside.get(main, main) for name, main in beside.items()}


def mains_first(arrivals: Sequence[Arrival], mains: Sequence[Arrival], beside: dict[str, str]) -> list[Arrival]:
    """All arrivals: the mains in their order, each followed by what is kept beside it."""
    ordered: list[Arrival] = []
    for main in mains:
        ordered += [main, *(arrival for arrival in arrivals if beside.get(arrival.name) == main.name)]
    return ordered


def _has_prints(collection: Collection, arrival: Arrival) -> bool:
    try:
        return bool(collection.catalogue.prints_of_capture(sha256_of(arrival.path)))
    except OSError:
        return False  # what can't be read is told of when it is taken in


def beside_key(sha256: str) -> str:
    """The setting that holds the capture beside which one is kept: another file of the same shot."""
    return f"beside {sha256}"


def keep_beside(collection: Collection, act: Act, arrival: Arrival, other: str) -> str:
    """Keeps another file of the shot whose capture is `other`; the prints are those of that one. Its checksum.

    Raises
    ------
    Unreadable
        When it is no picture that is read: nothing is kept then.
    """
    facts = probe(arrival.path)
    kept = collection.vault.put(arrival.path, suffix=facts.suffix)
    with act.work() as work:
        work.keep_capture(capture_of(kept.path, arrival.name, kept.sha256, facts))
        work.keep_arrival(arrival.name, kept.sha256)
        work.set(beside_key(kept.sha256), other, lasting=True)
        work.commit()
    return kept.sha256
