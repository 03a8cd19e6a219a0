"""What holds at each station, and the recordings that were kept.

The state of a station is never in history: it is what somebody says just now, not what is known of a print.
"""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import AbstractContextManager
from typing import Any

from attrs import asdict
from sqlalchemy import Connection, delete, insert, select

from solander.catalogue.database import first_row, rows
from solander.catalogue.history import Recorder
from solander.catalogue.records import Row, storable
from solander.catalogue.schema import settings, slips, sounds, statements
from solander.core.sounds import Sound, SoundKind
from solander.core.statements import Says

__all__ = ["ReadingStand", "StandWork", "keep_station"]


class ReadingStand:
    """The part of a catalogue that reads stations and recordings."""

    def _reading(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    def station(self, name: str) -> Mapping[str, Any] | None:
        """What was kept of a station last, if anything was."""
        with self._reading() as connection:
            row = first_row(connection, select(slips).where(slips.c.station == storable(name)))
        return row["told"] if row else None

    def stations(self) -> list[str]:
        """The names of all stations that there were."""
        with self._reading() as connection:
            return [row["station"] for row in rows(connection, select(slips).order_by(slips.c.station))]

    def sound(self, sha256: str) -> Sound | None:
        """The recording of that checksum, if it is kept."""
        with self._reading() as connection:
            row = first_row(connection, select(sounds).where(sounds.c.sha256 == storable(sha256)))
        return _sound_of(row) if row else None

    def sounds(self, kind: SoundKind | None = None) -> list[Sound]:
        """All recordings, or those of one kind, in the order in which they began."""
        query = select(sounds).order_by(sounds.c.begun, sounds.c.sha256)
        if kind is not None:
            query = query.where(sounds.c.what == kind.value)
        with self._reading() as connection:
            return [_sound_of(row) for row in rows(connection, query)]

    def erased_sounds(self) -> list[str]:
        """The checksums of recordings that were erased for good."""
        with self._reading() as connection:
            query = select(settings.c.key).where(settings.c.key.startswith(ERASED)).order_by(settings.c.key)
            return [str(row["key"]).removeprefix(ERASED) for row in rows(connection, query)]

    def prints_of_sound(self, sha256: str) -> list[str]:
        """The prints that a told story is bound to, by accession number."""
        told = statements.c.says == Says.ACCOUNT, statements.c.value == storable(sha256)
        query = select(statements.c.subject).where(*told, statements.c.withdrawn.is_(None))
        with self._reading() as connection:
            return [str(row["subject"]) for row in rows(connection, query.order_by(statements.c.entry))]


ERASED = "erased sound "
"""The setting that tells of a recording, by its checksum, that it was erased, and when."""


class StandWork:
    """The part of a unit of work that writes recordings."""

    recorder: Recorder

    def keep_sound(self, sound: Sound) -> None:
        """Enters a recording; one that is known already stays as it is. Undo never takes it back."""
        if self.recorder.row(sounds, sound.sha256) is None:
            row = {**asdict(sound), "what": sound.what.value}
            self.recorder.insert(sounds, row, lasting=True)

    def has_sound(self, sha256: str) -> bool:
        """Whether a recording is kept."""
        return self.recorder.row(sounds, sha256) is not None

    def note_erased(self, sha256: str, when: str) -> None:
        """Notes that a recording was erased, so that copies of it go as well. Undo never takes it back."""
        row = {"key": ERASED + sha256, "value": when}
        self.recorder.keep(settings, row, lasting=True)


def keep_station(connection: Connection, name: str, told: Mapping[str, Any]) -> None:
    """Keeps what holds at a station, in the place of what was kept before."""
    connection.execute(delete(slips).where(slips.c.station == storable(name)))
    connection.execute(insert(slips), {"station": storable(name), "told": dict(told)})


def _sound_of(row: Row) -> Sound:
    return Sound(**{**row, "what": SoundKind(row["what"])})
