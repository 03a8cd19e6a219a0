"""`solander people`: what it says before and after, and how it ends."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner, Result

from solander.cli.main import solander

TREE = """0 HEAD
1 GEDC
2 VERS 7.0
0 @I1@ INDI
1 NAME Anna /Moor/
1 BIRT
2 DATE 1921
0 @I2@ INDI
1 NAME Joe /Weber/
0 @F1@ FAM
1 HUSB @I2@
1 WIFE @I1@
0 TRLR
"""


def ran(*arguments: object) -> Result:
    return CliRunner().invoke(solander, list(map(str, arguments)))


def test_a_tree_is_looked_at_taken_in_and_taken_in_again(tmp_path: Path) -> None:
    box, tree = tmp_path / "box", tmp_path / "tree.ged"
    ran("new", box)
    tree.write_text(TREE, encoding="utf-8")
    looked = ran("people", box, tree, "--look")
    assert looked.stdout.splitlines()[:2] == ["2 people would be taken in; nothing was changed.", "2 new."]
    assert ran("people", box, tree).stdout.splitlines() == [
        "2 people taken in.",
        "2 new.",
        "  Anna Moor",
        "  Joe Weber",
        "1 tie of parents and partners new.",
    ]
    newer = tmp_path / "tree, March.ged"
    newer.write_text(
        TREE.replace("1921", "1922").replace("0 @F1@", "0 @I3@ INDI\n1 NAME Liv\n0 @F1@"), encoding="utf-8"
    )
    again = ran("people", box, newer, "--known-as", "tree.ged")
    assert again.exit_code == 0
    assert again.stdout.splitlines() == [
        "3 people taken in.",
        "1 new, 1 changed, 1 as before.",
        "  Liv",
        "  Anna Moor: now born 1922; no longer born 1921",
    ]


def test_what_is_set_aside_is_told_and_ends_with_1(tmp_path: Path) -> None:
    ran("new", tmp_path / "box")
    (tmp_path / "people.txt").write_text("Anna Moor (1921–1996)\nAnna, from Vik\n", encoding="utf-8")
    result = ran("people", tmp_path / "box", tmp_path / "people.txt")
    assert result.exit_code == 1
    assert "1 person taken in." in result.stdout
    assert "people.txt, line 2: “from Vik” behind “Anna” was not understood." in result.stdout
