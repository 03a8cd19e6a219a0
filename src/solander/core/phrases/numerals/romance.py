"""Numbers up to 99 in Spanish, Italian and Portuguese."""

from __future__ import annotations

from solander.core.phrases.numerals.told import told

__all__ = ["italian", "italian_ordinals", "portuguese", "portuguese_ordinals", "spanish", "spanish_ordinals"]

_Forms = dict[int, list[str]]


def _with_tens(units: list[str], tens: list[str], joint: str) -> _Forms:
    """The numbers up to 99 whose tens and units are parted by a word."""
    found: _Forms = {number: unit.split("/") for number, unit in enumerate(units, 1)}
    for ten, word in enumerate(tens, (len(units) + 1) // 10):
        found[ten * 10] = [word]
        for number in range(1, 10):
            found[ten * 10 + number] = [f"{word}{joint}{unit}" for unit in found[number]]
    return found


def spanish() -> dict[str, int]:
    """ "cincuenta y dos"."""
    units = "uno/un/una dos tres cuatro cinco seis siete ocho nueve diez once doce trece catorce quince dieciséis"
    units += " diecisiete dieciocho diecinueve veinte veintiuno/veintiún veintidós veintitrés veinticuatro"
    units += " veinticinco veintiséis veintisiete veintiocho veintinueve"
    tens = "treinta cuarenta cincuenta sesenta setenta ochenta noventa"
    found = _with_tens(units.split(), tens.split(), " y ")
    return told(found)


def portuguese() -> dict[str, int]:
    """ "cinquenta e dois"."""
    units = "um/uma dois/duas três quatro cinco seis sete oito nove dez onze doze treze catorze/quatorze quinze"
    units += " dezasseis/dezesseis dezassete/dezessete dezoito dezanove/dezenove"
    tens = "vinte trinta quarenta cinquenta sessenta setenta oitenta noventa"
    found = _with_tens(units.split(), tens.split(), " e ")
    return told(found)


def italian() -> dict[str, int]:
    """ "cinquantadue", "ventuno"."""
    units = "uno/un/una due tre quattro cinque sei sette otto nove dieci undici dodici tredici quattordici"
    units += " quindici sedici diciassette diciotto diciannove"
    found: _Forms = {number: unit.split("/") for number, unit in enumerate(units.split(), 1)}
    tens = "venti trenta quaranta cinquanta sessanta settanta ottanta novanta"
    for ten, word in enumerate(tens.split(), 2):
        found[ten * 10] = [word]
        for number in range(1, 10):
            # The last vowel falls before uno and otto.
            found[ten * 10 + number] = [f"{word[:-1] if number in (1, 8) else word}{found[number][0]}"]
    return told(found)


def _ordinals(units: str, tens: dict[int, str]) -> _Forms:
    """Ordinals up to 31 whose tens and units are both ordinals."""
    found: _Forms = {number: unit.split("/") for number, unit in enumerate(units.split(), 1)}
    for ten, word in tens.items():
        found[ten] = [word]
        for number in range(1, 10 if ten < 30 else 2):
            found[ten + number] = [f"{word} {found[number][0]}", f"{word}{found[number][0]}"]
    return found


def spanish_ordinals() -> dict[str, int]:
    """ "primero" to "trigésimo primero"."""
    units = (
        "primero/primer/primera segundo/segunda tercero/tercer/tercera cuarto quinto sexto séptimo octavo noveno"
    )
    found = _ordinals(units, {10: "décimo", 20: "vigésimo", 30: "trigésimo"})
    found[11] += ["undécimo"]
    found[12] += ["duodécimo"]
    return told(found)


def portuguese_ordinals() -> dict[str, int]:
    """ "primeiro" to "trigésimo primeiro"."""
    units = "primeiro/primeira segundo terceiro/terceira quarto quinto sexto sétimo oitavo nono"
    return told(_ordinals(units, {10: "décimo", 20: "vigésimo", 30: "trigésimo"}))


def italian_ordinals() -> dict[str, int]:
    """ "primo" to "trentunesimo"."""
    units = "primo/prima secondo/seconda terzo/terza quarto/quarta quinto sesto settimo ottavo nono decimo"
    found: _Forms = {number: unit.split("/") for number, unit in enumerate(units.split(), 1)}
    for words, number in italian().items():
        word = words.split("|")[0]
        if 10 < number <= 31:
            # The last vowel falls, save that of tre and sei.
            stem = word if word.endswith(("tre", "sei")) else word[:-1]
            found[number] = [f"{stem}esimo"]
    return told(found)
