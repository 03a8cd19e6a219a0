"""A collection on disk: the catalogue, the captures, and the views that can always be made again."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Self

from attrs import frozen

from solander.catalogue.store import Catalogue
from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence
from solander.vault.store import Vault

__all__ = ["Collection", "Progress", "Watch", "refuse_inside", "unwatched"]

_FINDER = """\
A Solander collection: old paper photographs, described and put in order.

  captures/    every picture file exactly as it arrived, never changed;
               each is named by its SHA-256 checksum
  sound/       recordings, kept in the same way
  views/       straightened copies for looking at; may be deleted,
               they are made again when they are needed
  solander.db  the catalogue: an SQLite database with what is known
               of each print, who says so, and every change ever made

The captures open in any picture viewer. The catalogue opens in any
SQLite reader. Please keep this folder whole, and keep a second copy
of it somewhere else.
"""


@frozen
class Progress:
    """What is being done, to what, and how many of how many are done (`total` is None when not known)."""

    doing: str
    subject: str
    done: int
    total: int | None


Watch = Callable[[Progress], None]


def unwatched(_: Progress) -> None:
    """Progress that nobody watches."""


def refuse_inside(root: Path, target: Path, what: str) -> None:
    """Refuses a target that is the collection or lies in it: what is lost with the collection is no copy of it.

    Raises
    ------
    CannotBegin
        With `what` did not happen.
    """
    if target.resolve().is_relative_to(root.resolve()):
        raise CannotBegin(
            what,
            Sentence("%(target)s lies in the collection itself", target=target),
            Sentence("Name a folder elsewhere, best on another disk"),
        )


@frozen
class Collection:
    """An open collection; close it, or use it as a context manager."""

    root: Path
    catalogue: Catalogue
    vault: Vault

    @classmethod
    def create(cls, root: Path, *, title: str = "") -> Collection:
        """A new, empty collection in `root`, which is made when it is not there.

        Raises
        ------
        CannotBegin
            When `root` already holds other things, or can't be written.
        """
        try:
            root.mkdir(parents=True, exist_ok=True)
            if any(root.iterdir()):
                raise CannotBegin(
                    Sentence("No collection was made in %(root)s", root=root),
                    Sentence("the folder is not empty"),
                    Sentence("Name a new or an empty folder"),
                )
            (root / "README.txt").write_text(_FINDER, encoding="utf-8")
        except OSError as error:
            raise CannotBegin(
                Sentence("No collection was made in %(root)s", root=root),
                error.strerror or str(error),
                Sentence("Check the folder's name, its permissions and the free space"),
            ) from error
        return cls(root, Catalogue.create(root, title=title or root.resolve().name), Vault(root))

    @classmethod
    def open(cls, root: Path) -> Collection:
        """The collection in `root`.

        Raises
        ------
        CannotBegin
            When there is none, or a newer Solander wrote it.
        """
        return cls(root, Catalogue.open(root), Vault(root))

    @property
    def title(self) -> str:
        """What the collection is called."""
        return self.catalogue.setting("title") or self.root.resolve().name

    @property
    def identifier(self) -> str:
        """What no other collection is called; a copy of this one is called the same."""
        return self.catalogue.setting("identifier")

    @property
    def sounds(self) -> Vault:
        """The recordings, kept as captures are."""
        return Vault(self.root, folder="sound")

    @property
    def views_root(self) -> Path:
        """Where views are written."""
        return self.root / "views"

    def close(self) -> None:
        """Nothing is lost when this is never called."""
        self.catalogue.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
