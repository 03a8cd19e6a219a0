from __future__ import annotations

import html
import json
import re

import pytest
from named_box import LONG, opened

from solander.core.statements import Says
from solander.tasks.show import Shown

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def bench(tmp_path_factory):
    """For reading only."""
    root = tmp_path_factory.mktemp("named")
    with pytest.MonkeyPatch.context() as patch, opened(root / "box") as workbench:
        patch.setenv("SOLANDER_GAZETTEER", str(root / "none.db"))
        yield workbench


@pytest.fixture
def fresh(tmp_path, monkeypatch):
    """For changes."""
    monkeypatch.setenv("SOLANDER_GAZETTEER", str(tmp_path / "none.db"))
    with opened(tmp_path / "box") as workbench:
        yield workbench


@pytest.fixture
def empty(tmp_path, monkeypatch):
    monkeypatch.setenv("SOLANDER_GAZETTEER", str(tmp_path / "none.db"))
    with opened(tmp_path / "box", empty=True) as workbench:
        yield workbench


def plain(html: str) -> str:
    """The words of a page."""
    body = html.partition("<main")[2]
    return " ".join(re.sub(r"<[^>]+>", " ", re.sub(r"<svg.*?</svg>", "", body, flags=re.DOTALL)).split())


PAGES = ["/people", "/people?everybody=true", "/people?said=ing", "/person/Ingrid%20Sollih%C3%B8gda", "/places",
         "/place/Vessholm", "/place/the%20far%20farm", "/place/Vessholm/where", "/place/the%20far%20farm/where",
         "/map", "/map?from=1930&to=1940", "/first-words"]  # fmt: skip


@pytest.mark.parametrize("path", PAGES)
def test_pages_answer_and_have_nothing_that_their_policy_forbids(bench, path):
    answer = bench.get(path)
    assert answer.status_code == 200
    assert not re.findall(r"<style|\sstyle=|\son[a-z]+=|<script(?![^>]*src=)", answer.text)
    assert not re.findall(r'(?:src|href)="(?:https?:)?//', answer.text)
    assert 'aria-current="page">Names & places' in html.unescape(answer.text)


@pytest.mark.parametrize("path", [*PAGES, "/hand-over"])
def test_no_page_of_names_and_none_to_hand_over_from_reads_all_prints(bench, path, monkeypatch):
    """With 100,000 of them that took 26 s."""
    monkeypatch.setattr(Shown, "described", lambda _: pytest.fail("all prints were read"))
    assert bench.get(path).status_code == 200


def test_people_are_told_with_life_names_prints_years_and_kin(bench):
    told = plain(bench.get("/people").text)
    assert "Ingrid Sollihøgda daughter of Olav Sollihøgda and Signe Sollihøgda born 1927 Mormor" in told
    assert "6 prints 1931 to 1959" in told
    assert "Nils Sollihøgda son of Olav Sollihøgda and Signe Sollihøgda 1930–1994" in told
    assert LONG in told
    assert "Anna Weber" not in told
    assert "Anna Weber, 1881–1950" in plain(bench.get("/people?everybody=true").text)


@pytest.mark.parametrize(
    ("said", "first"),
    [("ingrid", "Ingrid"), ("mormor", "Ingrid"), ("signe dahl", "Signe"), ("wawrzek", LONG), ("BRZECZYSZ", LONG)],
)
def test_people_are_found_by_any_name_and_its_beginning(bench, said, first):
    found = re.search(r'<th scope="row"><a href="[^"]+">([^<]+)', bench.get(f"/people?said={said}").text)
    assert found
    assert found.group(1).startswith(first)


def test_nobody_found_is_told_and_offered_to_be_added(bench):
    page = bench.get("/people?said=Xyzzyx").text
    assert "Nobody is called like “Xyzzyx”" in page
    assert 'name="name" required autocomplete="off" value="Xyzzyx"' in page


def test_a_person_is_told_with_ages_and_family(bench):
    told = plain(bench.get("/person/Ingrid%20Sollih%C3%B8gda").text)
    assert "at 31" in told  # summer 1958, born 2 April 1927
    assert "at 3 or 4" in told  # in 1931
    assert "Parents Olav Sollihøgda , Signe Sollihøgda" in told
    assert "Brothers and sisters Nils Sollihøgda" in told


def _alike(bench) -> str:
    return plain(bench.get("/person/Anna%20Weber,%201881–1950").text)


@pytest.mark.slow
def test_two_who_are_called_the_same_and_may_have_been_one_are_asked_about(fresh):
    assert "one person?" not in _alike(fresh)  # 1950 and 1960: two deaths
    other = "/person/Anna%20Weber,%201884–1960"
    fresh.post(f"{other}/date", says="died", date="between 1950 and 1960", sure="certain")
    assert "one person? Both are called Anna Weber, both born 1881" in _alike(fresh)
    fresh.post("/person/Anna%20Weber,%201881–1950/two", other="Anna Weber, 1884–1960")
    assert "one person?" not in _alike(fresh)


