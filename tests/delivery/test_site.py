from __future__ import annotations

import re
import sys
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urldefrag

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st

from solander.core.prints import Side
from solander.delivery.site import PICTURES, SitePicture, page_name, picture_name, write_site
from solander.look.pages import MADE_UP

sys.path.insert(0, str(Path(__file__).parents[1] / "look"))

from drawn_box import described_prints, undated

BOX = described_prints()
CREDITS = ("Put together by Kari for the summer of 2026.",)


def all_pictures() -> dict[str, SitePicture]:
    return {view.key: SitePicture(picture_name(one, view.side)) for one in BOX for view in one.print.views}


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    target = tmp_path_factory.mktemp("release") / "family"
    pictures = all_pictures()
    write_site(BOX, pictures, target, title="The Sollihøgda boxes", made_up=True, credit_lines=CREDITS)
    (target / PICTURES).mkdir()
    for picture in pictures.values():
        (target / PICTURES / picture.file).write_bytes(b"a picture")
    return target


class Addresses(HTMLParser):
    """Every address that a page names, and every id that it has."""

    def __init__(self, page: Path) -> None:
        super().__init__()
        self.named: list[str] = []
        self.ids: set[str] = set()
        self.feed(page.read_text(encoding="utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = dict(attrs)
        self.named += [value for name in ("href", "src") if (value := values.get(name))]
        if values.get("id"):
            self.ids.add(str(values["id"]))


def test_every_address_leads_to_a_file_of_the_site_and_a_place_in_it(site):
    pages = {page: Addresses(page) for page in site.rglob("*.html")}
    assert len(pages) == 4 + len(BOX)
    for page, found in pages.items():
        for address in found.named:
            path, place = urldefrag(unquote(address))
            target = (page.parent / path).resolve() if path else page
            assert target.is_relative_to(site.resolve())
            assert target.is_file(), f"{page.name} leads to {address}"
            if place:
                assert place in pages[target].ids, f"{page.name} leads to {address}"


def test_pages_need_no_network_and_no_inline_script(site):
    for page in site.rglob("*.html"):
        text = page.read_text(encoding="utf-8")
        assert not re.findall(r'(?:src|href)="(?:[a-z]+:|/)', text)
        assert not re.findall(r"\sstyle=|\son[a-z]+=|type=\"module\"|fetch\(|<script(?![^>]*src=)", text)


def test_the_index_shows_all_prints_in_time_order_with_a_reason_each(site):
    index = (site / "index.html").read_text(encoding="utf-8")
    assert re.findall(r'<article [^>]*id="([^"]+)"', index) == [one.print.accession for one in BOX]
    assert index.count('<svg width="100%" class="ruler"') == 1
    assert index.count('class="source"') + index.count("Nothing says yet") == sum(
        len(one.when.reasons) or 1 for one in BOX
    )


def test_pages_go_on_to_the_print_before_and_after(site):
    page = (site / "prints" / "0009_B2-E5-0009.html").read_text(encoding="utf-8")
    assert 'rel="prev" href="../prints/0008_B2-E5-0008.html"' in page
    assert 'rel="next" href="../prints/0010_B2-E5-0010.html"' in page


def test_likely_years_and_what_was_left_out_are_told_to_the_family(tmp_path):
    when = evolve(
        BOX[10].when, likely=("1959-01-01", "1960-12-31"), contradicts=("dated “1990”",), overruled=("to 1940",)
    )
    vague = evolve(BOX[10], when=when)
    write_site([vague, undated(BOX[13])], {}, tmp_path, title="Vague")
    page = (tmp_path / "prints" / page_name(vague)).read_text(encoding="utf-8")
    assert "Most likely between 1959 and 1960" in page
    assert "cannot be true as well: dated “1990”" in page
    assert "A rule of thumb says otherwise and gave way: to 1940" in page
    index = (tmp_path / "index.html").read_text(encoding="utf-8")
    assert index.index("Most likely between 1959 and 1960") < index.index("No date yet <small>")
    assert "so it lies at the end" in index


def test_about_tells_how_bars_are_read(site):
    about = (site / "about.html").read_text(encoding="utf-8")
    assert "the darker part of a bar is the likelier time" in about
    assert "hatched, or crossed where it is thin, contradicts" in about


def test_what_waits_stays_at_home(site):
    waiting = [sentence for one in BOX for sentence in one.waits]
    assert waiting
    for page in site.rglob("*.html"):
        text = page.read_text(encoding="utf-8")
        assert not any(sentence in text for sentence in waiting)
        assert "question" not in text
        assert "not checked" not in text


def test_every_page_and_the_readme_say_that_it_is_made_up(site, tmp_path):
    for page in [*site.rglob("*.html"), site / "README.txt"]:
        assert MADE_UP in page.read_text(encoding="utf-8")
    write_site(BOX, {}, tmp_path, title="Real")
    for page in [*tmp_path.rglob("*.html"), tmp_path / "README.txt"]:
        assert MADE_UP not in page.read_text(encoding="utf-8")


def test_living_people_have_no_years(site):
    people = (site / "people.html").read_text(encoding="utf-8")
    assert "1930–1994" in people
    assert "1927" not in people


def test_people_and_places_lead_to_their_prints(site):
    people = (site / "people.html").read_text(encoding="utf-8")
    nils = people.split("<h2>Nils Sollihøgda</h2>")[1].split("<h2>")[0]
    shown = {f"prints/{page_name(one)}" for one in BOX if "Nils" in " ".join(p.person.name for p in one.people)}
    assert set(re.findall(r'href="(prints/[^"]+)"', nils)) == shown
    assert "<h2>Trzcianna pod Wzgórzem</h2>" in (site / "places.html").read_text(encoding="utf-8")


def test_the_readme_names_the_first_step_and_a_real_file(site):
    readme = (site / "README.txt").read_text(encoding="utf-8")
    assert "Double-click index.html" in readme
    assert "0001_1908_B2-E5-0001_front.jpg" in readme
    assert CREDITS[0] in readme
    assert max(len(line) for line in readme.splitlines()) <= 110


def test_pictures_that_are_withheld_are_not_named(tmp_path):
    kept = {key: picture for key, picture in all_pictures().items() if "back" not in picture.file}
    write_site(BOX, kept, tmp_path, title="Fronts")
    for page in tmp_path.rglob("*.html"):
        assert "_back.jpg" not in page.read_text(encoding="utf-8")


def test_small_copies_are_shown_first_and_the_large_ones_by_themselves(tmp_path):
    one = BOX[8]
    view = one.print.views[0]
    write_site([one], {view.key: SitePicture("large.jpg", "small/large.jpg")}, tmp_path, title="One")
    assert 'src="pictures/small/large.jpg"' in (tmp_path / "index.html").read_text(encoding="utf-8")
    assert 'src="../pictures/large.jpg"' in (tmp_path / "prints" / page_name(one)).read_text(encoding="utf-8")


def test_a_site_without_prints_says_so(tmp_path):
    write_site([], {}, tmp_path, title="Nothing")
    assert "No prints here yet" in (tmp_path / "index.html").read_text(encoding="utf-8")


def test_all_that_was_written_is_told(site, tmp_path):
    written = write_site(BOX, all_pictures(), tmp_path, title="Told")
    assert sorted(written) == sorted(path for path in tmp_path.rglob("*") if path.is_file())


@pytest.mark.parametrize(
    ("edtf", "name"),
    [
        ("1958-22", "0009_1958-22_B2-E5-0009_front.jpg"),
        ("[1948..1952]", "0009_1948-to-1952_B2-E5-0009_front.jpg"),
        ("1936-05-31/1939-09-01", "0009_1936-05-31-to-1939-09-01_B2-E5-0009_front.jpg"),
        ("[..1939]", "0009_to-1939_B2-E5-0009_front.jpg"),
        ("1968/..", "0009_1968-to_B2-E5-0009_front.jpg"),
        ("{1958,1960}", "0009_1958-or-1960_B2-E5-0009_front.jpg"),
        ("195X?", "0009_195X_B2-E5-0009_front.jpg"),
        ("", "0009_undated_B2-E5-0009_front.jpg"),
    ],
)
def test_file_names_hold_order_date_number_and_side(edtf: str, name: str):
    one = evolve(BOX[8], when=evolve(BOX[8].when, edtf=edtf))
    assert picture_name(one, Side.RECTO) == name


def test_details_are_counted():
    assert picture_name(BOX[8], Side.DETAIL, number=2) == "0009_1958-22_B2-E5-0009_detail-2.jpg"


@given(st.text(max_size=80))
def test_file_names_survive_any_file_system(edtf: str):
    name = picture_name(evolve(BOX[8], when=evolve(BOX[8].when, edtf=edtf)), Side.VERSO)
    assert re.fullmatch(r"0009_[A-Za-z0-9][A-Za-z0-9-]*_B2-E5-0009_back\.jpg", name)
    assert len(name) <= 80


def test_file_names_sort_in_time_order():
    names = [picture_name(one, Side.RECTO) for one in BOX]
    assert names == sorted(names)


def test_a_picture_file_with_a_dangerous_name_is_refused():
    for name in ("../secret.jpg", "", 'a"b.jpg', "ä.jpg"):
        with pytest.raises(ValueError, match="file"):
            SitePicture(name)
