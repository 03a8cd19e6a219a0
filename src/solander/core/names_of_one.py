"""Whether words look like the name of one person: what stands beside them may then be an age.

The words are from memory, in the languages of the date phrases. Where this says no, nothing is lost: the cell
stays as it was written.
"""

from __future__ import annotations

import re

__all__ = ["is_name_of_one"]

_WORD = re.compile(r"[^\W\d_]+(?:['’-][^\W\d_]+)*")

_BETWEEN = """
von van de der den des di da dos do del della du la le las los el al ten ter te zu zum zur af av til e d née
nee né geb geborene born called jr sr
"""
"""What may stand in a name without a capital."""

_OF_THE_FAMILY = """
mother father mum mom mummy mommy dad daddy mama papa grandma grandpa grandmother grandfather granny gran
nan nana aunt auntie uncle cousin brother sister son daughter niece nephew great baby little old young
mutter vater oma opa onkel tante bruder schwester mère père grand-mère grand-père oncle frère soeur sœur
madre padre abuela abuelo tía tío nonna nonno zia zio mãe pai avó avô tia tio mor far mormor morfar farmor
farfar bestemor bestefar bedstemor bedstefar bror søster syster moeder vader oom broer zus babcia dziadek
ciocia wujek бабушка дедушка мама папа тётя дядя
"""
"""What somebody is to the family, which stands for a name or before it, with a capital or without."""

_SEVERAL = """
and und et y og och i и with mit avec children child's kids boys girls babies toddlers cousins brothers
sisters siblings twins triplets parents grandparents friends neighbours neighbors people persons men women
ladies gentlemen guests pupils students teachers soldiers sailors others family families kinder jungen buben
mädchen geschwister zwillinge eltern freunde familie enfants garçons filles amis famille niños niñas
hermanos familia bambini famiglia crianças família kinderen gezin børn barn familj dzieci rodzina дети семья
"""
"""Words for several people: a number beside them counts."""

_THINGS = """
class grade form group team crew school choir band row table page roll frame house room box album print
photo picture no nr number klasse gruppe reihe schule mannschaft bild seite classe groupe rang école photo
clase grupo fila gruppo turma klas groep rij klass grupp rad klasa grupa rząd класс группа ряд
"""
"""Words that a list of people or of things begins with: a number beside them numbers, or is a year."""

_BETWEEN_WORDS = frozenset(_BETWEEN.split())
_SMALL_WORDS = _BETWEEN_WORDS | frozenset(_OF_THE_FAMILY.split())
_SEVERAL_WORDS = frozenset(_SEVERAL.split())
_THINGS_WORDS = frozenset(_THINGS.split())


def _counts_several(word: str) -> bool:
    """Whether a word means several people; "John I. Smith" and "Y. Smith" have initials, not the Spanish "and"."""
    return word.casefold() in _SEVERAL_WORDS and not (len(word) == 1 and word.isupper())


def is_name_of_one(written: str) -> bool:
    """Whether this looks like the name of one person.

    Capitalised words with what may stand between them ("von"), or what somebody is to the family ("grandma"); no
    figures, no "and", no word for several people, and not a thing's word at the beginning.
    """
    found = _WORD.findall(written)
    plain = [word.casefold() for word in found]
    small = {word for word, as_written in zip(plain, found, strict=True) if as_written[0].islower()}
    return (
        any(word not in _BETWEEN_WORDS for word in plain)
        and not re.search(r"\d", written)
        and plain[0] not in _THINGS_WORDS
        and not any(_counts_several(word) for word in found)
        and small <= _SMALL_WORDS
    )
