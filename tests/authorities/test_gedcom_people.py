"""People out of family-tree files.

Sources of the checks: the public-domain conversion pairs of gedcom7code/test-files beside the project (their
README names the commit), the packages `fastgedcom` and `ansel` as second readers, the FamilySearch GEDCOM 7
specification for PEDI, RESN, QUAY and the names' TYPE; what programs write besides is common practice, no source.
"""

from __future__ import annotations

import datetime
import unicodedata
import warnings
import zipfile
from pathlib import Path

import ansel
import pytest
from fastgedcom.parser import strict_parse
from hypothesis import given
from hypothesis import strategies as st

from solander.authorities.genealogy.ansel import from_ansel
from solander.authorities.genealogy.lines import records, text_of
from solander.authorities.genealogy.people import read_tree, tree_told
from solander.core.errors import CannotBegin
from solander.core.kin import How
from solander.core.people import Name, NameKind, Person
from solander.core.statements import Says, Sure
from solander.core.told import Telling, ToldKin, ToldOf, believed, stated

TODAY = datetime.date(2026, 11, 25)
SHARED = Path(__file__).parents[3] / "shared" / "data" / "gedcom"
needs_samples = pytest.mark.skipif(not SHARED.is_dir(), reason="the samples lie beside the project")


def told(*lines: str, version: str = "5.5.1", char: str = "UTF-8", end: str = "\n") -> Telling:
    head = ["0 HEAD", "1 GEDC", f"2 VERS {version}", f"1 CHAR {char}"]
    return tree_told(end.join([*head, *lines, "0 TRLR", ""]).encode(), "tree.ged", today=TODAY)


def person(one: ToldOf) -> Person:
    said = [stated(claim, one.name, "tree.ged", "") for claim in one.told]
    return believed(one.name, said, known_as=one.lasting)


def anna(*lines: str, version: str = "5.5.1") -> Person:
    return person(told("0 @I1@ INDI", "1 NAME Anna /Weber/", *lines, version=version).people[0])


# -- the samples ---------------------------------------------------------------------------------------------


def sample(name: str) -> Telling:
    return read_tree(SHARED / name, today=TODAY)


@needs_samples
def test_the_dual_years_of_the_sample_are_births() -> None:
    """Each BIRT of the file has the payload of its DATE as NOTE; values as shared/standards/gedcom-dates.csv has
    them for 11 FEB 1731/32: the later year from January to March."""
    (one,) = sample("v551-date-dual-valid.ged").people
    births = {claim.words: claim.value for claim in one.told if claim.says is Says.BORN}
    assert len(births) == 11
    assert births["1699/00"] == "[1699..1700]"
    assert births["8 JAN 1699/00"] == "1700-01-08"
    assert births["ABT JAN 1699/00"] == "1700-01~"


@needs_samples
@pytest.mark.parametrize("path", sorted(SHARED.glob("*.ged")), ids=lambda path: path.stem)
def test_every_sample_is_read_as_fastgedcom_reads_it(path: Path) -> None:
    """The same records in the same order as by a reader that shares no code with ours."""
    theirs = strict_parse(path)
    text = text_of(path.read_bytes())
    ours = {(one.xref or one.tag): one for one in records(text.text, seven=path.stem.startswith("v70"))}
    assert text.remark == ""
    assert list(ours) == list(theirs.records)
    assert sample(path.name).whole


@needs_samples
@pytest.mark.parametrize("name", ["atsign", "notes-1", "obje-1"])
def test_both_versions_of_a_sample_tell_the_same_people(name: str) -> None:
    old, new = (sample(f"{version}-{name}.ged") for version in ("v551", "v70"))
    assert [one.key for one in old.people] == [one.key for one in new.people]
    assert [one.told for one in old.people] == [one.told for one in new.people]


@needs_samples
def test_at_signs_of_both_versions_mean_the_same() -> None:
    """The pair of files says the same thing by two rules; N03 to N08 and N19 have no old escapes in them."""
    texts = []
    for version, seven in (("v551", False), ("v70", True)):
        text = text_of((SHARED / f"{version}-atsign.ged").read_bytes()).text
        texts.append({one.xref: one.value for one in records(text, seven=seven)})
    for note in ("N03", "N04", "N05", "N06", "N07", "N08", "N19"):
        assert texts[0][f"@{note}@"] == texts[1][f"@{note}@"]


