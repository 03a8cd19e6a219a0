"""The parts of what was said of a place: the place itself, what tells which one, and what was said besides.

“near Bergen”, “Salzburg railway station” and “the beach at Scheveningen” all name a town: the circle grows where
the words say that it is not the town itself, and what else is said besides is told back as not understood. The
words are from memory, in the languages that the dates know.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from attrs import evolve, frozen

from solander.authorities.gazetteer.common_words import folded_phrases, is_common
from solander.authorities.gazetteer.folding import fold
from solander.authorities.gazetteer.qualifiers import areas_named

__all__ = ["Reading", "readings_of"]


@frozen
class Reading:
    """One way to take a phrase: `head` is the place, `others` tell which one, `left` was said besides.

    `around` is whether the words say that it was not in the place itself, `thing` whether they name a thing that
    is called after the place (“Lago di Como”). `part` is that part of the phrase, from 0, which the head is from.
    `doubt` counts what had to be supposed.
    """

    head: str
    others: tuple[str, ...] = ()
    left: tuple[str, ...] = ()
    around: bool = False
    thing: bool = False
    doubt: float = 0.0
    part: int = 0

    @property
    def is_common(self) -> bool:
        """Whether the head alone names a thing that is everywhere: “home”, “the church”."""
        return not self.others and is_common(self.head, _FEATURE_WORDS)

    @property
    def year(self) -> str:
        """The year in figures beside the place, where there is one: “Breslau 1930”."""
        years = {word for left in self.left for word in _YEAR.findall(left)}
        return years.pop() if len(years) == 1 else ""


_AROUND = """
near|nr|near to|close to|not far from|outside|just outside|outskirts of|on the outskirts of|outskirts|suburb of|
suburbs of|environs of|surroundings of|around|on the way to|on the road to|road to|between|north of|south of|
east of|west of|countryside near|
bei|nahe|nahe bei|in der nahe von|unweit|unweit von|umgebung von|umgegend von|in der umgebung von|
vor den toren von|auf dem weg nach|unterwegs nach|am rande von|stadtrand von|vorort von|nordlich von|sudlich von|
pres de|pres d|aux environs de|environs de|aux alentours de|banlieue de|sur la route de|a cote de|
vicino a|nei pressi di|dintorni di|presso|sulla strada per|cerca de|alrededores de|afueras de|camino de|perto de|
arredores de|bij|in de buurt van|omgeving van|nabij|nara|i narheten av|utanfor|naer|naer ved|
i naerheten av|utenfor|udenfor|ved|omegnen af|lahella|kolo|k|pod|w poblizu|okolice|blisko|u|под|около|близ|
недалеко от|окрестности|рядом с
"""

_IN = """
in|at|of|from|to|in the town of|in the city of|the town of|the city of|town of|city of|village of|the village of|
in|zu|von|aus|nach|im|am|an der|in der|stadt|dorf|gemeinde|a|en|au|aux|de|du|d|des|ville de|village de|di|da|del|
della|citta di|ciudad de|te|van|stad|by|byen|i|pa|fra|fran|till|til|w|we|z|ze|do|miasto|wies|в|во|на|из|с|г|город|
село|деревня|дер
"""

_FEATURES = """
railway station|train station|station|main station|bus station|tram stop|airport|airfield|aerodrome|harbour|harbor|
port|docks|quay|pier|promenade|beach|sea front|seafront|sands|park|city park|gardens|garden|botanical gardens|zoo|
church|cathedral|parish church|chapel|abbey|monastery|cemetery|churchyard|castle|palace|town hall|city hall|market|
market square|market place|main street|high street|square|bridge|river|lake|valley|mountain|mountains|hill|hills|
forest|woods|farm|mill|school|university|college|hospital|barracks|camp|hotel|inn|pub|museum|theatre|theater|
stadium|swimming pool|baths|spa|fair|fairground|exhibition|world's fair|factory|old town|centre|center|downtown|
hauptbahnhof|hbf|bahnhof|bhf|flughafen|hafen|strand|strandbad|promenade|kurpark|kurhaus|stadtpark|tiergarten|zoo|
kirche|dom|munster|pfarrkirche|kloster|friedhof|schloss|burg|rathaus|markt|marktplatz|altstadt|hauptstrasse|platz|
brucke|see|tal|berg|wald|hof|bauernhof|muhle|schule|universitat|krankenhaus|lazarett|kaserne|lager|gasthof|
gasthaus|hotel|museum|theater|stadion|freibad|volksfest|messe|zentrum|innenstadt|
gare|port|plage|eglise|cathedrale|chateau|place|mairie|hotel de ville|marche|jardin|lac|lac de|vallee|pont|ecole|
hopital|caserne|stazione|porto|spiaggia|chiesa|duomo|castello|piazza|lago|lago di|valle|ponte|scuola|
estacion|puerto|playa|iglesia|catedral|plaza|estacao|praia|igreja|praca|
jernbanestasjon|stasjon|havn|havna|brygge|kirke|domkirke|torg|torget|skole|fjord|hovedbanegard|banegard|torvet|
jarnvagsstation|hamn|hamnen|kyrka|domkyrkan|skola|station|haven|kerk|kasteel|plein|meer|
dworzec|port|kosciol|katedra|zamek|rynek|jezioro|szkola|
вокзал|порт|пляж|церковь|собор|замок|площадь|озеро|школа|парк
"""


_SMALL = "a am an auf bei b nachst nr near on by sur lez pres aan ved vid na nad pod kolo in im i"
_BESIDE = frozenset(_SMALL.split())
"""Small words between a town and the water, the town or the land that tells which one it is."""


_AROUND_WORDS, _IN_WORDS, _FEATURE_WORDS = map(folded_phrases, (_AROUND, _IN, _FEATURES))
_LONGEST = 5
_ARTICLE = "the der die das dem den le la les l el los las il lo gli i het de det"
_ARTICLES = frozenset(_ARTICLE.split())
_PARTS = re.compile(r"[,;()\[\]/]|\s[-–—]\s|\s*[–—]\s*")
_YEAR = re.compile(r"(?<!\d)(?:18[2-9]|19\d|20\d)\d(?!\d)")
"""Of photographs: they begin in the 1820s."""
_LONGEST_WORD = 80
"""Letters; no place has a longer one."""
_MOST_PARTS, _MOST_WORDS = 6, 12
_HEARD_LAST = 4
"""So many words at the end may tell which place is meant without a comma: “Newcastle N. S. W.”."""


def readings_of(phrase: str) -> list[Reading]:
    """The ways to take a phrase, the plainest first."""
    figures = tuple(word for word in phrase.split() if _has_figures(word))
    rest = " ".join(word for word in phrase.split() if not _has_figures(word))
    parts, beyond = _bounded([part.strip() for part in _PARTS.split(rest) if fold(part)])
    found = [reading for place in range(len(parts)) for reading in _with_head(parts, place)]
    whole = " ".join(parts)
    if len(parts) > 1:
        found.insert(1, Reading(whole, doubt=0.3))  # “Halle (Saale)”, “Frankfurt/Oder”
    return [evolve(reading, left=(*reading.left, *beyond, *figures)) for reading in _told_once(found)]


def _has_figures(word: str) -> bool:
    return any(letter.isdigit() for letter in word)


def _bounded(parts: list[str]) -> tuple[list[str], tuple[str, ...]]:
    """The first parts and words, and what is beyond: a whole letter names no place, and would take for ever."""
    words = [part.split() for part in parts]
    kept = [" ".join(word[:_LONGEST_WORD] for word in part[:_MOST_WORDS]) for part in words[:_MOST_PARTS]]
    beyond = [" ".join(part[_MOST_WORDS:]) for part in words[:_MOST_PARTS]] + parts[_MOST_PARTS:]
    return kept, tuple(filter(None, beyond))


def _told_once(readings: list[Reading]) -> list[Reading]:
    seen: dict[tuple[object, ...], Reading] = {}
    for reading in readings:
        seen.setdefault((fold(reading.head), reading.others, reading.left), reading)
    return list(seen.values())


def _with_head(parts: list[str], place: int) -> Iterator[Reading]:
    """The readings that take one of the parts for the place; a later one is less usual."""
    # What stands behind tells which one is meant; so does what stands before, from the large to the small.
    others = (*parts[place + 1 :], *parts[:place])
    for reading in _of_part(parts[place]):
        yield evolve(reading, others=(*reading.others, *others), doubt=reading.doubt + 0.6 * place, part=place)


def _of_part(part: str) -> Iterator[Reading]:
    words = part.split()
    yield Reading(part)
    yield from _told_at_the_end(words)
    yield from _told_by_a_link(words)
    stripped = _stripped(words)
    if stripped is not None and stripped.head != part:
        yield stripped
        yield from (
            evolve(stripped, head=reading.head, others=reading.others, doubt=reading.doubt + stripped.doubt)
            for reading in _told_at_the_end(stripped.head.split())
        )
    yield from _within(words)


def _told_at_the_end(words: list[str]) -> Iterator[Reading]:
    """“Ithaca N.Y.”: the last words name a state or a country."""
    for count in range(1, min(_HEARD_LAST, len(words) - 1) + 1):
        last = " ".join(words[-count:])
        tells = len(fold(last)) > 3 or "." in last or last.isupper()
        if tells and areas_named(last):
            yield Reading(" ".join(words[:-count]), (last,), doubt=0.2)


def _told_by_a_link(words: list[str]) -> Iterator[Reading]:
    """“Konstanz a. Bodensee”, “Zoppot bei Danzig”: what stands behind a small word tells which place is meant."""
    for at in range(1, len(words) - 1):
        if fold(words[at]) in _BESIDE and not words[at][:1].isupper():
            yield Reading(" ".join(words[:at]), (" ".join(words[at + 1 :]),), doubt=0.4)


def _stripped(words: list[str]) -> Reading | None:
    """Without the words before and behind that say where in a place or about it."""
    left: list[str] = []
    around, thing, doubt = False, False, 0.0
    while len(words) > 1:
        count, kind = _leading(words)
        behind = _trailing(words)
        if count:
            around, thing = around or kind == "around", thing or kind == "feature"
            left += [" ".join(words[:count])] if kind == "feature" else []
            words = words[count:]
            doubt += 0.1
        elif behind:
            left.append(" ".join(words[-behind:]))
            words = words[:-behind]
            doubt += 0.1
        else:
            break
    if not doubt:
        return None
    return Reading(" ".join(words), left=tuple(left), around=around, thing=thing, doubt=doubt)


def _leading(words: list[str]) -> tuple[int, str]:
    """How many words before the place can be set aside, and what they say: "around", "in" or "feature"."""
    folded = [fold(word) for word in words]
    for count in range(min(_LONGEST, len(words) - 1), 0, -1):
        said = tuple(folded[:count])
        if said in _AROUND_WORDS:
            return count, "around"
        if said in _IN_WORDS or (count == 1 and said[0] in _ARTICLES):
            return count, "in"
        if said in _FEATURE_WORDS:
            return count, "feature"
    return 0, ""


def _trailing(words: list[str]) -> int:
    folded = [fold(word) for word in words]
    for count in range(min(_LONGEST, len(words) - 1), 0, -1):
        if tuple(folded[-count:]) in _FEATURE_WORDS:
            return count
    return 0


def _within(words: list[str]) -> Iterator[Reading]:
    """Shorter and shorter runs of the words; what stands outside was said besides."""
    for length in range(len(words) - 1, 0, -1):
        for start in range(len(words) - length, -1, -1):
            run = words[start : start + length]
            if max(len(fold(word)) for word in run) < 3 + (length == 1):
                continue  # “i. B.” names nothing
            if length == 1 and not run[0][:1].isupper():
                continue
            before = tuple(fold(word) for word in words[max(0, start - 1) : start])
            leads = before in _IN_WORDS or before in _AROUND_WORDS
            beside = (words[: start - leads], words[start + length :])
            left = [" ".join(part) for part in beside if part]
            doubt = 1.0 + 0.7 * (len(words) - length) - (0.8 if leads else 0.0)
            yield Reading(" ".join(run), left=tuple(left), around=before in _AROUND_WORDS, doubt=doubt)
