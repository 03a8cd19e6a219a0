"""Danish."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import wars
from solander.core.phrases.numerals.germanic import danish, danish_days

__all__ = ["DANISH"]

_TENS = {
    20: "tyverne",
    30: "trediverne",
    40: "fyrrerne",
    50: "halvtredserne",
    60: "tresserne",
    70: "halvfjerdserne",
    80: "firserne",
    90: "halvfemserne",
}

DANISH = Language(
    code="da",
    months=(
        "januar|jan",
        "februar|feb",
        "marts",
        "april|apr",
        "maj",
        "juni|jun",
        "juli|jul",
        "august|aug",
        "september|sept|sep",
        "oktober|okt",
        "november|nov",
        "december|dec",
    ),
    seasons=("foråret|forår", "sommeren|sommer|sommerferien|sommerferie", "efteråret|efterår", "vinteren|vinter"),
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
        "great prayer day": "store bededag|bededag",
        "christmas~": "julen|juletid",
        "christmas": "første juledag|1. juledag|juledag",
        "christmas eve": "juleaften|juleaftensdag",
        "boxing day": "anden juledag|2. juledag",
        "new years eve": "nytårsaften",
        "new year": "nytårsdag",
        "new year~": "nytår",
        "palm sunday": "palmesøndag",
        "maundy thursday": "skærtorsdag|skærtorsdag",
        "good friday": "langfredag",
        "easter~": "påske|påsken",
        "easter": "påskedag|første påskedag",
        "easter monday": "anden påskedag|2. påskedag",
        "labour day": "første maj",
        "ascension": "kristi himmelfart|kristi himmelfartsdag",
        "constitution dk": "grundlovsdag",
        "whitsun~": "pinse|pinsen",
        "whitsun": "1. pinsedag|pinsedag|første pinsedag",
        "whit monday": "anden pinsedag|2. pinsedag",
        "midsummer eve": "sankthansaften|sankthans aften|sankthans|sankt hans|sankt hans aften|sct. hans|"
        "skt. hans aften|sankt hans|skt. hans|skt hans",
        "lucia": "lucia",
        "advent": "første advent",
    },
    events={
        "under christian ix": (("1863-11-15", "1906-01-29"),),
        "under frederik viii": (("1906-01-29", "1912-05-14"),),
        "under christian x": (("1912-05-14", "1947-04-20"),),
        "under frederik ix": (("1947-04-20", "1972-01-14"),),
        "befrielsen": (("1945-05-04", "1945-05-05"),),
        "efterkrigstiden": (("1945-05-06", ""), ("1918-11-12", "")),
        "førkrigstiden": (("", "1940-04-08"),),
        "krigens slutning|slutningen af krigen": (("1945-05-05", "1945-05-05"),),
        "krigsudbruddet": (("1940-04-09", "1940-04-09"), ("1914-08-01", "1914-08-01")),
        "verdenskrigen": wars.THE_WAR,
        "kolde krig": wars.OTHER,
        "attenhundredtallet": (("1800", "1899"),),
        "nittenhundredtallet": (("1900", "1999"),),
        "genforeningen": (("1920-06-15", "1920-07-11"),),
        "krigen|besættelsen": (("1940-04-09", "1945-05-05"), wars.FIRST),
        "anden verdenskrig|2. verdenskrig": (wars.SECOND,),
        "første verdenskrig|1. verdenskrig": (wars.FIRST,),
        "mellemkrigstiden": (wars.BETWEEN,),
        "århundredskiftet": (wars.TURN_OF_CENTURY,),
    },
    decades=_TENS,
    decade_endings="'erne|erne|-erne",
    numbers=danish(),
    hundreds={
        "attenhundrede|atten hundrede|attenhundred|atten hundred": 1800,
        "nittenhundrede|nitten hundrede|nittenhundred|nitten hundred": 1900,
        "totusinde|to tusinde|totusind|to tusind": 2000,
    },
    hundred_joints="og",
    short_hundreds={"atten": 1800, "nitten": 1900},
    ordinals=danish_days(),
    century="århundrede",
    about="omkr .|omkr|"
    "næsten|omkring|ca|cirka|circa|c|rundt om|omtrent|o|sådan cirka|mere eller mindre|plus minus|"
    "sådan omkring|henad|sådan|cirka omkring|noget i retning af",
    about_after="omtrent|eller deromkring|sådan cirka|sådan omtrent|mere eller mindre|eller der omkring|"
    "eller sådan noget|plus minus|sådan noget|sådan",
    maybe="jeg er ikke sikker|er ikke sikker|ikke sikker|jeg er ikke helt sikker|ikke helt sikker|"
    "jeg ved ikke helt|jeg ved ikke|jeg husker ikke helt|jeg mener det var|jeg mener at|mener jeg|"
    "jeg tror det var|jeg tror at|tror jeg nok|vil jeg tro|jeg vil tro|vil jeg sige|jeg vil sige|"
    "jeg skulle tro|skulle jeg tro|jeg gætter på|gætter jeg på|lad os sige|skal vi sige|det kan|kan være|"
    "kan have været|må have været|det må|hvis jeg husker rigtigt|hvis jeg ikke tager fejl|"
    "hvis jeg husker ret|jeg tør ikke sværge på det|jeg kan ikke sværge på det|vist|vistnok|vel|"
    "synes jeg|jeg synes|tror jeg|jeg tror|måske|formentlig|sandsynligvis|muligvis|nok",
    early="i starten af|tidlige|begyndelsen af|starten af|først i|tidligt i|i begyndelsen af",
    mid="midten af|midt i|i midten af",
    late="mod slutningen af|sene|slutningen af|sidst i|sent i|i slutningen af",
    between="mellem",
    both="og|&",
    either="eller",
    to="til",
    before="inden|før",
    after="efter at|efter",
    until="poststemplet|poststempel|til|senest|til og med|ikke senere end|ikke efter",
    since="tidligst|siden|fra og med|ikke før",
    or_before="eller tidligere|eller før",
    or_after="eller senere",
    during="under",
    week_of="ugen fra|ugen i|ugen",
    lab="fremkaldt|kopieret",
    correction="nej vent|vent|nej nej|det passer ikke|passer ikke|nej det passer ikke|hvad siger jeg|"
    "nej hvad siger jeg|jeg lyver|nu lyver jeg|forkert|det er forkert|det var forkert|jeg tager fejl|"
    "nu tager jeg fejl|åh nej|næ|næh|eller rettere|rettere sagt|det er løgn|eller nej|nej|undskyld|"
    "jeg mener",
    filler="d|fra|øhm|den|det|i|på|år|året|ved|af|øh|men|at|åh|ja|jo|altså|da|lad mig tænke|lad mig se|nå|ah|så",
    century_endings="-tallet|tallet",
    was="var|det var|det er|var det|dette er|dette var|have været|været|det blev",
    feast_without_day={"jul": "christmas~"},
    dash_years=True,
    season_parts={"forsommeren|forsommer": (22, 0), "højsommeren": (22, 1), "sensommeren|sensommer": (22, 2)},
    labels="nr .|nr|nummer|no .|neg .|negativ|side|s .|plade|tlf .|tlf|telefon|værelse|tog|billede|foto nr|"
    "matr .|årgang|model|årsmodel",
    hours="h",
    clock="kl .|kl|klokken",
    of_another="brev fra|brev af|kopi fra|kopieret|affotograferet|årgang|skannet",
    born="f .|født|født i|født den|( f|død|død i|død den|gift|f . d",
    framing="i|det var|det var i|var det|var det i|år|anno|året|fra|siden|til|før|efter|omkring|det er|"
    "det var nok|det var vel|det må|sommeren|vinteren|foråret|efteråret|det er nok|det er vel|"
    "det var vist",
    framed_by="var det|var det nok|var det vel|må det|er det|blev det|var det vist",
    clauses="da|når|vi|jeg|han|hun|de|og|som|havde|var|med|hos|på|lige|min|vores|før|oppe|ude|hjemme|ved|efter|"
    "dengang|hjemme hos",
    something="et eller andet|noget|og noget|- noget|og et eller andet",
    denial="ikke|ikke i|ej",
    streets_behind="gade|gaden|vej|vejen|plads|torv|allé",
    units={
        "year": "år|året",
        "month": "måned|måneder|måneden|mdr",
        "week": "uge|uger|ugen",
        "day": "dag|dage|dagen",
    },
    many="måneder|uger|dage",
    few={"nogle|nogle få|et par|få": (2, 5)},
    just="lige|kort|straks|kort tid|umiddelbart|lidt",
    nearest="sidste|næste|forrige|følgende",
    own="hendes|hans|deres|sine",
    possessive="s|'s",
    lives={
        "birthday year": "år/året da/hvor/som? {who} fyldte/blev {age}",
        "age": "da {who} var kun? {age} gammel?|{who} var {age} gammel?|{who} på {years}|{who} {years} gammel?|"
        "{who} er {years} gammel?|{who} i en? alder af {age}",
        "birthday": "{who} på sin? {nth} fødselsdag|{who} på hendes/hans {nth} fødselsdag|"
        "{whose} {nth} fødselsdag|da {who} fyldte/blev {age}|{who} fyldte/blev {age}",
        "birthday in": "{whose} fødselsdag i? {year}",
        "birth": "da {who} blev født|{who} blev født|{whose} fødsel|da {who} kom til verden|dagen {who} blev født",
        "birth year": "år/året hvor/da/som? {who} blev født|{whose} fødselsår|året for {whose} fødsel",
        "death": "da {who} døde|{who} døde|{whose} død",
        "death year": "år/året hvor/da/som? {who} døde|{whose} dødsår",
        "0-1": "da {who} var en? baby/spædbarn|{who} som baby/spæd",
        "1-9": "da {who} var lille|{who} som lille",
        "0-12": "da {who} var et? barn|{who} som barn",
        "13-19": "da {who} var en? teenager|{who} som teenager",
    },
)
