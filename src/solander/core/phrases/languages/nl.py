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
        "september|sept|sep|septr|7ber",
        "oktober|okt|oct|okt|october",
        "november|nov|novr",
        "december|dec|decr",
    ),
    seasons=("lente|voorjaar", "zomer|zomervakantie", "herfst|najaar", "winter"),
    weekdays=("maandag", "dinsdag", "woensdag", "donderdag", "vrijdag", "zaterdag", "zondag"),
    feasts={
        "martinmas": "sint maarten|sint-maarten",
        "easter eve": "stille zaterdag",
        "maundy thursday": "witte donderdag",
        "advent~": "advent",
        "christmas~": "kerst|kerstmis|kersttijd",
        "christmas": "eerste kerstdag|1e kerstdag",
        "boxing day": "tweede kerstdag|2e kerstdag",
        "christmas eve": "kerstavond",
        "new years eve": "oudejaarsavond|oudjaar|oudjaarsavond|oudejaar|oudejaarsdag|oud en nieuw",
        "new year": "nieuwjaar|nieuwjaarsdag",
        "epiphany": "driekoningen",
        "shrove tuesday~": "carnaval|vastenavond",
        "ash wednesday": "aswoensdag",
        "palm sunday": "palmzondag",
        "good friday": "goede vrijdag",
        "easter~": "pasen|paastijd",
        "easter": "eerste paasdag|paaszondag|1e paasdag",
        "easter monday": "tweede paasdag|paasmaandag|2e paasdag",
        "ascension": "hemelvaartsdag|hemelvaart|hemelvaartsdag",
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
        "onder wilhelmina|onder koningin wilhelmina|regering van wilhelmina": (("1890-11-23", "1948-09-04"),),
        "onder juliana|onder koningin juliana|regering van juliana": (("1948-09-04", "1980-04-30"),),
        "bevrijding|de bevrijding": (("1944-09-12", "1945-05-05"),),
        "interbellum|tussen de oorlogen": (wars.BETWEEN,),
        "vooroorlogs|vooroorlogse tijd": (("", "1940-05-09"),),
        "naoorlogs|naoorlogse tijd|naoorlogse jaren": (("1945-05-06", ""),),
        "wereldoorlog": wars.THE_WAR,
        "koude oorlog|koreaanse oorlog|boerenoorlog|burgeroorlog": wars.OTHER,
        "einde van de oorlog|eind van de oorlog": (("1945-05-05", "1945-05-05"),),
        "begin van de oorlog|uitbreken van de oorlog": (
            ("1940-05-10", "1940-05-10"),
            ("1939-09-01", "1939-09-01"),
        ),
        "mobilisatie|de mobilisatie": (("1939-08-28", "1940-05-09"), ("1914-07-31", "1918-11-11")),
        "watersnood|watersnoodramp": (("1953-01-31", "1953-02-01"),),
        "crisisjaren|crisistijd": (("1929-10-24", "1939"),),
        "de oorlog|oorlog|bezetting": (("1940-05-10", "1945-05-05"), wars.FIRST),
        "tweede wereldoorlog|2e wereldoorlog": (wars.SECOND,),
        "eerste wereldoorlog|1e wereldoorlog": (wars.FIRST,),
        "hongerwinter": (("1944-11", "1945-04"),),
        "eeuwwisseling": (wars.TURN_OF_CENTURY,),
    },
    decades={
        ten * 10: f"jaren {word}|{word}er jaren|{word}erjaren|de jaren {{word}}"
        for ten, word in enumerate(_TENS, 2)
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
    about="bijna|rond|omstreeks|ca|c|circa|ongeveer|om en nabij|rondom|zo rond|zo'n beetje|om en bij|plusminus|"
    "plus minus|min of meer|zo ongeveer|zo omstreeks",
    about_after="of zo|ongeveer|of daaromtrent|plusminus|plus minus|min of meer|zo'n beetje|of daar in de buurt|"
    "of zoiets|zo ongeveer|daaromtrent",
    maybe="ik meen dat|ik meen|meen ik|ik geloof dat|ik geloof|geloof ik|ik denk dat|ik dacht dat|ik dacht|"
    "ik weet het niet zeker|weet het niet zeker|niet zeker|ik weet niet meer zeker|ik weet niet meer|"
    "ik ben er niet zeker van|niet helemaal zeker|ik zou zeggen|zou ik zeggen|laten we zeggen|"
    "laat ons zeggen|zeg maar|zal wel|het zal|zou kunnen|kan zijn|het kan|als ik me goed herinner|"
    "als ik me niet vergis|ik durf het niet te zweren|ik gok|ik schat|naar ik meen|volgens mij|het moet|"
    "denk ik|dacht ik|misschien|waarschijnlijk|vermoedelijk|mogelijk|wellicht|ik denk",
    early="vroeg in de|aan het begin van|in het begin van|begin|vroege|begin van de",
    mid="in het midden van|halverwege|midden|half|medio|midden van de",
    late="laat in de|aan het eind van|aan het einde van|einde van de|eind|einde|late|eind van de",
    between="tussen",
    both="en",
    either="of",
    to="tot|tot en met|t/m",
    before="voordat|voor|vóór|voor de",
    after="nadat|na|na de",
    until="poststempel|afgestempeld|tot|uiterlijk|niet later dan|niet na",
    since="vanaf|sinds|niet voor|niet eerder dan",
    or_before="of eerder",
    or_after="of later",
    during="tijdens|tijdens de|gedurende",
    week_of="week van|week vanaf|week",
    lab="ontwikkeld|afgedrukt|afdruk",
    correction="nee wacht|wacht|"
    "wacht even|nee nee|dat klopt niet|klopt niet|ik lieg|lieg ik|nee ik lieg|wat zeg ik|"
    "wat zeg ik nou|ik vergis me|fout|niet waar|ach nee|o nee|pardon|liever gezegd|maar dan|beter gezegd|"
    "hè nee|nee|sorry|ik bedoel|of liever",
    filler="waarin|d|uh|uhm|hm|de|het|den|in|op|van|jaar|het jaar|eh|ehm|maar|dat|ach|oh|nou|o|ja|dus|zo|eens",
    was="was het|was dat|was|het was|dat was|dit was|dat is|dit is|geweest|zijn geweest|moet",
    season_parts={"voorzomer": (22, 0), "nazomer": (22, 2)},
    labels="nr .|nr|nummer|no .|neg .|negatief|blz .|blz|pagina|plaat|tel .|telefoon|kamer|trein|lot|foto nr|"
    "model|bouwjaar",
    hours="uur|u|u .|h",
    clock="om|van",
    of_another="brief van|kopie van|kopie uit|gekopieerd in|afdruk van|lichting|ontvangen in|gescand in",
    born="geb .|geb|geboren|geboren in|geboren op|overl .|overleden|overleden in|gest .|gestorven|( geb|*",
    framing="in|het was|dat was|dat was in|het was in|in het jaar|anno|het jaar|dat moet|het moet|sinds|tot|voor|"
    "na|vanaf|rond|omstreeks|zo rond|dat zal|het zal|dat is|dat is in|was het|begin|eind|was dat in|"
    "dit is|dit was",
    framed_by="was het|was dat|was 't|moet het|moet dat|zal het",
    clauses="toen|we|wij|ik|hij|zij|ze|en|was|waren|hadden|had|met|bij|dat|nog|mijn|onze|net|heb|hebben|op|zijn|"
    "kwam",
    something="en nog wat|zoveel|en zoveel|en iets|nog wat",
    denial="niet|niet in|geen",
    streets="straat van",
    streets_behind="straat|laan|plein|weg|gracht|kade",
    units={
        "year": "jaar|jaren|jr|jaartjes",
        "month": "maand|maanden|mnd",
        "week": "week|weken",
        "day": "dag|dagen",
    },
    many="jaren|maanden|weken|dagen",
    few={"een jaar of": (2, 5), "een paar|enkele|enige|een aantal": (2, 5)},
    just="kort|net|vlak|even|meteen|direct|pal",
    nearest="laatste|volgende|vorige|eerstvolgende",
    own="haar|zijn|hun|mijn|onze",
    possessive="s|'s",
    lives={
        "birthday year": "jaar dat/waarin {who} {age} werd",
        "age": "toen {who} nog? maar? {age} oud? was|toen {who} {age} was|{who} was {age} oud?|"
        "{who} op {years} leeftijd?|"
        "{who} {years} oud?|{who} is {years} oud?|{who} op de? leeftijd van {age}|{who} met {years}",
        "birthday": "{who} op haar/zijn {nth} verjaardag|{who} {age} werd|"
        "{whose} {nth} verjaardag|{nth} verjaardag van {who}|toen {who} {age} werd",
        "birthday in": "{whose} verjaardag in? {year}|verjaardag van {who} in? {year}",
        "birth": "toen {who} geboren werd/is/was|toen {who} werd/is/was geboren|{who} geboren werd/is/was|"
        "{who} werd/is/was geboren|geboorte van {who}|{whose} geboorte|dag dat/waarop {who} geboren werd/is",
        "birth year": "jaar dat/waarin/van? {who} geboren werd/is/was|geboortejaar van {who}|"
        "{whose} geboortejaar|"
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
