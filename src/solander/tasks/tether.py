"""A camera on a cable: its pictures as arrivals, in a folder of the collection until they are kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event

from solander.core.errors import Trouble
from solander.intake.arrivals import Arrival
from solander.intake.tether import Tethered, camera_there, gives_pairs
from solander.tasks.collection import Collection
from solander.tasks.incoming import incoming_folder
from solander.tasks.watch_folder import watched_folder

__all__ = ["tethered"]


@contextmanager
def tethered(
    collection: Collection, told: Callable[[Trouble], None], *, stop: Event | None = None
) -> Iterator[tuple[str, Iterator[Arrival]]]:
    """The camera's model and the pictures that it gives; when it is left, the camera is let go. Another thread
    ends it by `stop`.

    Raises
    ------
    CannotBegin
        When `gphoto2` is not installed, or no camera answers.
    """
    model = camera_there()
    pairs = gives_pairs()
    with incoming_folder(collection, "camera") as folder:
        shots = iter(Tethered(watched_folder(folder, told, stop=stop, pairs=pairs, passing=True)))
        try:
            yield model, shots
        finally:
            shots.close()  # type: ignore[attr-defined]  # a generator: it lets the camera go
