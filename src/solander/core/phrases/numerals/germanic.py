"""Numbers up to 99 in Dutch, Swedish, Norwegian and Danish, and the German and Scandinavian days of the month."""

from __future__ import annotations

from itertools import product

from solander.core.phrases.numerals.told import told

__all__ = [
    "danish",
    "danish_days",
    "dutch",
    "dutch_days",
    "german_days",
    "norwegian",
    "norwegian_days",
    "swedish",
    "swedish_days",
]

_Forms = dict[int, list[str]]


def _forms(words: str) -> _Forms:
    return {number: each.split("/") for number, each in enumerate(words.split(), 1)}


def _tens(words: str) -> _Forms:
    return {ten * 10: each.split("/") for ten, each in enumerate(words.split(), 2)}


def _units_first(units: _Forms, tens: _Forms, joints: tuple[str, ...]) -> _Forms:
    """ "tweeënvijftig", "tooghalvtreds"."""
    return {
        ten + number: ["".join(each) for each in product(units[number], joints, words)]
        for ten, words in tens.items()
        for number in range(1, 10)
    }


def _tens_first(tens: _Forms, units: _Forms) -> _Forms:
    """ "femtiotvå", "femtito"."""
    return {
        ten + number: ["".join(each) for each in product(words, ("", " "), units[number])]
        for ten, words in tens.items()
        for number in range(1, 10)
    }


# -- Dutch and German ----------------------------------------------------------------------------------------

_DUTCH = _forms(
    "een/één twee drie vier vijf zes zeven acht negen tien elf twaalf dertien veertien vijftien zestien zeventien"
    " achttien negentien"
)
_DUTCH_TENS = _tens("twintig dertig veertig vijftig zestig zeventig tachtig negentig")


def dutch() -> dict[str, int]:
    """ "tweeënvijftig"."""
    found = _DUTCH | _DUTCH_TENS | _units_first(_DUTCH, _DUTCH_TENS, ("en",))
    return told(found)


def dutch_days() -> dict[str, int]:
    """ "eerste" to "eenendertigste"."""
    first = _forms("eerste tweede derde vierde vijfde zesde zevende achtste negende tiende elfde twaalfde")
    teens = {number: [f"{_DUTCH[number][0]}de"] for number in range(13, 20)}
    later = _DUTCH_TENS | _units_first(_DUTCH, _DUTCH_TENS, ("en",))
    return told(first | teens | {n: [f"{word}ste" for word in later[n]] for n in range(20, 32)})


def german_days() -> dict[str, int]:
    """ "erster" to "einunddreißigster" in all cases."""
    stems = "erst zweit dritt viert fünft sechst siebt/siebent acht neunt zehnt elft zwölft dreizehnt vierzehnt"
    stems += " fünfzehnt sechzehnt siebzehnt achtzehnt neunzehnt zwanzigst"
    found = _forms(stems)
    units = ["ein", "zwei", "drei", "vier", "fünf", "sechs", "sieben", "acht", "neun"]
    found |= {20 + number: [f"{unit}undzwanzigst"] for number, unit in enumerate(units, 1)}
    found |= {30: ["dreißigst"], 31: ["einunddreißigst"]}
    cases = ("e", "er", "en", "es", "em")
    return told({number: ["".join(each) for each in product(words, cases)] for number, words in found.items()})


# -- Scandinavian --------------------------------------------------------------------------------------------

_SWEDISH = _forms(
    "ett/en två tre fyra fem sex sju åtta nio tio elva tolv tretton fjorton femton sexton sjutton"
    " arton/aderton nitton"
)
_SWEDISH_TENS = _tens(
    "tjugo/tjugi/tju trettio/tretti fyrtio/fyrti femtio/femti sextio/sexti sjuttio/sjutti åttio/åtti nittio/nitti"
)


def swedish() -> dict[str, int]:
    """ "femtiotvå", and as it sounds, "femtitvå"."""
    found = _SWEDISH | _SWEDISH_TENS | _tens_first(_SWEDISH_TENS, _SWEDISH)
    return told(found)


def swedish_days() -> dict[str, int]:
    """ "första" to "trettioförsta"."""
    words = "första/förste andra/andre tredje fjärde femte sjätte sjunde åttonde nionde tionde elfte tolfte"
    words += " trettonde fjortonde femtonde sextonde sjuttonde artonde nittonde tjugonde"
    found = _forms(words)
    found |= {20 + number: [f"tjugo{word}" for word in found[number]] for number in range(1, 10)}
    return told(found | {30: ["trettionde"], 31: ["trettioförsta", "trettioförste"]})


_NORWEGIAN = _forms(
    "en/ett/et to tre fire fem seks sju/syv åtte ni ti elleve tolv tretten fjorten femten seksten sytten"
    " atten nitten"
)
_NORWEGIAN_TENS = _tens("tjue/tyve tretti/tredve førti/førr femti seksti sytti åtti nitti")


def norwegian() -> dict[str, int]:
    """ "femtito", and the older "toogfemti"."""
    counted = _tens_first(_NORWEGIAN_TENS, _NORWEGIAN)
    older = _units_first(_NORWEGIAN, _NORWEGIAN_TENS, ("og", " og "))
    found = _NORWEGIAN | _NORWEGIAN_TENS | {number: counted[number] + older[number] for number in counted}
    return told(found)


def norwegian_days() -> dict[str, int]:
    """ "første" to "trettiførste", and the older "enogtyvende"."""
    words = "første andre/annen/annet tredje fjerde femte sjette sjuende/syvende åttende niende tiende ellevte"
    words += " tolvte trettende fjortende femtende sekstende syttende attende nittende tjuende/tyvende"
    found = _forms(words)
    for number in range(1, 10):
        counted = [f"tjue{word}" for word in found[number]]
        found[20 + number] = counted + [f"{unit}ogtyvende" for unit in _NORWEGIAN[number]]
    return told(found | {30: ["trettiende", "tredevte"], 31: ["trettiførste", "enogtredevte"]})


_DANISH = _forms(
    "en/et to tre fire fem seks syv otte ni ti elleve tolv tretten fjorten femten seksten sytten atten nitten"
)
_DANISH_TENS = _tens(
    "tyve tredive fyrre/fyrretyve halvtreds/halvtredsindstyve tres/tresindstyve halvfjerds/halvfjerdsindstyve"
    " firs/firsindstyve halvfems/halvfemsindstyve"
)


def danish() -> dict[str, int]:
    """ "tooghalvtreds"."""
    found = _DANISH | _DANISH_TENS | _units_first(_DANISH, _DANISH_TENS, ("og", " og "))
    return told(found)


def danish_days() -> dict[str, int]:
    """ "første" to "enogtredivte"."""
    words = "første anden/andet tredje fjerde femte sjette syvende ottende niende tiende ellevte tolvte trettende"
    words += " fjortende femtende sekstende syttende attende nittende tyvende"
    found = _forms(words)
    found |= {20 + number: [f"{unit}ogtyvende" for unit in _DANISH[number]] for number in range(1, 10)}
    return told(found | {30: ["tredivte"], 31: ["enogtredivte"]})
