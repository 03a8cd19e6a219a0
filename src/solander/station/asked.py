"""What is asked just now: the address, and the last change that a page made now can show."""

from __future__ import annotations

from contextvars import ContextVar
from urllib.parse import quote

from attrs import frozen
from fastapi import Request

from solander.station.workbench import Workbench

__all__ = ["Asked", "asked", "note_asked", "path_of"]


@frozen
class Asked:
    """One request: `here` is the address with its query, `seen` the number of the last change when it came."""

    here: str = "/"
    seen: int = 0


_NOTHING = Asked()
_ASKED: ContextVar[Asked] = ContextVar("asked", default=_NOTHING)


def asked() -> Asked:
    """The request that is answered here and now."""
    return _ASKED.get()


def path_of(request: Request) -> str:
    """The address as it is written, without its query: names in it may hold any letter."""
    return quote(request.scope["path"])


def note_asked(bench: Workbench, request: Request) -> None:
    """Notes the request before anything is read for it: what a page shows is then as new as `seen`, or newer."""
    if request.headers.get("accept", "").startswith("image/"):
        return  # a picture shows no change, and a page has very many of them
    query = f"?{request.url.query}" if request.url.query else ""
    _ASKED.set(Asked(path_of(request) + query, bench.collection.last_change))
