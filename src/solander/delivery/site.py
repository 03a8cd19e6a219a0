"""The family's site: all prints in time order as plain pages that open from disk by a double click.

No server, no network, no script needed: every link is relative and every asset lies beside the pages. The task
that releases writes the picture files; this module names them and writes everything else.

Layout: `index.html`, `people.html`, `places.html`, `about.html`, `README.txt`, `prints/` one page a print,
`pictures/` the pictures, `stories/` what was told, `look/` style sheet, fonts and the script for the arrow keys.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from attrs import evolve, field, frozen, validators
from jinja2 import Environment
from markupsafe import Markup

from solander.core.album import AlbumPage
from solander.core.descriptions import DescribedPrint
from solander.core.people import Person
from solander.core.places import Place
from solander.core.prints import Side, View
from solander.core.treatment_size import done_to
from solander.delivery.embed_words import treatment_sentence
from solander.delivery.stories import SiteStory
from solander.look.album import PageShown, show_page
from solander.look.pages import ONLY_FOR_MAPS, STATIC, environment
from solander.look.ruler import Span, bar_of, ruler_svg, span_of
from solander.look.ruler_figure import ruler_figure
from solander.look.shown import PrintShown, show, stretches
from solander.look.words import side_word

__all__ = [
    "PICTURES",
    "STORIES",
    "SitePicture",
    "page_name",
    "page_picture_name",
    "picture_name",
    "story_name",
    "write_site",
]

PICTURES = "pictures"
"""The folder of the picture files, beside `index.html`."""

STORIES = "stories"
"""The folder of told stories, beside `index.html`."""

_NAME_LIMIT = 40
"""Characters of a date in a file name; a longer one is cut off (Windows allows 260 in a whole path)."""

_PLAIN_NAME = r"[A-Za-z0-9][A-Za-z0-9._/-]*"
ROOMS = (
    ("In time", "index.html"),
    ("People", "people.html"),
    ("Places", "places.html"),
    ("About this", "about.html"),
)


@frozen
class SitePicture:
    """The file of one view and of its small copy, both under `pictures/`; without `small`, `file` serves."""

    file: str = field(validator=validators.matches_re(_PLAIN_NAME))
    small: str = field(default="", validator=validators.matches_re(f"({_PLAIN_NAME})?"))


def story_name(described: DescribedPrint, number: int) -> str:
    """The file of a story, beside the pictures of its print: `0007_B2-E5-0014_story-1.mp3`."""
    return f"{_stem(described, date=False)}_story-{number}.mp3"


def picture_name(described: DescribedPrint, side: Side, *, number: int = 1) -> str:
    """The picture's file name, which sorts in time order: `0007_1958-22_B2-E5-0014_front.jpg`.

    ASCII letters, digits, `-`, `_` and `.` only, so that the name survives any disk, mail or cloud. Details are
    counted by `number`, from 1.
    """
    which = f"detail-{number}" if side is Side.DETAIL else side_word(side)
    return f"{_stem(described, date=True)}_{which}.jpg"


def page_picture_name(page: AlbumPage) -> str:
    """The file of a whole album page below `pictures/`: `pages/B2-A1-P3_5f0c1a2b.jpg`, by its capture's checksum,
    since a page may have been captured more than once."""
    return f"pages/{page.container.replace('/', '-')}_{page.capture[:8]}.jpg"


def page_name(described: DescribedPrint) -> str:
    """The file name of the print's page: `0007_B2-E5-0014.html`."""
    return f"{_stem(described, date=False)}.html"


def _stem(described: DescribedPrint, *, date: bool) -> str:
    parts = [f"{described.order:04d}", described.print.accession]
    if date:
        parts.insert(1, _date_in_name(described.when.edtf))
    return "_".join(parts)