# -- letters -------------------------------------------------------------------------------------------------

LINES = [
    "0 HEAD",
    "1 GEDC",
    "2 VERS 5.5.1",
    "1 CHAR {char}",
    "0 @I1@ INDI",
    "1 NAME Zoë Łucja /Ångström/",
    "0 TRLR",
]


@pytest.mark.parametrize(
    ("char", "encoding"),
    [
        ("UTF-8", "utf-8"),
        ("UTF-8", "utf-8-sig"),
        ("UNICODE", "utf-16"),
        ("UNICODE", "utf-16-le"),
        ("UNICODE", "utf-16-be"),
        ("ANSEL", "gedcom"),
        ("CP1250", "cp1250"),
    ],
)
def test_names_in_every_kind_of_letters(char: str, encoding: str) -> None:
    if encoding == "gedcom":
        ansel.register()
    text = "\r\n".join(LINES).format(char=char)
    if encoding == "cp1250":
        text = text.replace("ë", "e").replace("Å", "A")
    data = unicodedata.normalize("NFD" if encoding == "gedcom" else "NFC", text).encode(encoding)
    found = tree_told(data, "tree.ged", today=TODAY)
    expected = "Zoe Łucja Angström" if encoding == "cp1250" else "Zoë Łucja Ångström"
    assert found.people[0].name == expected
    assert found.remarks == ()


def test_letters_that_are_not_what_the_file_says_are_read_and_told() -> None:
    text = "\n".join(LINES)
    wrong = tree_told(text.format(char="ANSEL").encode(), "tree.ged", today=TODAY)
    assert wrong.people[0].name == "Zoë Łucja Ångström"
    assert "its letters are ANSEL, but they are UTF-8" in wrong.remarks[0]
    wrong = tree_told(text.format(char="UTF-8").replace("Ł", "L").encode("cp1252"), "tree.ged", today=TODAY)
    assert wrong.people[0].name == "Zoë Lucja Ångström"
    assert "meant to be in UTF-8 and is not" in wrong.remarks[0]


@given(st.text(st.characters(min_codepoint=0xC0, max_codepoint=0x17F), max_size=12))
def test_ansel_is_read_as_the_package_ansel_writes_it(text: str) -> None:
    """The package `ansel` is the second reader; what it can't write it replaces, which is left out."""
    ansel.register()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        written = unicodedata.normalize("NFD", text).encode("gedcom", "ignore")
    expected = unicodedata.normalize("NFC", written.decode("gedcom"))
    assert from_ansel(written) == expected


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_any_end_of_line_blanks_before_and_text_that_runs_on(end: str) -> None:
    lines = ("0 @I1@ INDI", "  1 NAME Anna", "", "/Weber/", "   1 SEX F")
    (one,) = told(*lines, end=end).people
    assert person(one).sex == "female"


# -- names ---------------------------------------------------------------------------------------------------


def test_names_of_every_kind() -> None:
    found = anna(
        "2 NICK Nan, Annie",
        "2 FONE Anna Veber",
        "1 NAME Anna /Moor/",
        "2 TYPE married",
        "1 NAME The Hawk",
        "2 TYPE aka",
        "1 NAME Анна /Вебер/",
        "2 TYPE birth",
    )
    assert found.names == (
        Name("Anna Weber", NameKind.BIRTH, "Weber"),
        Name("Nan", NameKind.NICKNAME),
        Name("Annie", NameKind.NICKNAME),
        Name("Anna Veber", NameKind.OTHER_SCRIPT),
        Name("Anna Moor", NameKind.MARRIED, "Moor"),
        Name("Анна Вебер", NameKind.BIRTH, "Вебер"),
    )
    assert found.also_called == ("Nan", "Annie", "Anna Veber", "Anna Moor", "The Hawk", "Анна Вебер")


