"""A contact sheet: every treated print of a container before and after, with what was done, as a PDF."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

from attrs import define, field

from solander.core.errors import CannotBegin, NotFound, Trouble
from solander.core.language import _, _n, language, told
from solander.core.prints import Print, Side, View
from solander.core.sentence import Sentence
from solander.core.treatment_size import done_to
from solander.tasks.collection import Collection, Progress, Watch, unwatched
from solander.tasks.treated import treated_paths, untreated_paths

if TYPE_CHECKING:
    from solander.delivery.contact_sheet import Pair

__all__ = ["ContactSheetOf", "write_sheet_of_treated"]


@define
class ContactSheetOf:
    """The treated prints of a container and all within it, or of the whole collection (None).

    Raises
    ------
    NotFound
        When there is no such container.
    CannotBegin
        When none of its prints is treated.
    """

    collection: Collection
    container: str | None = None
    set_aside: list[str] = field(factory=list, init=False)
    """What could not be shown, a sentence each."""
    prints: list[Print] = field(init=False)
    treated: list[tuple[Print, View]] = field(init=False)

    def __attrs_post_init__(self) -> None:
        catalogue = self.collection.catalogue
        if self.container and catalogue.container(self.container) is None:
            raise NotFound(Sentence("There is no container %(code)s", code=self.container))
        self.prints = [one for one in catalogue.prints() if _is_within(one.container, self.container)]
        self.treated = [(one, view) for one in self.prints for view in one.views if view.treatment.key]
        if not self.treated:
            raise CannotBegin(
                Sentence("There is no contact sheet of %(name)s", name=self.name),
                Sentence("none of its prints is treated"),
                Sentence("Treat some, then ask for it again"),
            )

    @property
    def name(self) -> str:
        """What it is a sheet of: the container with its title, or the collection."""
        container = self.collection.catalogue.container(self.container) if self.container else None
        if container is None:
            return self.collection.title
        return f"{container.code} · {container.title}" if container.title else container.code

    def write(self, file: BinaryIO, *, watch: Watch = unwatched) -> None:
        """Writes the sheet as a PDF in the reader's language; makes treated pictures where they are missing."""
        # Loaded only when it is needed: drawing takes a tenth of a second to load.
        from solander.delivery.contact_sheet import ContactSheet, write_contact_sheet

        many = len({one.accession for one, _view in self.treated})
        above = _n(
            "%(num)s of %(total)s prints is treated. The captures are as they were taken.",
            "%(num)s of %(total)s prints are treated. The captures are as they were taken.",
            many,
            total=len(self.prints),
        )
        sheet = ContactSheet(
            title=_("%(what)s: untreated and treated", what=self.name),
            above=above,
            heads=(_("Untreated"), _("Treated")),
            pairs=self._pairs(watch),
            language=language().code,
        )
        write_contact_sheet(file, sheet)

    def _pairs(self, watch: Watch) -> Iterator[Pair]:
        from solander.delivery.contact_sheet import Pair

        for done, (one, view) in enumerate(self.treated, start=1):
            watch(Progress("Drawing the contact sheet", one.accession, done, len(self.treated)))
            try:
                before, after = untreated_paths(self.collection, view)[1], treated_paths(self.collection, view)[1]
            except Trouble as trouble:
                self.set_aside.append(f"{one.accession}: {trouble.sentence}")
                continue
            steps = tuple(
                told(sentence) for sentence in done_to(view.treatment, (view.width, view.height)).sentences
            )
            yield Pair(_called(one, view), before, after, steps)


def write_sheet_of_treated(sheet: ContactSheetOf, target: Path, *, watch: Watch = unwatched) -> None:
    """Writes the sheet to a file that is not there yet; nothing is left of it when that fails.

    Raises
    ------
    CannotBegin
        When something lies at `target` already, or it can't be written.
    """
    what = Sentence("The contact sheet was not written to %(file)s", file=target)
    try:
        file = target.open("xb")
    except FileExistsError as error:
        raise CannotBegin(what, Sentence("something is there already"), Sentence("Give another name")) from error
    except OSError as error:
        raise _unwritten(what, error) from error
    try:
        with file:
            sheet.write(file, watch=watch)
    except OSError as error:
        target.unlink(missing_ok=True)
        raise _unwritten(what, error) from error
    except BaseException:
        target.unlink(missing_ok=True)
        raise


def _unwritten(what: Sentence, error: OSError) -> CannotBegin:
    why = (error.strerror or str(error)).lower()
    return CannotBegin(what, why, Sentence("Check the folder's name and that you may write there"))


def _is_within(code: str | None, container: str | None) -> bool:
    return container is None or (code is not None and (code == container or code.startswith(f"{container}/")))


def _called(one: Print, view: View) -> str:
    if view.side is Side.RECTO:
        return one.accession
    if view.side is Side.VERSO:
        return _("The back of %(print)s", print=one.accession)
    return _("%(print)s, detail %(number)s", print=one.accession, number=one.number_of(view))
