"""The chart of 24 patches in simulated captures whose every colour is known; Lab values of the patches are the
published ones (colour-science's table, compared with a table kept beside the project), ΔE00 by Sharma, Wu and
Dalal 2005, table 1."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from solander.imaging.chart import GREYS, read_chart
from solander.imaging.colour import chart_lab, difference, fitted, lab_of, linear_of_lab, roots
from solander.imaging.simulate.chart import RigCamera, chart_shot

STANDARDS = Path(__file__).parents[3] / "shared" / "standards"

MATRIX = np.array([[0.85, 0.10, 0.05], [0.08, 0.86, 0.06], [0.02, 0.12, 0.86]]) * [[1.05], [1.0], [0.93]]
"""A camera that mixes its colours and is a little too warm."""


def rows(name: str) -> list[dict[str, str]]:
    path = STANDARDS / name
    if not path.is_file():
        pytest.skip(f"{name} lies beside the project and is not here")
    return list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))


def test_ciede2000_of_the_published_pairs():
    pairs = rows("ciede2000-pairs.csv")
    one, other = (np.array([[float(row[f"{axis}{n}"]) for axis in "Lab"] for row in pairs]) for n in "12")
    assert len(pairs) == 34
    assert np.abs(difference(one, other) - [float(row["dE00"]) for row in pairs]).max() < 1e-4


@pytest.mark.parametrize("edition", ["before", "after"])
def test_the_patches_are_those_of_the_published_table(edition):
    told = [row for row in rows("chart24-lab.csv") if f"{edition} november 2014" in row["edition"].lower()]
    assert np.abs(chart_lab(edition) - [[float(row[axis]) for axis in "Lab"] for row in told]).max() < 0.01


def test_lab_and_back():
    lab = chart_lab("after")
    assert np.abs(lab_of(linear_of_lab(lab)) - lab).max() < 0.01


def test_the_fit_does_not_change_with_the_exposure():
    """Finlayson, Mackiewicz and Hurlbert 2015: all terms of a root-polynomial go with the exposure."""
    light = np.clip(linear_of_lab(chart_lab("after")), 0.002, 1)
    camera = light @ MATRIX.T
    matrix = fitted(camera, light)
    assert difference(lab_of(roots(camera) @ matrix.T), lab_of(light)).mean() < 0.05
    assert np.allclose(roots(0.35 * camera) @ matrix.T, 0.35 * (roots(camera) @ matrix.T))


@pytest.mark.slow
@pytest.mark.parametrize("edition", ["before", "after"])
def test_a_chart_is_read_and_its_edition_told(edition):
    shot = chart_shot(RigCamera(MATRIX, exposure=0.9, fall=0.1, noise=1.2), edition=edition, frame=(1800, 1200))
    seen = read_chart(shot.rgb)
    assert seen.edition == edition
    assert (
        np.linalg.norm(seen.places - shot.places, axis=1).max() < 0.2 * 1800 * 0.55 / 6.25
    )  # the middle half of a patch is looked at
    assert difference(seen.lab, lab_of(shot.truth)).max() < 0.15
    assert not seen.clipped.any()


@pytest.mark.slow
@pytest.mark.parametrize("turns", [1, 2, 3])
def test_a_chart_may_lie_any_way_round(turns):
    shot = chart_shot(RigCamera(), frame=(1500, 1000), turn_deg=-6)
    seen = read_chart(np.ascontiguousarray(np.rot90(shot.rgb, turns)))
    assert difference(seen.lab, lab_of(shot.truth)).max() < 0.15


@pytest.mark.slow
def test_the_noise_of_a_grey_patch():
    """Of code values with σ = 2 at the slope of L* over code values that the patch has (by differences)."""
    shot = chart_shot(RigCamera(noise=2.0, blur_px=0.5), frame=(1800, 1200))
    seen = read_chart(shot.rgb)
    light = np.random.default_rng(0).normal(0, 2.0, (200_000, 3)) + 255 * _encoded(shot.truth[21])
    lightness = lab_of(_decoded(light / 255))[:, 0]
    assert seen.noise[GREYS][3] == pytest.approx(lightness.std(), rel=0.08)


@pytest.mark.slow
def test_no_chart_is_found_where_there_is_none():
    grey = np.random.default_rng(0).normal(140, 3, (400, 600, 3)).clip(0, 255).astype(np.uint8)
    assert read_chart(grey) is None


def _encoded(light):
    return np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)


def _decoded(code):
    return np.where(code <= 0.04045, code / 12.92, ((np.maximum(code, 0) + 0.055) / 1.055) ** 2.4)
