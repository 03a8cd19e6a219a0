"""One table a language."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import da, de, en, es, fr, it, nl, no, pl, pt, ru, sv

__all__ = ["LANGUAGES"]

_TABLES = (
    en.ENGLISH,
    de.GERMAN,
    fr.FRENCH,
    es.SPANISH,
    it.ITALIAN,
    pt.PORTUGUESE,
    nl.DUTCH,
    sv.SWEDISH,
    no.NORWEGIAN,
    da.DANISH,
    pl.POLISH,
    ru.RUSSIAN,
)

LANGUAGES: dict[str, Language] = {table.code: table for table in _TABLES}
"""By ISO 639-1 code; `nb` and `nn` are read as `no`. Earlier ones are preferred where a phrase fits several."""

LANGUAGES |= {"nb": no.NORWEGIAN, "nn": no.NORWEGIAN}
