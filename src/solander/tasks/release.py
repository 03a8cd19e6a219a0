"""Hands over: an archive that can be proven whole, or a site for the family that opens without any program."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path

from attrs import evolve, field, frozen

from solander.core.album import AlbumPage
from solander.core.descriptions import DescribedPrint
from solander.core.errors import CannotBegin, Trouble
from solander.core.faces import Face
from solander.core.prints import Capture, Print, Side, View
from solander.core.sentence import Joined
from solander.core.sounds import SoundKind
from solander.delivery.embed import embed, fields_of, file_identifier, stand_in
from solander.delivery.package import BagItem, finder_readme, whole_or_not_at_all, write_bag, write_manifest
from solander.delivery.site import (
    PICTURES,
    STORIES,
    SitePicture,
    page_picture_name,
    picture_name,
    story_name,
    write_site,
)
from solander.delivery.stories import SiteStory, StoryRow, write_stories
from solander.delivery.tables import Record, Row, row_of, row_of_capture, write_records, write_rows
from solander.intake.sound import mp3_of
from solander.tasks.accounts import AccountTold, account_words, accounts_by_print, all_accounts
from solander.tasks.address_service import service_credit
from solander.tasks.album import Albums
from solander.tasks.coarsen import EXACT, coarsening
from solander.tasks.collection import Collection, Progress, Watch, refuse_inside, unwatched
from solander.tasks.described import described
from solander.tasks.face_regions import faces_by_view, told_faces
from solander.tasks.places import geonames_credit
from solander.tasks.treated import treated_paths, untreated_paths
from solander.tasks.treated_faces import faces_in_treated

__all__ = ["Released", "release"]

AUDIENCES = ("archive", "family", "public")


@frozen
class Released:
    """Where the release lies, how many prints and files are in it."""

    root: Path
    prints: int
    files: int


def release(
    collection: Collection, target: Path, *, audience: str, places: str = EXACT, watch: Watch = unwatched
) -> Released:
    """Writes a release for one audience to `target`, whole or not at all.

    `places` says how exactly a family is told where: "exact", "town", or the width of a grid such as "10km".

    Raises
    ------
    CannotBegin
        When something lies at `target` already, it can't be written, the audience is not served yet, or `places`
        is not understood.
    DamagedSource
        When a capture is not what it was when it was kept.
    """
    refuse_inside(collection.root, target, "The release was not written")
    coarse = coarsening(places)
    if coarse and audience == "archive":
        raise CannotBegin(
            "The release was not written", "an archive keeps places as they are known", "Leave --places out"
        )
    if audience == "archive":
        return _Release(collection, described(collection), watch).archive(target)
    if audience == "family":
        prints = described(collection)
        told = [coarse(one) for one in prints] if coarse else prints
        return _Release(collection, told, watch).family(target)
    raise CannotBegin(
        "No public release was made",
        "this version can't yet tell who in the prints may still be living, and they must be asked first",
        "Make a family release, and share from it only what those shown agree to",
    )


_Files = tuple[Path, Path]
"""The picture of a view, and the small one."""


@frozen
class _Release:
    collection: Collection
    described: Sequence[DescribedPrint]
    watch: Watch
    _faces: Mapping[str, Sequence[Face]] = field(init=False)

    @_faces.default
    def _faces_by_view(self) -> Mapping[str, Sequence[Face]]:
        return faces_by_view(self.collection)

    def archive(self, target: Path) -> Released:
        """A BagIt bag: captures to the bit, untreated views, a table, every statement, a letter to the finder."""
        made_on = datetime.now(UTC).date().isoformat()
        info = {"External-Description": f"Photographs: {self.collection.title}", "Bagging-Date": made_on}
        manifest = write_bag(target, self._archive_items(made_on), info=info)
        return Released(target, len(self.described), manifest.files)

    def _archive_items(self, made_on: str) -> Iterator[BagItem]:
        captures, whole = self.collection.catalogue.captures(), self._whole_pages()
        for capture in captures:
            yield BagItem(self._capture_path(capture), self._capture_file(capture), capture.sha256)
        by_sha256 = {capture.sha256: capture for capture in captures}
        rows = [self._capture_row(capture, whole.get(capture.sha256, "")) for capture in captures]
        for done, (one, view) in enumerate(self._pictures(), start=1):
            number = one.print.number_of(view)
            name = f"views/{file_identifier(one.print.accession, view.side, number)}.jpg"
            yield BagItem(name, self._archive_copy(one, view, by_sha256[view.capture]))
            rows.append(row_of(one, view.side, filename=name, view=view))
            self._tell(done, one)
        accounts = all_accounts(self.collection)
        for account in accounts:
            yield BagItem(self._sound_path(account), self.collection.sounds.path(account.sha256), account.sha256)
        if accounts:
            yield BagItem("stories.csv", write_stories(self._story_rows(accounts)))
        yield BagItem("prints.csv", write_rows(rows))
        yield BagItem("statements.jsonl", b"".join(write_records(self._records(captures))))
        yield BagItem("README.txt", self._letter(made_on, len(captures), len(accounts)).encode())

    def _sound_path(self, account: AccountTold) -> str:
        return self.collection.sounds.relative(self.collection.sounds.path(account.sha256))

    def _story_rows(self, accounts: Sequence[AccountTold]) -> Iterator[StoryRow]:
        for one in accounts:
            by = one.heard_by if one.is_checked or not one.heard else f"{one.heard_by}, not checked by anybody"
            names = self._sound_path(one), one.begun, one.length, one.prints
            yield StoryRow(*names, teller=one.teller, said=one.heard, said_by=by)

    def _letter(self, made_on: str, captures: int, stories: int) -> str:
        made_up = "Everything in it is made up: the place, the families, the dates." if self._is_made_up else ""
        return finder_readme(
            title=self.collection.title,
            made_on=made_on,
            prints=len(self.described),
            captures=captures,
            stories=stories,
            about=" ".join(filter(None, [made_up, self._credits])),
        )

    def _capture_row(self, capture: Capture, whole_page: str) -> Row:
        prints = self.collection.catalogue.prints_of_capture(capture.sha256)
        return row_of_capture(
            capture,
            filename=self._capture_path(capture),
            accessions=[one.accession for one in prints],
            whole_page=whole_page,
        )

    def _records(self, captures: Sequence[Capture]) -> Iterator[Record]:
        catalogue = self.collection.catalogue
        yield from catalogue.containers()
        yield from captures
        yield from catalogue.prints()
        yield from catalogue.people()
        yield from (one for said in catalogue.said_of_people(withdrawn=True).values() for one in said)
        yield from catalogue.kin()
        yield from catalogue.places()
        yield from catalogue.occasions()
        yield from catalogue.statements(withdrawn=True)
        yield from catalogue.questions(settled=True)
        yield from catalogue.sounds(SoundKind.ACCOUNT)

    def family(self, target: Path) -> Released:
        """A site that opens from disk; its pictures sort in time order by name and by date."""
        by_sha256 = {capture.sha256: capture for capture in self.collection.catalogue.captures()}
        with whole_or_not_at_all(target) as root:
            pictures = {}
            for done, (one, view) in enumerate(self._pictures(), start=1):
                pictures[view.key] = self._family_copy(root, one, view, by_sha256[view.capture])
                self._tell(done, one)
            album_pages = self._album_pages(root)
            write_site(
                self.described,
                pictures,
                root,
                title=self.collection.title,
                made_up=self._is_made_up,
                credit_lines=[line for line in self._credits.splitlines() if line],
                album_pages=album_pages,
                stories=self._stories(root),
            )
            manifest = write_manifest(root)
        return Released(target, len(self.described), manifest.files)

    def _stories(self, root: Path) -> dict[str, list[SiteStory]]:
        """The told stories of each print; their files are written below `root`, each once."""
        told = accounts_by_print(all_accounts(self.collection))
        written: dict[str, SiteStory] = {}
        found: dict[str, list[SiteStory]] = {}
        for one in self.described:
            for number, account in enumerate(told.get(one.print.accession, ()), start=1):
                if account.sha256 not in written:
                    name = story_name(one, number)
                    target = root / STORIES / name
                    target.parent.mkdir(parents=True, exist_ok=True)
                    target.write_bytes(mp3_of(self.collection.sounds.path(account.sha256)))
                    told_by = account_words(account)
                    written[account.sha256] = SiteStory(name, told_by, account.heard, account.is_checked)
                found.setdefault(one.print.accession, []).append(written[account.sha256])
        return found

    def _album_pages(self, root: Path) -> dict[str, AlbumPage]:
        """The album page of each print that has one; their pictures are written below `root`."""
        albums, whole = Albums(self.collection), self._whole_pages()
        found = {}
        for one in self.described:
            page = albums.page(one.print.accession) if one.print.container in whole.values() else None
            if page is not None:
                found[one.print.accession] = page
                target = root / PICTURES / page_picture_name(page)
                if not target.is_file():
                    target.parent.mkdir(parents=True, exist_ok=True)
                    target.write_bytes(albums.picture(page.capture, page.turn).read_bytes())
        return found

    def _whole_pages(self) -> dict[str, str]:
        """The container that a capture shows whole, by the capture's checksum."""
        containers = self.collection.catalogue.containers()
        return {sha256: container.code for container in containers for sha256 in container.captures}

    def _family_copy(self, root: Path, one: DescribedPrint, view: View, capture: Capture) -> SitePicture:
        name = picture_name(one, view.side, number=one.print.number_of(view))
        # Files for the family travel on: who said what in which file stays in the archive.
        told = evolve(one, statements=())
        fields = fields_of(
            told,
            view.side,
            view=view,
            capture=capture,
            sortable=stand_in(one),
            collection=self.collection.title,
            treatment=view.treatment,
            faces=faces_in_treated(told_faces(self._faces, one, view, audience="family"), view),
        )
        large, small = self._files(one, view, treated_paths)
        picture = SitePicture(name, f"small/{name}")
        for path, content in (
            (picture.file, embed(large.read_bytes(), fields)),
            (picture.small, small.read_bytes()),
        ):
            target = root / PICTURES / path
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(content)
        return picture

    def _archive_copy(self, one: DescribedPrint, view: View, capture: Capture) -> bytes:
        fields = fields_of(
            one,
            view.side,
            view=view,
            capture=capture,
            capture_path=self._capture_path(capture),
            collection=self.collection.title,
            faces=told_faces(self._faces, one, view, audience="archive"),
        )
        return embed(self._files(one, view, untreated_paths)[0].read_bytes(), fields)

    def _files(self, one: DescribedPrint, view: View, paths: Callable[[Collection, View], _Files]) -> _Files:
        """The files of a view; what can't be made is told of its print, of thousands."""
        try:
            return paths(self.collection, view)
        except CannotBegin:
            raise
        except Trouble as trouble:
            what = Joined([one.print.accession, trouble.what], ": ")
            raise Trouble(what, trouble.why, trouble.todo) from trouble

    def _pictures(self) -> Iterator[tuple[DescribedPrint, View]]:
        for one in self.described:
            for view in _shown_of(one.print):
                yield one, view

    def _capture_file(self, capture: Capture) -> Path:
        return self.collection.vault.path(capture.sha256)

    def _capture_path(self, capture: Capture) -> str:
        return self.collection.vault.relative(self._capture_file(capture))

    @property
    def _credits(self) -> str:
        there = [one.place for one in self.described if one.place]
        catalogue = self.collection.catalogue
        lines = catalogue.setting("credits"), geonames_credit(there), service_credit(catalogue, there)
        return "\n".join(filter(None, lines))

    @property
    def _is_made_up(self) -> bool:
        return bool(self.collection.catalogue.setting("made_up"))

    def _tell(self, done: int, one: DescribedPrint) -> None:
        total = sum(len(_shown_of(each.print)) for each in self.described)
        self.watch(Progress("Writing the release", one.print.accession, done, total))


def _shown_of(print_: Print) -> list[View]:
    """The pictures of a print that are handed over: one of each side, and every detail."""
    sides = [view for side in (Side.RECTO, Side.VERSO) if (view := print_.view(side))]
    return sides + [view for view in print_.views if view.side is Side.DETAIL]