@pytest.mark.slow
def test_two_who_are_one_are_joined_by_a_person_and_parted_by_undo(fresh):
    other = "/person/Anna%20Weber,%201884–1960"
    fresh.post(f"{other}/date", says="died", date="between 1950 and 1960", sure="certain")
    page = fresh.post("/person/Anna%20Weber,%201881–1950/join", other="Anna Weber, 1884–1960").text
    assert fresh.get(other).status_code == 404
    act = re.search(r'name="act" value="(\d+)"', page).group(1)
    fresh.post("/undo", act=act, then="/people")
    assert fresh.get(other).status_code == 200


def test_an_unknown_person_or_place_is_told_in_a_sentence(bench):
    assert "Nobody is called “Nobody At All”" in bench.get("/person/Nobody%20At%20All").text
    assert bench.get("/person/Nobody%20At%20All").status_code == 404
    assert "No place is called “Nowhere”" in bench.get("/place/Nowhere").text


@pytest.mark.slow
def test_a_name_is_added_with_who_says_so_and_can_be_taken_back(fresh):
    path = "/person/Nils%20Sollih%C3%B8gda"
    page = fresh.post(f"{path}/call", called="Nisse", kind="nickname", sure="likely", source="Ingrid").text
    assert "Nickname: Nisse" in plain(page)
    assert "Ingrid, likely" in plain(page)
    assert "Done: Nils Sollihøgda is also called Nisse" in plain(page)
    assert "Nisse" in plain(fresh.get("/people?said=nisse").text)
    act = re.search(r'name="act" value="(\d+)"', page).group(1)
    fresh.post("/undo", act=act, then=path)
    assert "Nisse" not in plain(fresh.get(path).text)


@pytest.mark.slow
def test_a_date_is_added_beside_the_earlier_one_and_the_surest_counts(fresh):
    path = "/person/Nils%20Sollih%C3%B8gda"
    fresh.post(f"{path}/date", says="born", date="about 1931", sure="guess", source="a letter")
    catalogue = fresh.collection.catalogue
    assert catalogue.person("Nils Sollihøgda").born == "1930"
    page = fresh.post(f"{path}/date", says="born", date="3 March 1932", sure="certain", source="church book").text
    assert catalogue.person("Nils Sollihøgda").born == "1932-03-03"
    said = [one.words for one in catalogue.said_of_person("Nils Sollihøgda") if one.says is Says.BORN]
    assert said == ["1930", "about 1931", "3 March 1932"]
    ident = re.findall(r'name="id" value="([^"]+)"', page)[-1]
    fresh.post(f"{path}/withdraw", id=ident)
    assert catalogue.person("Nils Sollihøgda").born == "1930"


@pytest.mark.slow
@pytest.mark.parametrize("said", ["the day before never", ""])
def test_a_date_that_is_not_understood_changes_nothing_and_says_so(fresh, said):
    answer = fresh.post("/person/Nils%20Sollih%C3%B8gda/date", says="born", date=said, sure="certain")
    assert answer.status_code == 400 or answer.status_code == 422
    assert "was not understood" in answer.text
    assert fresh.collection.catalogue.person("Nils Sollihøgda").born == "1930"


@pytest.mark.slow
def test_a_life_that_would_end_before_it_begins_is_refused(fresh):
    answer = fresh.post("/person/Nils%20Sollih%C3%B8gda/date", says="died", date="1920", sure="certain")
    assert "ends before it begins" in answer.text
    assert fresh.collection.catalogue.person("Nils Sollihøgda").died == "1994"


def test_places_are_told_with_names_then_and_now_size_prints_and_years(bench):
    told = plain(bench.get("/places").text)
    assert "Vessholm within 9 km 4 prints 1931 to 1958" in told
    assert "Trzcianna pod Wzgórzem Rohrbach (until 1945) within 4 km 1 print 1908" in told
    assert "the far farm where is it? 1 print 1959" in told


@pytest.mark.parametrize(
    ("said", "found"), [("rohr", "Trzcianna"), ("vess", "Vessholm"), ("wzgorzem", "Trzcianna")]
)
def test_places_are_found_by_names_then_and_now(bench, said, found):
    assert found in re.search(r'<th scope="row"><a[^>]+>([^<]+)', bench.get(f"/places?said={said}").text).group(1)


