"""Prints mounted on the page of an album: the page is the stage, and what lies on it the prints.

A page on a table is itself a sheet of paper with four good edges, and a search that takes the outermost outline
takes the page. So a find that fills much of the frame is looked into: it is laid square, its rim is left out, and
prints are sought on it. What is found inside counts instead; where little speaks for it, a person is asked.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, Rgb, area, clockwise_from_top_left, require_rgb
from solander.imaging.locate import Found, locate_prints

__all__ = ["locate_on_page"]

FILLS = 0.4
"""Share of the frame from which a find may be the page itself (our choice: pages are captured to fill it)."""

RIM = 0.015
"""Share of the page's sides that is left out along its edges: binding, rounded corners, what curls."""

PLAIN = 0.9
"""Confidence from which a find inside another counts."""

NEARLY_ALL = 0.5
"""Share of a large find from which one inside it is taken for the picture of the same print (our choice)."""

DOUBTFUL = 0.5
"""Confidence at most, where a find may be the page, or lie in the picture of a print: a person is asked."""


def locate_on_page(rgb: Rgb) -> tuple[Found, ...]:
    """The prints on an album page, in reading order; the page may fill the frame or lie on something.

    Two or more plain finds inside a large one make it the page. A single one may be a print on a page or the
    picture inside a border, and none may be a page without prints: then a person is asked, and where there are two
    outlines the other is offered as `second`. Nothing found: an empty tuple.
    """
    require_rgb(rgb)
    found = locate_prints(rgb)
    page = max(found, key=lambda one: area(one.corners), default=None)
    if page is None or area(page.corners) < FILLS * rgb.shape[0] * rgb.shape[1]:
        return found
    inside = _inside(rgb, page)
    plain = [one for one in inside if one.confidence >= PLAIN]
    if len(plain) > 1:
        return tuple(inside)
    if plain:
        return (_one_of_two(page, plain[0]),)
    return tuple(_doubted(one) if one is page else one for one in found)


def _one_of_two(page: Found, inside: Found) -> Found:
    """The likelier of a page and what lies alone in it: what nearly fills it is the picture inside its border."""
    first, other = (page, inside) if area(inside.corners) > NEARLY_ALL * area(page.corners) else (inside, page)
    return _doubted(evolve(first, second=other.corners))


def _doubted(found: Found) -> Found:
    return evolve(found, confidence=min(found.confidence, DOUBTFUL))


def _inside(rgb: Rgb, page: Found) -> list[Found]:
    square = _laid_square(rgb, page.corners)
    return [square.back(one) for one in locate_prints(square.rgb)]


@frozen
class _Square:
    """A page laid square, and the way back to the capture."""

    rgb: Rgb
    to_capture: NDArray[np.float64]

    def back(self, found: Found) -> Found:
        """The find in pixels of the capture; its bows stay, for the scale is nearly the same."""
        second = None if found.second is None else self._moved(found.second)
        return evolve(found, corners=clockwise_from_top_left(self._moved(found.corners)), second=second)

    def _moved(self, quad: Quad) -> Quad:
        moved: Quad = cv2.perspectiveTransform(quad[None], self.to_capture)[0].astype(np.float64)
        return moved


def _laid_square(rgb: Rgb, quad: Quad) -> _Square:
    """The page without its rim, at the scale of the capture."""
    sides = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
    width, height = int(max(sides[0], sides[2])), int(max(sides[1], sides[3]))
    left, top = RIM * width, RIM * height
    size = int(width - 2 * left), int(height - 2 * top)
    rim = np.array([[-left, -top], [width - left, -top], [width - left, height - top], [-left, height - top]])
    to_capture = cv2.getPerspectiveTransform(rim.astype(np.float32), quad.astype(np.float32))
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    laid = cv2.warpPerspective(rgb, to_capture, size, flags=flags, borderMode=cv2.BORDER_REPLICATE)
    return _Square(laid.astype(np.uint8), to_capture.astype(np.float64))
