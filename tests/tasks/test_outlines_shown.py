"""What the workbench shows where outlines are checked."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image
from small_box import SIZE, Draw

from solander.core.errors import InvalidValue, NotFound, Trouble
from solander.imaging.decode import decode
from solander.imaging.locate import Found
from solander.tasks import outlines as shown
from solander.tasks import prepare
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.outlines import TILE, Outlines
from solander.vault.store import matches

pytestmark = pytest.mark.slow

FIRST = np.array([[150.0, 120.0], [570.0, 120.0], [570.0, 420.0], [150.0, 420.0]])
LEFT = np.array([[20.0, 30.0], [120.0, 30.0], [120.0, 130.0], [20.0, 130.0]])


@pytest.fixture
def waiting(monkeypatch: pytest.MonkeyPatch, draw: Draw, collection: Collection) -> Outlines:
    """Three captures: half sure and less sure in one, sure in the next, nothing in the last."""
    answers = iter([(Found(LEFT, 0.7), Found(FIRST, 0.4)), (Found(FIRST, 0.95),), ()])
    monkeypatch.setattr(prepare, "locate_prints", lambda rgb, **_: next(answers))
    folder = draw("a.png", 1).parent
    draw("b.png", 2)
    draw("c.png", 3)
    accession(collection, [folder])
    return Outlines(collection)


def test_the_least_sure_come_first_and_the_sure_not_at_all(waiting: Outlines) -> None:
    told = [(number, view.outline.confidence) for number, view in waiting.waiting()]
    assert told == [("P-0004", 0.0), ("P-0002", 0.4), ("P-0001", 0.7)]


def test_an_outline_is_shown_with_its_question_and_the_other_prints_of_its_capture(waiting: Outlines) -> None:
    edge = waiting.edge(waiting.waiting()[1][1].key)
    assert (edge.accession, edge.capture_name, (edge.width, edge.height)) == ("P-0002", "a.png", SIZE)
    assert edge.sentence == "Is the front of P-0002 cut out at the paper's edge?"
    assert np.array_equal(edge.others, [LEFT])


def test_the_pieces_are_the_captures_own_pixels(waiting: Outlines) -> None:
    sha256 = waiting.waiting()[0][1].capture
    whole = decode(waiting.collection.vault.path(sha256))
    columns, rows = -(-SIZE[0] // TILE), -(-SIZE[1] // TILE)
    laid = np.vstack(
        [
            np.hstack([_pixels(waiting.tile(sha256, 0, column, row)) for column in range(columns)])
            for row in range(rows)
        ]
    )
    assert np.array_equal(laid, whole)


def _pixels(png: bytes) -> np.ndarray:
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB"))


@pytest.mark.parametrize(("column", "row"), [(3, 0), (0, 3), (-1, 0), (0, -1), (10**9, 0)])
def test_beyond_the_capture_there_is_no_piece(waiting: Outlines, column: int, row: int) -> None:
    with pytest.raises(NotFound, match="does not reach there"):
        waiting.tile(waiting.waiting()[0][1].capture, 0, column, row)


def test_a_page_that_a_capture_does_not_have_is_said(waiting: Outlines) -> None:
    with pytest.raises(Trouble, match=r"c\.png could not be read: it has no page 2"):
        waiting.tile(waiting.waiting()[0][1].capture, 1, 0, 0)


def test_the_whole_capture_is_shown_bounded_in_size_and_kept(
    monkeypatch: pytest.MonkeyPatch, waiting: Outlines
) -> None:
    monkeypatch.setattr(shown, "LARGE_SIDE", 300)
    sha256 = waiting.waiting()[0][1].capture
    path = waiting.large_path(sha256, 0)
    assert decode(path).shape == (round(300 * SIZE[1] / SIZE[0]), 300, 3)
    written = path.stat().st_mtime_ns
    assert waiting.large_path(sha256, 0).stat().st_mtime_ns == written
    path.unlink()
    assert waiting.large_path(sha256, 0).is_file()  # may be deleted like all views
    assert matches(waiting.collection.vault.path(sha256), sha256)


def test_fitting_keeps_within_the_capture_and_refuses_what_bounds_no_print(waiting: Outlines) -> None:
    sha256 = waiting.waiting()[0][1].capture
    right, bottom = SIZE[0] - 0.5, SIZE[1] - 0.5
    whole = ((-0.5, -0.5), (right, -0.5), (right, bottom), (-0.5, bottom))
    fitted = np.array(waiting.fit(sha256, 0, whole).corners)
    assert fitted.min() >= -0.5
    assert (fitted <= [right, bottom]).all()
    with pytest.raises(InvalidValue, match="two of its sides cross"):
        waiting.fit(sha256, 0, (whole[0], whole[2], whole[1], whole[3]))


def test_only_what_was_done_last_is_offered_to_be_taken_back(waiting: Outlines) -> None:
    (_, first), (_, second), _ = waiting.waiting()
    done = waiting.check(first.key)
    assert waiting.sitting.done(done.act) == "checked the outline of the front of P-0004"
    waiting.check(second.key)
    assert waiting.sitting.done(done.act) == ""
    assert waiting.sitting.done(None) == ""
