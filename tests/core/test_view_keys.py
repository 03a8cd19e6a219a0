"""A view's key is made from all that decides its pixels, and stays what it was in older collections."""

from __future__ import annotations

from attrs import evolve

from solander.core.prints import Outline, Side, Stand, View

OUTLINE = Outline(((0.25, 0.0), (90.5, 1.0), (90.0, 60.0), (0.5, 61.0)), 0.97)
VIEW = View("a" * 64, 0, OUTLINE, Side.RECTO, 90, 60, ppi=300.0)
STAND = Stand((-0.02, 0.001), 0.8, (7.0, 0.0, 3.0, 0.0, 7.0, 5.0, 0.0, 0.0, 1.0), "b" * 64)


def test_views_of_the_first_collections_keep_their_key() -> None:
    """Read from a collection that Solander 0.1.0 wrote before it knew of lenses."""
    assert VIEW.key == "606eb00fa91ba759b9656eb1b172e01f"
    assert evolve(VIEW, ppi=None, width=91).key == VIEW.key


def test_whatever_decides_the_pixels_changes_the_key() -> None:
    known = evolve(VIEW, stand=STAND)
    bowed = evolve(VIEW, outline=evolve(OUTLINE, bows=(1.0, 0.0, -1.0, 0.0)))
    others = [
        known,
        bowed,
        evolve(bowed, stand=STAND),
        evolve(VIEW, stand=evolve(STAND, lens=(-0.02, 0.002))),
        evolve(VIEW, stand=evolve(STAND, focal=0.9)),
        evolve(known, width=91),
        evolve(known, turn=1),
    ]
    assert len({VIEW.key, *(view.key for view in others)}) == 1 + len(others)


def test_what_tells_no_pixel_does_not() -> None:
    known = evolve(VIEW, stand=STAND)
    assert evolve(known, ppi=200.0).key == known.key
    assert evolve(known, stand=evolve(STAND, picture=None)).key == known.key
    assert known.turned(3, None).turned(0, None).key == known.key