def test_the_map_and_its_table_say_the_same(bench):
    page = bench.get("/map").text
    rows = re.findall(
        r'<tr data-place-row="(\d+)">.*?<a href="([^"]+)">([^<]+)</a>.*?data-prints>([^<]+)', page, re.DOTALL
    )
    data = re.search(r"data-map='([^']*)'", page).group(1)
    assert [name for _, _, name, _ in rows] == ["the boathouse", "Trzcianna pod Wzgórzem", "Vessholm"]
    for row, href, name, prints in rows:
        assert f'["{name}","{href}"' in data.split('],["')[int(row)] or name in data
        assert prints == {"Vessholm": "4 prints"}.get(name, "1 print")
    assert "1 print has no place yet" in page
    assert 'href="/place/the%20far%20farm/where">where is it?' in page


def test_the_table_of_many_places_has_pages_and_the_map_has_all(bench, monkeypatch):
    monkeypatch.setattr("solander.station.places.LINES_ON_A_PAGE", 2)
    first = bench.get("/map").text
    assert first.count("<tr data-place-row=") == 2
    assert len(re.search(r"data-map='([^']*)'", first).group(1).split('],["')) == 3
    onward = re.search(r'rel="next" href="([^"]+)"', first).group(1).replace("&amp;", "&")
    second = bench.get(onward).text
    assert "Vessholm" in second
    assert "where is it?" in second
    assert 'rel="next"' not in second


def test_years_leave_out_of_the_table_what_lies_outside_without_script(bench):
    told = plain(bench.get("/map?from=1930&to=1940").text)
    assert "Vessholm 60.40° N, 5.30° E within 9 km 2 prints" in told
    assert "boathouse" not in told
    assert "no place yet" not in told


@pytest.mark.slow
def test_a_new_place_is_named_laid_and_called(fresh):
    page = fresh.post("/places/new", name="  the   mill ")
    assert page.url.path == "/place/the mill/where"
    fresh.post(
        "/place/the%20mill/where", position="geo:60.3901,5.3221;u=45", latitude="", longitude="", radius="30 m"
    )
    place = next(one for one in fresh.collection.catalogue.places() if one.name == "the mill")
    assert (place.latitude, place.longitude, place.radius_m) == (60.3901, 5.3221, 45.0)
    page = fresh.post("/place/the%20mill/call", called="Mølla", years="1924 to 1991").text
    assert "Mølla 1924 to 1991" in plain(page)
    page = fresh.post("/place/the%20mill/uncall", called="Mølla").text
    assert "Mølla 1924" not in plain(page)


@pytest.mark.slow
def taken_back(bench, answer):
    """The page that follows when what was just done is taken back."""
    act, then = (re.search(rf'name="{name}" value="([^"]+)"', answer.text).group(1) for name in ("act", "then"))
    return bench.post("/undo", act=act, then=then)


def test_taking_back_who_or_what_was_added_leads_to_the_list(fresh):
    added = fresh.post("/people/new", name="Somebody New")
    assert "Done: added Somebody New." in plain(added.text)
    back = taken_back(fresh, added)
    assert (back.status_code, back.url.path) == (200, "/people")
    placed = fresh.post("/places/new", name="the mill")
    assert "Done: added the place the mill." in plain(placed.text)
    back = taken_back(fresh, placed)
    assert (back.status_code, back.url.path) == (200, "/places")
    assert "the mill" not in plain(back.text)


def test_a_country_is_told_by_its_name(bench):
    assert "Vessholm Norway · 4 prints" in plain(bench.get("/place/Vessholm").text)


def test_first_words_say_that_nobody_is_known_only_where_that_is_so(bench, empty):
    assert "Solander knows nobody yet" in empty.get("/first-words").text
    assert "Solander knows nobody yet" not in bench.get("/first-words").text


@pytest.mark.parametrize(
    ("fields", "why"),
    [
        ({"latitude": "91", "longitude": "5", "radius": "30 m"}, "lies nowhere on earth"),
        ({"latitude": "", "longitude": "", "radius": "30 m"}, "was not understood as a position"),
        ({"latitude": "60", "longitude": "5", "radius": "a mile"}, "is no radius"),
        ({"latitude": "60", "longitude": "5", "radius": "0 m"}, "is no radius of a place"),
    ],
)
def test_a_circle_that_can_not_be_is_refused_with_what_to_do(fresh, fields, why):
    answer = fresh.post("/place/Vessholm/where", **fields)
    assert answer.status_code >= 400
    assert why in answer.text
    assert next(one for one in fresh.collection.catalogue.places() if one.name == "Vessholm").latitude == 60.4


@pytest.mark.slow
def test_an_empty_collection_asks_first_and_only_once(empty):
    assert empty.get("/").url.path == "/first-words"
    assert empty.post("/first-words", **{"pass": "1"}).url.path == "/"
    assert "The table is empty" in empty.get("/").text


