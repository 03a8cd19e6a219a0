"""German."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import wars
from solander.core.phrases.numerals.germanic import german_days

__all__ = ["GERMAN"]

_UNITS = ["ein", "zwei", "drei", "vier", "fünf", "sechs", "sieben", "acht", "neun"]
_TEENS = [
    "zehn",
    "elf",
    "zwölf",
    "dreizehn",
    "vierzehn",
    "fünfzehn",
    "sechzehn",
    "siebzehn",
    "achtzehn",
    "neunzehn",
]
_TENS = ["zwanzig", "dreißig", "vierzig", "fünfzig", "sechzig", "siebzig", "achtzig", "neunzig"]


def _numbers() -> dict[str, int]:
    found = {"eins": 1} | {word: number for number, word in enumerate(_UNITS[1:] + _TEENS, 2)}
    for ten, word in enumerate(_TENS, 2):
        found[word] = ten * 10
        found |= {f"{unit}und{word}": ten * 10 + number for number, unit in enumerate(_UNITS, 1)}
    return found


def _years() -> dict[str, int]:
    found = {}
    for century, said in ((18, "achtzehnhundert"), (19, "neunzehnhundert"), (20, "zweitausend")):
        found[said] = century * 100
        found |= {f"{said}{word}": century * 100 + number for word, number in _numbers().items()}
    return found


def _decades() -> dict[int, str]:
    return {
        ten * 10: f"{word}er|{word}er jahre|{word}er jahren|{word}erjahre|{word}erjahren|{word}ern"
        for ten, word in enumerate(_TENS, 2)
    }


GERMAN = Language(
    code="de",
    months=(
        "januar|jan|jänner|januars|jän",
        "februar|feb|feber|februars|febr",
        "märz|mär|mrz",
        "april|apr",
        "mai",
        "juni|jun",
        "juli|jul",
        "august|aug|augst",
        "september|sept|sep|septbr|sptbr|7ber",
        "oktober|okt|oktbr|octbr|oct",
        "november|nov|novbr|nvbr",
        "dezember|dez|dezbr|dec|decbr|xber",
    ),
    seasons=(
        "frühling|frühjahr|frühlings",
        "sommer|sommers|sommerferien|sommerurlaub",
        "herbst|herbstes",
        "winter|winters",
    ),
    weekdays=(
        "montag|mo",
        "dienstag|di",
        "mittwoch|mi",
        "donnerstag|do",
        "freitag|fr",
        "samstag|sonnabend|sa",
        "sonntag|so",
    ),
    feasts={
        "advent~": "adventszeit|adventzeit|advent",
        "second advent": "zweiter advent|2. advent",
        "third advent": "dritter advent|3. advent",
        "fourth advent": "vierter advent|4. advent",
        "sunday of the dead": "totensonntag|ewigkeitssonntag",
        "day of mourning": "volkstrauertag",
        "day of repentance": "buß- und bettag|buß und bettag|buss- und bettag",
        "harvest": "erntedank|erntedankfest",
        "martinmas": "martinstag|sankt martin|st. martin|martini",
        "new years eve~": "jahreswechsel|um den jahreswechsel",
        "new years eve": "silvester|sylvester|silvesterabend|altjahrsabend",
        "walpurgis": "walpurgisnacht",
        "easter eve": "karsamstag|ostersamstag",
        "christmas~": "weihnachten|weihnacht|weihnachtszeit|zu weihnachten",
        "christmas": "weihnachtstag|erster weihnachtstag|erster weihnachtsfeiertag|1. weihnachtstag|"
        "1. weihnachtsfeiertag|christtag",
        "boxing day": "zweiter weihnachtstag|2. weihnachtstag|zweiter weihnachtsfeiertag|2. weihnachtsfeiertag|"
        "stephanstag|stefanitag",
        "christmas eve": "heiligabend|heiliger abend|weihnachtsabend|heilig abend",
        "new year": "neujahr|neujahrstag",
        "epiphany": "dreikönig|heilige drei könige|dreikönigstag",
        "candlemas": "lichtmess|mariä lichtmess",
        "shrove thursday": "weiberfastnacht|altweiberfastnacht|schmotziger donnerstag|unsinniger donnerstag",
        "shrove monday": "karnevalsmontag|faschingsmontag|rosenmontag",
        "shrove tuesday": "karnevalsdienstag|veilchendienstag|fastnacht|faschingsdienstag|fastnachtsdienstag",
        "shrove tuesday~": "fasching|karneval|fasnacht",
        "ash wednesday": "aschermittwoch",
        "palm sunday": "palmsonntag",
        "maundy thursday": "gründonnerstag",
        "good friday": "karfreitag",
        "easter~": "ostern|osterzeit",
        "easter": "ostersonntag",
        "easter monday": "ostermontag",
        "ascension": "himmelfahrt|christi himmelfahrt|vatertag",
        "whitsun~": "pfingsten",
        "whitsun": "pfingstsonntag",
        "whit monday": "pfingstmontag",
        "corpus christi": "fronleichnam",
        "labour day": "tag der arbeit|maifeiertag",
        "german unity": "tag der deutschen einheit",
        "mothers day": "muttertag",
        "midsummer": "johannistag|johanni",
        "assumption": "mariä himmelfahrt",
        "all saints": "allerheiligen",
        "all souls": "allerseelen",
        "nicholas": "nikolaus|nikolaustag|nikolo",
        "advent": "erster advent|1. advent",
    },
    events={
        "unter kaiser wilhelm|zu kaisers zeiten|unter dem kaiser|wilhelminische zeit": (
            ("1888-06-15", "1918-11-09"),
        ),
        "unter kaiser franz joseph|unter franz joseph": (("1848-12-02", "1916-11-21"),),
        "kriegsende|ende des krieges|ende des kriegs": wars.END_OF_WAR,
        "kriegsbeginn|kriegsausbruch|ausbruch des krieges|beginn des krieges": wars.START_OF_WAR,
        "nachkriegszeit|nachkriegsjahre|nachkriegsjahren": wars.AFTER_THE_WAR,
        "vorkriegszeit": wars.BEFORE_THE_WAR,
        "des krieges|des kriegs|krieges|kriegs|kriegsjahre|kriegsjahren|der kriegszeit": wars.THE_WAR,
        "deutsch-französischer krieg|deutsch-französischen krieg|siebzigerkrieg|krieg 1870/71|"
        "krieg von 1870/71": wars.FRANCO_PRUSSIAN,
        "koreakrieg": wars.KOREA,
        "kalter krieg|kalten krieg|kalten krieges": wars.OTHER,
        "weltkrieg|weltkriegs|weltkrieges": wars.THE_WAR,
        "weimarer zeit": (("1918-11-09", "1933-01-30"),),
        "ns-zeit|nazizeit|drittes reich|dritten reich|hitlerzeit": (("1933-01-30", "1945-05-08"),),
        "ddr-zeit|ddr-zeiten|zu ddr-zeiten": (("1949-10-07", "1990-10-02"),),
        "mauerbau|bau der mauer": (("1961-08-13", "1961-08-13"),),
        "mauerfall|fall der mauer": (("1989-11-09", "1989-11-09"),),
        "währungsreform": (("1948-06-20", "1948-06-21"),),
        "inflation|inflationszeit": (("1921", "1923-11-20"),),
        "wirtschaftswunder|wirtschaftswunderzeit": (("1950", "1959"),),
        "gründerzeit": (("1871", "1914-07-31"),),
        "goldenen zwanziger|goldene zwanziger|goldenen zwanzigern|goldenen zwanziger jahre": (("1920", "1929"),),
        "der krieg|dem krieg|den krieg|krieg|kriegszeit|kriege": wars.THE_WAR,
        "zweiter weltkrieg|zweiten weltkrieg|2. weltkrieg|ii. weltkrieg|wk ii": (wars.SECOND,),
        "erster weltkrieg|ersten weltkrieg|1. weltkrieg|i. weltkrieg|wk i": (wars.FIRST,),
        "zwischenkriegszeit|zwischen den kriegen": (wars.BETWEEN,),
        "jahrhundertwende": (wars.TURN_OF_CENTURY,),
        "kaiserzeit": (("1871-01-18", "1918-11-09"),),
        "weimarer republik": (("1918-11-09", "1933-01-30"),),
    },
    decades=_decades(),
    decade_endings="er|er-jahre",
    numbers={**_numbers(), **_years()},
    ordinals=german_days(),
    century="jahrhundert|jahrhunderts|jh|jhdt|jhd",
    about="fast|beinahe|um|ca|circa|zirka|etwa|ungefähr|gegen|rund|so um|um ca|um das jahr|in etwa|um circa|"
    "so gegen|so ungefähr|mehr oder weniger|plus minus|so rund|so etwa|so um die",
    about_after="oder so|herum|ungefähr|etwa|so ungefähr|plus minus|mehr oder weniger|rum|so in dem dreh|"
    "so ungefähr jedenfalls|in etwa",
    maybe="ich bin mir nicht mehr sicher|bin mir nicht mehr sicher|nicht mehr sicher|nicht mehr ganz sicher|"
    "ich bin mir nicht mehr ganz sicher|ich meine es war|ich meine das war|ich bin nicht sicher|"
    "bin nicht sicher|bin mir nicht sicher|ich bin mir nicht sicher|bin mir nicht ganz sicher|"
    "ich bin mir nicht ganz sicher|nicht ganz sicher|nicht sicher|ich bin nicht mehr sicher|"
    "bin nicht mehr sicher|ich weiß nicht mehr genau|weiß nicht mehr genau|weiß nicht genau|weiß nicht|"
    "sagen wir|sagen wir mal|ich würde sagen|würde sagen|ich nehme an|ich vermute|muss so|müsste|dürfte|"
    "es könnte|könnte sein|mag sein|kann sein|wenn ich mich recht erinnere|wenn ich mich nicht irre|"
    "soweit ich weiß|schwören kann ich's nicht|beschwören kann ich's nicht|mir scheint|ich tippe auf|"
    "ich glaube|glaube ich|ich denke|ich schätze|schätzungsweise|angeblich|vielleicht|wohl|vermutlich|"
    "wahrscheinlich|möglicherweise|evtl|eventuell|vmtl|wahrsch|könnte",
    early="zu beginn|am anfang|anfänge|anfang|frühe|frühen|früher|beginn|anfangs",
    mid="mitte",
    late="gegen ende|am ende|jahresende|ende des jahres|ende|späte|späten|später",
    between="zwischen",
    both="und|u|&",
    either="oder|bzw",
    to="bis",
    before="bevor|ehe|vor|vor dem",
    after="nachdem|nach|nach dem",
    until="poststempel|abgestempelt|gelaufen|bis|spätestens|bis spätestens|nicht später als|nicht nach",
    since="ab|seit|frühestens|nicht vor|nicht früher als",
    or_before="oder früher|oder davor|oder eher",
    or_after="oder später|oder danach",
    during="während|während des|im laufe",
    first_half="erste hälfte|ersten hälfte",
    second_half="zweite hälfte|zweiten hälfte",
    week_of="woche vom|woche ab|woche im|woche des",
    lab="entwickelt|abzug|abzug vom|kopiert",
    correction="ach was sage ich|ach nein|ach nee|nee|stimmt nicht|das stimmt nicht|stimmt ja nicht|falsch|halt|"
    "stopp|ach was|was sage ich|was red ich|was rede ich denn|nein warte|warte|warte mal|ich lüge|"
    "ich irre mich|da irre ich mich|pardon|entschuldigung|verzeihung|oder besser|besser gesagt|"
    "doch nicht|nicht doch|sondern|unsinn|nein|quatsch|ich meine|moment|beziehungsweise|vielmehr",
    filler="d|von|zum|anno domini|entweder|irgendwann|so|ungefähr im|der|die|das|den|dem|des|im|in|am|an|zu|vom|"
    "jahr|jahres|anno|äh|ähm|hm|aufgenommen|aber|ach|also|na|tja|dass|oh|nun|mal",
    was="war das|war's|war es|es war|war|das war|das ist|es ist|das muss|gewesen|muss|sein|gewesen sein",
    season_parts={
        "frühsommer": (22, 0),
        "hochsommer": (22, 1),
        "spätsommer": (22, 2),
        "frühherbst": (23, 0),
        "spätherbst": (23, 2),
        "vorfrühling": (21, 0),
        "spätwinter": (24, 2),
    },
    streets="straße des|platz des|straße|platz",
    labels="höhe|nr .|nr|nummer|no .|neg .|negativ|platte|bild|seite|s .|bd .|fernruf|fernspr .|telefon|rufnummer|"
    "haus|zimmer|los|kat .|zug|bus|blatt|baujahr|bj .|bj|modell|lokomotive|lok|baureihe",
    hours="uhr|h",
    clock="um",
    of_another="brief vom|brief von|kopie von|kopiert|kopiert im jahr|abzug von|neu abgezogen|jahrgang|"
    "erhalten|gescannt|restauriert",
    born="geb .|geb|geboren|geboren am|geboren im jahr|( *|gest .|gestorben|gefallen|verstorben|* am|† am|"
    "jg .|jahrgang",
    framing="in|im jahr|im jahre|anno|das war|das war in|es war|das muss|das müsste|das ist|es muss|das dürfte|"
    "das wird|seit|bis|vor|nach|ab|so um|das war im jahr|das war so|das war so um|um|gegen|war das in|"
    "wohl in|das war wohl|es war wohl|das war ungefähr",
    framed_by="war das|war's|war es|muss das|muss es|müsste das|dürfte das|war das wohl|wird das",
    clauses="da|als|wir|ich|er|sie|es|und|hat|haben|hatten|war|waren|hatte|sind|wo|damals|noch|bei|mit|haben wir|"
    "kam|kamen",
    something="und etwas|irgendwas|und noch was|und was|nochwas|noch was|und ein paar",
    denial="nicht|nicht in|nicht im|kein",
    streets_behind="straße|strasse|platz|allee|weg|gasse|brücke|str .|ring",
    units={
        "year": "jahr|jahre|jahren|jährchen|j",
        "month": "monat|monate|monaten|mon",
        "week": "woche|wochen",
        "day": "tag|tage|tagen",
    },
    many="jahre|jahren|monate|monaten|wochen|tage|tagen",
    few={"ein paar|paar|einige|einigen|wenige|wenigen|mehrere": (2, 5), "ein|eine|einen|einem|einer": (1, 1)},
    just="kurz|gleich|bald|knapp|unmittelbar|direkt|kurze zeit",
    nearest="letzte|letzten|letzter|letztes|nächste|nächsten|nächster|nächstes|folgende|folgenden|vorige|vorigen",
    own="ihre|ihren|seine|seinen|meine|meinen|unsere|unseren",
    possessive="s|'s",
    lives={
        "birthday year": "jahr in? dem? als? {who} {age} alt? wurde",
        "age": "{who} mit {alone}|"
        "als/wie/da {who} erst? {age} alt? war|{who} war {age} alt?|{who} mit {age}|"
        "{who} im? alter von {age}|{who} {years} alt?|{who} ist {age} alt?|{years} alt {who}",
        "birthday": "{who} an ihrem/seinem/zum {nth} geburtstag|{who} am {nth} geburtstag|"
        "{who} zu ihrem/seinem {nth} geburtstag|{who} {age} alt? wurde|"
        "{whose} {nth} geburtstag|{nth} geburtstag von {who}|als {who} {age} alt? wurde",
        "birthday in": "{whose} geburtstag im? jahr? {year}",
        "birth": "als/wie {who} geboren wurde/war/ist|als {who} auf/zur die? welt kam|{who} geboren wurde/war|"
        "{who} zur/auf die? welt kam|{whose} geburt|geburt von {who}|{who} wurde geboren",
        "birth year": "jahr in? dem? als? {who} geboren wurde/ist|{whose} geburtsjahr|geburtsjahr von {who}|"
        "jahr von {whose} geburt",
        "death": "als {who} starb/verstarb|als {who} gestorben ist|{who} starb/verstarb|{who} gestorben ist|"
        "{whose} tod|"
        "tod von {who}|todestag von {who}",
        "death year": "jahr in? dem? als? {who} starb|{whose} todesjahr|todesjahr von {who}",
        "0-1": "als {who} noch? ein? baby/säugling war|{who} als baby/säugling",
        "1-3": "als {who} noch? ein? kleinkind war|{who} als kleinkind",
        "1-9": "als {who} noch? ganz? klein war|{who} als kleines kind|{who} als kleiner junge|"
        "{who} als kleines mädchen|"
        "als {who} ein kleines mädchen war|als {who} ein kleiner junge war",
        "0-12": "als {who} noch? ein? kind war|{who} als kind",
        "13-19": "als {who} ein? teenager war|{who} als teenager",
        "tens": "als {who} in ihren/seinen {tens} war|{who} in ihren/seinen {tens}",
    },
)
