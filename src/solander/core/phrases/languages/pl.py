"""Polish."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import wars

__all__ = ["POLISH"]

_TENS = {
    20: "dwudzieste|dwudziestych",
    30: "trzydzieste|trzydziestych",
    40: "czterdzieste|czterdziestych",
    50: "pięćdziesiąte|pięćdziesiątych",
    60: "sześćdziesiąte|sześćdziesiątych",
    70: "siedemdziesiąte|siedemdziesiątych",
    80: "osiemdziesiąte|osiemdziesiątych",
    90: "dziewięćdziesiąte|dziewięćdziesiątych",
}


def _decades() -> dict[int, str]:
    return {
        ten: "|".join(f"{years} {word}" for years in ("lata", "lat", "latach") for word in words.split("|"))
        for ten, words in _TENS.items()
    }


POLISH = Language(
    code="pl",
    months=(
        "styczeń|stycznia|styczniu|sty",
        "luty|lutego|lutym|lut",
        "marzec|marca|marcu|mar",
        "kwiecień|kwietnia|kwietniu|kwi",
        "maj|maja|maju",
        "czerwiec|czerwca|czerwcu|cze",
        "lipiec|lipca|lipcu|lip",
        "sierpień|sierpnia|sierpniu|sie",
        "wrzesień|września|wrześniu|wrz",
        "październik|października|październiku|paź",
        "listopad|listopada|listopadzie|lis",
        "grudzień|grudnia|grudniu|gru",
    ),
    seasons=("wiosna|wiosną|wiosny|wiosnę", "lato|latem", "jesień|jesienią|jesieni", "zima|zimą|zimy|zimę"),
    weekdays="poniedziałek|wtorek|środa|czwartek|piątek|sobota|niedziela|niedzielę",
    feasts={
        "christmas~": "boże narodzenie|bożego narodzenia|święta|gwiazdka|gwiazdkę",
        "christmas eve": "wigilia|wigilię|wigilii",
        "new years eve": "sylwester|sylwestra",
        "new year": "nowy rok",
        "epiphany": "trzech króli",
        "palm sunday": "niedziela palmowa",
        "good friday": "wielki piątek",
        "easter~": "wielkanoc",
        "easter": "niedziela wielkanocna|niedzielę wielkanocną",
        "easter monday": "poniedziałek wielkanocny|lany poniedziałek",
        "labour day": "święto pracy",
        "constitution pl": "święto konstytucji|trzeciego maja",
        "whitsun~": "zielone świątki",
        "corpus christi": "boże ciało",
        "midsummer eve": "noc świętojańska",
        "assumption": "matki boskiej zielnej",
        "all saints": "wszystkich świętych",
        "all souls": "zaduszki|dzień zaduszny",
        "nicholas": "mikołajki",
    },
    events={
        "wojna|wojny|wojną|wojnie": wars.THE_WAR,
        "druga wojna światowa|drugiej wojny światowej|ii wojna światowa|okupacja|okupacji": (wars.SECOND,),
        "pierwsza wojna światowa|pierwszej wojny światowej|i wojna światowa": (wars.FIRST,),
        "dwudziestolecie międzywojenne|międzywojnie": (wars.BETWEEN,),
    },
    decades=_decades(),
    decade_word="lata|lat|latach",
    ordinals={"pierwszy": 1, "pierwszego": 1},
    century="wiek|wieku",
    about="około|ok|ca|circa|mniej więcej|koło",
    about_after="mniej więcej",
    maybe="może|chyba|prawdopodobnie|być może",
    early="początek|początku|na początku|wczesne",
    mid="połowa|połowie|w połowie",
    late="koniec|końcu|pod koniec|późne",
    between="między|pomiędzy",
    both="a|i|oraz",
    either="lub|albo|czy",
    to="do",
    before="przed",
    after="po",
    until="do|najpóźniej|nie później niż",
    since="od|najwcześniej|nie wcześniej niż",
    or_before="lub wcześniej",
    or_after="lub później",
    during="podczas|w czasie",
    week_of="tydzień od",
    lab="wywołano|wywołane",
    correction="nie|przepraszam|to znaczy|raczej",
    filler="w|we|na|r|roku|rok|dnia|z|to|był|było",
)
