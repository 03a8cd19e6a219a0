"""One page that looks at a stage: what waits to be sent to it, and never more than that.

Each page takes what it can carry. Of the live picture, and of what merely stands (the state, the slip), only the
newest waits; what happened (a print taken, words heard) waits in a short row. So a slow page misses pictures and
holds up nobody.
"""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from attrs import define, field, frozen

__all__ = ["Notice", "Viewer"]

MOST_WAITING = 50
"""What happened and was not sent yet; a page that is further behind has been away (our choice)."""


@frozen
class Notice:
    """Something to tell: `told` gives the message as an object, in the language that is spoken where it runs. One
    that `stands` takes the place of the one of its `kind` before it."""

    kind: str
    told: Callable[[], Mapping[str, Any]]
    stands: bool = False


@define(eq=False)
class Viewer:
    """What waits for one page; filled from any thread, emptied by `next` in the loop that it was made in.

    `pictures` is False for a page that gets words alone.
    """

    pictures: bool = True
    _loop: asyncio.AbstractEventLoop = field(factory=asyncio.get_running_loop, init=False)
    _bell: asyncio.Event = field(factory=asyncio.Event, init=False)
    _standing: dict[str, Notice] = field(factory=dict, init=False)
    _happened: deque[Notice] = field(factory=lambda: deque(maxlen=MOST_WAITING), init=False)
    _picture: bytes | None = field(default=None, init=False)
    _picture_is_due: bool = field(default=False, init=False)
    _asks: bool = field(default=False, init=False)
    _may_send: bool = field(default=True, init=False)

    def tell(self, notice: Notice) -> None:
        """Lets the page know, as soon as it can take it."""
        self._soon(self._told, notice)

    def tell_all(self, notices: Iterable[Notice]) -> None:
        """Several, in their order."""
        for notice in notices:
            self.tell(notice)

    def show(self, jpeg: bytes) -> None:
        """Shows a picture of the stage, unless a newer one comes before this can be sent."""
        if self.pictures:
            self._soon(self._shown, jpeg)

    def drew(self) -> None:
        """The page has drawn the picture that it got. One that says so once gets the next only when it says it."""
        self._asks = self._may_send = True
        self._bell.set()

    async def next(self) -> Notice | bytes:
        """What is to be sent next; waits until there is something. What happened goes before all; what stands and
        the picture take turns, or a page that is slow would never see one of them."""
        while True:
            self._bell.clear()
            if self._happened:
                return self._happened.popleft()
            picture = self._picture if self._may_send else None
            if picture is not None and (self._picture_is_due or not self._standing):
                return self._picture_now(picture)
            if self._standing:
                self._picture_is_due = True
                return self._standing.pop(next(iter(self._standing)))
            await self._bell.wait()

    def _picture_now(self, jpeg: bytes) -> bytes:
        self._picture, self._picture_is_due = None, False
        self._may_send = not self._asks
        return jpeg

    def _told(self, notice: Notice) -> None:
        if notice.stands:
            self._standing[notice.kind] = notice
        else:
            self._happened.append(notice)

    def _shown(self, jpeg: bytes) -> None:
        self._picture = jpeg

    def _soon(self, note: Callable[[Any], None], what: Any) -> None:
        def noting() -> None:
            note(what)
            self._bell.set()

        if not self._loop.is_closed():
            self._loop.call_soon_threadsafe(noting)
