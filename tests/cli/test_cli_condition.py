"""`solander condition`: of picture files and of a collection, as JSON and in words."""

from __future__ import annotations

import json
from pathlib import Path

import cv2
import numpy as np
import pytest
from attrs import evolve
from click.testing import CliRunner

from solander.cli.main import solander
from solander.core.condition import MEASURED, Condition
from solander.core.errors import CannotBegin
from solander.core.prints import Print
from solander.tasks.accession import accession
from solander.tasks.collection import Collection


@pytest.fixture(scope="module")
def picture(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A sharp pale print on a grey stage, a lamp mirrored near its right edge."""
    stage = np.full((600, 800, 3), 118, np.uint8)
    cv2.rectangle(stage, (150, 120), (649, 479), (206, 214, 216), -1)
    cv2.rectangle(stage, (180, 150), (619, 449), (120, 130, 140), -1)
    for number in range(12):
        cv2.circle(stage, (210 + 35 * number, 200 + 17 * number), 14, (60, 70, 90), -1)
    cv2.circle(stage, (590, 300), 24, (255, 255, 255), -1)
    noisy = cv2.GaussianBlur(stage, (0, 0), 0.7) + np.random.default_rng(1).normal(0, 1.0, stage.shape)
    file = tmp_path_factory.mktemp("pictures") / "mirrored.png"
    cv2.imwrite(str(file), np.clip(noisy, 0, 255).astype(np.uint8))
    return file


def _lines(*arguments: object) -> tuple[int, list[dict]]:
    told = CliRunner().invoke(solander, ["condition", *map(str, arguments), "--json"])
    return told.exit_code, [json.loads(line) for line in told.stdout.splitlines()]


def test_a_picture_is_measured_and_a_bad_one_stands_in_its_place(picture, tmp_path):
    code, lines = _lines(tmp_path / "none.jpg", picture)
    assert code == 1
    assert "there is no such file" in lines[0]["error"]
    (one,) = lines[1]["prints"]
    assert (one["glare_at"], "glare" in one["faults"], "not sharp" in one["faults"]) == ("right edge", True, False)
    assert one["glare"] == pytest.approx(np.pi * 24**2 / (500 * 360), rel=0.2)
    assert (
        np.abs(np.array(one["corners"]) - [[149.5, 119.5], [649.5, 119.5], [649.5, 479.5], [149.5, 479.5]]).max()
        < 2
    )


def test_a_folder_that_is_no_collection_stands_in_its_place_too(picture, tmp_path):
    code, lines = _lines(tmp_path, picture)
    assert code == 1
    assert lines[0]["image"] == str(tmp_path)
    assert "is no collection" in lines[0]["error"]
    assert lines[1]["prints"]


def test_a_picture_is_told_in_words(picture):
    told = CliRunner().invoke(solander, ["condition", str(picture)])
    assert told.exit_code == 0
    assert "glare" in told.stdout


def test_a_collection_measured_by_an_older_edition_is_measured_again_and_once(picture, tmp_path):
    with Collection.create(tmp_path / "box", title="A box") as box:
        accession(box, [picture])
        (print_,) = box.catalogue.prints()
        _as_an_older_edition(box, print_)
    code, (line,) = _lines(tmp_path / "box")
    assert (code, line["print"], line["side"], line["glare_at"]) == (0, "P-0001", "recto", "right edge")
    with Collection.open(tmp_path / "box") as box:
        (view,) = box.catalogue.prints()[0].views
        assert (view.condition.measured, view.condition.fingerprint) == (MEASURED, "f" * 16)
        change = box.catalogue.last_change()
    assert _lines(tmp_path / "box", "--print", "P-0001") == (0, [line])
    with Collection.open(tmp_path / "box") as box:
        assert box.catalogue.last_change() == change


def _as_an_older_edition(box: Collection, print_: Print) -> None:
    old = evolve(print_.views[0], condition=Condition(2.0, 0.0, 0.0, "f" * 16))
    with box.catalogue.act("test", "measured") as act, act.work() as work:
        work.set_condition(old.key, old.condition)
        work.commit()


def test_a_print_of_a_picture_file_is_refused_with_a_sentence(picture):
    told = CliRunner().invoke(solander, ["condition", str(picture), "--print", "P-0001"])
    assert isinstance(told.exception, CannotBegin)
