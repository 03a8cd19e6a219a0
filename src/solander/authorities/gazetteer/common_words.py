"""Words that name no town though some town is called so: “home”, “church”, “Oma”; they are asked about."""

from __future__ import annotations

from functools import lru_cache

from solander.authorities.gazetteer.folding import fold
from solander.authorities.naming.kinship import kin_word

__all__ = ["folded_phrases", "is_common"]

_COMMON = """
home|house|garden|kitchen|farmhouse|sea|seaside|coast|ocean|shore|country|countryside|village|town|city|street|road|
yard|backyard|balcony|terrace|porch|living room|bedroom|cellar|attic|holiday|holidays|vacation|work|office|front|
field|meadow|pond|mountainside|near|
haus|heim|hause|daheim|zuhause|garten|kuche|wohnzimmer|meer|kuste|berge|gebirge|land|dorf|stadt|strasse|balkon|
terrasse|keller|urlaub|ferien|arbeit|buro|feld|wiese|teich|fluss|stube|wohnung|bei|
maison|cuisine|ferme|mer|cote|montagne|campagne|ville|rue|balcon|vacances|bureau|salon|
casa|cocina|mar|montana|campo|pueblo|calle|giardino|cucina|mare|paese|
hus|hjem|hemma|thuis|huis|tuin|keuken|zee|have|kjokken|sjoen|dom|ogrod|kuchnia|morze|gory|
дом|дома|сад|кухня|море|горы|дача
"""
"""Where pictures are taken everywhere, in the languages that the dates know; from memory."""

_WHOSE = """
the our my his her their a unser unsere unserem mein meine ihr der die das dem notre ma mon la le nuestra mi el il
"""
_WHOSE_WORDS = frozenset(_WHOSE.split())


def folded_phrases(text: str) -> frozenset[tuple[str, ...]]:
    """The phrases of a table, apart by |, as folded words."""
    return frozenset(tuple(fold(part).split()) for part in text.replace("\n", "").split("|") if part.strip())


_COMMON_WORDS = folded_phrases(_COMMON)


@lru_cache(maxsize=4096)
def is_common(head: str, things: frozenset[tuple[str, ...]] = frozenset()) -> bool:
    """Whether words by themselves name a thing that is everywhere, one of `things` too, or a relative's home."""
    words = fold(head).split()
    while len(words) > 1 and words[0] in _WHOSE_WORDS:
        words = words[1:]
    said = tuple(words)
    if said in _COMMON_WORDS or said in things:
        return True
    return len(words) == 1 and bool(kin_word((words[0],)) or kin_word((words[0].removesuffix("s"),)))
