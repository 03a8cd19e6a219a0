"""Every record comes back as it went."""

from __future__ import annotations

import made_records as made
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.core.occasions import Occasion
from solander.core.people import Person
from solander.core.places import Place
from solander.core.prints import Capture, Container, Print
from solander.core.questions import Question
from solander.core.statements import Statement

pytestmark = pytest.mark.slow

few = settings(max_examples=25, deadline=None)


def unique(records: st.SearchStrategy[object], key: str) -> st.SearchStrategy[list[object]]:
    return st.lists(records, max_size=4, unique_by=lambda record: getattr(record, key))


@few
@given(unique(made.captures, "sha256"))
def test_captures(captures: list[Capture]) -> None:
    with made.empty_catalogue() as catalogue:
        with catalogue.act("Ada", "took in") as act, act.work() as work:
            for capture in captures:
                work.keep_capture(capture)
                work.keep_arrival(f"box/{capture.name}", capture.sha256)
            work.commit()
        assert catalogue.captures() == captures
        for capture in captures:
            assert catalogue.capture(capture.sha256) == capture
            assert catalogue.names_of(capture.sha256) == [f"box/{capture.name}"]
            assert capture.sha256 in catalogue.arrived_as(f"box/{capture.name}")


@few
@given(made.prints)
def test_prints_and_views(print_: Print) -> None:
    with made.empty_catalogue() as catalogue:
        with catalogue.act("Ada", "took in") as act, act.work() as work:
            for view in print_.views:
                work.keep_capture(Capture(view.capture, "a", "image/png", 1, 1, 1))
            work.add_print(print_)
            work.commit()
        assert catalogue.prints() == [print_]
        assert catalogue.print(print_.accession) == print_
        for view in print_.views:
            assert catalogue.prints_of_capture(view.capture) == [print_]
            assert (print_.accession, view) in catalogue.views_of_capture(view.capture)


@few
@given(
    unique(made.containers, "code"),
    unique(made.people, "name"),
    unique(made.places, "name"),
    unique(made.occasions, "name"),
)
def test_containers_people_places_occasions(
    containers: list[Container], people: list[Person], places: list[Place], occasions: list[Occasion]
) -> None:
    with made.empty_catalogue() as catalogue:
        with catalogue.act("Ada", "named") as act, act.work() as work:
            for container in containers:
                work.add_container(container)
            for person in people:
                work.keep_person(person)
            for place in places:
                work.keep_place(place)
            for occasion in occasions:
                work.keep_occasion(occasion)
            work.commit()
        titled = {container.code: container.title for container in catalogue.containers()}
        assert all(titled[container.code] == container.title for container in containers)
        assert all(container.parent is None or container.parent in titled for container in catalogue.containers())
        assert sorted(catalogue.people(), key=str) == sorted(people, key=str)
        assert sorted(catalogue.places(), key=str) == sorted(places, key=str)
        assert sorted(catalogue.occasions(), key=str) == sorted(occasions, key=str)


@few
@given(unique(made.statements_about_occasions, "id"), unique(made.questions, "key"))
def test_statements_and_questions_in_order_of_entry(
    statements: list[Statement], questions: list[Question]
) -> None:
    with made.empty_catalogue() as catalogue:
        with catalogue.act("Ada", "said") as act, act.work() as work:
            for statement in statements:
                work.state(statement)
            for question in questions:
                work.ask(question)
            work.commit()
        assert catalogue.statements(withdrawn=True) == statements
        assert catalogue.statements() == [one for one in statements if one.withdrawn is None]
        assert catalogue.questions(settled=True) == questions
        assert catalogue.questions() == [one for one in questions if one.settled is None]
        for statement in statements:
            alone = [one for one in statements if one.subject == statement.subject]
            assert catalogue.statements(subject=statement.subject, withdrawn=True) == alone


@few
@given(st.dictionaries(made.names, made.texts, max_size=4))
def test_settings(values: dict[str, str]) -> None:
    with made.empty_catalogue() as catalogue:
        with catalogue.act("Ada", "set") as act, act.work() as work:
            for key, value in values.items():
                work.set(key, value)
            work.commit()
        assert {key: catalogue.setting(key) for key in values} == values
        assert catalogue.setting("not set", "as before") == values.get("not set", "as before")
