"""French."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import wars

__all__ = ["FRENCH"]

_TO_NINETEEN = [
    *("un", "deux", "trois", "quatre", "cinq", "six", "sept", "huit", "neuf", "dix"),
    *("onze", "douze", "treize", "quatorze", "quinze", "seize", "dix-sept", "dix-huit", "dix-neuf"),
]


def _numbers() -> dict[str, int]:
    found = {word: number for number, word in enumerate(_TO_NINETEEN, 1)}
    bases = (("vingt", 20, 9), ("trente", 30, 9), ("quarante", 40, 9), ("cinquante", 50, 9), ("soixante", 60, 19))
    for word, ten, units in (*bases, ("quatre-vingt", 80, 19), ("septante", 70, 9), ("nonante", 90, 9)):
        found[f"{word}s" if ten == 80 else word] = ten
        for number, unit in enumerate(_TO_NINETEEN[:units], 1):
            found[f"{word}-{unit}|{word} {unit}|{word} et {unit}"] = ten + number
    return found


def _years() -> dict[str, int]:
    found = {"deux mille": 2000}
    for hundreds, century in (("mille neuf cent", 19), ("dix-neuf cent", 19), ("mille huit cent", 18)):
        found[f"{hundreds}|{hundreds}s"] = century * 100
        for words, number in _numbers().items():
            found["|".join(f"{hundreds} {each}" for each in words.split("|"))] = century * 100 + number
    return found


FRENCH = Language(
    code="fr",
    months=(
        "janvier|janv|jan",
        "février|fév|févr",
        "mars",
        "avril|avr",
        "mai",
        "juin",
        "juillet|juil",
        "août|aoû",
        "septembre|sept|sep",
        "octobre|oct",
        "novembre|nov",
        "décembre|déc",
    ),
    seasons=("printemps", "été", "automne", "hiver"),
    weekdays="lundi|mardi|mercredi|jeudi|vendredi|samedi|dimanche",
    feasts={
        "christmas~": "noël|noel",
        "christmas": "jour de noël|le jour de noël",
        "christmas eve": "veille de noël|réveillon de noël",
        "new years eve": "saint-sylvestre|saint sylvestre|st sylvestre|réveillon du nouvel an|réveillon",
        "new year": "jour de l'an|nouvel an|premier de l'an",
        "epiphany": "épiphanie|fête des rois",
        "candlemas": "chandeleur",
        "shrove tuesday": "mardi gras",
        "shrove tuesday~": "carnaval",
        "ash wednesday": "mercredi des cendres",
        "palm sunday": "rameaux|dimanche des rameaux",
        "good friday": "vendredi saint",
        "easter~": "pâques",
        "easter": "dimanche de pâques",
        "easter monday": "lundi de pâques",
        "ascension": "ascension|jour de l'ascension",
        "whitsun~": "pentecôte",
        "whitsun": "dimanche de pentecôte",
        "whit monday": "lundi de pentecôte",
        "corpus christi": "fête-dieu|fête dieu",
        "labour day": "fête du travail|premier mai",
        "victory": "fête de la victoire",
        "midsummer": "saint-jean|saint jean|st jean",
        "bastille": "fête nationale|14-juillet|quatorze juillet",
        "assumption": "assomption|15-août|quinze août",
        "all saints": "toussaint",
        "armistice": "armistice|onze novembre",
        "nicholas": "saint-nicolas|saint nicolas|st nicolas",
    },
    events={
        "la guerre|guerre": wars.THE_WAR,
        "seconde guerre mondiale|deuxième guerre mondiale|seconde guerre|2e guerre mondiale": (wars.SECOND,),
        "première guerre mondiale|grande guerre|première guerre|guerre de 14|14-18|guerre de 14-18": (wars.FIRST,),
        "entre-deux-guerres|entre deux guerres|l'entre-deux-guerres": (wars.BETWEEN,),
        "tournant du siècle|début du siècle": (wars.TURN_OF_CENTURY,),
        "occupation": (("1940-06-22", "1944-08-25"),),
    },
    decades={
        20: "années vingt",
        30: "années trente",
        40: "années quarante",
        50: "années cinquante",
        60: "années soixante",
        70: "années soixante-dix|années septante",
        80: "années quatre-vingt|années quatre-vingts",
        90: "années quatre-vingt-dix|années nonante",
    },
    decade_word="années|annees",
    ordinal_endings="er|re",
    numbers={**_numbers(), **_years()},
    ordinals={"premier": 1},
    century="siècle",
    about="vers|environ|circa|ca|autour de|aux environs de|à peu près|à peu près en|approximativement|c",
    about_after="environ|ou à peu près",
    maybe="peut-être|probablement|sans doute|je crois|sûrement|possiblement|il me semble",
    early="début|début des|au début des|début de",
    mid="milieu|mi|milieu des|au milieu des|mi-",
    late="fin|fin des|à la fin des|fin de",
    between="entre",
    both="et|&",
    either="ou|ou bien",
    to="à|au|jusqu'à|jusqu'en",
    before="avant|avant la|avant le",
    after="après|après la|après le",
    until="jusqu'à|jusqu'en|au plus tard en|au plus tard|pas après|jusque|jusqu'au",
    since="depuis|à partir de|dès|au plus tôt|au plus tôt en|pas avant|de",
    or_before="ou avant|ou plus tôt",
    or_after="ou après|ou plus tard",
    during="pendant|durant|pendant la|au cours de",
    first_half="première moitié",
    second_half="deuxième moitié|seconde moitié",
    week_of="semaine du",
    lab="développé|tirage|tiré|développée",
    correction="non|pardon|je veux dire|plutôt|enfin non",
    filler="le|la|les|l'|d'|de|du|des|en|au|aux|à|dans|l'an|l'année|année|an|euh|hum|ben|c'était|était|prise|datée",
)
