"""Prints of one photograph in a collection: found once, asked about once, answered, and taken back."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from small_box import Draw, asked

from solander.cli.main import solander
from solander.core.errors import NotFound
from solander.core.prints import Print
from solander.core.questions import Asks, Question
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.imaging.one_negative import Likeness
from solander.tasks import duplicates as finding
from solander.tasks.accession import accession
from solander.tasks.around import around
from solander.tasks.ask import ask
from solander.tasks.better_copy import better_copy
from solander.tasks.collection import Collection
from solander.tasks.described import described
from solander.tasks.described_some import described_one
from solander.tasks.duplicates import Kind, Pair, compared, duplicates, sentence_of
from solander.tasks.known_points import points_kept
from solander.tasks.one_print import one_print
from solander.tasks.other_prints import other_prints
from solander.tasks.prepare import points_path
from solander.tasks.seen_twice import duplicate_sentence, not_one_negative, one_negative, prints_asked_about

ONE, TWO, THREE, FOUR = "P-0001", "P-0002", "P-0003", "P-0004"


@pytest.fixture
def three(draw: Draw, collection: Collection) -> Collection:
    """One print, another, and the first captured again."""
    accession(collection, [draw("a.jpg", 1), draw("b.jpg", 2), draw("c.jpg", 1, angle_deg=-3.0)])
    return collection


def enter(collection: Collection, *accessions: str) -> None:
    """Prints of which there are no pictures."""
    with collection.catalogue.act("test", "entered") as act, act.work() as work:
        for number, accession in enumerate(accessions, start=1):
            work.add_print(Print(accession, None, number))
        work.commit()


def say(collection: Collection, accession: str, says: Says, value: str) -> None:
    said = Statement(
        f"{accession}{says}", About.PRINT, accession, says, value, value, Sure.CERTAIN, "Vera", "2026"
    )  # fmt: skip
    with collection.catalogue.act("test", "said") as act, act.work() as work:
        work.state(said)
        work.commit()


@pytest.mark.slow
def test_what_was_compared_is_not_compared_again_and_nobody_is_asked_twice(
    three: Collection, monkeypatch: pytest.MonkeyPatch
) -> None:
    (question,) = asked(three, Asks.DUPLICATE)
    assert question[0] == THREE

    def again(*_: object, **__: object) -> Likeness:
        raise AssertionError("compared again")

    monkeypatch.setattr(finding, "likeness", again)
    (pair,) = duplicates(three)
    assert (pair.earlier, pair.later, pair.kind) == (ONE, THREE, Kind.ONE_PRINT)
    assert asked(three, Asks.DUPLICATE) == [question]
    with three.catalogue.act("test", "settled") as act, act.work() as work:
        work.settle(next(one.key for one in three.catalogue.questions() if one.asks is Asks.DUPLICATE))
        work.commit()
    duplicates(three)
    assert asked(three, Asks.DUPLICATE) == []
    keys = [view.key for print_ in three.catalogue.prints() for view in [print_.recto] if view]
    found = compared(three, keys[0], keys[2])
    assert found is not None
    assert found.is_one_negative
    assert compared(three, keys[2], keys[0]).within == found.within[::-1]  # type: ignore[union-attr]
    assert (other := compared(three, keys[0], keys[1])) is None or not other.is_one_negative


def test_two_that_were_in_vain_compared_as_they_are_may_yet_be_compared_the_wrong_way_round(
    tmp_path: Path,
) -> None:
    kept = finding._Compared(tmp_path / "views" / "compared.jsonl")
    kept.keep("a", "b", Likeness(inliers=3))
    assert kept.tells("b", "a", mirrored=False)
    assert not kept.tells("a", "b", mirrored=True)
    kept.keep("a", "b", Likeness(inliers=90, windows=40, is_mirrored=True))
    assert kept.tells("a", "b", mirrored=False)


def test_what_was_compared_is_read_again_only_when_it_has_changed(
    collection: Collection, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = finding._Compared.read(collection)
    kept.keep("a", "b", Likeness(inliers=90, windows=40))
    kept.path.write_text(kept.path.read_text() + '{"views": ["a", "c"], "inliers": 3}\n{"views": ["a"')
    assert compared(collection, "b", "a") == Likeness(inliers=90, windows=40)
    assert compared(collection, "a", "c") is None  # kept by one who told less

    reads: list[str] = []
    monkeypatch.setattr(finding.json, "loads", lambda line: reads.append(line) or {})
    compared(collection, "a", "b")
    assert reads == []
    kept.path.write_text(kept.path.read_text() + "\n")
    compared(collection, "a", "b")
    assert len(reads) == 3


@pytest.mark.slow
def test_points_are_kept_beside_views_and_found_again_where_they_are_gone(three: Collection) -> None:
    view = three.catalogue.print(ONE).recto
    assert view is not None
    path = points_path(three.views_root, view.key)
    before = points_kept(three, view).to_bytes()
    path.write_bytes(b"torn")
    assert len(points_kept(three, view).to_bytes()) == len(before)
    assert path.read_bytes() == points_kept(three, view).to_bytes()


@pytest.mark.slow
def test_the_command_tells_groups_with_why(three: Collection, monkeypatch: pytest.MonkeyPatch) -> None:
    three.close()
    told = CliRunner().invoke(solander, ["duplicates", str(three.root), "--json"])
    assert told.exit_code == 0, told.output
    (group,) = (json.loads(line) for line in told.stdout.splitlines())
    assert group["prints"] == [ONE, THREE]
    (pair,) = group["pairs"]
    assert pair["kind"] == "one print"
    assert pair["why"] == "P-0003 looks like P-0001: is it one print, captured twice?"
    assert 0.8 < pair["certainty"] <= 1
    plain = CliRunner().invoke(solander, ["duplicates", str(three.root)])
    assert "1 group" in plain.stdout


def test_each_sentence_tells_which_two_prints_it_asks_about() -> None:
    for kind in Kind:
        pair = Pair(ONE, THREE, kind, Likeness(), part=ONE)
        question = Question("key", Asks.DUPLICATE, THREE, sentence_of(pair), "")
        assert prints_asked_about(question) == (ONE, THREE)


@pytest.mark.slow
def test_two_prints_of_one_negative_share_the_picture_and_keep_their_paper(three: Collection) -> None:
    say(three, ONE, Says.EXPOSURE, "1931-07")
    say(three, ONE, Says.PERSON, "Ingrid")
    say(three, ONE, Says.CAPTION, "At the pier")
    say(three, TWO, Says.CAPTION, "Ingrid, 1931")
    say(three, TWO, Says.PRINTING, "1954")
    say(three, ONE, Says.TRANSCRIPTION, "for Aunt Vera")
    with three.catalogue.act("test", "asked") as act, act.work() as work:
        sentence = sentence_of(Pair(ONE, TWO, Kind.ONE_NEGATIVE, Likeness()))
        key = ask(work, Asks.DUPLICATE, TWO, sentence)
        work.commit()
    one_negative(three, key)
    for two in (described_one(three, TWO), next(one for one in described(three) if one.print.accession == TWO)):
        assert [shown.person.name for shown in two.people] == ["Ingrid"]
        assert two.caption == "Ingrid, 1931"
        assert two.transcription == ""
    (dated,) = (one for one in described(three) if one.print.accession == TWO)
    assert (dated.when.edtf, dated.when.printing_edtf) == ("1931-07", "1954")
    (one,) = (each for each in described(three) if each.print.accession == ONE)
    assert (one.caption, one.when.printing_edtf) == ("At the pier", "")
    assert TWO in around(three, [ONE]).tied
    assert [other.print.accession for other in other_prints(three, ONE)] == [TWO]
    assert len(three.catalogue.prints()) == 3
    with pytest.raises(NotFound):
        one_negative(three, key)
    not_one_negative(three, ONE, TWO)
    assert other_prints(three, ONE) == []
    with pytest.raises(NotFound):
        not_one_negative(three, ONE, TWO)
    three.catalogue.undo("test")
    three.catalogue.undo("test")
    assert described_one(three, TWO).people == ()
    assert key in {question.key for question in three.catalogue.questions()}


@pytest.mark.slow
def test_one_print_captured_twice_keeps_the_stories_and_the_negative_of_both(three: Collection) -> None:
    story = "a" * 64
    say(three, THREE, Says.ACCOUNT, story)
    say(three, THREE, Says.NEGATIVE, TWO)
    (key,) = [one.key for one in three.catalogue.questions() if one.asks is Asks.DUPLICATE]
    act = one_print(three, key, ONE)
    assert three.catalogue.prints_of_sound(story) == [ONE]
    assert [other.print.accession for other in other_prints(three, ONE)] == [TWO]
    three.catalogue.take_back("test", act)
    assert three.catalogue.prints_of_sound(story) == [THREE]
    assert other_prints(three, ONE) == []
    assert [other.print.accession for other in other_prints(three, TWO)] == [THREE]


@pytest.mark.slow
@pytest.mark.parametrize("with_back", [False, True])
def test_what_others_are_of_one_negative_with_is_the_print_that_stays(
    draw: Draw, three: Collection, with_back: bool
) -> None:
    say(three, TWO, Says.NEGATIVE, THREE)
    say(three, ONE, Says.NEGATIVE, THREE)
    if with_back:
        accession(three, [draw("back.jpg", 5)])
        with three.catalogue.act("test", "joined") as act, act.work() as work:
            work.join_back("P-0004", THREE)
            work.commit()
    waiting = (one for one in three.catalogue.questions() if one.asks is Asks.DUPLICATE)
    one_print(three, next(one.key for one in waiting if one.subject == THREE), ONE)
    (tie,) = three.catalogue.of_one_negative()
    assert {tie.subject, tie.value} == {ONE, TWO}


def test_one_print_takes_over_the_film_what_was_laid_and_what_is_asked(collection: Collection) -> None:
    enter(collection, ONE, TWO, THREE, FOUR)
    say(collection, THREE, Says.ROLL, "Film 7")
    say(collection, THREE, Says.ORDER, "12")
    say(collection, THREE, Says.AFTER, TWO)
    say(collection, ONE, Says.AFTER, THREE)
    say(collection, FOUR, Says.AFTER, THREE)
    words = Sentence("What does “%(words)s” on %(print)s mean?", words="Pfingsten", print=THREE)
    twice = duplicate_sentence(THREE, ONE)
    with collection.catalogue.act("test", "asked") as act, act.work() as work:
        key = ask(work, Asks.DUPLICATE, THREE, twice)
        ask(work, Asks.DUPLICATE, FOUR, sentence_of(Pair(THREE, FOUR, Kind.ONE_NEGATIVE, Likeness())))
        ask(work, Asks.DUPLICATE, THREE, duplicate_sentence(THREE, TWO))
        ask(work, Asks.WORDS, THREE, words)
        ask(work, Asks.UPRIGHT, THREE, Sentence("Which way up is %(print)s?", print=THREE))
        work.commit()
    act_number = one_print(collection, key, ONE)
    of_one = {(said.says, said.value) for said in collection.catalogue.statements(subject=ONE)}
    assert of_one == {(Says.ROLL, "Film 7"), (Says.ORDER, "12"), (Says.AFTER, TWO)}
    assert {(said.subject, said.value) for said in collection.catalogue.laid()} == {(ONE, TWO), (FOUR, ONE)}
    waiting = {(one.asks, one.subject, str(one.sentence)) for one in collection.catalogue.questions()}
    assert waiting == {
        (Asks.DUPLICATE, FOUR, f"{FOUR} seems to be another print of {ONE}: are they prints of one negative?"),
        (Asks.DUPLICATE, ONE, f"{ONE} looks like {TWO}: is it one print, captured twice?"),
        (Asks.WORDS, ONE, f"What does “Pfingsten” on {ONE} mean?"),
    }
    collection.catalogue.take_back("test", act_number)
    assert len(collection.catalogue.questions()) == 5
    assert len(collection.catalogue.laid()) == 3


def test_what_would_lie_after_itself_is_not_laid(collection: Collection) -> None:
    enter(collection, ONE, TWO, THREE)
    say(collection, ONE, Says.ROLL, "Film 1")
    say(collection, THREE, Says.ROLL, "Film 7")
    say(collection, THREE, Says.AFTER, TWO)
    say(collection, TWO, Says.AFTER, ONE)
    with collection.catalogue.act("test", "asked") as act, act.work() as work:
        key = ask(work, Asks.DUPLICATE, THREE, duplicate_sentence(THREE, ONE))
        work.commit()
    one_print(collection, key, ONE)
    assert [(said.subject, said.value) for said in collection.catalogue.laid()] == [(TWO, ONE)]
    rolls = [said.value for said in collection.catalogue.statements(subject=ONE) if said.says is Says.ROLL]
    assert rolls == ["Film 1"]


def test_one_of_three_of_a_negative_leaves_it_though_a_third_ties_them(collection: Collection) -> None:
    enter(collection, ONE, TWO, THREE)
    say(collection, TWO, Says.NEGATIVE, ONE)
    say(collection, THREE, Says.NEGATIVE, TWO)
    assert not_one_negative(collection, ONE, THREE) is not None
    assert [(said.subject, said.value) for said in collection.catalogue.of_one_negative()] == [(TWO, ONE)]


@pytest.mark.slow
def test_the_copy_that_shows_more_and_is_sharper_is_the_better_one(three: Collection) -> None:
    one, three_ = three.catalogue.print(ONE), three.catalogue.print(THREE)
    found = Likeness(windows=30, within=(0.7, 1.0))  # 70 % of the first lie in the other: the first shows more
    better = better_copy(one, three_, found)
    assert "shows more of the picture" in better.reasons[0]
    assert better.best == 0
    assert better_copy(three_, one, Likeness(windows=30, within=(1.0, 0.7))).best == 1


@pytest.mark.slow
def test_a_collection_without_prints_has_no_pairs(collection: Collection, tmp_path: Path) -> None:
    assert duplicates(collection) == []
    assert collection.catalogue.last_act() is None
