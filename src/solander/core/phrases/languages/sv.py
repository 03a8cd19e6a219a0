"""Swedish."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import wars
from solander.core.phrases.numerals.germanic import swedish, swedish_days

__all__ = ["SWEDISH"]

_TENS = {
    20: "tjugo",
    30: "trettio",
    40: "fyrtio",
    50: "femtio",
    60: "sextio",
    70: "sjuttio",
    80: "åttio",
    90: "nittio",
}

SWEDISH = Language(
    code="sv",
    months=(
        "januari|jan",
        "februari|feb|febr",
        "mars",
        "april|apr",
        "maj",
        "juni|jun",
        "juli|jul",
        "augusti|aug",
        "september|sept|sep",
        "oktober|okt",
        "november|nov",
        "december|dec",
    ),
    seasons=("våren|vår", "sommaren|sommar|sommarn|sommarlovet|sommarlov", "hösten|höst", "vintern|vinter"),
    weekdays=(
        "måndag|måndagen",
        "tisdag|tisdagen",
        "onsdag|onsdagen",
        "torsdag|torsdagen",
        "fredag|fredagen",
        "lördag|lördagen",
        "söndag|söndagen",
    ),
    feasts={
        "maundy thursday": "skärtorsdagen",
        "palm sunday": "palmsöndagen",
        "shrove tuesday": "fettisdagen",
        "all saints sv": "alla helgons dag|allhelgonadagen",
        "whit monday": "annandag pingst",
        "christmas~": "julen|jultiden",
        "christmas": "juldagen|juldag",
        "christmas eve": "julafton|julaftonen",
        "boxing day": "annandag jul|annandagen",
        "new years eve": "nyårsafton|nyårsaftonen",
        "new year": "nyårsdagen|nyårsdag",
        "new year~": "nyår|nyåret",
        "epiphany": "trettondagen|trettondag jul",
        "good friday": "långfredagen|långfredag",
        "easter eve": "påskafton|påskaftonen",
        "easter~": "påsk|påsken",
        "easter": "påskdagen|påskdag",
        "easter monday": "annandag påsk",
        "walpurgis": "valborg|valborgsmässoafton|valborgsmässoaftonen",
        "labour day": "första maj",
        "ascension": "kristi himmelsfärdsdag|kristi himmelsfärd",
        "whitsun~": "pingst|pingsten",
        "whitsun": "pingstdagen",
        "mothers day": "mors dag",
        "sweden": "svenska flaggans dag|nationaldagen",
        "swedish midsummer~": "midsommar|midsommaren",
        "swedish midsummer": "midsommardagen|midsommardag",
        "swedish midsummer eve": "midsommarafton|midsommaraftonen",
        "lucia": "lucia|luciadagen",
        "advent": "första advent",
    },
    events={
        "under oscar ii|oscar ii:s tid": (("1872-09-18", "1907-12-08"),),
        "under gustav v|under gustaf v|gustav v:s tid|gustaf v:s tid": (("1907-12-08", "1950-10-29"),),
        "under gustaf vi adolf|under gustav vi adolf": (("1950-10-29", "1973-09-15"),),
        "beredskapstiden|beredskapen": (("1939-09-01", "1945-05-08"),),
        "efterkrigstiden": wars.AFTER_THE_WAR,
        "förkrigstiden": wars.BEFORE_THE_WAR,
        "krigsslutet|krigets slut|slutet av kriget": wars.END_OF_WAR,
        "krigsutbrottet|krigets början": wars.START_OF_WAR,
        "vinterkriget": (("1939-11-30", "1940-03-13"),),
        "kalla kriget": wars.OTHER,
        "koreakriget": wars.KOREA,
        "artonhundratalet": (("1800", "1899"),),
        "nittonhundratalet": (("1900", "1999"),),
        "kriget|krigsåren": wars.THE_WAR,
        "andra världskriget": (wars.SECOND,),
        "första världskriget": (wars.FIRST,),
        "mellankrigstiden": (wars.BETWEEN,),
        "sekelskiftet": (wars.TURN_OF_CENTURY,),
    },
    decades={ten: f"{word}talet|{word}-talet" for ten, word in _TENS.items()},
    decade_endings="-talet|talet|-tal|tal",
    ordinal_endings=":e|:a|e",
    numbers=swedish(),
    hundreds={
        "artonhundra|adertonhundra|arton hundra": 1800,
        "nittonhundra|nitton hundra": 1900,
        "tjugohundra|tvåtusen|två tusen": 2000,
    },
    short_hundreds={"nitton": 1900},
    ordinals=swedish_days(),
    century="århundradet",
    about="omkr .|omkr|nästan|omkring|ca|cirka|circa|c|kring|runt|ungefär|vid pass|på ett ungefär|så där|sådär|"
    "mer eller mindre|plus minus|i runda tal",
    about_after="ungefär|eller så|på ett ungefär|ungefärligen|så där|sådär|mer eller mindre|eller däromkring|"
    "plus minus|eller där omkring",
    maybe="jag är inte säker|är inte säker|inte säker|jag är inte riktigt säker|är inte riktigt säker|"
    "inte riktigt säker|jag minns inte säkert|jag är inte säker på det|jag vet inte riktigt|jag vet inte|"
    "jag vill minnas|vill jag minnas|jag tror att|jag tror det var|jag tycker|tycker jag|skulle jag tro|"
    "jag skulle tro|skulle tro|jag gissar|gissar jag|gissningsvis|säg|låt oss säga|ska vi säga|det bör|"
    "bör|det kan|kan vara|kan ha varit|måste ha varit|det måste|om jag minns rätt|om jag inte minns fel|"
    "om jag inte misstar mig|jag kan inte svära på det|kan inte svära på det|troligtvis|väl|tror jag|"
    "jag tror|kanske|troligen|antagligen|förmodligen|möjligen|nog",
    early="i början på|början på|början av|i början av|tidigt|tidiga",
    mid="mitten av|i mitten av|mitten på",
    late="i slutet på|slutet av|i slutet av|sent|sena|slutet på",
    between="mellan",
    both="och|&",
    either="eller",
    to="till|t o m",
    before="före|innan",
    after="efter att|efter det att|efter",
    until="poststämplat|poststämpel|poststämplad|till|senast|till och med|inte senare än|inte efter",
    since="tidigast|sedan|från och med|inte före",
    or_before="eller tidigare",
    or_after="eller senare",
    during="under",
    week_of="veckan från|veckan i|veckan",
    lab="framkallad|framkallat|kopierad",
    correction="nej vad säger jag|vad säger jag|nej vänta|vänta|nej nej|nej fel|fel|jag ljuger|nu ljuger jag|"
    "det stämmer inte|stämmer inte|nej det stämmer inte|det var fel|jag tar fel|nu tar jag fel|"
    "eller rättare sagt|ursäkta|åh nej|nä|näe|snarare|utan|nej|förlåt|jag menar|rättare sagt",
    filler="d|från|öh|den|det|i|på|år|året|vid|av|eh|men|att|åh|ja|jo|nåja|ju|då|ah|äh|nå",
    century_endings="-talet|talet|-tal|tal|-talets",
    was="var|det var|det är|var det|det här är|det här var|ha varit|varit|det blir",
    feast_without_day={"jul": "christmas~"},
    dash_years=True,
    season_parts={
        "försommaren|försommar": (22, 0),
        "högsommaren|högsommar": (22, 1),
        "sensommaren|sensommar": (22, 2),
        "senhösten|senhöst": (23, 2),
        "förvåren": (21, 0),
    },
    labels="nr .|nr|nummer|no .|n : o|neg .|negativ|sid .|sidan|s .|plåt|tel .|telefon|rum|tåg|bild|foto nr|"
    "årsmodell|modell|lok",
    hours="h",
    clock="kl .|kl|klockan",
    of_another="brev från|brev av|kopia från|kopierad|kopierat|avfotograferad|årsklass|årskull|skannad",
    born="f .|född|född år|född den|f . d|födda|( f|död|död år|avliden|gift",
    framing="det var|det var i|var det|år|i|anno|året|från|sedan|till|före|efter|sommaren|omkring|kring|runt|"
    "det är|det var nog|det var väl|det måste|det bör|sommarn|vintern|våren|hösten|det är nog",
    framed_by="var det|var det nog|var det väl|måste det|bör det|blir det|är det|vart det",
    clauses="när|då|vi|jag|han|hon|de|och|som|hade|var|med|hos|på|just|min|vår|innan|strax|uppe|ute|hemma|vid|"
    "samma",
    something="- nånting|nånting|någonting|- något|och något|-nånting|och nånting|något",
    denial="inte|ej|icke|inte i",
    streets_behind="gatan|vägen|torget|torg",
    units={
        "year": "år|året",
        "month": "månad|månader|månaden|mån",
        "week": "vecka|veckor|veckan",
        "day": "dag|dagar|dagen",
    },
    many="månader|veckor|dagar",
    few={"några|några få|ett par": (2, 5)},
    just="strax|precis|kort|just|alldeles|straxt|kort tid|genast",
    nearest="sista|nästa|förra|följande",
    own="hennes|hans|deras|sina|sin",
    possessive="s",
    lives={
        "birthday year": "år/året då/när/som? {who} fyllde {age}",
        "age": "när/då {who} var bara? {age} gammal?|{who} var {age} gammal?|{who} vid {years} ålder?|"
        "{who} {years} gammal?|{who} är {years} gammal?|{who} i {nth} årsåldern",
        "birthday": "{who} på sin {nth} födelsedag|{who} på {nth} årsdagen|{who} på sin {age} årsdag|"
        "{whose} {nth} födelsedag|när/då {who} fyllde {age}|{who} fyllde {age}",
        "birthday in": "{whose} födelsedag {year}",
        "birth": "när/då {who} föddes|när {who} är/blev född|{who} föddes|{whose} födelse|"
        "dagen då/när {who} föddes",
        "birth year": "år/året då/när/som? {who} föddes|{whose} födelseår|år/året för {whose} födelse",
        "death": "när/då {who} dog/avled|när {who} gick bort|{who} dog/avled|{who} gick bort|{whose} död/bortgång",
        "death year": "år/året då/när/som? {who} dog/avled|{whose} dödsår",
        "0-1": "när {who} var en? bebis/baby/spädbarn|{who} som bebis/baby",
        "1-9": "när {who} var liten|{who} som liten",
        "0-12": "när {who} var ett? barn|{who} som barn",
        "13-19": "när {who} var en? tonåring|{who} som tonåring|{who} i tonåren|när {who} var i tonåren",
    },
)
