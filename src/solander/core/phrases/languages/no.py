"""Norwegian."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import wars
from solander.core.phrases.numerals.germanic import norwegian, norwegian_days

__all__ = ["NORWEGIAN"]

_TENS = {20: "tjue", 30: "tretti", 40: "førti", 50: "femti", 60: "seksti", 70: "sytti", 80: "åtti", 90: "nitti"}

NORWEGIAN = Language(
    code="no",
    months=(
        "januar|jan",
        "februar|feb",
        "mars",
        "april|apr",
        "mai",
        "juni|jun",
        "juli|jul",
        "august|aug",
        "september|sept|sep",
        "oktober|okt",
        "november|nov",
        "desember|des",
    ),
    seasons=(
        "våren|vår",
        "sommeren|sommer|sommar|sommaren|sommerferien|sommerferie",
        "høsten|høst|haust|hausten",
        "vinteren|vinter",
    ),
    weekdays=(
        "mandag|mandagen",
        "tirsdag|tirsdagen",
        "onsdag|onsdagen",
        "torsdag|torsdagen",
        "fredag|fredagen",
        "lørdag|lørdagen",
        "søndag|søndagen",
    ),
    feasts={
        "shrove sunday": "fastelavn|fastelavnssøndag",
        "whit monday": "2. pinsedag|andre pinsedag|annen pinsedag",
        "christmas~": "jula|julen|juletider|juletida",
        "christmas": "første juledag|1. juledag|juledag",
        "christmas eve": "julaften|julekvelden|julaftan",
        "boxing day": "andre juledag|annen juledag|2. juledag",
        "new years eve": "nyttårsaften|nyttårsaftan",
        "new year": "nyttårsdag|første nyttårsdag",
        "new year~": "nyttår",
        "palm sunday": "palmesøndag",
        "maundy thursday": "skjærtorsdag",
        "good friday": "langfredag",
        "easter eve": "påskeaften",
        "easter~": "påske|påsken|påska",
        "easter": "første påskedag|1. påskedag",
        "easter monday": "andre påskedag|annen påskedag|2. påskedag",
        "labour day": "første mai",
        "constitution no": "syttende mai|grunnlovsdagen|nasjonaldagen",
        "ascension": "kristi himmelfart|kristi himmelfartsdag",
        "whitsun~": "pinse|pinsen|pinsa",
        "whitsun": "1. pinsedag|første pinsedag",
        "midsummer eve": "sankthansaften|sankthans aften|sankthans|sankt hans|sankt hans aften|sct. hans|"
        "skt. hans aften|st. hans|sankthans|st hans|jonsok",
        "lucia": "lucia",
        "advent": "første advent",
    },
    events={
        "under kong haakon|under haakon vii|kong haakons tid": (("1905-11-18", "1957-09-21"),),
        "under kong olav|under olav v|kong olavs tid": (("1957-09-21", "1991-01-17"),),
        "okkupasjonen|under okkupasjonen": (("1940-04-09", "1945-05-08"),),
        "frigjøringen|frigjøringsdagen": (("1945-05-08", "1945-05-08"),),
        "etterkrigstiden|etterkrigstida": (("1945-05-09", ""), ("1918-11-12", "")),
        "førkrigstiden": (("", "1940-04-08"),),
        "krigsslutt|krigens slutt|slutten av krigen": wars.END_OF_WAR,
        "krigsutbruddet": (("1940-04-09", "1940-04-09"), ("1914-08-01", "1914-08-01")),
        "verdenskrigen": wars.THE_WAR,
        "kalde krigen": wars.OTHER,
        "attenhundretallet": (("1800", "1899"),),
        "nittenhundretallet": (("1900", "1999"),),
        "unionsoppløsningen": (("1905-06-07", "1905-06-07"),),
        "krigen|krigsårene|krigsåra": (("1940-04-09", "1945-05-08"), wars.FIRST),
        "andre verdenskrig|annen verdenskrig": (wars.SECOND,),
        "første verdenskrig": (wars.FIRST,),
        "mellomkrigstiden": (wars.BETWEEN,),
        "århundreskiftet": (wars.TURN_OF_CENTURY,),
    },
    decades={ten: f"{word}tallet|{word}årene|{word}åra|{word}-tallet" for ten, word in _TENS.items()},
    decade_endings="-tallet|tallet|-årene|-åra|åra|årene",
    ordinal_endings="",
    numbers=norwegian(),
    hundreds={"attenhundre|atten hundre": 1800, "nittenhundre|nitten hundre": 1900, "totusen|to tusen": 2000},
    hundred_joints="og",
    short_hundreds={"atten": 1800, "nitten": 1900},
    ordinals=norwegian_days(),
    century="århundre",
    about="omkr .|omkr|"
    "nesten|omkring|ca|cirka|circa|c|rundt|omtrent|kring|sånn|sånn omtrent|mer eller mindre|pluss minus|"
    "cirka rundt|sånn cirka|sånn rundt",
    about_after="omtrent|eller så|sånn omtrent|sånn cirka|mer eller mindre|eller der omkring|eller deromkring|"
    "pluss minus|eller noe sånt|sånn noenlunde|sånn",
    maybe="jeg er ikke sikker|er ikke sikker|ikke sikker|jeg er ikke helt sikker|ikke helt sikker|"
    "jeg vet ikke helt|jeg vet ikke|jeg husker ikke sikkert|jeg mener det var|jeg mener at|"
    "jeg tror det var|jeg tror at|vil jeg tro|jeg vil tro|vil jeg si|jeg vil si|jeg skulle tro|"
    "skulle jeg tro|jeg gjetter|la oss si|skal vi si|det kan|kan være|kan ha vært|må ha vært|det må|"
    "hvis jeg husker rett|hvis jeg ikke tar feil|om jeg ikke husker feil|jeg kan ikke sverge på det|"
    "kan ikke sverge på det|visstnok|vel|nok|synes jeg|jeg synes|tror jeg|jeg tror|kanskje|trolig|"
    "antakelig|antagelig|sannsynligvis|muligens",
    early="starten av|i starten av|først på|tidlig på|begynnelsen av|tidlig i|i begynnelsen av",
    mid="midten av|midt på|i midten av",
    late="mot slutten av|sist på|sent i|slutten av|sent på|i slutten av",
    between="mellom",
    both="og|&",
    either="eller",
    to="til",
    before="før",
    after="etter at|etter",
    until="poststemplet|poststempel|til|senest|til og med|ikke senere enn|ikke etter",
    since="tidligst|siden|fra og med|ikke før",
    or_before="eller tidligere|eller før",
    or_after="eller senere|eller etter",
    during="under",
    week_of="uken fra|uka fra|uken i|uka i|uken|uka",
    lab="fremkalt|framkalt|kopiert",
    correction="nei vent|vent|nei nei|hva sier jeg|nei hva sier jeg|det stemmer ikke|stemmer ikke|"
    "nei det stemmer ikke|jeg lyver|nå lyver jeg|feil|det var feil|jeg tar feil|nå tar jeg feil|å nei|"
    "neida|eller rettere sagt|rettere sagt|eller nei|beklager|nei|unnskyld|jeg mener",
    filler="d|fra|øh|den|det|i|på|år|året|ved|av|eh|men|at|å|ja|jo|altså|da|la meg tenke|la meg se|jaja|nå|ah",
    century_endings="-tallet|tallet",
    was="var|det var|det er|var det|dette er|dette var|ha vært|vært|det blir",
    feast_without_day={"jul": "christmas~"},
    dash_years=True,
    season_parts={
        "forsommeren|forsommer": (22, 0),
        "høysommeren": (22, 1),
        "sensommeren|sensommer": (22, 2),
        "senhøsten|seinhausten": (23, 2),
    },
    labels="nr .|nr|nummer|no .|neg .|negativ|side|s .|plate|tlf .|tlf|telefon|rom|tog|bilde|foto nr|årsmodell|"
    "modell",
    hours="h",
    clock="kl .|kl|klokka|klokken",
    of_another="brev fra|brev av|kopi fra|kopiert|avfotografert|årskull|skannet",
    born="f .|født|født i|født den|fødd|( f|død|død i|død den|d . i|gift",
    framing="i|det var|det var i|var det|var det i|år|anno|året|fra|siden|til|før|etter|omkring|rundt|det er|"
    "det var nok|det var vel|det må|sommeren|vinteren|våren|høsten|det er nok|det er vel|somrene",
    framed_by="var det|var det nok|var det vel|må det|er det|blir det",
    clauses="da|når|vi|jeg|han|hun|de|og|som|hadde|var|med|hos|på|like|min|vår|før|rett|oppe|ute|hjemme|ved|"
    "etter|dengang",
    something="et eller annet|noe|og noe|- noe|og et eller annet|noenting",
    denial="ikke|ikke i|ei",
    streets_behind="gate|gaten|gata|vei|veien|plass|torg",
    units={
        "year": "år|året",
        "month": "måned|måneder|måneden|månad",
        "week": "uke|uker|uka|uken|veke|veker",
        "day": "dag|dager|dagen|dagar",
    },
    many="måneder|uker|dager",
    few={"noen|noen få|et par|nokre": (2, 5)},
    just="like|rett|kort|straks|kort tid|litt",
    nearest="siste|neste|forrige|følgende",
    own="hennes|hans|deres|sine",
    possessive="s|'s",
    lives={
        "birthday year": "år/året da/som? {who} fylte {age}",
        "age": "da/når {who} var bare? {age} gammel/gamal?|{who} var {age} gammel/gamal?|{who} på {years}|"
        "{who} {years} gammel/gamal?|{who} er {years} gammel/gamal?|{who} i en? alder av {age}",
        "birthday": "{who} på sin? {nth} fødselsdag/bursdag|{who} på hennes/hans {nth} fødselsdag|"
        "{whose} {nth} fødselsdag/bursdag|da {who} fylte {age}|{who} fylte {age}",
        "birthday in": "{whose} fødselsdag/bursdag i? {year}",
        "birth": "da/når {who} ble/blei/vart født|{who} ble/blei/vart født|{whose} fødsel|"
        "da {who} kom til verden|"
        "dagen {who} ble født",
        "birth year": "år/året da/som? {who} ble/blei/vart født|{whose} fødselsår|året for {whose} fødsel",
        "death": "da/når {who} døde|{who} døde|{whose} død",
        "death year": "år/året da/som? {who} døde|{whose} dødsår",
        "0-1": "da {who} var en? baby/spedbarn|{who} som baby",
        "1-9": "da {who} var liten/lita|{who} som liten/lita",
        "0-12": "da {who} var et? barn|{who} som barn",
        "13-19": "da {who} var en? tenåring|{who} som tenåring|{who} i tenårene|da {who} var i tenårene",
    },
)
