"""Told stories as they are found with their prints: who tells them, when, how long, what is heard in them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from attrs import define, frozen

from solander.core.dates import words
from solander.core.errors import InvalidValue, NotFound
from solander.core.sentence import Sentence
from solander.core.sounds import SoundKind
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.claims import AT_THE_DESK
from solander.tasks.collection import Collection
from solander.tasks.recordings import Recording, erase_recording, length_words, recording_of
from solander.tasks.said_anew import say_instead
from solander.tasks.sitting import Sitting

__all__ = [
    "AccountDesk",
    "AccountTold",
    "account_words",
    "accounts_by_print",
    "accounts_of",
    "all_accounts",
    "length_words",
]

WHO = "archivist"


@frozen
class AccountTold:
    """One story.

    `begun` is when it was told (UTC, RFC 3339), `teller` who tells it, empty where nobody said; `prints` are those
    that it is bound to. `heard` is what is said in it, in writing, by `heard_by`; `is_checked` tells that a person
    wrote it or has read it.
    """

    sha256: str
    begun: str
    seconds: float
    prints: tuple[str, ...]
    teller: str = ""
    heard: str = ""
    heard_by: str = ""
    is_checked: bool = False
    suffix: str = ".flac"

    @property
    def length(self) -> str:
        """How long it is, in minutes and seconds."""
        return length_words(self.seconds)


def account_words(account: AccountTold) -> str:
    """Who tells it, when and how long, in English: for those who get the files."""
    day = words(account.begun[:10])
    by = f" by {account.teller}" if account.teller else ""
    return f"Told{by} on {day}, {account.length} minutes."


def all_accounts(collection: Collection) -> list[AccountTold]:
    """All stories that are bound to a print, in the order in which they were told."""
    catalogue = collection.catalogue
    sounds = catalogue.sounds(SoundKind.ACCOUNT)
    said = catalogue.statements_about(sound.sha256 for sound in sounds) if sounds else []
    found = []
    for sound in sounds:
        if prints := tuple(catalogue.prints_of_sound(sound.sha256)):
            of_it = [one for one in said if one.about is About.SOUND and one.subject == sound.sha256]
            teller = next((one.value for one in reversed(of_it) if one.says is Says.TELLER), "")
            heard = next((one for one in reversed(of_it) if one.says is Says.HEARD), None)
            text, by = (heard.value, heard.source) if heard else ("", "")
            checked = heard is not None and heard.sure is not Sure.GUESS
            seconds, suffix = sound.seconds, sound.suffix
            found.append(
                AccountTold(sound.sha256, sound.begun, seconds, prints, teller, text, by, checked, suffix)
            )
    return found


def accounts_of(collection: Collection, accession: str) -> list[AccountTold]:
    """The stories that are told about a print."""
    said = collection.catalogue.statements(subject=accession)
    bound = {one.value for one in said if one.says is Says.ACCOUNT}
    return [one for one in all_accounts(collection) if one.sha256 in bound] if bound else []


def accounts_by_print(accounts: Iterable[AccountTold]) -> dict[str, list[AccountTold]]:
    """The stories of each print that has any."""
    found: dict[str, list[AccountTold]] = {}
    for one in accounts:
        for accession in one.prints:
            found.setdefault(accession, []).append(one)
    return found


@define
class AccountDesk:
    """The stories of a collection, listened to and put right at the workbench."""

    collection: Collection
    sitting: Sitting

    def of(self, accession: str) -> Sequence[AccountTold]:
        """The stories that are told about a print."""
        return accounts_of(self.collection, accession)

    def path(self, sha256: str) -> Path:
        """The file of a recording.

        Raises
        ------
        NotFound
            When there is none of that checksum.
        """
        if self.collection.catalogue.sound(sha256) is None:
            raise NotFound(Sentence("There is no such recording"))
        return self.collection.sounds.path(sha256)

    def say_teller(self, sha256: str, name: str) -> int | None:
        """Says who tells a story; an empty name takes it back. The act's number.

        Raises
        ------
        NotFound
            When there is no such recording.
        """
        self.path(sha256)
        name = " ".join(name.split())
        # The name stays out of the act: what was done is kept also where a recording is erased with all it told.
        what = Sentence("said who tells a story") if name else Sentence("unsaid who tells a story")
        new = [_of_sound(sha256, Says.TELLER, name)] if name else []
        return self._instead(what, sha256, Says.TELLER, new)

    def write_down(self, sha256: str, text: str) -> int | None:
        """Writes down what is said in a story, by a person: in the place of what a program heard.

        Raises
        ------
        InvalidValue
            When nothing was written.
        NotFound
            When there is no such recording.
        """
        self.path(sha256)
        if not text.strip():
            raise InvalidValue(Sentence("Nothing was written down"), Sentence("the field is empty"))
        new = [_of_sound(sha256, Says.HEARD, text.strip())]
        return self._instead(Sentence("wrote down what is said in a story"), sha256, Says.HEARD, new)

    def take_off(self, sha256: str, accession: str) -> int | None:
        """Says that a story is not about a print; the recording stays.

        Raises
        ------
        NotFound
            When it is not bound to it.
        """
        said = self.collection.catalogue.statements(subject=accession)
        found = [one for one in said if one.says is Says.ACCOUNT and one.value == sha256]
        if not found:
            why = Sentence("it was taken off since")
            raise NotFound(Sentence("This story is not with the print any more"), why)
        what = Sentence("took a told story off %(print)s", print=accession)
        with self.collection.catalogue.act(WHO, what) as act, act.work() as work:
            work.withdraw_all(one.id for one in found)
            work.commit()
        return self.sitting.noted(act.number)

    def erase(self, sha256: str) -> int | None:
        """Erases a recording for good: see `erase_recording`."""
        return erase_recording(self.collection, sha256)

    def note(self, act: int) -> str:
        """What an act of erasing says; empty for any other."""
        kept = self.collection.catalogue.act_kept(act)
        return kept.what if kept is not None and kept.lasting else ""

    def recordings(self) -> Sequence[Recording]:
        """All recordings, the newest first: told stories, and what was not understood."""
        return [recording_of(self.collection, sound) for sound in reversed(self.collection.catalogue.sounds())]

    def recording(self, sha256: str) -> Recording:
        """One of them.

        Raises
        ------
        NotFound
            When there is none of that checksum.
        """
        sound = self.collection.catalogue.sound(sha256)
        if sound is None:
            raise NotFound(Sentence("There is no such recording"))
        return recording_of(self.collection, sound)

    def _instead(self, what: str, sha256: str, says: Says, new: Sequence[Statement]) -> int | None:
        catalogue = self.collection.catalogue
        old = [one for one in catalogue.statements(subject=sha256) if one.says is says]
        if [one.value for one in old] == [one.value for one in new]:
            return None
        with catalogue.act(WHO, what) as act, act.work() as work:
            say_instead(catalogue, work, old, new)
            work.commit()
        return self.sitting.noted(act.number)


def _of_sound(sha256: str, says: Says, value: str) -> Statement:
    return Statement("", About.SOUND, sha256, says, value, value, Sure.CERTAIN, AT_THE_DESK, "")
