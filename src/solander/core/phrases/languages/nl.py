"""Dutch."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import wars
from solander.core.phrases.numerals.germanic import dutch, dutch_days

__all__ = ["DUTCH"]

_TENS = ["twintig", "dertig", "veertig", "vijftig", "zestig", "zeventig", "tachtig", "negentig"]

DUTCH = Language(
    code="nl",
    months=(
        "januari|jan",
        "februari|feb|febr",
        "maart|mrt",
        "april|apr",
        "mei",
        "juni|jun",
        "juli|jul",
        "augustus|aug",
        "september|sept|sep",
        "oktober|okt",
        "november|nov",
        "december|dec",
    ),
    seasons=("lente|voorjaar", "zomer", "herfst|najaar", "winter"),
    weekdays="maandag|dinsdag|woensdag|donderdag|vrijdag|zaterdag|zondag",
    feasts={
        "christmas~": "kerst|kerstmis|kersttijd",
        "christmas": "eerste kerstdag|1e kerstdag",
        "boxing day": "tweede kerstdag|2e kerstdag",
        "christmas eve": "kerstavond",
        "new years eve": "oudejaarsavond|oudejaar|oudejaarsdag|oud en nieuw",
        "new year": "nieuwjaar|nieuwjaarsdag",
        "epiphany": "driekoningen",
        "shrove tuesday~": "carnaval|vastenavond",
        "ash wednesday": "aswoensdag",
        "palm sunday": "palmzondag",
        "good friday": "goede vrijdag",
        "easter~": "pasen|paastijd",
        "easter": "eerste paasdag|paaszondag|1e paasdag",
        "easter monday": "tweede paasdag|paasmaandag|2e paasdag",
        "ascension": "hemelvaart|hemelvaartsdag",
        "whitsun~": "pinksteren",
        "whitsun": "eerste pinksterdag|1e pinksterdag",
        "whit monday": "tweede pinksterdag|pinkstermaandag|2e pinksterdag",
        "queens day": "koninginnedag",
        "labour day": "dag van de arbeid",
        "liberation nl": "bevrijdingsdag",
        "mothers day": "moederdag",
        "assumption": "maria hemelvaart",
        "all saints": "allerheiligen",
        "all souls": "allerzielen",
        "nicholas eve": "sinterklaasavond|pakjesavond|sinterklaas",
        "nicholas": "sint nicolaas|sint-nicolaas",
    },
    events={
        "de oorlog|oorlog|bezetting": (("1940-05-10", "1945-05-05"), wars.FIRST),
        "tweede wereldoorlog|2e wereldoorlog": (wars.SECOND,),
        "eerste wereldoorlog|1e wereldoorlog": (wars.FIRST,),
        "hongerwinter": (("1944-11", "1945-04"),),
        "eeuwwisseling": (wars.TURN_OF_CENTURY,),
    },
    decades={
        ten * 10: f"jaren {word}|{word}er jaren|{word}erjaren|de jaren {word}" for ten, word in enumerate(_TENS, 2)
    },
    decade_word="jaren|de jaren",
    decade_endings="er",
    ordinal_endings="e|ste|de",
    numbers=dutch(),
    hundreds={
        "achttienhonderd|achttien honderd|duizend achthonderd|duizendachthonderd": 1800,
        "negentienhonderd|negentien honderd|duizend negenhonderd|duizendnegenhonderd": 1900,
        "tweeduizend": 2000,
    },
    hundred_joints="en",
    short_hundreds={"achttien": 1800, "negentien": 1900, "twintig": 2000},
    ordinals=dutch_days(),
    century="eeuw",
    about="rond|omstreeks|ca|c|circa|ongeveer|om en nabij|rondom",
    about_after="of zo|ongeveer",
    maybe="misschien|waarschijnlijk|vermoedelijk|mogelijk|wellicht|ik denk",
    early="begin|vroege|begin van de",
    mid="midden|half|medio|midden van de",
    late="eind|einde|late|eind van de",
    between="tussen",
    both="en",
    either="of",
    to="tot|tot en met|t/m",
    before="voordat|voor|vóór|voor de",
    after="nadat|na|na de",
    until="tot|uiterlijk|niet later dan|niet na",
    since="vanaf|sinds|van|niet voor|niet eerder dan",
    or_before="of eerder",
    or_after="of later",
    during="tijdens|tijdens de|gedurende",
    week_of="week van",
    lab="ontwikkeld|afgedrukt|afdruk",
    correction="nee|sorry|ik bedoel|of liever",
    filler="de|het|den|in|op|van|jaar|het jaar|eh|ehm",
    was="was",
    units={
        "year": "jaar|jaren|jr|jaartjes",
        "month": "maand|maanden|mnd",
        "week": "week|weken",
        "day": "dag|dagen",
    },
    many="jaren|maanden|weken|dagen",
    few={"een paar|enkele|enige|een aantal": (2, 5)},
    just="kort|net|vlak|even|meteen|direct|pal",
    nearest="laatste|volgende|vorige|eerstvolgende",
    own="haar|zijn|hun|mijn|onze",
    possessive="s|'s",
    lives={
        "age": "toen {who} nog? maar? {age} oud? was|toen {who} {age} was|{who} was {age} oud?|"
        "{who} op {years} leeftijd?|"
        "{who} {years} oud?|{who} is {years} oud?|{who} op de? leeftijd van {age}|{who} met {years}",
        "birthday": "{whose} {nth} verjaardag|{nth} verjaardag van {who}|toen {who} {age} werd",
        "birthday in": "{whose} verjaardag in? {year}|verjaardag van {who} in? {year}",
        "birth": "toen {who} geboren werd/is/was|toen {who} werd/is/was geboren|{who} geboren werd/is/was|"
        "{who} werd/is/was geboren|geboorte van {who}|{whose} geboorte|dag dat/waarop {who} geboren werd/is",
        "birth year": "jaar dat/waarin/van? {who} geboren werd/is/was|geboortejaar van {who}|{whose} geboortejaar|"
        "jaar waarin {who} werd geboren",
        "death": "toen {who} stierf/overleed|toen {who} dood ging|{who} stierf/overleed|{whose} dood/overlijden|"
        "dood/overlijden van {who}",
        "death year": "jaar dat/waarin {who} stierf/overleed|sterfjaar van {who}|{whose} sterfjaar",
        "0-1": "toen {who} nog? een baby was|{who} als baby",
        "1-3": "toen {who} nog? een peuter was|{who} als peuter",
        "1-9": "toen {who} nog? heel? klein was|{who} als klein meisje|{who} als kleine jongen",
        "0-12": "toen {who} nog? een kind was|{who} als kind",
        "13-19": "toen {who} een tiener was|{who} als tiener",
    },
)
