"""What takes long, done beside the pages: asked for on one page, looked at again on the next."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import Future
from typing import TypeVar

__all__ = ["beside", "when_done"]

PATIENCE_S = 1.0
"""So long a page waits for what it asked for before it says that it goes on (our choice)."""

_Done = TypeVar("_Done")


def beside(work: Callable[[], _Done]) -> Future[_Done]:
    """Does it in a thread that ends with the workbench; what writes does so as a whole or not at all."""
    done: Future[_Done] = Future()

    def do() -> None:
        try:
            done.set_result(work())
        except BaseException as error:  # handed to the page that asks
            done.set_exception(error)

    threading.Thread(target=do, daemon=True).start()
    return done


def when_done(going: Future[_Done]) -> _Done | None:
    """What came of it, waited for a little; None while it goes on. Raises what it raised."""
    try:
        return going.result(PATIENCE_S)
    except TimeoutError:
        if going.done():  # what it did took too long itself
            raise
        return None
