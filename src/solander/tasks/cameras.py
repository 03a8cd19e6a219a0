"""Phones that may be the camera of a stand here: paired once, known again by a secret, sent away at any time.

They are kept in a small file of this user on this computer, and not in a collection: a phone belongs to the
desk that it stands on, and a collection is copied, carried to other computers and handed over. So no copy and no
release ever says which phones there were. The file holds no secret, only its SHA-256.
"""

from __future__ import annotations

import hashlib
import json
import secrets
import time
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path
from threading import Lock

from attrs import asdict, define, evolve, field, frozen

from solander.core.errors import NotFound, Trouble
from solander.core.own_files import locked, private_file
from solander.core.own_folder import own_folder
from solander.core.sentence import Sentence

__all__ = ["CODE_LASTS_S", "DISUSED_DAYS", "Camera", "Cameras", "used_up"]

CODE_LASTS_S = 5 * 60
"""Long enough to take up a phone, short enough that a picture of the screen is worth little (our choice)."""

DISUSED_DAYS = 180
"""A phone that was not seen for so long is not known any more: it may have been sold or lost, and nobody thinks of
sending it away (our choice). It is paired again in a minute."""

MOST_CAMERAS = 20

SEEN_EVERY_S = 60
"""When a phone was last seen is written down so often and no oftener."""


@frozen
class Camera:
    """A paired phone: `secret` is the SHA-256 of what it is known by; times are UTC, to the second."""

    key: str
    name: str
    secret: str = field(repr=False)
    paired: str
    seen: str


@define(eq=False)
class Cameras:
    """All phones of this user on this computer, for several threads and programs at once.

    `on_revoked` is called with the key of one that was sent away.
    """

    file: Path = field(factory=lambda: own_folder() / "cameras.json")
    clock: Callable[[], float] = time.time
    on_revoked: Callable[[str], None] = lambda key: None
    _offered: tuple[str, float] = field(default=("", 0.0), init=False)
    _lock: Lock = field(factory=Lock, init=False)

    def offer(self) -> str:
        """A new code for one phone, valid once and for `CODE_LASTS_S`; the one before it ends."""
        code = secrets.token_urlsafe(16)
        with self._lock:
            self._offered = _hashed(code), self.clock() + CODE_LASTS_S
        return code

    def is_offered(self, code: str) -> bool:
        """Whether the code could still be used."""
        with self._lock:
            return self._is_open(code)

    def pair(self, code: str, name: str) -> str:
        """Uses a code up; gives the secret that the phone is known by from now on.

        Raises
        ------
        Trouble
            When the code was used, is too old, or never was (status 403).
        """
        with self._lock, locked(self.file):
            if not self._is_open(code):
                raise used_up()
            self._offered = "", 0.0
            secret, now = secrets.token_urlsafe(32), self._now()
            camera = Camera(secrets.token_hex(8), name.strip()[:60] or "…", _hashed(secret), now, now)
            self._write([*self._read(), camera][-MOST_CAMERAS:])
            return secret

    def known(self, secret: str) -> Camera | None:
        """The phone of that secret, which was seen just now; None for one that is not known (any more)."""
        hashed = _hashed(secret)
        with self._lock:
            here = next((one for one in self._read() if secrets.compare_digest(one.secret, hashed)), None)
            if here is not None and self._unseen_s(here) >= SEEN_EVERY_S:
                with locked(self.file):
                    seen = evolve(here, seen=self._now())
                    self._write([seen if one.key == here.key else one for one in self._read()])
            return here

    @property
    def all(self) -> Sequence[Camera]:
        """Every one, the one that was paired last first."""
        with self._lock:
            return self._read()[::-1]

    def revoke(self, key: str) -> Camera:
        """Sends one away: its secret is worth nothing from now on.

        Raises
        ------
        NotFound
            When there is none of that key.
        """
        with self._lock, locked(self.file):
            cameras = self._read()
            gone = next((one for one in cameras if one.key == key), None)
            if gone is None:
                raise NotFound(Sentence("There is no such phone"), todo=Sentence("Load the page again"))
            self._write([one for one in cameras if one.key != key])
        self.on_revoked(key)
        return gone

    def _is_open(self, code: str) -> bool:
        hashed, ends = self._offered
        return ends > self.clock() and secrets.compare_digest(hashed, _hashed(code))

    def _unseen_s(self, camera: Camera) -> float:
        return self.clock() - datetime.fromisoformat(camera.seen).timestamp()

    def _now(self) -> str:
        return datetime.fromtimestamp(self.clock(), UTC).isoformat(timespec="seconds")

    def _read(self) -> list[Camera]:
        """Those that were seen lately."""
        try:
            told = [Camera(**one) for one in json.loads(self.file.read_text("utf-8"))["cameras"]]
            return [one for one in told if self._unseen_s(one) < DISUSED_DAYS * 24 * 3600]
        except FileNotFoundError:
            return []
        except (OSError, ValueError, KeyError, TypeError):
            return []  # a file that is spoilt lets nobody in; pairing writes a new one

    def _write(self, cameras: Sequence[Camera]) -> None:
        told = json.dumps({"cameras": [asdict(one) for one in cameras]}, ensure_ascii=False, indent=1)
        private_file(self.file, told.encode())


def _hashed(secret: str) -> str:
    return hashlib.sha256(secret.encode("utf-8", "surrogateescape")).hexdigest()


def used_up() -> Trouble:
    """What is told of a code that pairs nobody (any more)."""
    trouble = Trouble(
        Sentence("This phone was not paired"),
        Sentence(
            "the code was used already, is older than %(minutes)s minutes, or a newer one was shown",
            minutes=CODE_LASTS_S // 60,
        ),
        Sentence("Show a new code at the workbench, and point the phone at it"),
    )
    trouble.status = 403
    return trouble