def _date_in_name(edtf: str) -> str:
    """An EDTF value without the signs that file systems refuse: "[1948..1952]" as "1948-to-1952"."""
    words = re.sub(r"\.\.|/", "-to-", edtf).replace(",", "-or-")
    words = re.sub(r"-to-(-or-|-to-)+", "-to-", words)
    plain = re.sub(r"[^A-Za-z0-9-]", "", words)[:_NAME_LIMIT]
    return plain.strip("-") or "undated"


@frozen
class _Addresses:
    """Where a page of the site finds things; `up` leads from its folder to the folder of `index.html`."""

    pictures: Mapping[str, SitePicture]
    up: str = ""

    def page(self, described: DescribedPrint) -> str:
        return f"{self.up}prints/{page_name(described)}"

    def small(self, described: DescribedPrint, view: View) -> str:
        picture = self.pictures[view.key]
        return f"{self.up}{PICTURES}/{picture.small or picture.file}"

    def full(self, described: DescribedPrint, view: View) -> str:
        return f"{self.up}{PICTURES}/{self.pictures[view.key].file}"


def write_site(
    described: Sequence[DescribedPrint],
    pictures: Mapping[str, SitePicture],
    target: Path,
    *,
    title: str,
    made_up: bool = False,
    credit_lines: Sequence[str] = (),
    album_pages: Mapping[str, AlbumPage] | None = None,
    stories: Mapping[str, Sequence[SiteStory]] | None = None,
) -> list[Path]:
    """The files written under `target`, pictures not among them.

    Parameters
    ----------
    described
        The prints that may be shown to the family, in time order.
    pictures
        By `View.key`. A view without a picture is left out.
    target
        A folder, made where missing; files of the same names are replaced.
    title
        The collection's name.
    made_up
        Says on every page that all of it is invented.
    credit_lines
        Sentences for "About this": who made it, whose data helped.
    album_pages
        The page that a print comes from, by its accession number; its picture is at `page_picture_name`.
    stories
        The told stories of a print, by its accession number; their files are below `stories/`.
    """
    always = {"title": title, "made_up": made_up, "credit_lines": credit_lines, "has_stories": bool(stories)}
    site = _Site.of(described, pictures, album_pages or {}, stories or {}, **always)
    written = [*_copy_look(target), _write(target / "README.txt", site.render("README.txt"))]
    written += [
        _write(target / "index.html", site.index()),
        _write(target / "people.html", site.people()),
        _write(target / "places.html", site.places()),
        _write(target / "about.html", site.about()),
    ]
    for position, one in enumerate(site.described):
        written.append(_write(target / "prints" / page_name(one), site.one_print(position)))
    return written


