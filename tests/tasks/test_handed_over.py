"""Releases, their verification, second copies, and views that are made again."""

from __future__ import annotations

import csv
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from urllib.parse import unquote

import bagit
import pyexiv2
import pytest
from small_box import SHARP, Draw, capture_of, slip_file

from solander.core.errors import CannotBegin
from solander.delivery.package import DamagedSource
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.copy import second_copy
from solander.tasks.release import release
from solander.tasks.show import Shown
from solander.tasks.verify import verify
from solander.vault.store import sha256_of

pytestmark = pytest.mark.slow

SLIPS = (
    "file,date,place,people,caption",
    "p1_r.jpg,1962,Ternvik,Inga,The late one",
    "p1_v.jpg,,,,",
    "p2_r.jpg,July 1948,Ternvik,Ned,The early one",
    "p3_r.jpg,,,,The undated one",
)


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A box that nobody touches: `collection` of three prints, and its two releases beside it."""
    root = tmp_path_factory.mktemp("whole")
    files = root / "files"
    files.mkdir()
    for number, name in enumerate(("p1_r.jpg", "p1_v.jpg", "p2_r.jpg", "p3_r.jpg")):
        capture_of(number, SHARP, 2.0).save(files / name, quality=90)
    with Collection.create(root / "collection", title="Three prints") as collection:
        accession(collection, [files], container="B1", slips=slip_file(root, *SLIPS))
        for audience in ("archive", "family"):
            release(collection, root / audience, audience=audience)
    return root


@pytest.fixture
def box(whole: Path, tmp_path: Path) -> Path:
    """A copy that may be spoilt."""
    return Path(shutil.copytree(whole, tmp_path / "box"))


def first_capture(box: Path) -> Path:
    return min((box / "collection" / "captures").glob("??/*"))


def overwrite(path: Path, content: bytes) -> None:
    path.chmod(0o644)
    path.write_bytes(content)


def flip(path: Path) -> None:
    """One bit in the middle of a file."""
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 1
    overwrite(path, content)


# -- releases ------------------------------------------------------------------------------------------------


def test_the_archive_is_a_valid_bag(whole: Path) -> None:
    bagit.Bag(str(whole / "archive")).validate()


def test_captures_in_the_archive_are_the_files_that_arrived(whole: Path) -> None:
    """The table leads a finder from each file name to the bytes that arrived under it."""
    captures = {sha256_of(path) for path in (whole / "archive" / "data" / "captures").rglob("*.*")}
    assert captures == {sha256_of(path) for path in (whole / "files").iterdir()}


def test_the_archives_table_lists_every_file(whole: Path) -> None:
    data = whole / "archive" / "data"
    (table,) = data.rglob("*.csv")
    rows = list(csv.DictReader(table.read_text(encoding="utf-8-sig").splitlines()))
    listed = {value for row in rows for value in row.values() if (data / value).is_file() and value}
    pictures = {path.relative_to(data).as_posix() for path in data.rglob("*.jpg")}
    assert pictures <= listed


def test_a_damaged_capture_stops_the_archive_and_leaves_nothing(box: Path) -> None:
    flip(first_capture(box))
    with (
        Collection.open(box / "collection") as collection,
        pytest.raises(DamagedSource, match="no longer have their checksum"),
    ):
        release(collection, box / "again", audience="archive")
    assert [path.name for path in box.iterdir() if path.name.startswith("again")] == []


def test_a_release_never_replaces_anything(box: Path) -> None:
    before = {path: sha256_of(path) for path in (box / "archive").rglob("*") if path.is_file()}
    with Collection.open(box / "collection") as collection:
        for audience in ("archive", "family"):
            with pytest.raises(CannotBegin, match="something is there already"):
                release(collection, box / "archive", audience=audience)
    assert {path: sha256_of(path) for path in (box / "archive").rglob("*") if path.is_file()} == before


def test_a_public_release_is_refused_while_nobody_can_tell_the_living(box: Path) -> None:
    with Collection.open(box / "collection") as collection, pytest.raises(CannotBegin, match="living"):
        release(collection, box / "public", audience="public")
    assert not (box / "public").exists()


def test_every_link_of_the_family_site_leads_to_a_file_of_it(whole: Path) -> None:
    site = whole / "family"
    links = 0
    for page in site.rglob("*.html"):
        for address in re.findall(r'(?:href|src)="([^"#]+)', page.read_text(encoding="utf-8")):
            target = (page.parent / unquote(address)).resolve()
            assert target.is_relative_to(site.resolve()), f"{page.name}: {address}"
            assert target.is_file(), f"{page.name}: {address}"
            links += 1
    assert links > 20


def test_names_of_family_pictures_sort_like_the_prints(whole: Path) -> None:
    with Collection.open(whole / "collection") as collection:
        order = [one.print.accession for one in Shown(collection).described()]
    names = sorted(path.name for path in (whole / "family" / "pictures").glob("*.jpg"))
    numbered = [(int(name.split("_")[0]), next(a for a in order if a in name)) for name in names]
    assert list(dict.fromkeys(numbered)) == list(enumerate(order, start=1))
    assert order.index("B1-0002") < order.index("B1-0001"), "1948 before 1962"


def embedded(path: Path) -> dict[str, str]:
    with pyexiv2.Image(str(path)) as picture:
        return {**picture.read_exif(), **picture.read_xmp()}


def test_a_family_picture_carries_a_date_to_sort_by_that_is_marked_as_one(whole: Path) -> None:
    sortable = []
    for path in sorted((whole / "family" / "pictures").glob("*.jpg")):
        fields = embedded(path)
        assert fields["Xmp.solander.standInDate"] == "True"
        assert "For sorting only" in fields["Exif.Image.ImageDescription"]
        sortable.append(fields["Exif.Photo.DateTimeOriginal"])
    assert sortable == sorted(sortable)
    assert re.fullmatch(r"1948:07:\d\d 12:00:\d\d", sortable[0])


def test_an_archive_picture_carries_only_what_is_certain(whole: Path) -> None:
    for path in sorted((whole / "archive" / "data" / "views").glob("*.jpg")):
        fields = embedded(path)
        assert fields["Xmp.solander.standInDate"] == "False"
        assert "sorting" not in fields.get("Exif.Image.ImageDescription", "")
        assert not re.match(r"\d{4}:\d\d:\d\d", fields.get("Exif.Photo.DateTimeOriginal", ""))


# -- verification --------------------------------------------------------------------------------------------


def named_files(box: Path) -> dict[str, Path]:
    """A file of each thing that can be verified."""
    return {
        "collection": first_capture(box),
        "archive": min((box / "archive" / "data" / "views").glob("*.jpg")),
        "family": min((box / "family" / "pictures").glob("*.jpg")),
    }


def lose(path: Path) -> tuple[str, str]:
    path.unlink()
    return path.stem, "is missing"


def change(path: Path) -> tuple[str, str]:
    flip(path)
    return path.name, "has changed"


def add(path: Path) -> tuple[str, str]:
    path.with_name("stray.jpg").write_bytes(b"stray")
    return "stray.jpg", "does not belong here"


def rename(path: Path) -> tuple[str, str]:
    path.rename(path.with_name("renamed.jpg"))
    return path.stem, f"was renamed to {path.parent.name}/renamed.jpg"


@pytest.mark.parametrize("kind", ["collection", "archive", "family"])
@pytest.mark.parametrize("spoil", [change, lose, add, rename])
def test_every_fault_is_found_and_named(spoil: Callable[[Path], tuple[str, str]], kind: str, box: Path) -> None:
    assert verify(box / kind).faults == ()
    name, what = spoil(named_files(box)[kind])
    (sentence,) = verify(box / kind).faults
    assert name in sentence
    assert what in sentence.replace(f"{kind}/", "").replace("captures/", "").replace("data/views", "views")


@pytest.mark.parametrize("tag", ["bagit.txt", "bag-info.txt", "manifest-sha256.txt"])
def test_the_describing_files_of_a_bag_are_checked_too(tag: str, box: Path) -> None:
    path = box / "archive" / tag
    overwrite(path, path.read_bytes().replace(b"\n", b"\n\n", 1))
    assert any(tag in sentence for sentence in verify(box / "archive").faults)


def test_several_faults_are_all_told(box: Path) -> None:
    captures = sorted((box / "collection" / "captures").glob("??/*"))
    flip(captures[0])
    captures[1].unlink()
    sentences = verify(box / "collection").faults
    assert [captures[0].name in sentences[0], captures[1].stem in sentences[1], len(sentences)] == [True, True, 2]


@pytest.mark.parametrize("what", ["nothing", "other things", "a file"])
def test_what_is_neither_collection_nor_release_cannot_be_verified(what: str, tmp_path: Path) -> None:
    path = tmp_path / "nonsense"
    if what == "a file":
        path.write_text("hello", encoding="utf-8")
    elif what == "other things":
        path.mkdir()
        (path / "letter.txt").write_text("hello", encoding="utf-8")
    with pytest.raises(CannotBegin, match="could not be verified"):
        verify(path)


# -- second copy ---------------------------------------------------------------------------------------------


def captures_in(root: Path) -> dict[str, str]:
    return {path.name: sha256_of(path) for path in (root / "captures").glob("??/*")}


def test_a_second_copy_is_a_whole_collection(box: Path, tmp_path: Path) -> None:
    target = tmp_path / "other disk" / "copy"
    with Collection.open(box / "collection") as collection:
        assert not Shown(collection).second_copy
        copied = second_copy(collection, target)
        assert Shown(collection).second_copy
    assert (copied.new, copied.same, copied.notes, copied.faults) == (4, 0, (), ())
    assert captures_in(target) == captures_in(box / "collection")
    assert verify(target).faults == ()
    with Collection.open(target) as one, Collection.open(box / "collection") as other:
        assert one.catalogue.prints() == other.catalogue.prints()
        assert one.catalogue.statements() == other.catalogue.statements()
        assert one.catalogue.setting("second_copy") == other.catalogue.setting("second_copy") != ""


@pytest.mark.parametrize("side", ["source", "target"])
def test_a_flipped_bit_on_either_side_is_healed(side: str, box: Path, tmp_path: Path) -> None:
    target = tmp_path / "copy"
    with Collection.open(box / "collection") as collection:
        second_copy(collection, target)
        capture = first_capture(box)
        flip(capture if side == "source" else target / capture.relative_to(box / "collection"))
        healed = second_copy(collection, target)
    (note,) = healed.notes
    assert capture.name in note
    assert ("from the copy" in note) == (side == "source")
    assert (verify(box / "collection").faults, verify(target).faults) == ((), ())


def test_damage_on_both_sides_is_told_and_is_no_second_copy(box: Path, tmp_path: Path) -> None:
    target = tmp_path / "copy"
    capture = first_capture(box)
    flip(capture)
    with Collection.open(box / "collection") as collection:
        copied = second_copy(collection, target)
        assert not Shown(collection).second_copy
    (fault,) = copied.faults
    assert capture.name in fault


def test_a_copy_without_a_catalogue_is_no_second_copy(
    box: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise CannotBegin("The catalogue was not copied", "no space left on device", "Make room")

    with Collection.open(box / "collection") as collection:
        monkeypatch.setattr(type(collection.catalogue), "backup", full)
        with pytest.raises(CannotBegin):
            second_copy(collection, tmp_path / "copy")
        assert not Shown(collection).second_copy


def test_a_collection_is_no_copy_of_itself(box: Path) -> None:
    with Collection.open(box / "collection") as collection, pytest.raises(CannotBegin, match="itself"):
        second_copy(collection, box / "collection")


# -- views ---------------------------------------------------------------------------------------------------


def views_in(root: Path) -> dict[str, str]:
    views = root / "views"
    return {path.relative_to(views).as_posix(): sha256_of(path) for path in views.rglob("*.jpg")}


def test_deleted_views_are_made_again_the_same(box: Path) -> None:
    root = box / "collection"
    before = views_in(root)
    shutil.rmtree(root / "views")
    with Collection.open(root) as collection:
        release(collection, box / "again", audience="family")
        assert views_in(root) == before
        shutil.rmtree(root / "views")
        shown = Shown(collection)
        for one in shown.described():
            for view in one.print.views:
                assert shown.view_path(view.key).is_file()
                assert shown.thumb_path(view.key).is_file()
    assert views_in(root) == before
    assert len(before) == 8


def test_a_view_that_nobody_knows_has_no_picture(box: Path) -> None:
    with Collection.open(box / "collection") as collection:
        assert Shown(collection).view_path("0" * 32) is None


def test_a_copy_or_release_inside_the_collection_is_refused(box: Path) -> None:
    with Collection.open(box / "collection") as collection:
        with pytest.raises(CannotBegin, match="lies in the collection"):
            second_copy(collection, box / "collection" / "copy")
        with pytest.raises(CannotBegin, match="lies in the collection"):
            release(collection, box / "collection" / "out", audience="family")


def test_a_copy_is_one_only_while_it_has_every_capture_and_undo_leaves_it(
    box: Path, tmp_path: Path, draw: Draw
) -> None:
    with Collection.open(box / "collection") as collection:
        second_copy(collection, tmp_path / "copy")
        collection.catalogue.undo("archivist")
        assert Shown(collection).second_copy, "a copy is not unmade by taking back what was done before it"
        accession(collection, [draw("later.jpg", 8)])
        assert not Shown(collection).second_copy
