"""Italian."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import wars
from solander.core.phrases.numerals.romance import italian, italian_ordinals

__all__ = ["ITALIAN"]

ITALIAN = Language(
    code="it",
    months=(
        "gennaio|gen|genn|genn.o",
        "febbraio|feb|febbr",
        "marzo|mar|mzo",
        "aprile|apr|april",
        "maggio|mag|magg|magg.o",
        "giugno|giu|giug",
        "luglio|lug|lugl",
        "agosto|ago|agos|ag",
        "settembre|sett|set|settem|7bre|settbre",
        "ottobre|ott|ottob|8bre|ottbre",
        "novembre|nov|9bre|novbre|novem",
        "dicembre|dic|10bre|dicbre|xbre",
    ),
    seasons=("primavera", "estate|vacanze estive", "autunno", "inverno"),
    weekdays=("lunedì", "martedì", "mercoledì", "giovedì", "venerdì", "sabato", "domenica"),
    feasts={
        "mothers day": "festa della mamma",
        "women": "festa della donna",
        "all souls": "giorno dei morti|i morti",
        "maundy thursday": "giovedì santo",
        "easter eve": "sabato santo",
        "advent~": "avvento",
        "nicholas": "san nicola",
        "lucia": "santa lucia",
        "christmas~": "natale",
        "christmas": "giorno di natale",
        "christmas eve": "vigilia di natale|vigilia",
        "boxing day": "santo stefano",
        "new years eve": "san silvestro|ultimo dell'anno",
        "new year": "capodanno",
        "epiphany": "epifania|befana",
        "shrove thursday": "giovedì grasso",
        "shrove tuesday": "martedì di carnevale|martedì grasso",
        "shrove tuesday~": "carnevale",
        "ash wednesday": "mercoledì delle ceneri",
        "palm sunday": "domenica delle palme",
        "good friday": "venerdì santo",
        "easter~": "pasqua",
        "easter": "domenica di pasqua",
        "easter monday": "pasquetta|lunedì dell'angelo|lunedì di pasqua",
        "ascension": "ascensione",
        "whitsun~": "pentecoste",
        "corpus christi": "corpus domini",
        "joseph": "san giuseppe",
        "liberation it": "festa della liberazione",
        "labour day": "festa del lavoro|primo maggio",
        "midsummer": "san giovanni",
        "assumption": "ferragosto",
        "all saints": "ognissanti|tutti i santi",
        "immaculate": "immacolata",
    },
    events={
        "regno di umberto i": (("1878-01-09", "1900-07-29"),),
        "regno di vittorio emanuele iii": (("1900-07-29", "1946-05-09"),),
        "dopoguerra|secondo dopoguerra": (("1945-05-09", ""), ("1918-11-05", "")),
        "anteguerra": (("", "1940-06-09"), ("", "1915-05-22")),
        "tra le due guerre|fra le due guerre": (wars.BETWEEN,),
        "ottocento": (("1800", "1899"),),
        "novecento": (("1900", "1999"),),
        "guerra mondiale": wars.THE_WAR,
        "guerra fredda|guerra di|guerra d'": wars.OTHER,
        "guerra di libia|guerra italo-turca": (("1911-09-29", "1912-10-18"),),
        "guerra d'etiopia|guerra d'africa": (("1935-10-03", "1936-05-05"),),
        "guerra di spagna": wars.SPAIN,
        "guerra di corea": wars.KOREA,
        "fine della guerra": (("1945-05-08", "1945-05-08"), ("1918-11-04", "1918-11-04")),
        "liberazione|la liberazione": (("1945-04-25", "1945-04-25"),),
        "boom economico": (("1958", "1963"),),
        "fascismo": (("1922-10-31", "1943-07-25"),),
        "belle époque": (wars.BELLE_EPOQUE,),
        "la guerra|guerra": (("1940-06-10", "1945-05-08"), ("1915-05-23", "1918-11-04")),
        "seconda guerra mondiale|seconda guerra": (wars.SECOND,),
        "prima guerra mondiale|grande guerra|prima guerra": (wars.FIRST,),
        "il ventennio|ventennio": (("1922-10-31", "1943-07-25"),),
    },
    decades={
        20: "anni venti",
        30: "anni trenta",
        40: "anni quaranta",
        50: "anni cinquanta",
        60: "anni sessanta",
        70: "anni settanta",
        80: "anni ottanta",
        90: "anni novanta",
    },
    decade_word="anni",
    ordinal_endings="º|°",
    numbers=italian(),
    hundreds={
        "milleottocento|mille ottocento|milleottocent": 1800,
        "millenovecento|mille novecento|millenovecent": 1900,
        "duemila|due mila": 2000,
    },
    hundred_joints="e",
    ordinals=italian_ordinals(),
    century="secolo",
    about="quasi|verso|verso il|circa|ca|c|intorno al|attorno al|intorno a|all'incirca|più o meno|su per giù|"
    "grosso modo|suppergiù|nei dintorni del",
    about_after="circa|o giù di lì|più o meno|su per giù|suppergiù|grosso modo|o quasi|anno più anno meno|"
    "o lì attorno|o giù di li|all'incirca",
    maybe="mi sembra|mi sembra che|mi sembra di|mi pare che|credo che|credo fosse|credo sia|penso che|"
    "penso fosse|non sono sicura|non sono sicuro|non sono più sicura|non sono più sicuro|"
    "non ne sono sicura|non ne sono sicuro|non ricordo bene|non mi ricordo bene|non so se|non saprei|"
    "diciamo|direi che|dovrebbe essere|doveva essere|sarà stato|sarà|se non sbaglio|se non erro|"
    "se ricordo bene|se ben ricordo|non lo giurerei|non ci giurerei|può essere|immagino|suppongo|"
    "mettiamo|a occhio e croce|a mio parere|penso|mi pare|direi|forse|probabilmente|credo|può darsi",
    early="principio|principio degli|agli inizi degli|inizio|inizi|primi|inizio degli|inizi degli|"
    "all'inizio degli",
    mid="metà|metà degli|a metà degli",
    late="sul finire degli|sul finire del|verso la fine del|verso la fine degli|fine|fine degli|"
    "alla fine degli|ultimi",
    between="tra|fra|tra il|fra il",
    both="e|ed|e il",
    either="o|oppure",
    to="a|al|fino a|fino al",
    before="prima che|prima di|prima del|prima della",
    after="dopo che|dopo|dopo il|dopo la",
    until="timbro postale|timbro postale del|viaggiata|"
    "non oltre il|non oltre|non più tardi di|non più tardi del|al più tardi nel|entro il|entro|non dopo|"
    "fino a|fino al|al più tardi",
    since="da|dal|non prima di|non prima del|a partire da|a partire dal",
    or_before="o prima",
    or_after="o dopo",
    during="durante|durante la",
    week_of="settimana del|settimana di|settimana dal",
    lab="sviluppo|sviluppata|sviluppato",
    correction="no aspetta|aspetta|"
    "no scusa|scusate|macché|mi sbaglio|sbaglio|ma che dico|che dico|che sto dicendo|"
    "dico una bugia|non è vero|no no|ah no|cioè|volevo dire no|o meglio|bensì|mi correggo|no|anzi|scusa|"
    "volevo dire",
    filler="cui|negli|nei|dagli|ehi|il|lo|la|i|gli|l'|"
    "di|del|della|dell'|nel|nell'|nella|in|all'|anno|eh|ehm|ma|ah|"
    "oh|allora|beh|be'|dunque|che|ecco",
    first_half="prima metà degli|prima metà del|prima metà",
    second_half="seconda metà degli|seconda metà del|seconda metà",
    was="era|fu|è|è stato|era il|fosse|sarebbe|quello era|questa è|questo è|questa era",
    streets="via|piazza|viale|corso|largo",
    labels="quota|n .|n °|n°|nº|nr .|num .|numero|neg .|negativo|lastra|pagina|pag .|tel .|telefono|lotto|stanza|"
    "treno|cl .|modello|serie|anno di costruzione",
    hours="h|ore",
    clock="alle|delle|ore|le|ore le|alle ore",
    of_another="lettera del|lettera di|copia del|copiata nel|copiato nel|leva del|ristampa del|"
    "ristampata nel|ricevuta nel|restaurata nel",
    born="nato|nata|n . nel|nato nel|nata nel|nato il|nata il|( n .|morto|morta|morto nel|morta nel|deceduto|"
    "deceduta|classe|m . nel",
    framing="nel|nell'anno|anno|l'anno|del|dal|era il|era nel|fu nel|sul|verso il|intorno al|fino al|è del|è il|"
    "era l'anno|attorno al|prima del|dopo il|sarà stato il|sarà stato nel|sarà il|del '|nel '|negli|"
    "è stato nel",
    framed_by="era|sarà stato|mi pare fosse|fu",
    clauses="quando|che|con|noi|io|lui|lei|mio|mia|nostro|nostra|siamo|eravamo|avevamo|e|dal|dalla|da|a casa|"
    "prima|dopo|perché|al|in",
    something="e rotti|e qualcosa|e passa|e qualche cosa|e spiccioli",
    denial="non|non nel|non era|non è",
    year_counts={"e.f.|e. f.|era fascista|dell'era fascista": "1922-10-29"},
    units={
        "year": "anno|anni|annetti",
        "month": "mese|mesi",
        "week": "settimana|settimane",
        "day": "giorno|giorni",
    },
    many="anni|mesi|settimane|giorni",
    few={"alcuni|qualche|pochi|diversi": (2, 5), "un paio di|un paio d'": (2, 3)},
    just="poco|subito|appena|un po'|poco tempo",
    nearest="ultimo|ultima|prossimo|prossima|successivo|successiva",
    own="suoi|sue|miei|loro",
    lives={
        "birthday year": "anno in cui {who} ha compiuto {age}|anno in cui {who} compì {age}",
        "age": "quando la/il? {who} aveva solo? {age}|{who} aveva {age}|{who} a {years}|{who} di {years}|"
        "{who} all' età di {age}|{who} {years}|{who} ha {years}",
        "birthday": "{who} al/per suo {nth} compleanno|{who} per il suo {nth} compleanno|"
        "{who} nel giorno del? suo? {nth} compleanno|{who} compì/compiva {age}|{who} ha compiuto {age}|"
        "{nth} compleanno di/della/del {who}|quando la/il? {who} compì {age}|"
        "quando la/il? {who} ha compiuto {age}",
        "birthday in": "compleanno di {who} nel/del? {year}",
        "birth": "quando nacque la/il? {who}|quando la/il? {who} nacque|quando è nato/nata {who}|"
        "quando la/il? {who} è nato/nata|nascita di/della/del {who}|nascesse la/il? {who}|{who} nascesse|"
        "{who} è nato/nata|è nato/nata {who}|nacque {who}|{who} nacque",
        "birth year": "anno in cui la/il? {who} è nato/nata|anno in cui è nato/nata {who}|"
        "anno in cui nacque la/il? {who}|anno in cui la/il? {who} nacque|"
        "anno della/di nascita di/della/del {who}",
        "death": "quando morì la/il? {who}|quando la/il? {who} morì|quando è morto/morta la/il? {who}|"
        "quando la/il? {who} è morto/morta|morte di/della/del {who}|morisse {who}|{who} morisse|{who} morì|"
        "{who} è morto/morta|morì {who}",
        "death year": "anno in cui la/il? {who} morì|anno in cui morì la/il? {who}|"
        "anno della morte di/della/del {who}",
        "0-1": "quando {who} era ancora? un/una? neonato/neonata/bebè|{who} neonato/neonata",
        "1-9": "quando {who} era ancora? piccolo/piccola|{who} da piccolo/piccola",
        "0-12": "quando {who} era ancora? un/una? bambino/bambina|{who} da bambino/bambina",
        "13-19": "quando {who} era un/una? adolescente|{who} adolescente",
    },
)
