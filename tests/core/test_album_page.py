"""The page of an album as it was found, against the picture turned by numpy."""

import numpy as np
import pytest

from solander.core.album import album_page, page_of_album
from solander.core.prints import Capture, Container, Corners, Outline, Print, Side, View
from solander.core.upright import Upright

SHA = "a" * 64
PAGE = Container("A1/P3", captures=(SHA,))


def capture(width: int, height: int) -> Capture:
    return Capture(SHA, "page-03.jpg", "image/jpeg", 1, width, height)


def lying(number: int, corners: Corners, turn: int = 0, upright: Upright | None = Upright.FACES) -> Print:
    view = View(SHA, 0, Outline(corners, 1.0), Side.RECTO, 10, 10, turn=turn, upright=upright)
    return Print(f"A1-P3-{number:04d}", "A1/P3", number, (view,))


def test_page_numbers_are_the_last_level_of_a_code() -> None:
    assert page_of_album("B2/A1/P3") == ("B2/A1", 3)
    assert page_of_album("B2/A1") == ("B2/A1", None)
    assert page_of_album("P3/E1") == ("P3/E1", None)


@pytest.mark.parametrize("turn", [0, 1, 2, 3])
def test_page_stands_as_its_prints_do(turn: int) -> None:
    """Four lit pixels are the corners of the print; `numpy.rot90` turns the picture, independent of our sums."""
    corners: Corners = ((2, 3), (7, 3), (7, 9), (2, 9))
    picture = np.zeros((12, 20), int)
    for name, (x, y) in enumerate(corners, start=1):
        picture[int(y), int(x)] = name
    page = album_page(PAGE, capture(20, 12), [lying(1, corners, turn)])
    turned = np.rot90(picture, -turn)

    assert page is not None
    assert (page.height, page.width) == turned.shape
    assert [turned[int(y), int(x)] for x, y in page.prints[0].corners] == [1, 2, 3, 4]


def test_most_prints_decide_and_one_as_it_lay_has_no_say() -> None:
    square: Corners = ((1, 1), (5, 1), (5, 5), (1, 5))
    prints = [lying(1, square, 2), lying(2, square, 2), lying(3, square, 1)]
    prints += [lying(number, square, 0, None) for number in (4, 5, 6)]
    page = album_page(PAGE, capture(20, 12), prints)

    assert page is not None
    assert page.turn == 2
    assert [(one.accession, one.number) for one in page.prints] == [
        (f"A1-P3-{number:04d}", number) for number in range(1, 7)
    ]


def test_capture_that_was_not_taken_as_a_page_is_none() -> None:
    square: Corners = ((1, 1), (5, 1), (5, 5), (1, 5))
    assert album_page(Container("A1/P3"), capture(20, 12), [lying(1, square)]) is None
    assert album_page(PAGE, capture(20, 12), []) is None
