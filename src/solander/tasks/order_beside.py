"""Where the order of a collection is kept: in itself; of one that can only be read, in a copy of its catalogue."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from pathlib import Path

from solander.catalogue.store import FILE_NAME
from solander.tasks.collection import Collection

__all__ = ["order_kept_in"]


def order_kept_in(collection: Collection) -> Collection:
    """The collection itself where it can be written. Else another one that lasts as long as this process, in which
    the order may be worked out; from then on the collection reads where its prints stand from there."""
    if collection.catalogue.can_be_written:
        return collection
    folder = Path(tempfile.mkdtemp(prefix="solander-order-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    collection.catalogue.backup(folder / FILE_NAME)
    beside = Collection.open(folder)
    collection.catalogue.read_order_from(beside.catalogue.path)
    return beside
