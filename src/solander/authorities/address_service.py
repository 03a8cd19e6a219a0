"""Addresses and landmarks from a service on the net that the user names; never asked without being told to.

The service speaks as Nominatim does: `GET URL?q=PHRASE&format=jsonv2&limit=5` gives a list of objects with `lat`,
`lon`, `display_name`, `boundingbox` (south, north, west, east) and `licence` (its API documentation, from memory).
It is asked at most once a second, whoever asks on this computer; what it answered once is kept and not asked
again.
"""

from __future__ import annotations

import json
import sqlite3
import time
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from http.client import HTTPException
from pathlib import Path
from typing import Any

from attrs import field, frozen, validators

from solander import __version__
from solander.authorities.gazetteer.distance import km_between
from solander.core.errors import InvalidValue, Trouble
from solander.core.place_finds import PlaceFound
from solander.core.sentence import Sentence

__all__ = ["USER_AGENT", "AddressService"]

USER_AGENT = f"Solander/{__version__} (old photographs; asks one address at a time)"

_EVERY_S = 1.0
"""Between two questions: at most one a second, as the operators of such services ask (common practice)."""

_PATIENCE_S = 10.0
_MOST_BYTES = 1 << 20
_HOUSE_M = 30.0
"""No circle is smaller: an address is a house (Darwin Core's own example)."""

_TABLES = """
CREATE TABLE IF NOT EXISTS answers (url TEXT, phrase TEXT, answer TEXT NOT NULL, PRIMARY KEY (url, phrase));
CREATE TABLE IF NOT EXISTS asked (url TEXT PRIMARY KEY, at REAL NOT NULL);
"""


def _web_address(_: object, __: object, value: str) -> None:
    parts = urllib.parse.urlsplit(value)
    if parts.scheme not in ("http", "https") or not parts.hostname:
        raise InvalidValue(
            Sentence("“%(value)s” is no address of a service", value=value),
            Sentence("it must begin with https://"),
            Sentence("Give the whole address"),
        )


@frozen
class AddressService:
    """A service at `url`; `credit` is what its operators ask to be named by, `cache` the file of its answers."""

    url: str = field(validator=[validators.instance_of(str), _web_address])
    cache: Path
    credit: str = ""
    now: Callable[[], float] = time.time
    sleep: Callable[[float], None] = time.sleep

    def find(self, phrase: str) -> tuple[PlaceFound, ...]:
        """What the service answers, in its own order; asked over the net unless it was asked before.

        Raises
        ------
        Trouble
            When the service can't be reached, or answers what is not understood.
        """
        said = " ".join(phrase.split())
        with self._kept() as kept:
            known = kept.execute(
                "SELECT answer FROM answers WHERE url = ? AND phrase = ?", (self.url, said)
            ).fetchone()
            answer = known[0] if known else self._asked(said, kept)
            found = tuple(self._places(answer))
            if not known:
                kept.execute("INSERT OR REPLACE INTO answers VALUES (?, ?, ?)", (self.url, said, answer))
        return found

    @contextmanager
    def _kept(self) -> Iterator[sqlite3.Connection]:
        try:
            self.cache.parent.mkdir(parents=True, exist_ok=True)
            with closing(sqlite3.connect(self.cache, timeout=60, isolation_level=None)) as kept:
                kept.executescript(_TABLES)
                yield kept
        except (OSError, sqlite3.Error) as error:
            raise Trouble(
                Sentence("The address service was not asked"),
                Sentence("its answers can't be kept in %(cache)s (%(error)s)", cache=self.cache, error=error),
            ) from error

    def _asked(self, said: str, kept: sqlite3.Connection) -> str:
        # The lock is held while waiting and asking: two programs at once take turns.
        kept.execute("BEGIN IMMEDIATE")
        try:
            last = kept.execute("SELECT at FROM asked WHERE url = ?", (self.url,)).fetchone()
            wait = _EVERY_S - (self.now() - last[0]) if last else 0.0
            if wait > 0:
                self.sleep(min(wait, _EVERY_S))
            kept.execute("INSERT OR REPLACE INTO asked VALUES (?, ?)", (self.url, self.now()))
            answer = self._fetched(said)
        finally:
            kept.execute("COMMIT")
        return answer

    def _fetched(self, said: str) -> str:
        asked = urllib.parse.urlencode({"q": said, "format": "jsonv2", "limit": 5, "addressdetails": 1})
        joint = "&" if urllib.parse.urlsplit(self.url).query else "?"
        request = urllib.request.Request(f"{self.url}{joint}{asked}", headers={"User-Agent": USER_AGENT})
        try:
            with urllib.request.urlopen(request, timeout=_PATIENCE_S) as answer:
                return str(answer.read(_MOST_BYTES).decode("utf-8"))
        except urllib.error.HTTPError as error:
            raise self._trouble(
                Sentence("it answered %(code)s %(reason)s", code=error.code, reason=error.reason),
                Sentence("Try again later"),
            ) from error
        except (OSError, ValueError, HTTPException) as error:
            reason = getattr(error, "reason", error)
            why = Sentence("it can't be reached (%(what)s)", what=getattr(reason, "strerror", None) or reason)
            raise self._trouble(
                why, Sentence("Check the network; without it, lay the place on the map")
            ) from error

    def _places(self, answer: str) -> Iterator[PlaceFound]:
        try:
            rows = json.loads(answer)
            if not isinstance(rows, list):
                raise ValueError(Sentence("it is no list"))
            found = [self._place(row) for row in rows]
        except (ValueError, KeyError, TypeError) as error:
            raise self._trouble(
                Sentence("its answer was not understood"), Sentence("Check its address")
            ) from error
        yield from found

    def _place(self, row: dict[str, Any]) -> PlaceFound:
        latitude, longitude = float(row["lat"]), float(row["lon"])
        if not (abs(latitude) <= 90 and abs(longitude) <= 180):
            raise ValueError(Sentence("it lies nowhere on earth"))
        address = row.get("address") if isinstance(row.get("address"), dict) else {}
        return PlaceFound(
            name=str(row.get("name") or str(row.get("display_name", "")).partition(",")[0]),
            country=str((address or {}).get("country_code") or "").upper()[:2],
            latitude=latitude,
            longitude=longitude,
            radius_m=_radius(row.get("boundingbox"), (latitude, longitude)),
            reasons=tuple(filter(None, [str(row.get("display_name", "")), str(row.get("licence", ""))])),
            known_as=f"{row['osm_type']}:{row['osm_id']}" if "osm_id" in row and "osm_type" in row else "",
            what=str(row.get("type") or "address"),
        )

    def _trouble(self, why: str, todo: str) -> Trouble:
        return Trouble(
            Sentence(
                "The address service at %(hostname)s gave nothing",
                hostname=urllib.parse.urlsplit(self.url).hostname,
            ),
            why,
            todo,
        )


def _radius(box: Any, at: tuple[float, float]) -> float:
    """Metres from the position to the farthest corner of its box."""
    if not (isinstance(box, list) and len(box) == 4):
        return _HOUSE_M
    south, north, west, east = (float(edge) for edge in box)
    corners = [(south, west), (south, east), (north, west), (north, east)]
    return float(round(max(_HOUSE_M, 1000 * max(km_between(at, corner) for corner in corners))))
