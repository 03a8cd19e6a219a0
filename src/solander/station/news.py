"""Tells open pages that the collection has changed: in another window, by a command, on another page.

A page holds one long answer open (server-sent events, HTML standard, 9.2) and is told the number of the last
change; what changed it then fetches for itself. Numbers are never queued: whoever reads slowly gets the newest
when it reads, and holds up nobody else.
"""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import suppress

from attrs import define, field
from fastapi import FastAPI
from fastapi.responses import StreamingResponse

from solander.station.workbench import Page, Workbench

__all__ = ["News", "add_news"]

LOOK_EVERY_S = 0.5
"""How often the catalogue is looked at while a page listens: another program's change shows within a second (our
choice)."""

BREATH_S = 15.0
"""A line without meaning is sent so often, by which a lost connection is noticed (common practice, no source)."""


@define(eq=False)
class News:
    """The number of the last change for all who listen; looked up once, however many they are, and only while
    anybody does."""

    last_change: Callable[[], int]
    _bells: set[asyncio.Event] = field(factory=set, init=False)
    _looking: asyncio.Task[None] | None = field(default=None, init=False)
    _newest: int = field(default=0, init=False)
    _closed: bool = field(default=False, init=False)

    async def since(self, change: int) -> AsyncIterator[int | None]:
        """Each newest number after `change`, when there is one, None for a breath in between; until `close`."""
        bell = asyncio.Event()
        self._bells.add(bell)
        if self._looking is None or self._looking.done():
            self._newest = await asyncio.to_thread(self.last_change)
            self._looking = asyncio.create_task(self._look())
        try:
            while not self._closed:
                bell.clear()
                if self._newest > change:
                    change = self._newest
                    yield change
                    continue
                with suppress(TimeoutError):
                    await asyncio.wait_for(bell.wait(), BREATH_S)
                    continue
                yield None
        finally:
            self._bells.discard(bell)

    async def _look(self) -> None:
        while self._bells and not self._closed:
            newest = await asyncio.to_thread(self.last_change)
            if newest != self._newest:
                self._newest = newest
                self._ring()
            await asyncio.sleep(LOOK_EVERY_S)

    def close(self) -> None:
        """Lets all listeners go, so that the workbench can be closed while pages are open."""
        self._closed = True
        self._ring()

    def _ring(self) -> None:
        for bell in self._bells:
            bell.set()


def add_news(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the address at which pages listen; `app.state.news` lets them go."""
    news = News(lambda: bench.collection.last_change)
    app.state.news = news

    async def told(change: int) -> AsyncIterator[str]:
        yield "retry: 2000\n\n"
        async for newest in news.since(change):
            yield ": still here\n\n" if newest is None else f"id: {newest}\ndata: {newest}\n\n"

    @app.get("/changes", response_class=StreamingResponse)
    async def changes(since: int = 0) -> StreamingResponse:
        return StreamingResponse(told(since), media_type="text/event-stream")
