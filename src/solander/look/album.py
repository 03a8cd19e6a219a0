"""The page of an album laid out beside one of its prints: what is written on it can be read there."""

from __future__ import annotations

from collections.abc import Callable

from attrs import frozen

from solander.core.album import AlbumPage

__all__ = ["MountedShown", "PageShown", "show_page"]


@frozen
class MountedShown:
    """A print on the page of an album: where its own page is, its outline as points, where its number stands."""

    href: str
    accession: str
    number: int
    points: str
    middle: tuple[float, float]
    here: bool


@frozen
class PageShown:
    """The page of an album as it was found, in pixels of the capture, with the prints on it."""

    picture: str
    container: str
    name: str
    width: int
    height: int
    prints: tuple[MountedShown, ...]

    @property
    def letter(self) -> float:
        """Height of the numbers on it."""
        return max(self.width, self.height) / 36

    @property
    def here(self) -> MountedShown:
        """The print beside which the page is shown."""
        return next(one for one in self.prints if one.here)


def show_page(page: AlbumPage, accession: str, picture: str, href: Callable[[str], str]) -> PageShown:
    """The page beside one of its prints; `picture` is its address, `href` that of a print by its number."""
    prints = tuple(
        MountedShown(
            href(one.accession),
            one.accession,
            one.number,
            " ".join(f"{x:.1f},{y:.1f}" for x, y in one.corners),
            (sum(x for x, _ in one.corners) / 4, sum(y for _, y in one.corners) / 4),
            one.accession == accession,
        )
        for one in page.prints
    )
    return PageShown(picture, page.container, page.name, page.width, page.height, prints)
