"""Polish."""

from __future__ import annotations

from solander.core.phrases.language import Language
from solander.core.phrases.languages import wars
from solander.core.phrases.numerals.slavic import polish, polish_days

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
    seasons=(
        "wiosna|wiosną|wiosny|wiosnę",
        "lato|latem|wakacje|wakacji",
        "jesień|jesienią|jesieni",
        "zima|zimą|zimy|zimę",
    ),
    weekdays=(
        "poniedziałek",
        "wtorek",
        "środa|środę",
        "czwartek",
        "piątek",
        "sobota|sobotę",
        "niedziela|niedzielę",
    ),
    feasts={
        "mothers day pl": "dzień matki",
        "women": "dzień kobiet",
        "midsummer": "świętego jana|św. jana",
        "victory ru": "dzień zwycięstwa",
        "maundy thursday": "wielki czwartek",
        "easter eve": "wielka sobota|wielką sobotę",
        "shrove thursday": "tłusty czwartek",
        "shrove tuesday~": "ostatki|zapusty|karnawał",
        "ash wednesday": "środa popielcowa|popielec",
        "boxing day": "drugi dzień świąt|drugi dzień świąt bożego narodzenia",
        "christmas": "pierwszy dzień świąt",
        "independence pl": "święto niepodległości",
        "christmas~": "boże narodzenie|bożego narodzenia|święta|gwiazdka|gwiazdkę",
        "christmas eve": "wigilia|wigilię|wigilii|wigilia bożego narodzenia|wigilię bożego narodzenia",
        "new years eve": "sylwester|sylwestra",
        "new year": "nowy rok|nowego roku",
        "epiphany": "trzech króli",
        "palm sunday": "niedziela palmowa",
        "good friday": "wielki piątek",
        "easter~": "wielkanoc|wielkanocy|święta wielkanocne",
        "easter": "niedziela wielkanocna|niedzielę wielkanocną",
        "easter monday": "poniedziałek wielkanocny|lany poniedziałek",
        "labour day": "święto pracy",
        "constitution pl": "święto konstytucji|trzeciego maja",
        "whitsun~": "zielone świątki|zielonych świątek",
        "corpus christi": "boże ciało",
        "midsummer eve": "noc świętojańska",
        "assumption": "matki boskiej zielnej",
        "all saints": "wszystkich świętych",
        "all souls": "zaduszki|dzień zaduszny",
        "nicholas": "mikołaja|świętego mikołaja|św. mikołaja|mikołajki",
    },
    events={
        "za cara|za caratu": (("", "1918-11-11"),),
        "za sanacji": (("1926-05-12", "1939-09-01"),),
        "za gomułki": (("1956-10-21", "1970-12-20"),),
        "za gierka": (("1970-12-20", "1980-09-05"),),
        "przełom wieków|przełomie wieków": (wars.TURN_OF_CENTURY,),
        "prl|prl-u": (("1944-07-22", "1989-06-04"),),
        "wojnie światowej|wojną światową|wojny światowej": wars.THE_WAR,
        "drugą wojną światową|drugiej wojnie światowej|ii wojną światową|ii wojnie światowej|ii wojny światowej": (
            wars.SECOND,
        ),
        "pierwszą wojną światową|pierwszej wojnie światowej|i wojną światową|i wojnie światowej|"
        "i wojny światowej": (wars.FIRST,),
        "powstanie warszawskie|powstania warszawskiego|powstaniu warszawskim": (("1944-08-01", "1944-10-03"),),
        "zimna wojna|zimnej wojny|wojna domowa": wars.OTHER,
        "wojna polsko-bolszewicka|wojny polsko-bolszewickiej": (("1919-02-14", "1921-03-18"),),
        "koniec wojny|końcu wojny|końcem wojny": wars.END_OF_WAR,
        "początek wojny|wybuch wojny|wybuchem wojny|wybuchu wojny": wars.START_OF_WAR,
        "zabory|zaborów|zaborami": (("", "1918-11-11"),),
        "stan wojenny|stanu wojennego|stanie wojennym": (("1981-12-13", "1983-07-22"),),
        "wojna|wojny|wojną|wojnie": wars.THE_WAR,
        "druga wojna światowa|drugiej wojny światowej|ii wojna światowa|okupacja|okupacji": (wars.SECOND,),
        "pierwsza wojna światowa|pierwszej wojny światowej|i wojna światowa": (wars.FIRST,),
        "dwudziestolecie międzywojenne|międzywojnie": (wars.BETWEEN,),
    },
    decades=_decades(),
    decade_word="lata|lat|latach",
    numbers=polish(),
    hundreds={
        "tysiąc osiemset|tysiąc osiemsetny|tysiąc osiemsetnego|tysiąc osiemsetnym": 1800,
        "tysiąc dziewięćset|tysiąc dziewięćsetny|tysiąc dziewięćsetnego|tysiąc dziewięćsetnym": 1900,
        "dwa tysiące|dwutysięczny|dwutysięcznego|dwutysięcznym": 2000,
    },
    ordinals=polish_days(),
    year_endings="-go|-ego|-ym|-tym|-tego|-szym|-szego|-gim|-giego",
    century="wiek|wieku",
    about="prawie|niemal|około|ok|ca|circa|mniej więcej|koło|jakoś tak|gdzieś tak|gdzieś koło|tak gdzieś|"
    "tak około|w okolicach|plus minus|z grubsza",
    about_after="mniej więcej|plus minus|jakoś tak|coś koło tego|około|z grubsza|albo coś koło tego|tak jakoś|"
    "coś takiego|w przybliżeniu",
    maybe="wydaje mi się że|wydaje mi się że to|zdaje mi się że|zdaje mi się|zdaje się że|myślę że|myślę że to|"
    "sądzę że|sądzę|nie jestem pewna|nie jestem pewien|nie jestem pewny|nie jestem już pewna|"
    "nie pamiętam dokładnie|nie wiem dokładnie|nie wiem czy|powiedzmy|powiedzmy że|powiedziałabym|"
    "powiedziałbym|mógł|mogło|mogło być|mógł to być|musiał być|musiało być|pewnie|przypuszczam że|"
    "przypuszczam|przypuszczalnie|jeśli się nie mylę|jeśli dobrze pamiętam|o ile pamiętam|"
    "o ile się nie mylę|jak dobrze pamiętam|nie przysięgnę|głowy nie dam|chyba że|bodaj|bodajże|myślę|"
    "zdaje się|wydaje mi się|może|chyba|prawdopodobnie|być może",
    early="początkiem|z początku|wczesnych|początek|początku|na początku|wczesne",
    mid="połowy|połowa|połowie|w połowie",
    late="końca|schyłek|schyłku|u schyłku|koniec|końcu|pod koniec|późne",
    between="między|pomiędzy",
    both="a|i|oraz",
    either="lub|albo|czy",
    to="do",
    before="zanim|przed",
    after="po tym jak|po tym|po",
    until="stempel pocztowy|datownik|do|najpóźniej|nie później niż",
    since="od|najwcześniej|nie wcześniej niż",
    or_before="lub wcześniej",
    or_after="lub później",
    during="podczas|w czasie",
    week_of="tydzień od|tydzień|tygodniu",
    lab="wywołano|wywołane",
    correction="nie kłamię|kłamię|nie czekaj|czekaj|zaraz|nie zaraz|co ja mówię|co ja gadam|mylę się|pomyłka|"
    "nieprawda|nie nie|ojej nie|źle mówię|a nie|ach nie|chciałam powiedzieć|chciałem powiedzieć|"
    "właściwie|lecz|tylko że nie|nie tak|nie|przepraszam|to znaczy|raczej",
    filler="którym|której|yyy|eee|hmm|za|w|we|na|r|roku|rok|dnia|z|ale|że|no|oj|ach|och|więc|tak|ano|hm",
    decade_endings="-tych|-te|tych",
    was="to|był|było|to był|to było|była|to jest|jest|to będzie|było to|był to",
    streets="ulica|ulicy|ul|plac|aleja|al",
    age_words="lat",
    labels="nr .|nr|numer|no .|neg .|negatyw|str .|strona|klisza|tel .|telefon|pokój|poz .|kl .|m .|model|rocznik",
    hours="godz|godz .|godzina|godzinie|h",
    clock="godz .|godz|o|o godz .|o godzinie|godzina|o godz",
    of_another="list z|w liście z|kopia z|skopiowane|skopiowano|odbitka z|skan z",
    born="ur .|urodz .|urodzony|urodzona|urodzony w|urodzona w|ur . w|zm .|zmarł|zmarła|zmarł w|zmarła w|( ur|"
    "rocznik",
    framing="w|we|to był|to było|to było w|było to w|w roku|rok|roku|od|do|przed|po|z|około|koło|był|był to|"
    "to chyba|to chyba był|w roku pańskim|to był rok|to będzie|to jest|to był chyba",
    framed_by="to był|to było|był|chyba to był|rok to był|było",
    clauses="kiedy|gdy|my|ja|on|ona|oni|i|jak|z|u|na|byliśmy|mieliśmy|mieszkaliśmy|zaraz|mój|moja|nasz|nasza|"
    "przed|po|byłam|byłem|jeszcze|wtedy|nad",
    something="któryś|któregoś|którymś|z hakiem|coś|z czymś|parę",
    denial="nie|nie w|nie był",
    units={
        "year": "rok|lata|lat|latach|roczek|latka",
        "month": "miesiąc|miesiące|miesięcy|miesiącu|miesiącach|mies",
        "week": "tydzień|tygodnie|tygodni|tygodniach",
        "day": "dzień|dni|dniach",
    },
    many="lata|lat|latach|miesiące|miesięcy|tygodnie|tygodni|dni",
    few={"jakieś": (2, 5), "kilka|parę|kilku|paru": (2, 5)},
    just="tuż|zaraz|krótko|niedługo|wkrótce|na krótko|bezpośrednio",
    nearest="ostatni|ostatnie|ostatnia|ostatnią|następny|następne|następna|następną",
    own="jej|jego|ich|swoje",
    cases="a|y|i|ę|ą|e|ie|o|owi|em|iem|u|zie",
    year_follows=True,
    lives={
        "birthday year": "rok/roku kiedy/gdy? {who} skończyła/skończył {age}",
        "age": "kiedy/gdy {who} miała/miał tylko? {age}|{who} miała/miał {age}|kiedy/gdy {age} miała/miał {who}|"
        "{who} lat {age}|{who} w wieku {age}|{who} mając {age}|{who} {years}|{who} ma {years}",
        "birthday": "{who} w/na? swoje/jej/jego? {nth} urodziny|{who} skończyła/skończył {age}|"
        "{who} kończyła/kończył {age}|"
        "{nth} urodziny/urodzin {who}|{nth} urodzinach/urodzinami {who}|"
        "kiedy/gdy {who} skończyła/skończył {age}",
        "birthday in": "urodziny {who} w? {year}",
        "birth": "kiedy/gdy urodziła/urodził się {who}|kiedy/gdy {who} się? urodziła/urodził się?|"
        "narodziny/narodzin/narodzinami/narodzinach {who}|urodzenia/urodzeniu/urodzeniem się? {who}|"
        "{who} się? urodziła/urodził się?|urodziła/urodził się {who}",
        "birth year": "rok/roku urodzenia {who}|rok/roku narodzin {who}|"
        "rok/roku w którym urodziła/urodził się {who}|"
        "rok/roku w którym {who} się urodziła/urodził",
        "death": "kiedy/gdy zmarła/zmarł/umarła/umarł {who}|kiedy/gdy {who} zmarła/zmarł/umarła/umarł|"
        "śmierć/śmierci/śmiercią {who}|{who} zmarła/zmarł/umarła/umarł|zmarła/zmarł/umarła/umarł {who}",
        "death year": "rok/roku śmierci {who}|rok/roku w którym zmarła/zmarł {who}",
        "0-1": "kiedy/gdy {who} była/był jeszcze? niemowlęciem/niemowlakiem|{who} jako niemowlę",
        "1-9": "kiedy/gdy {who} była/był jeszcze? mała/mały|kiedy/gdy {who} była małą dziewczynką|"
        "kiedy/gdy {who} był małym chłopcem",
        "0-12": "kiedy/gdy {who} była/był jeszcze? dzieckiem|{who} jako dziecko",
        "13-19": "kiedy/gdy {who} była/był nastolatką/nastolatkiem|{who} jako nastolatka/nastolatek",
    },
)