@pytest.mark.slow
def test_first_words_are_understood_kept_and_changed(empty):
    answers = {"whose": "Ingrid Sollihøgda", "where": "Vessholm\nthe far farm", "years": "1890 to 1975"}
    tried = plain(empty.post("/first-words", look="1", **answers).text)
    assert "Between 1890 and 1975" in tried
    assert not empty.collection.catalogue.people()
    page = empty.post("/first-words", **answers).text
    assert "What you said first" in page
    kept = empty.names.first_words
    assert (kept.teller, kept.homes, kept.years) == (
        "Ingrid Sollihøgda",
        ("Vessholm", "the far farm"),
        "[1890..1975]",
    )
    assert [one.name for one in empty.collection.catalogue.people()] == ["Ingrid Sollihøgda"]
    assert "home" in plain(empty.get("/places").text)
    empty.post("/first-words", whose="", where="", years="")
    assert empty.names.first_words.is_empty
    assert [one.name for one in empty.collection.catalogue.people()] == ["Ingrid Sollihøgda"]


@pytest.mark.slow
def test_years_that_are_not_understood_are_said_to_be_and_nothing_is_kept(empty):
    page = empty.post("/first-words", whose="Ingrid", where="", years="when the cows came home").text
    assert "was not understood as years" in page
    assert 'value="Ingrid"' in page
    assert not empty.collection.catalogue.people()


@pytest.mark.parametrize(
    ("kind", "said", "told"),
    [
        ("date", "summer 58", "summer 1958"),
        ("date", "blurb", "Not understood as a date"),
        ("years", "the twenties to the sixties", "Between 1920 and 1969"),
        ("person", "Mormor", "Ingrid Sollihøgda, born 1927"),
        ("person", "Somebody Else", "new: will be added"),
        ("places", "Vessholm; the mill", "a place of this collection"),
    ],
)
def test_what_is_typed_is_understood_at_once(bench, kind, said, told):
    answer = bench.get(f"/understood/{kind}?said={said}")
    assert told in answer.text


def test_what_is_typed_is_escaped(bench):
    page = bench.get("/understood/person?said=<script>alert(1)</script>").text
    assert "<script" not in page
    assert "&lt;script&gt;" in page


TREE = """0 HEAD
1 GEDC
2 VERS 5.5.1
2 FORM LINEAGE-LINKED
1 CHAR UTF-8
0 @I1@ INDI
1 NAME Ragnhild /Sollihøgda/
1 SEX F
1 BIRT
2 DATE 3 MAR 1931
0 @I2@ INDI
1 NAME Tor /Sollihøgda/
1 SEX M
0 @F1@ FAM
1 WIFE @I1@
1 CHIL @I2@
0 TRLR
"""


@pytest.mark.slow
def test_a_family_tree_is_shown_first_then_taken_in_and_again_changes_nothing(fresh):
    shown = fresh.send_file("/take-in", "C:\\trees\\family.ged", TREE.encode(), of="people", path="")
    told = plain(shown.text)
    assert "What is in family.ged new: 2" in told
    assert "1 family tie" in told
    assert "Ragnhild Sollihøgda" in told
    assert fresh.collection.catalogue.person("Ragnhild Sollihøgda") is None
    done = fresh.post(shown.url.path)
    assert "family.ged was taken in" in plain(done.text)
    assert fresh.collection.catalogue.person("Ragnhild Sollihøgda").born == "1931-03-03"
    assert "mother of Tor Sollihøgda" in plain(fresh.get("/people?everybody=true").text)
    again = fresh.send_file("/take-in", "family.ged", TREE.encode(), of="people", path="")
    assert "there is nothing to take in" in again.text
    act = re.search(r'name="act" value="(\d+)"', done.text).group(1)
    fresh.post("/undo", act=act, then="/people")
    assert fresh.collection.catalogue.person("Ragnhild Sollihøgda") is None


@pytest.mark.slow
def test_places_are_taken_in_by_path(fresh, tmp_path):
    drawing = {
        "type": "FeatureCollection",
        "features": [
            {
                "type": "Feature",
                "properties": {"name": "the mill"},
                "geometry": {"type": "Point", "coordinates": [5.3221, 60.3901]},
            }
        ],
    }
    path = tmp_path / "places.geojson"
    path.write_text(json.dumps(drawing), encoding="utf-8")
    shown = fresh.post("/take-in", path=str(path), of="people")
    assert "new: 1" in plain(shown.text)
    fresh.post(shown.url.path)
    mill = next(one for one in fresh.collection.catalogue.places() if one.name == "the mill")
    assert (mill.latitude, mill.longitude) == (60.3901, 5.3221)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("fields", "why"),
    [({"path": ""}, "no file was chosen"), ({"path": "/nowhere/x.ged"}, "there is no such file")],
)
def test_a_file_that_is_not_there_is_told(fresh, fields, why):
    answer = fresh.post("/take-in", of="people", **fields)
    assert answer.status_code >= 400
    assert why in answer.text.lower()
    assert fresh.get("/take-in/0000").status_code == 404