@pytest.mark.parametrize(
    ("line", "text", "called"),
    [
        ('Anna "Nan" /Weber/', "Anna Weber", ("Nan",)),
        ("Anna (Nan) /van der Berg/ jr", "Anna van der Berg jr", ("Nan",)),
        ("/Weber/ Anna", "Weber Anna", ()),
        ("Anna Weber", "Anna Weber", ()),
        ("Máire Ní /O'Brien/", "Máire Ní O'Brien", ()),
    ],
)
def test_the_words_of_a_name(line: str, text: str, called: tuple[str, ...]) -> None:
    (one,) = told("0 @I1@ INDI", f"1 NAME {line}").people
    assert one.name == text
    assert tuple(n.text for n in person(one).names if n.kind is NameKind.NICKNAME) == called


def test_a_name_in_pieces_alone_and_a_married_name_beside_it() -> None:
    (one,) = told("0 @I1@ INDI", "1 NAME", "2 GIVN Anna", "2 SPFX van", "2 SURN Berg", "2 _MARNM Moor").people
    assert one.name == "Anna van Berg"
    (one,) = told("0 @I1@ INDI", "1 NAME Anna /Berg/", "2 _MARNM Moor", "2 _AKA Ann").people
    assert person(one).also_called == ("Ann", "Anna Moor")


def test_a_name_without_a_type_is_only_likely_the_one_at_birth() -> None:
    (one,) = told("0 @I1@ INDI", "1 NAME Anna /Weber/", "1 NAME Anna /Moor/", "2 TYPE birth").people
    assert [claim.sure for claim in one.told] == [Sure.LIKELY, Sure.CERTAIN]


# -- lives ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lines", "born", "died"),
    [
        (("1 BIRT", "2 DATE 12 MAR 1921", "1 DEAT", "2 DATE ABT 1950"), "1921-03-12", "1950~"),
        (("1 BIRT", "2 DATE (at harvest)"), "", ""),
        (("1 CHR", "2 DATE 20 MAR 1921", "1 BURI", "2 DATE 1950"), "[..1921-03-20]", "[..1950]"),
        (("1 BIRT", "2 DATE 1921", "1 CHR", "2 DATE 20 MAR 1921"), "1921", ""),
        (("1 DEAT Y",), "", "[..2026-11-25]"),
        (("1 DEAT",), "", ""),
        (("1 DEAT", "2 PLAC Vik"), "", "[..2026-11-25]"),
        (("1 BIRT", "2 DATE 1921", "2 SOUR @S1@", "3 QUAY 0", "1 BIRT", "2 DATE 1922"), "1922", ""),
        (("1 BIRT", "2 DATE 1921", "1 BIRT", "2 DATE 1922"), "1921", ""),
    ],
)
def test_births_and_deaths(lines: tuple[str, ...], born: str, died: str) -> None:
    found = anna(*lines)
    assert (found.born, found.died) == (born, died)


def test_who_is_only_said_to_be_dead_died_before_the_file_was_written() -> None:
    data = "0 HEAD\n1 DATE 3 MAY 2010\n1 GEDC\n2 VERS 5.5.1\n0 @I1@ INDI\n1 NAME A /B/\n1 DEAT Y\n0 TRLR\n"
    (one,) = tree_told(data.encode(), "tree.ged", today=TODAY).people
    assert person(one).died == "[..2010-05-03]"


def test_before_means_what_it_means_in_each_version() -> None:
    """shared/standards/gedcom-dates.csv, row BEF 1960."""
    lines = ("1 BIRT", "2 DATE BEF 1960")
    assert anna(*lines).born == "[..1959]"
    assert anna(*lines, version="7.0").born == "[..1960]"


def test_places_without_the_parts_a_form_leaves_empty() -> None:
    found = anna("1 BIRT", "2 PLAC Ternvik, , Norway", "1 DEAT", "2 PLAC , , Texas")
    assert (found.born_at, found.died_at) == ("Ternvik, Norway", "Texas")


