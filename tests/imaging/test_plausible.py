from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from attrs import evolve

from solander.imaging.conventions import Quad, Rgb, iou
from solander.imaging.locate import locate_prints, look
from solander.imaging.plausible import plausible
from solander.imaging.search import Candidate
from solander.imaging.segment import Likely, segment
from solander.imaging.simulate import Paper, Placement, Stage, drawn_picture, simulate_capture

pytestmark = pytest.mark.slow

SIZE = (1200, 900)


@pytest.fixture
def without_network(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(rgb: Rgb) -> Likely | None:
        return segment(rgb, weights=tmp_path / "none.onnx")

    monkeypatch.setattr("solander.imaging.segment.segment", none)


def _bare(kind: str, seed: int) -> Rgb:
    return simulate_capture([], [], Stage(kind=kind, px_per_mm=4.0), size=SIZE, seed=seed).rgb


@pytest.mark.parametrize("kind", ["gingham", "newsprint"])
@pytest.mark.parametrize("seed", range(3))
def test_nothing_is_found_on_a_patterned_stage(kind: str, seed: int) -> None:
    assert locate_prints(_bare(kind, seed)) == ()


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["gingham", "newsprint"])
@pytest.mark.parametrize("seed", range(3, 10))
def test_nothing_is_found_on_more_patterned_stages(kind: str, seed: int) -> None:
    assert locate_prints(_bare(kind, seed)) == ()


@pytest.mark.parametrize("seed", range(3))
def test_a_print_on_checked_cloth_is_found_alone(seed: int) -> None:
    paper = Paper(drawn_picture(seed), size_mm=(150, 100))
    at = Placement((600.0 + 20 * seed, 450.0), 8.0 * seed, 4.0)
    seen = simulate_capture([paper], [at], Stage(kind="gingham", px_per_mm=4.0), size=SIZE, seed=seed)
    (found,) = locate_prints(seen.rgb)
    assert iou(found.corners, seen.truths[0]) > 0.95


def _outline(quad: Quad) -> Candidate:
    return Candidate(quad, (0.0,) * 4, 1.0)


SQUARE = np.array([[100, 100], [160, 100], [160, 160], [100, 160]], float)


@pytest.mark.usefixtures("without_network")
def test_a_flat_patch_of_a_patterned_stage_is_dropped_without_the_network_too() -> None:
    rgb = np.full((768, 1024, 3), 200, np.uint8)
    rgb[:, ::80] = 90
    rgb[:40, :512] = 30
    rgb[100:161, 100:161] = (90, 100, 160)
    scene = look(rgb)
    assert scene.stage.explained < 0.9
    assert plausible(scene, [_outline(SQUARE)]) == []
    rgb[100:161, 100:161] = drawn_picture(1, (61, 61))
    pictured = look(rgb)
    assert len(plausible(pictured, [_outline(SQUARE)])) == 1


@pytest.mark.usefixtures("without_network")
def test_an_outline_whose_sides_are_far_from_parallel_is_dropped() -> None:
    scene = look(np.full((768, 1024, 3), 128, np.uint8))
    skewed = SQUARE + np.array([[0, 0], [0, 0], [0, 0], [45, 0]])
    assert plausible(scene, [_outline(skewed)]) == []
    assert len(plausible(scene, [_outline(SQUARE)])) == 1


@pytest.mark.parametrize(("likely", "kept"), [(0.45, 0), (0.7, 1)])
def test_a_doubtful_outline_needs_a_network_that_sees_print_in_it(likely: float, kept: int) -> None:
    scene = look(np.full((768, 1024, 3), 128, np.uint8))
    shares = np.full((240, 320), likely, np.float32)
    told = SimpleNamespace(likely=Likely(shares, shares, shares, (3.2, 3.2)))
    doubtful = evolve(_outline(SQUARE), support=0.5)
    assert len(plausible(evolve(scene, network=told), [doubtful])) == kept
