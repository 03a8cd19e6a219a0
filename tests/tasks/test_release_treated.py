"""What a treatment does to releases: family copies are treated and say so, the archive is never."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from small_box import SHARP, capture_of

from solander.core.errors import Trouble
from solander.core.prints import Print, Side, View
from solander.core.treatments import EDITION, Step, Treatment, read_treatment
from solander.delivery.embed import embed, fields_of
from solander.delivery.tables import read_records
from solander.imaging.decode import decode
from solander.imaging.encode import encode_jpeg
from solander.imaging.treatment.treat import treat
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.described import described
from solander.tasks.release import release
from solander.tasks.treated import treated_paths, untreated_paths

pytestmark = pytest.mark.slow

STEPS = Treatment.of(
    [
        Step("neutral", {"shift": [0.0, 0.02, 0.11]}, who="measured", reason="the border is yellow"),
        Step("density", {"by": -0.15}, who="Ada"),
        Step("detail", {"shadows": 0.4}, on=False),
        Step("fine turn", {"degrees": 1.5}, who="Ada"),
        Step("crop", {"box": [0.1, 0.1, 0.9, 0.8]}, who="Ada"),
    ]
)
SAID = "mid-tones lighter by a density of 0.15"


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Collection]:
    """Two prints, of which the first is treated, and both releases of them beside it."""
    root = tmp_path_factory.mktemp("treated")
    files = root / "files"
    files.mkdir()
    for number in (1, 2):
        capture_of(number, SHARP, 2.0).save(files / f"p{number}.jpg", quality=90)
    with Collection.create(root / "collection", title="Two prints") as collection:
        accession(collection, [files], container="B1")
        with collection.catalogue.act("Ada", "treated") as act, act.work() as work:
            work.set_treatment(front(collection, 1).key, STEPS)
            work.commit()
        for audience in ("archive", "family"):
            release(collection, root / audience, audience=audience)
        yield collection


def front(collection: Collection, number: int) -> View:
    view = collection.catalogue.print(f"B1-{number:04d}").recto
    assert view is not None
    return view


def release_of(whole: Collection, audience: str) -> Path:
    return whole.root.parent / audience


def scan(jpeg: bytes) -> bytes:
    """The picture itself, behind all descriptions: from the first SOS marker on (ISO/IEC 10918-1, B.1.1.3)."""
    at = 2
    while jpeg[at + 1] != 0xDA:
        at += 2 + int.from_bytes(jpeg[at + 2 : at + 4], "big")
    return jpeg[at:]


def family_picture(whole: Collection, number: int) -> Path:
    (path,) = (release_of(whole, "family") / "pictures").glob(f"*_B1-{number:04d}_front.jpg")
    return path


def test_the_archive_holds_the_untreated_view_byte_by_byte(whole: Collection) -> None:
    """FADGI, Technical Guidelines 2016: no restoration on masters. The file is that of a view nobody treated."""
    (one,) = [one for one in described(whole) if one.print.accession == "B1-0001"]
    archived = (release_of(whole, "archive") / "data" / "views" / "B1-0001_front.jpg").read_bytes()
    untreated = untreated_paths(whole, front(whole, 1))[0].read_bytes()
    capture = whole.catalogue.capture(front(whole, 1).capture)
    assert capture is not None
    path = whole.vault.relative(whole.vault.path(capture.sha256))
    options = {"capture": capture, "capture_path": path, "collection": whole.title}
    expected = embed(untreated, fields_of(one, Side.RECTO, view=front(whole, 1), **options))
    assert archived == expected
    assert scan(archived) == scan(untreated)
    assert b"was treated" not in archived
    assert SAID.encode() not in archived


def test_the_family_gets_the_treated_picture_and_is_told(whole: Collection) -> None:
    picture = family_picture(whole, 1).read_bytes()
    assert scan(picture) == scan(treated_paths(whole, front(whole, 1))[0].read_bytes())
    assert SAID.encode() in picture
    assert scan(family_picture(whole, 2).read_bytes()) == scan(
        untreated_paths(whole, front(whole, 2))[0].read_bytes()
    )
    page, other = (
        next((release_of(whole, "family") / "prints").glob(f"*_B1-000{number}.html")).read_text("utf-8")
        for number in (1, 2)
    )
    assert "this copy was treated: paper border made neutral; " in page
    assert SAID in page
    assert "was treated" not in other
    small = release_of(whole, "family") / "pictures" / "small" / family_picture(whole, 1).name
    assert small.read_bytes() == treated_paths(whole, front(whole, 1))[1].read_bytes()


def test_the_treated_picture_is_made_again_bit_by_bit_from_the_archive_alone(whole: Collection) -> None:
    data = release_of(whole, "archive") / "data"
    lines = [json.loads(line) for line in (data / "statements.jsonl").read_text("utf-8").splitlines()]
    (record,) = [line for line in lines if line["kind"] == "print" and line["accession"] == "B1-0001"]
    recipe = record["views"][0]["treatment"]
    assert recipe["edition"] == EDITION
    assert recipe["told"] == list(STEPS.sentences)
    given = read_treatment(recipe)
    assert given == STEPS
    again = treat(decode(data / "views" / "B1-0001_front.jpg"), given.applied).picture
    made = encode_jpeg(again, dpi=None)
    kept = treated_paths(whole, front(whole, 1))[0]
    assert scan(made) == scan(kept.read_bytes())
    assert np.array_equal(decode(kept).shape, again.shape)


def test_a_picture_that_can_t_be_made_is_told_of_its_print(whole: Collection, tmp_path: Path) -> None:
    lost = Treatment.of([Step("two lights", {"second": "0" * 64})])
    with whole.catalogue.act("Ada", "treated") as act, act.work() as work:
        work.set_treatment(front(whole, 2).key, lost)
        work.commit()
    with pytest.raises(Trouble, match=r"B1-0002: .*is not there"):
        release(whole, tmp_path / "family", audience="family")
    assert list(tmp_path.iterdir()) == []
    release(whole, tmp_path / "archive", audience="archive")  # which is untreated
    whole.catalogue.undo("Ada", only=act.number)


def test_the_archives_records_are_read_back_whole(whole: Collection) -> None:
    records = (release_of(whole, "archive") / "data" / "statements.jsonl").read_bytes().splitlines()
    prints = {one.accession: one for one in read_records(records) if isinstance(one, Print)}
    assert prints["B1-0001"].views[0].treatment == STEPS
    assert prints["B1-0002"].views[0].treatment == Treatment()
    assert all(prints[one.accession] == one for one in whole.catalogue.prints())


def test_the_letter_to_the_finder_tells_of_treatments(whole: Collection) -> None:
    letter = (release_of(whole, "archive") / "data" / "README.txt").read_text("utf-8")
    assert '"treatment"' in letter