@pytest.mark.parametrize(
    ("payload", "born"),
    [  # not of the standard, yet written by programs (common practice, no source)
        ("1921-03-12", "1921-03-12"),
        ("12.3.1921", "1921-03-12"),
        ("c1900", "1900~"),
        ("1900?", "1900?"),
        ("19??", "19XX"),
        ("1921-22", "[1921,1922]"),
        ("3/4/1921", ""),
        ("UNKNOWN", ""),
    ],
)
def test_dates_as_people_write_them_where_they_can_mean_one_thing_only(payload: str, born: str) -> None:
    found = told("0 @I1@ INDI", "1 NAME Anna /Weber/", "1 BIRT", f"2 DATE {payload}")
    assert person(found.people[0]).born == born
    assert bool(found.set_aside) is not bool(born)


def test_a_line_without_a_level_is_no_part_of_a_date() -> None:
    assert anna("1 BIRT", "2 DATE 12 MAR 1921", "written in pencil").born == "1921-03-12"


def test_a_date_that_cannot_be_is_told_and_kept_in_words() -> None:
    found = told("0 @I1@ INDI", "1 NAME Anna /Weber/", "1 BIRT", "2 DATE 31 FEB 1921")
    assert "31 FEB 1921" in found.set_aside[0]
    assert [claim.words for claim in found.people[0].told if claim.says is Says.BORN] == ["31 FEB 1921"]
    assert person(found.people[0]).born == ""


# -- kin, keys, what is private ------------------------------------------------------------------------------

FAMILY = ("0 @F1@ FAM", "1 HUSB @I1@", "1 WIFE @I2@", "1 CHIL @I3@", "1 CHIL @I4@")
FOUR = [line for n in range(1, 5) for line in (f"0 @I{n}@ INDI", f"1 NAME N{n} /Moor/")]


def test_parents_partners_and_children_who_were_adopted() -> None:
    found = told(*FOUR[:6], "1 FAMC @F1@", "2 PEDI adopted", *FOUR[6:], "1 ADOP", "2 FAMC @F1@", *FAMILY)
    assert set(found.kin) == {
        ToldKin("@I1@", How.PARTNER, "@I2@"),
        *(
            ToldKin(parent, How.PARENT, child, "adopted")
            for parent in ("@I1@", "@I2@")
            for child in ("@I3@", "@I4@")
        ),
    }


def test_links_that_lead_to_nobody_are_counted_and_void_ones_are_meant() -> None:
    found = told(*FOUR[:2], "0 @F1@ FAM", "1 HUSB @I1@", "1 WIFE @VOID@", "1 CHIL @I9@", version="7.0")
    assert found.kin == ()
    assert found.remarks == ("1 of its links lead to nobody and were passed over.",)


def test_keys_that_stay_when_the_tree_is_exported_again() -> None:
    uid = "bbcc0025-34cb-4542-8cfb-45ba201c9c2c"
    (one,) = told("0 @I1@ INDI", "1 NAME A /B/", f"1 UID {uid}", version="7.0").people
    (other,) = told("0 @I7@ INDI", f"1 _UID {uid.replace('-', '').upper()}A1B2").people
    assert one.lasting[0] == other.lasting[0]
    assert one.lasting[1] == "tree.ged#@I1@"


@pytest.mark.parametrize("word", ["confidential", "privacy", "CONFIDENTIAL, LOCKED"])
def test_who_is_marked_as_private_stays_out_and_that_is_said(word: str) -> None:
    found = told("0 @I1@ INDI", "1 NAME Hidden /Moor/", f"1 RESN {word}", *FOUR[2:], *FAMILY)
    assert [one.name for one in found.people] == ["N2 Moor", "N3 Moor", "N4 Moor"]
    assert not any("@I1@" in (one.person, one.other) for one in found.kin)
    (remark,) = found.remarks
    assert "1 of its people are marked as confidential or private" in remark


def test_a_locked_record_is_taken_and_a_private_fact_is_not() -> None:
    found = anna("1 RESN locked", "1 BIRT", "2 DATE 1921", "2 RESN confidential")
    assert (found.name, found.born) == ("Anna Weber", "")