def _write(path: Path, text: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8", newline="\n")
    return path


def _copy_look(target: Path) -> list[Path]:
    """Style sheet, fonts with their licences, icon and script."""
    written = []
    for source in sorted(path for path in STATIC.rglob("*") if path.is_file()):
        inside = source.relative_to(STATIC)
        if inside.parts[0] in ONLY_FOR_MAPS:
            continue
        copy = target / "look" / inside
        copy.parent.mkdir(parents=True, exist_ok=True)
        written.append(Path(shutil.copyfile(source, copy)))
    return written


@frozen
class _Site:
    """All that the pages share."""

    described: Sequence[DescribedPrint]
    pictures: Mapping[str, SitePicture]
    album_pages: Mapping[str, AlbumPage]
    stories: Mapping[str, Sequence[SiteStory]]
    span: Span | None
    pages: Environment
    always: Mapping[str, Any]

    @classmethod
    def of(
        cls,
        described: Sequence[DescribedPrint],
        pictures: Mapping[str, SitePicture],
        album_pages: Mapping[str, AlbumPage],
        stories: Mapping[str, Sequence[SiteStory]],
        **always: Any,
    ) -> _Site:
        seen = [_for_the_family(one, pictures) for one in described]
        span = span_of([bar_of(one) for one in seen])
        example = seen[0] if seen else None
        values = {
            **always,
            "total": len(seen),
            "span": span,
            "example": example.print.accession if example else "B2-E5-0014",
            "example_file": picture_name(example, Side.RECTO) if example else "0007_1958-22_B2-E5-0014_front.jpg",
        }
        return cls(seen, pictures, album_pages, stories, span, environment("solander.delivery"), values)

    def render(self, template: str, *, up: str = "", present: str = "", **values: Any) -> str:
        rooms = [(room, up + href) for room, href in ROOMS]
        shared = {**self.always, "rooms": rooms, "home": f"{up}index.html", "look": f"{up}look"}
        return self.pages.get_template(template).render(present=present, **shared, **values)

    def index(self) -> str:
        parts = stretches(self._shown(self.described))
        links = {part.decade: f"#{part.anchor}" for part in parts if part.decade is not None}
        return self.render("index.html", present="In time", stretches=parts, ruler=self._ruler(links))

    def one_print(self, position: int) -> str:
        one = self.described[position]
        addresses = _Addresses(self.pictures, "../")
        around = [
            show(self.described[at], addresses) if 0 <= at < len(self.described) else None
            for at in (position - 1, position + 1)
        ]
        return self.render(
            "print.html",
            up="../",
            shown=show(one, addresses),
            before=around[0],
            after=around[1],
            ruler=Markup(ruler_svg([bar_of(one)], span=self.span)),
            album_page=self._album_page(one.print.accession),
            stories=self.stories.get(one.print.accession, ()),
            treated=[
                (side_word(view.side), treatment_sentence(done))
                for view in one.print.views
                if (done := done_to(view.treatment, (view.width, view.height))).sentences
            ],
            stories_at=f"../{STORIES}/",
        )

    def _album_page(self, accession: str) -> PageShown | None:
        """The page beside the print, with those of its prints that are in the site."""
        page = self.album_pages.get(accession)
        if page is None:
            return None
        names = {one.print.accession: page_name(one) for one in self.described}
        seen = evolve(page, prints=tuple(one for one in page.prints if one.accession in names))
        return show_page(seen, accession, f"../{PICTURES}/{page_picture_name(page)}", names.__getitem__)

    def people(self) -> str:
        found: dict[Person, list[DescribedPrint]] = {}
        for one in self.described:
            for person in one.people:
                found.setdefault(person.person, []).append(one)
        entries = [
            (person, self._shown(found[person])) for person in sorted(found, key=lambda p: p.name.casefold())
        ]
        return self.render("people.html", present="People", entries=entries)

    def places(self) -> str:
        found: dict[Place, list[DescribedPrint]] = {}
        for one in self.described:
            if one.place:
                found.setdefault(one.place, []).append(one)
        entries = [(place, self._shown(found[place])) for place in sorted(found, key=lambda p: p.name.casefold())]
        return self.render("places.html", present="Places", entries=entries)

    def about(self) -> str:
        return self.render("about.html", present="About this")

    def _shown(self, described: Sequence[DescribedPrint]) -> list[PrintShown]:
        addresses = _Addresses(self.pictures)
        return [show(one, addresses) for one in described]

    def _ruler(self, links: Mapping[int, str]) -> Markup:
        """All prints on the rule of the first page, each leading to its own."""
        bars, addresses = [bar_of(one) for one in self.described], _Addresses(self.pictures)
        hrefs = [addresses.page(one) for one in self.described]
        return Markup(ruler_figure(bars, hrefs, span=self.span, links=links))


def _for_the_family(described: DescribedPrint, pictures: Mapping[str, SitePicture]) -> DescribedPrint:
    """The print with the views that have a picture, and without what waits: questions and unsure edges stay in the
    workbench, where somebody can settle them."""
    views = tuple(
        evolve(view, outline=evolve(view.outline, checked=True))
        for view in described.print.views
        if view.key in pictures
    )
    return evolve(described, print=evolve(described.print, views=views), waits=())
