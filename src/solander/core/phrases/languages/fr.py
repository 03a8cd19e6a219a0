"""French."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import wars

__all__ = ["FRENCH"]

_TO_NINETEEN = [
    *("un", "deux", "trois", "quatre", "cinq", "six", "sept", "huit", "neuf", "dix"),
    *("onze", "douze", "treize", "quatorze", "quinze", "seize", "dix-sept", "dix-huit", "dix-neuf"),
]


_HUNDREDS = (
    *(("mille neuf cent", 19), ("mil neuf cent", 19), ("dix-neuf cent", 19), ("dix neuf cent", 19)),
    *(("mille huit cent", 18), ("mil huit cent", 18), ("dix-huit cent", 18)),
)


def _numbers() -> dict[str, int]:
    found = {word: number for number, word in enumerate(_TO_NINETEEN, 1)}
    bases = (("vingt", 20, 9), ("trente", 30, 9), ("quarante", 40, 9), ("cinquante", 50, 9), ("soixante", 60, 19))
    for word, ten, units in (*bases, ("quatre-vingt", 80, 19), ("septante", 70, 9), ("nonante", 90, 9)):
        found[f"{word}s" if ten == 80 else word] = ten
        for number, unit in enumerate(_TO_NINETEEN[:units], 1):
            found[f"{word}-{unit}|{word} {unit}|{word} et {unit}"] = ten + number
    return found


def _ordinals() -> dict[str, int]:
    """ "premier", "deuxième", "vingt et unième"; also feminine."""
    found = {"premier|première": 1, "1ère": 1, "seconde": 2}
    for words, number in _numbers().items():
        if 2 <= number <= 31:
            found["|".join(f"{_stem(word)}ième" for word in words.split("|"))] = number
    return found


def _stem(word: str) -> str:
    if word.endswith("neuf"):
        return f"{word[:-1]}v"
    return f"{word}u" if word.endswith("cinq") else word.removesuffix("e")


def _years() -> dict[str, int]:
    found = {"deux mille": 2000}
    found |= {
        "|".join(f"deux mille {each}" for each in words.split("|")): 2000 + number
        for words, number in _numbers().items()
        if number < 30
    }
    for hundreds, century in _HUNDREDS:
        found[f"{hundreds}|{hundreds}s"] = century * 100
        for words, number in _numbers().items():
            found["|".join(f"{hundreds} {each}" for each in words.split("|"))] = century * 100 + number
    return found


FRENCH = Language(
    code="fr",
    months=(
        "janvier|janv|jan|janvr",
        "février|fév|févr|févr|fevr",
        "mars",
        "avril|avr|av",
        "mai",
        "juin",
        "juillet|juil|juil|juill|jt|jlt",
        "août|aoû|aout",
        "septembre|sept|sep|septbre|7bre|sbre",
        "octobre|oct|octbre|8bre",
        "novembre|nov|novbre|9bre",
        "décembre|déc|10bre|xbre|décbre|dbre",
    ),
    seasons=("printemps", "été|vacances d'été|grandes vacances", "automne", "hiver"),
    weekdays=("lundi", "mardi", "mercredi", "jeudi", "vendredi", "samedi", "dimanche"),
    feasts={
        "mothers day fr": "fête des mères",
        "martinmas": "saint-martin|saint martin|st martin",
        "advent~": "avent",
        "maundy thursday": "jeudi saint",
        "easter eve": "samedi saint",
        "christmas~": "noël|noel",
        "christmas": "jour de noël|le jour de noël",
        "christmas eve": "veille de noël|réveillon de noël",
        "new years eve": "saint-sylvestre|saint sylvestre|st sylvestre|réveillon du nouvel an|réveillon",
        "new year": "jour de l'an|nouvel an|premier de l'an",
        "epiphany": "épiphanie|fête des rois",
        "candlemas": "chandeleur",
        "shrove tuesday": "mardi de carnaval|mardi gras",
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
        "guerre d'algérie": wars.ALGERIA,
        "guerre d'indochine": wars.INDOCHINA,
        "guerre de corée": wars.KOREA,
        "guerre du viêt nam|guerre du vietnam": wars.VIETNAM,
        "guerre de 70|guerre de 1870": wars.FRANCO_PRUSSIAN,
        "guerre d'espagne|guerre civile espagnole": wars.SPAIN,
        "guerre froide|guerre civile|guerre de|guerre du|guerre d'|guerre des": wars.OTHER,
        "fin de la guerre|la fin de la guerre": wars.END_OF_WAR,
        "début de la guerre|déclaration de guerre|la déclaration de guerre": wars.START_OF_WAR,
        "libération|la libération": (("1944-06-06", "1945-05-08"),),
        "belle époque|la belle époque": (wars.BELLE_EPOQUE,),
        "front populaire": (("1936-05-03", "1938-04-08"),),
        "années folles|les années folles": (("1920", "1929"),),
        "exode|l'exode": (("1940-05-10", "1940-06-25"),),
        "trente glorieuses": (("1945", "1975"),),
        "entre les deux guerres": (wars.BETWEEN,),
        "second empire": (("1852-12-02", "1870-09-04"),),
        "mai 68": (("1968-05", "1968-05"),),
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
    ordinals=_ordinals(),
    century="siècle",
    about="presque|vers|environ|circa|ca|autour de|aux environs de|à peu près|à peu près en|approximativement|"
    "c|à quelque chose près|plus ou moins|grosso modo",
    about_after="environ|ou à peu près|à peu près|plus ou moins|à peu de chose près|à un an près|"
    "à quelque chose près|grosso modo|dans ces eaux-là",
    maybe="mettons|mettons en|je ne suis plus très sûre|je ne suis plus très sûr|je ne suis pas sûre|"
    "je ne suis pas sûr|je ne suis plus sûre|je ne suis plus sûr|je ne suis pas très sûre|"
    "je ne suis pas très sûr|pas sûre|pas sûr|plus très sûre|plus très sûr|pas très sûre|pas très sûr|"
    "plus sûre|plus sûr|je ne sais plus|je sais plus|je ne sais plus trop|je ne sais plus bien|"
    "je crois bien|je crois que|je crois que c'était|je pense que|je dirais|on va dire|ça doit être|"
    "ce doit être|ce devait être|ça devait être|si je me souviens bien|si je ne me trompe|"
    "si je ne m'abuse|sauf erreur|à mon avis|m'est avis|possible|je n'en jurerais pas|"
    "je n'en mettrais pas ma main au feu|mais je ne le jurerais pas|il se peut|on dirait|"
    "il me semble que|je pense|disons|peut-être|probablement|sans doute|je crois|sûrement|possiblement|"
    "il me semble",
    early="tout début|au début du|début du|aux débuts des|commencement de|début|début des|au début des|début de",
    mid="au milieu de|au milieu du|milieu de|milieu du|milieu|mi|milieu des|au milieu des|mi-",
    late="toute fin|à la fin de|à la fin du|fin du|vers la fin des|fin|fin des|à la fin des|fin de",
    between="entre",
    both="et|&",
    either="ou|ou bien",
    to="à|au|jusqu'à|jusqu'en",
    before="avant-|avant que|avant le jour où|avant|avant la|avant le",
    after="après-|après que|après|après la|après le",
    until="cachet de la poste|cachet postal|oblitérée|oblitéré|postée|"
    "jusqu'à|jusqu'en|au plus tard en|au plus tard|pas après|jusque|jusqu'au",
    since="depuis|à partir de|dès|au plus tôt|au plus tôt en|pas avant",
    or_before="ou avant|ou plus tôt",
    or_after="ou après|ou plus tard",
    during="pendant|durant|pendant la|au cours de",
    first_half="première moitié des|première moitié de|la première moitié des|première moitié",
    second_half="deuxième moitié des|seconde moitié des|seconde moitié de|deuxième moitié de|"
    "la seconde moitié des|deuxième moitié|seconde moitié",
    week_of="semaine du|semaine de",
    lab="développé|tirage|tiré|développée",
    correction="ah non|mais non|non attends|non attendez|attends|attendez|qu'est-ce que je dis|"
    "qu'est-ce que je raconte|je me trompe|c'est faux|ce n'est pas ça|c'est pas ça|je dis des bêtises|"
    "je mens|je voulais dire|je veux dire plutôt|ou plutôt|enfin|excusez-moi|oh non|non|pardon|"
    "je veux dire|plutôt|enfin non",
    filler="où|courant|bah|le|la|les|l'|d'|de|du|des|en|au|aux|à|dans|l'an|l'année|année|an|euh|hum|ben|prise|"
    "datée|oh|ah|mais|alors|ça|que|qu'|voyons|eh bien|donc|ce",
    was="c'était|était|c'est|ce fut|ça c'était|fut|c'était en",
    streets="rue|place|avenue|boulevard|quai|square",
    labels="n ° |n°|nº|no .|numéro|num .|négatif|nég .|cliché|plaque|page|p .|tél .|téléphone|lot|chambre|train|"
    "vol|salle|modèle|série",
    hours="h|heures|heure|hrs",
    clock="à|de",
    of_another="lettre de|lettre du|copie de|copié en|copiée en|retirage de|retirage|"
    "reçue en|reçu en|numérisé en|restaurée en",
    born="né|née|nés|né en|née en|né le|née le|né vers|née vers|décédé|décédée|mort|morte|décédé en|mort en|"
    "morte en|n . en|( n .|°",
    framing="en|c'était|c'était en|c'est|c'est en|l'an|l'année|ça devait être|ce devait être|ça doit être en|"
    "ça doit être|vers|depuis|avant|après|jusqu'en|dès|ça c'était|ça c'était en|ça c'est|mettons|disons|"
    "ou en|en l'an",
    framed_by="c'était|c'est ça",
    clauses="on|nous|j'|je|il|elle|quand|ils|elles|et|avec|chez|juste|mon|ma|mes|notre|nos|avant|après",
    something="et quelques|et des poussières|et quelque|et quelque chose|et je sais plus quoi",
    denial="pas|pas en|pas dans",
    units={"year": "an|ans|année|années", "month": "mois", "week": "semaine|semaines", "day": "jour|jours"},
    many="ans|années|semaines|jours",
    few={"quelques|plusieurs": (2, 5), "une": (1, 1)},
    just="juste|peu|un peu|tout juste|immédiatement|peu de temps|aussitôt",
    nearest="dernier|dernière|prochain|prochaine",
    own="sa|son|ses|leur|leurs",
    lives={
        "birthday year": "année où/que {who} a eu {years}",
        "age": "quand/lorsque {who} avait {age}|quand/lorsqu'/lorsque {who} n'avait que {age}|{who} avait {age}|"
        "{who} à {years}|{who} à l' âge de/d' {age}|{who} âgé/âgée de/d' {age}|{who} {years}|{who} a {years}",
        "birthday": "{who} pour/à ses {years}|{who} le jour de ses {years}|{who} a eu {years}|"
        "{who} eut {years}|{who} à son {nth} anniversaire|{who} fêtait ses {years}|"
        "{nth} anniversaire de/d' {who}|quand {who} a eu {age}|quand {who} eut {age}|"
        "les {years} de/d' {who}|"
        "anniversaire des {years} de/d' {who}",
        "birthday in": "anniversaire de/d' {who} en? {year}",
        "birth": "quand/lorsque {who} est/était né/née|quand/lorsque {who} naquit|naissance de/d' {who}|"
        "{who} est né/née|{who} ne? soit né/née|{who} naisse|jour où {who} est né/née",
        "birth year": "année de la? naissance de/d' {who}|année où/que {who} est né/née|année où est né/née {who}",
        "death": "quand/lorsque {who} est mort/morte/décédé/décédée|quand {who} mourut|mort/décès de/d' {who}|"
        "{who} est mort/morte/décédé/décédée|{who} ne? soit mort/morte|{who} meure",
        "death year": "année de la? mort/décès de/d' {who}|année du décès de/d' {who}|"
        "année où {who} est mort/morte",
        "0-1": "quand {who} était encore? un? bébé|{who} bébé|bébé {who}",
        "1-9": "quand {who} était encore? tout/toute? petit/petite|"
        "quand {who} était un/une petit/petite fille/garçon|"
        "{who} petit/petite",
        "0-12": "quand {who} était encore? un/une? enfant|{who} enfant",
        "13-19": "quand {who} était un/une? adolescent/adolescente/ado|{who} adolescent/adolescente",
    },
)
