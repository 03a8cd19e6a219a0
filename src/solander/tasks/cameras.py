"""Phones that may be the camera of a stand here: paired once, known again by a secret, sent away at any time.

They are kept in a small file of this user on this computer, and not in a collection: a phone belongs to the
desk that it stands on, and a collection is copied, carried to other computers and handed over. So no copy and no
release ever says which phones there were. The file holds no secret, only its SHA-256.
"""

from __future__ import annotations

import hashlib
import json
import os
import secrets
import time
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path
from threading import Lock

from attrs import asdict, define, evolve, field, frozen

from solander.core.errors import NotFound, Trouble
from solander.core.own_folder import own_folder
from solander.core.sentence import Sentence

__all__ = ["CODE_LASTS_S", "Camera", "Cameras", "private_file", "used_up"]

CODE_LASTS_S = 5 * 60
"""Long enough to take up a phone, short enough that a picture of the screen is worth little (our choice)."""

MOST_CAMERAS = 20
MOST_OFFERED = 10

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
    """All phones of this user on this computer. Of several threads and programs at once, the last writes.

    `on_revoked` is called with the key of one that was sent away.
    """

    file: Path = field(factory=lambda: own_folder() / "cameras.json")
    clock: Callable[[], float] = time.time
    on_revoked: Callable[[str], None] = lambda key: None
    _offered: dict[str, float] = field(factory=dict, init=False)
    _lock: Lock = field(factory=Lock, init=False)

    def offer(self) -> str:
        """A new code for one phone, valid once and for `CODE_LASTS_S`."""
        code = secrets.token_urlsafe(16)
        with self._lock:
            self._forget_old()
            self._offered[_hashed(code)] = self.clock() + CODE_LASTS_S
            while len(self._offered) > MOST_OFFERED:
                self._offered.pop(next(iter(self._offered)))
        return code

    def is_offered(self, code: str) -> bool:
        """Whether the code could still be used."""
        with self._lock:
            self._forget_old()
            return _hashed(code) in self._offered

    def pair(self, code: str, name: str) -> str:
        """Uses a code up; gives the secret that the phone is known by from now on.

        Raises
        ------
        Trouble
            When the code was used, is too old, or never was (status 403).
        """
        with self._lock:
            self._forget_old()
            if self._offered.pop(_hashed(code), None) is None:
                raise used_up()
            secret, now = secrets.token_urlsafe(32), self._now()
            camera = Camera(secrets.token_hex(8), name.strip()[:60] or "…", _hashed(secret), now, now)
            self._write([*self._read(), camera][-MOST_CAMERAS:])
            return secret

    def known(self, secret: str) -> Camera | None:
        """The phone of that secret, which was seen just now; None for one that is not known."""
        hashed = _hashed(secret)
        with self._lock:
            cameras = self._read()
            here = next((one for one in cameras if secrets.compare_digest(one.secret, hashed)), None)
            if here is not None and self._is_due(here):
                seen = evolve(here, seen=self._now())
                self._write([seen if one is here else one for one in cameras])
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
        with self._lock:
            cameras = self._read()
            gone = next((one for one in cameras if one.key == key), None)
            if gone is None:
                raise NotFound(Sentence("There is no such phone"), todo=Sentence("Load the page again"))
            self._write([one for one in cameras if one.key != key])
        self.on_revoked(key)
        return gone

    def _forget_old(self) -> None:
        now = self.clock()
        self._offered = {code: ends for code, ends in self._offered.items() if ends > now}

    def _is_due(self, camera: Camera) -> bool:
        return self.clock() - datetime.fromisoformat(camera.seen).timestamp() >= SEEN_EVERY_S

    def _now(self) -> str:
        return datetime.fromtimestamp(self.clock(), UTC).isoformat(timespec="seconds")

    def _read(self) -> list[Camera]:
        try:
            return [Camera(**one) for one in json.loads(self.file.read_text("utf-8"))["cameras"]]
        except FileNotFoundError:
            return []
        except (OSError, ValueError, KeyError, TypeError):
            return []  # a file that is spoilt lets nobody in; pairing writes a new one

    def _write(self, cameras: Sequence[Camera]) -> None:
        told = json.dumps({"cameras": [asdict(one) for one in cameras]}, ensure_ascii=False, indent=1)
        private_file(self.file, told.encode())


def private_file(path: Path, content: bytes) -> None:
    """Writes a file that only this user reads, whole or not at all; its folder is made when it is not there."""
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    fresh = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    handle = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        fresh.replace(path)
    except OSError:
        fresh.unlink(missing_ok=True)
        raise


def _hashed(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()


def used_up() -> Trouble:
    """What is told of a code that pairs nobody (any more)."""
    trouble = Trouble(
        Sentence("This phone was not paired"),
        Sentence("the code was used already, or is older than %(minutes)s minutes", minutes=CODE_LASTS_S // 60),
        Sentence("Show a new code at the workbench, and point the phone at it"),
    )
    trouble.status = 403
    return trouble