def test_a_name_that_is_marked_as_private_stays_out() -> None:
    found = told("0 @I1@ INDI", "1 NAME Anna /Weber/", "1 NAME Nan", "2 RESN privacy")
    assert [claim.words for claim in found.people[0].told] == ["Anna /Weber/"]
    assert found.remarks == ("Single facts that are marked so stay out too: 1.",)


# -- files that are none -------------------------------------------------------------------------------------


def test_a_tree_that_is_cut_off_gives_whom_it_tells_of_whole() -> None:
    data = "\n".join(["0 HEAD", "1 GEDC", "2 VERS 5.5.1", *FOUR, "1 BIRT", "2 DATE 12 MA"]).encode()
    found = tree_told(data, "tree.ged", today=TODAY)
    assert [one.name for one in found.people] == ["N1 Moor", "N2 Moor", "N3 Moor"]
    assert not found.whole
    assert "cut off" in found.remarks[0]


def test_a_tree_without_its_last_line_loses_nobody_whose_lines_are_whole() -> None:
    data = "\n".join(["0 HEAD", "1 GEDC", "2 VERS 5.5.1", *FOUR, ""]).encode()
    found = tree_told(data, "tree.ged", today=TODAY)
    assert [one.name for one in found.people] == ["N1 Moor", "N2 Moor", "N3 Moor", "N4 Moor"]
    assert not found.whole


def test_a_second_record_of_a_number_is_set_aside_and_one_without_a_number() -> None:
    found = told(*FOUR[:2], "0 @I1@ INDI", "1 NAME Else /Moor/", "0 INDI", "1 NAME Ilse /Moor/")
    assert [one.name for one in found.people] == ["N1 Moor"]
    second, none = found.set_aside
    assert "Else Moor: this is a second record @I1@" in second
    assert "Ilse Moor: the record has no number" in none


def test_nobody_is_their_own_parent_or_partner() -> None:
    found = told(*FOUR[:2], "0 @F1@ FAM", "1 HUSB @I1@", "1 WIFE @I1@", "1 CHIL @I1@")
    assert found.kin == ()
    assert len(found.set_aside) == 3
    assert "N1 Moor: a link makes them their own parent." in found.set_aside[1]


def test_tabs_for_blanks_and_signs_that_are_no_letters() -> None:
    (one,) = told("0\t@I1@\tINDI", "1\tNAME\tAn\x00na\x1f /Weber/").people
    assert one.name == "An na Weber"


def test_a_line_of_any_length_is_read() -> None:
    (one,) = told("0 @I1@ INDI", "1 NAME Anna /Weber/", f"1 NOTE {'x' * 200_000}", "1 SEX F").people
    assert person(one).sex == "female"


def test_a_package_is_opened_and_one_without_a_tree_refused(tmp_path: Path) -> None:
    path = tmp_path / "tree.gdz"
    for inside, expected in (("gedcom.ged", None), ("photo.jpg", "there is no gedcom.ged in it")):
        with zipfile.ZipFile(path, "w") as package:
            package.writestr(inside, "\n".join(["0 HEAD", "1 GEDC", "2 VERS 7.0", *FOUR, "0 TRLR"]))
        if expected is None:
            assert len(read_tree(path, today=TODAY).people) == 4
        else:
            with pytest.raises(CannotBegin, match=expected):
                read_tree(path, today=TODAY)
    path.write_bytes(path.read_bytes()[:40])
    with pytest.raises(CannotBegin, match="damaged or cut off"):
        read_tree(path, today=TODAY)


def test_what_is_no_tree_is_refused_in_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "photo.ged").write_bytes(b"\xff\xd8\xff\xe0" + bytes(range(256)) * 40)
    with pytest.raises(CannotBegin, match="is no family-tree file: it does not begin with the line “0 HEAD”"):
        read_tree(tmp_path / "photo.ged", today=TODAY)
    with pytest.raises(CannotBegin, match="could not be read"):
        read_tree(tmp_path / "missing.ged", today=TODAY)


@given(st.binary(max_size=300))
def test_no_bytes_break_the_reader(data: bytes) -> None:
    found = tree_told(b"0 HEAD\n1 GEDC\n2 VERS 5.5.1\n" + data, "tree.ged", today=TODAY)
    assert isinstance(found, Telling)
