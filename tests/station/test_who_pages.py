"""Who is meant by a name, asked and answered on the page of questions, with and without a browser."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from named_box import Workbench, named_collection
from page_checks import LOOKS, assert_open_to_everybody, keep_picture, open_page, window
from served import running

from solander.core.questions import Asks
from solander.core.statements import About, Says, Statement, Sure
from solander.station import workbench
from solander.station.app import create_app
from solander.tasks.ask import ask
from solander.tasks.collection import Collection
from solander.tasks.known_people import known_people
from solander.tasks.outlines import Outlines
from solander.tasks.queue import Queue
from solander.tasks.show import Shown
from solander.tasks.who_is_it import WhoDesk, who_sentence

pytestmark = pytest.mark.slow

PRINT = "B2-E5-0001"
SAID = ("Anna Weber", "Aunt Bunty")


@pytest.fixture
def collection(tmp_path: Path) -> Iterator[Collection]:
    """Two Anna Webers, and two names on a slip that are not clear."""
    with named_collection(tmp_path / "box") as made:
        with made.catalogue.act("test", "asked") as act, act.work() as work:
            for said in SAID:
                entered = "2026-01-02T10:00:00Z"
                source = "slip file a.csv"
                work.state(
                    Statement(said, About.PRINT, PRINT, Says.PERSON, said, said, Sure.CERTAIN, source, entered)
                )
                (mention,) = known_people(made.catalogue).read(said)
                ask(work, Asks.WHO, PRINT, who_sentence(mention, PRINT))
            work.commit()
        yield made


@pytest.fixture
def bench(collection: Collection) -> Workbench:
    made = Workbench(collection)
    who = WhoDesk(collection)
    desks = {"outlines": Outlines(collection), "who": who, "queue": Queue(collection, who.sitting)}
    made.app = create_app(workbench.Workbench(Shown(collection), **desks))
    return made


def shown(collection: Collection) -> list[tuple[str, str]]:
    statements = collection.catalogue.statements(subject=PRINT)
    return [(one.words, one.value) for one in statements if one.says is Says.PERSON and one.words in SAID]


def keys(page: str) -> list[str]:
    return list(dict.fromkeys(re.findall(r'action="(/who/[0-9a-f]{16})"', page)))


ASKED = "/questions/one?kind=who"


def waiting(bench: Workbench) -> list[str]:
    """Where each of the two is answered."""
    first = keys(bench.get(ASKED).text)
    bench.post("/questions/later", later=f"who:{first[0].rpartition('/')[2]}", then=ASKED)
    return [*first, *keys(bench.get(ASKED).text)]


def test_the_choices_stand_under_the_question(bench: Workbench) -> None:
    page = bench.get(ASKED).text
    assert "“Anna Weber” on the slip of" in page
    assert page.count("Anna Weber, 1881–1950</button>") == page.count("Anna Weber, 1884–1960</button>") == 1
    assert page.count("Somebody not known before</button>") == 1
    assert len(keys(page)) == 1
    assert "2 wait" in page


def test_an_answer_is_taken_and_taken_back(bench: Workbench, collection: Collection) -> None:
    anna, _ = waiting(bench)
    page = bench.post(anna, who="Anna Weber, 1881–1950", then=ASKED).text
    assert "“Anna Weber” is Anna Weber, 1881–1950" in page
    assert ("Anna Weber", "Anna Weber, 1881–1950") in shown(collection)
    assert anna not in keys(page)
    act = re.search(r'name="act" value="(\d+)"', page)
    assert act
    bench.post("/undo", act=act[1], then="/questions")
    assert ("Anna Weber", "Anna Weber") in shown(collection)


def test_somebody_new_and_a_typed_name(bench: Workbench, collection: Collection) -> None:
    anna, bunty = waiting(bench)
    bench.post(bunty, who="")
    assert collection.catalogue.person("Aunt Bunty")
    bench.post(anna, who="mormor")
    assert ("Anna Weber", "Ingrid Sollihøgda") in shown(collection)


def test_what_does_not_tell_who_is_refused_in_a_sentence(bench: Workbench, collection: Collection) -> None:
    anna, _ = waiting(bench)
    refused = bench.post(anna, who="Weber")
    assert refused.status_code == 422
    assert "t is not clear who that is" in refused.text
    assert bench.post("/who/zz", who="x").status_code == 404
    assert bench.post("/who/" + "0" * 16, who="").status_code == 404
    assert len(shown(collection)) == 2


@pytest.mark.browser
@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_the_question_is_open_to_everybody(chromium: object, bench: Workbench, size: str, scheme: str) -> None:
    with running(bench.app) as home, window(chromium, size, scheme) as page:
        open_page(page, home + ASKED)
        keep_picture(page, f"station-who-{size}-{scheme}")
        assert_open_to_everybody(page, home)


@pytest.mark.browser
def test_one_key_answers(chromium: object, bench: Workbench, collection: Collection) -> None:
    with running(bench.app) as home, window(chromium, "desk") as page:
        open_page(page, home + ASKED)
        page.keyboard.press("2")
        page.wait_for_url("**/questions/one?*done=*")
        page.wait_for_load_state()
        assert "is Anna Weber, 188" in page.content()
    assert ("Anna Weber", "Anna Weber") not in shown(collection)
