"""Writes down told stories by a program, marked as unchecked; what may date or name becomes a question.

Nothing that is heard by a program is ever said of a print. A person reads it, and says what is so.
"""

from __future__ import annotations

from pathlib import Path

from attrs import frozen

from solander.catalogue.work import Work
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.intake.sound import UnreadableSound, pcm_of
from solander.reading.transcription import Transcriber, transcriber
from solander.tasks.accounts import AccountTold, all_accounts
from solander.tasks.ask import ask
from solander.tasks.collection import Collection, Progress, Watch, unwatched
from solander.tasks.said_anew import say_instead
from solander.tasks.story_questions import asked_of_story
from solander.tasks.understood import Understanding

__all__ = ["Transcribed", "transcribe"]


@frozen
class Transcribed:
    """How many stories were written down, in how many nothing was heard, and a sentence for each that could not be
    read."""

    written: int
    silent: int
    set_aside: tuple[str, ...] = ()


def transcribe(
    collection: Collection,
    model: Path,
    *,
    language: str | None = None,
    engine: Transcriber | None = None,
    watch: Watch = unwatched,
    who: str = "archivist",
) -> Transcribed:
    """Writes down each story of which nothing is written yet; each is an act, so that stopping loses none.

    Raises
    ------
    CannotBegin
        When there is no such model, or the program that runs it is not installed.
    """
    due = [one for one in all_accounts(collection) if not one.heard]
    engine = engine or (transcriber(model, language=language) if due else None)
    written = silent = 0
    set_aside = []
    for done, account in enumerate(due, start=1):
        watch(Progress("Writing down", account.prints[0], done, len(due)))
        assert engine is not None
        if collection.catalogue.sound(account.sha256) is None:  # erased for good meanwhile
            continue
        try:
            text = engine(pcm_of(collection.sounds.path(account.sha256))).strip()
        except UnreadableSound as error:
            set_aside.append(f"The story told about {account.prints[0]} could not be read: {error}.")
            continue
        if text:
            written += _keep(collection, account, text, f"{model.name}, a program", who)
        silent += not text
    return Transcribed(written, silent, tuple(set_aside))


def _keep(collection: Collection, account: AccountTold, text: str, source: str, who: str) -> bool:
    """Keeps what was heard; not of a story that was erased for good while it was listened to."""
    heard = Statement("", About.SOUND, account.sha256, Says.HEARD, text, text, Sure.GUESS, source, "")
    what = Sentence("wrote down by a program what is said in a story about %(print)s", print=account.prints[0])
    with collection.catalogue.act(who, what) as act, act.work() as work:
        if not work.has_sound(account.sha256):
            return False
        say_instead(collection.catalogue, work, [], [heard])
        ask_about_story(collection, work, account, text)
        work.commit()
    return True


def ask_about_story(collection: Collection, work: Work, account: AccountTold, text: str) -> None:
    """Asks about dates, people and places that are heard in a story; of its first print."""
    for sentence in asked_of_story(Understanding(collection), account.prints[0], text):
        ask(work, Asks.TOLD, account.prints[0], sentence)
