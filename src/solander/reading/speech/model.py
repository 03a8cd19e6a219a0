"""The folder of a model of the base recogniser: sounds, and a dictionary of one language."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pocketsphinx
from attrs import frozen

from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence
from solander.reading.speech.english import ENGLISH
from solander.reading.speech.german import GERMAN
from solander.reading.speech.pronounce import Phones, dictionary_in
from solander.reading.speech.table import Table

__all__ = ["TABLES", "Model", "english_model", "model_in", "table_for"]

TABLES: Mapping[str, Table] = {table.code: table for table in (ENGLISH, GERMAN)}
"""The languages in which something may be said, by their code (ISO 639-1)."""

_OF_SOUNDS = ("mdef", "means", "variances", "transition_matrices")
"""The files by which a folder with sounds is known, as the recogniser's own programs write them."""

_KNOWN = 0.5
"""So many of a table's words for numbers and months a dictionary of its language holds at least (our choice: the
dictionaries tried hold nearly all, those of other languages nearly none)."""


@frozen
class Model:
    """`sounds` is the folder with the acoustic model, `dictionary` the file that tells how words sound."""

    sounds: Path
    dictionary: Path

    @property
    def is_english(self) -> bool:
        """Whether it is the one that comes with the recogniser, whose phones are those of the CMU dictionary."""
        return self == english_model()


def english_model() -> Model:
    """The model that comes with the recogniser: American English."""
    folder = Path(pocketsphinx.get_model_path()) / "en-us"
    return Model(folder / "en-us", folder / "cmudict-en-us.dict")


def model_in(folder: Path) -> Model:
    """The model in a folder that the user supplies: the sounds in it or in a folder below, and one dictionary.

    Raises
    ------
    CannotBegin
        When the folder is not there, or holds no sounds or no dictionary, or several.
    """
    if not folder.is_dir():
        raise _not_taken(Sentence("there is no folder %(folder)s", folder=folder))
    found = sorted({file.parent for file in folder.rglob("mdef")}, key=lambda each: len(each.parts))
    sounds = next((each for each in found if all((each / name).is_file() for name in _OF_SOUNDS)), None)
    if sounds is None:
        raise _not_taken(Sentence("%(folder)s holds no acoustic model", folder=folder))
    dictionaries = sorted({*folder.rglob("*.dict"), *folder.rglob("*.dic")}, key=lambda file: file.name)
    if not dictionaries:
        raise _not_taken(Sentence("%(folder)s holds no dictionary (.dict or .dic)", folder=folder))
    if len(dictionaries) > 1:
        named = ", ".join(file.name for file in dictionaries)
        raise _not_taken(Sentence("%(folder)s holds several dictionaries: %(files)s", folder=folder, files=named))
    return Model(sounds, dictionaries[0])


def table_for(model: Model) -> Table:
    """What may be said in the language of a model, told by the words that its dictionary holds.

    Raises
    ------
    CannotBegin
        When the dictionary can't be read, or is of a language that has no table yet.
    """
    try:
        dictionary = dictionary_in(model.dictionary)
    except (OSError, UnicodeDecodeError, ValueError) as error:
        raise _not_taken(
            Sentence("its dictionary %(file)s can't be read (%(why)s)", file=model.dictionary.name, why=error)
        ) from error
    best = max(TABLES.values(), key=lambda table: _share(table, dictionary))
    if _share(best, dictionary) < _KNOWN:
        why = Sentence(
            "its dictionary %(file)s holds too few of the words that can be said in English or German",
            file=model.dictionary.name,
        )
        raise _not_taken(why)
    return best


def _share(table: Table, dictionary: Mapping[str, tuple[Phones, ...]]) -> float:
    counting = table.counting
    words = "|".join((counting.units, counting.teens, counting.tens, *table.months)).split("|")
    return sum(word.casefold() in dictionary for word in words) / len(words)


def _not_taken(why: Sentence) -> CannotBegin:
    todo = Sentence(
        "Name a folder with a pocketsphinx model: its acoustic model (mdef is in it) and its dictionary"
    )
    return CannotBegin(Sentence("The speech model was not taken"), why, todo)
