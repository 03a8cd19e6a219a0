"""Where first words are kept: a setting of the collection."""

from __future__ import annotations

import json

from attrs import asdict

from solander.catalogue.queries import Reading as Known
from solander.catalogue.work import Work
from solander.core.first_words import FIRST_WORDS_KEY, FirstWords

__all__ = ["first_words_of", "keep_first_words", "were_asked"]


def first_words_of(catalogue: Known) -> FirstWords:
    """What was said first of the collection; empty where nothing was."""
    kept = json.loads(catalogue.setting(FIRST_WORDS_KEY, "{}"))
    return FirstWords(**{**kept, "homes": tuple(kept.get("homes", ()))})


def keep_first_words(work: Work, said: FirstWords) -> None:
    """Keeps them, empty ones too: then they were asked and passed over."""
    work.set(FIRST_WORDS_KEY, json.dumps(asdict(said), ensure_ascii=False))


def were_asked(catalogue: Known) -> bool:
    """Whether they were answered or passed over."""
    return bool(catalogue.setting(FIRST_WORDS_KEY))
