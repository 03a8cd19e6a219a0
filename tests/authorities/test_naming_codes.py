"""Codes for the sound of names, against worked examples that others published."""

from __future__ import annotations

import jellyfish
import pytest

from solander.authorities.naming.daitch_mokotoff import daitch_mokotoff
from solander.authorities.naming.sounds import CODES, codes_of, sounds_alike

# Avotaynu, "Soundexing and Genealogy" (R. Daitch, G. Mokotoff), as Apache Commons Codec and others cite it.
AVOTAYNU = """
alpert 087930|breuer 791900|golden 583600|haber 579000|mannheim 665600|mintz 664000|topf 370000|kleinmann 586660
benaron 769600|auerbach 097400,097500|ohrbach 097400,097500|uhrbach 097400,097500|lipshitz 874400
lippszyc 874400,874500|lewinsky 876450|levinski 876450|szlamawicz 486740|shlamovitz 486740|ceniow 467000,567000
tsenyuv 467000|holubica 587400,587500|golubitsa 587400|przemysl 746480,794648|pshemeshil 746480
rosochowaciec 944744,944745,944754,944755,945744,945745,945754,945755|rosokhovatsets 945744|augsburg 054795
halberstadt 587433,587943|chernowitz 496740,596740|cherkassy 495400,595400|berlin 798600
"""
# Wikipedia, "Daitch–Mokotoff Soundex".
WIKIPEDIA = """
peters 734000,739400|peterson 734600,739460|moskowitz 645740|moskovitz 645740|jackson 145460,154600,445460,454600
"""
# PostgreSQL, regression tests of fuzzystrmatch.
POSTGRESQL = "muller 689000|schafer 479000|strassburg 294795|eregon 095600"

# National Archives, General Information Leaflet 55, "Using the Census Soundex" (1995), and its guide to Soundex.
NATIONAL_ARCHIVES = """
Washington W252|Lee L000|Gutierrez G362|Pfister P236|Jackson J250|Tymczak T522|Kuhne K500|Ebell E140|Ebelson E142
Kelly K400|Lloyd L300|Schaefer S160
"""


def published(*tables):
    return [line.split() for table in tables for line in table.strip().replace("\n", "|").split("|")]


@pytest.mark.parametrize(("name", "codes"), published(AVOTAYNU, WIKIPEDIA, POSTGRESQL))
def test_daitch_mokotoff_as_published(name, codes):
    assert daitch_mokotoff(name) == tuple(sorted(codes.split(",")))


@pytest.mark.parametrize(("name", "code"), published(NATIONAL_ARCHIVES))
def test_soundex_as_the_national_archives_code_it(name, code):
    assert jellyfish.soundex(name) == code


def test_no_name_has_no_code():
    assert daitch_mokotoff("") == ()


def test_every_kind_of_code_is_told_apart():
    assert [codes[0][0] for codes in codes_of("weber")] == ["D", "N", "M", "S"]
    assert sounds_alike("weber", "weber") == CODES


@pytest.mark.parametrize(
    ("one", "other"),  # spelt otherwise for the same sound; from memory
    [
        ("meyer", "maier"),
        ("shawn", "sean"),
        ("katherine", "catherine"),
        ("schmidt", "schmitt"),
        ("filip", "philip"),
    ],
)
def test_what_sounds_the_same_shares_a_code(one, other):
    assert sounds_alike(one, other) >= 1


def test_what_sounds_otherwise_shares_none():
    assert sounds_alike("weber", "lindqvist") == 0
