"""What a stage tells its pages, as messages (docs/station.md lists them). Each is made in the language of the page
that it goes to, when it goes."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import Any

from solander.core.errors import Trouble
from solander.station.spoken import trouble_message
from solander.station.stage_parts import CameraSays, Standing
from solander.station.stage_words import (
    across_words,
    held_words,
    light_words,
    missing_words,
    ppi_words,
    watched_words,
)
from solander.station.viewer import Notice

__all__ = [
    "as_it_is",
    "camera",
    "do",
    "done",
    "heard",
    "microphone",
    "others",
    "print_taken",
    "standing",
    "taken",
    "trouble",
    "watched",
]

MOST_SHOWN = 12
"""The last prints that are shown beside the stage."""


def do(what: str, **more: Any) -> Notice:
    """What the camera is to do: "still", "watch", "slow", "rest", "leave"."""
    return Notice("do", lambda: {"do": what, **more})


def as_it_is(kind: str, now: Callable[[], Notice]) -> Notice:
    """What stands when it is sent: of two threads that tell at once, the last one may know less."""
    return Notice(kind, lambda: now().told(), stands=True)


def watched(seen: Any, *, waits: bool) -> Notice:
    """What goes on at the stage; `waits` for a still that was asked for."""

    def told() -> Mapping[str, Any]:
        return {
            "state": seen.state.value,
            "why": seen.why,
            "where": seen.where,
            "light": seen.light,
            "waits": waits,
            "outlines": [{"corners": corners, "sure": sure} for corners, sure in seen.outlines],
            "words": watched_words(seen.state.value, seen.why, seen.where, waits=waits),
            "light_words": light_words(seen.light),
        }

    return Notice("watched", lambda: {"watched": told()}, stands=True)


def camera(
    says: CameraSays | None, scales: Mapping[str, float], outline: Sequence[tuple[float, float]] = ()
) -> Notice:
    """What the camera can; nothing without one.

    `scales` are pixels an inch as measured, by route; `outline` is where the last print lay, in shares of the
    picture.
    """

    def told() -> Mapping[str, Any] | None:
        if says is None:
            return None
        ppi = ppi_of(says.routes, scales)
        route = max(ppi, key=lambda each: ppi[each], default="")
        return {
            "route": route,
            "ppi": round(ppi[route]) if route else None,
            "routes": {
                route: {
                    "width": width,
                    "height": height,
                    "ppi": round(ppi[route]) if route in ppi else None,
                    "across": across(outline, (width, height)),
                }
                for route, (width, height) in says.routes.items()
            },
            "locked": says.locked,
            "not": says.missing,
            "words": list(filter(None, _camera_words(says, ppi, outline))),
        }

    return Notice("camera", lambda: {"camera": told()}, stands=True)


def _camera_words(
    says: CameraSays, ppi: Mapping[str, float], outline: Sequence[tuple[float, float]]
) -> Sequence[str]:
    """How large its pictures are, what it holds still, what it does not: a sentence each, empty where nothing."""
    size = ppi_words(ppi) or across_words({route: across(outline, px) for route, px in says.routes.items()})
    return size, held_words(says.locked), missing_words(says.missing)


def across(outline: Sequence[tuple[float, float]], size: tuple[int, int]) -> int:
    """Pixels along the longest side of a print in a picture of that size; 0 where none was seen."""
    corners = [(x * size[0], y * size[1]) for x, y in outline]
    return round(max((math.dist(one, other) for one, other in pairwise([*corners, *corners[:1]])), default=0))


def ppi_of(routes: Mapping[str, tuple[int, int]], scales: Mapping[str, float]) -> dict[str, float]:
    """Pixels an inch by every route: as measured, else reckoned from one that was, since both show the stage."""
    measured = next((route for route in routes if route in scales), None)
    if measured is None:
        return {}
    each_px = scales[measured] / max(routes[measured])
    return {route: scales.get(route, each_px * max(size)) for route, size in routes.items()}


def standing(stand: Standing) -> list[Notice]:
    """How things stand: the slip, the last prints, two pictures of which one is to be kept, a story."""
    tellers = {"slip": _slip, "last": _last, "again": _again, "story": _story}
    return [
        Notice(kind, lambda kind=kind, tell=tell: {kind: tell(stand)}, stands=True)  # type: ignore[misc]
        for kind, tell in tellers.items()
    ]


def _slip(stand: Standing) -> Mapping[str, Any]:
    return {
        "words": stand.slip_words(),
        "parts": [{"part": part, "words": words, "sure": sure} for part, words, sure in stand.slip_parts()],
        "sounds": [{"id": one.id, "covers": list(one.covers)} for one in stand.sounds()],
    }


def _last(stand: Standing) -> list[Mapping[str, Any]]:
    return [print_taken(one) for one in stand.last(MOST_SHOWN)]


def _again(stand: Standing) -> Mapping[str, Any] | None:
    two = stand.again
    if two is None:
        return None
    return {
        "accession": two.accession,
        "side": two.side,
        "old": f"/view/{two.old}.jpg",
        "new": f"/view/{two.new}.jpg",
        "faults": [one.words for one in two.new_faults],
        "old_faults": [one.words for one in two.old_faults],
    }


def _story(stand: Standing) -> Mapping[str, Any] | None:
    story = stand.story
    if story is None:
        return None
    return {"running": True, "seconds": story.seconds, "prints": list(story.prints)}


def print_taken(one: Any) -> Mapping[str, Any]:
    """A print that was taken, as a page lays it down."""
    return {
        "accession": one.accession,
        "side": one.side,
        "thumb": f"/thumb/{one.key}.jpg" if one.key else "",
        "large": f"/view/{one.key}.jpg" if one.key else "",
        "words": one.words,
        "faults": [fault.words for fault in one.faults],
        "act": one.act,
        "proposed_back": bool(one.back_of),
        "back_of": one.back_of,
    }


def taken(one: Any) -> Notice:
    """A print was taken, or what became of a picture otherwise."""
    if one.accession:
        return Notice("taken", lambda: {"taken": print_taken(one)})
    return Notice("told", lambda: {"told": {"words": one.words, "act": one.act, "tone": one.tone}})


def done(given: Any) -> list[Notice]:
    """What an order or words did."""
    words = getattr(given, "words", "")
    if not words:
        return []
    told = {"words": words, "act": given.act, "tone": given.tone}
    return [Notice("told", lambda: {"told": told})]


def heard(number: int, words: str, sure: str, state: str) -> Notice:
    """What was heard, and whether it was understood, is asked about, or was not."""
    return Notice("heard", lambda: {"heard": {"id": number, "words": words, "sure": sure, "state": state}})


def microphone(*, is_open: bool, muted: bool) -> Notice:
    """Whether anybody listens."""
    return Notice("microphone", lambda: {"microphone": {"open": is_open, "muted": muted}}, stands=True)


def others(count: int) -> Notice:
    """How many other pages look at this station."""
    return Notice("others", lambda: {"others": count}, stands=True)


def trouble(of: Trouble) -> Notice:
    """Something that a person must know about."""
    return Notice("trouble", lambda: trouble_message(of))
