"""How names sound that are not read as written ("Siobhan" sounds like "shivawn"), kept in the collection."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence

from solander.catalogue.queries import Reading
from solander.core.errors import InvalidValue
from solander.core.sentence import Sentence
from solander.reading.speech import can_be_said
from solander.tasks.claims import AT_THE_DESK
from solander.tasks.collection import Collection

__all__ = ["say_how_it_sounds", "sounds_like"]

_KEY = "sounds-like"


def sounds_like(catalogue: Reading) -> Mapping[str, tuple[str, ...]]:
    """Every name of which somebody told how it sounds, in small letters, with the spellings."""
    kept = json.loads(catalogue.setting(_KEY) or "{}")
    return {name: tuple(spellings) for name, spellings in kept.items()}


def say_how_it_sounds(
    collection: Collection, name: str, spellings: Sequence[str], *, who: str = AT_THE_DESK
) -> int | None:
    """Keeps how a name sounds, in English spelling; none forgets it. Gives the act, None where nothing changed.

    Raises
    ------
    InvalidValue
        When a spelling holds nothing that can be said.
    """
    told = [" ".join(each.split()) for each in spellings if each.strip()]
    for each in told:
        if not can_be_said(each):
            raise InvalidValue(
                Sentence("“%(spelling)s” can't be said", spelling=each),
                Sentence("it holds no letters"),
                Sentence("Spell it as it sounds: “shivawn”"),
            )
    known = dict(sounds_like(collection.catalogue))
    key = " ".join(name.split()).casefold()
    if known.pop(key, ()) == tuple(told):
        return None
    kept = known | ({key: tuple(told)} if told else {})
    sentence = Sentence("said how “%(name)s” sounds", name=name)
    with collection.catalogue.act(who, sentence) as act, act.work() as work:
        work.set(_KEY, json.dumps(kept, ensure_ascii=False, sort_keys=True))
        work.commit()
    return act.number
