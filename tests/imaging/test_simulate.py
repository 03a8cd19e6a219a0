"""The truths of simulated captures are where the light says that the edges are."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from solander.imaging.linear_light import linear
from solander.imaging.simulate import (
    Camera,
    Paper,
    Placement,
    Stage,
    drawn_picture,
    simulate_capture,
)
from solander.imaging.simulate.captures import _map, lay
from solander.imaging.simulate.geometry import Chain, Curl, Lens

WHITE = np.full((60, 90, 3), 255, np.uint8)
PLAIN = Paper(WHITE, border_mm=0, tone="colour", yellowing=0, texture=0)
SIZE = (600, 450)


def light_of(
    paper: Paper, at: Placement, *, bend: float = 0.0, size: tuple[int, int] = SIZE
) -> NDArray[np.float32]:
    """Linear light of a white paper on black, before any camera: the share of each pixel that it covers."""
    scene = np.zeros((size[1], size[0], 3), np.float32)
    lay(scene, [(paper, chain_of(paper, at, bend=bend, size=size))], [], None)
    return scene[..., 1]


def chain_of(paper: Paper, at: Placement, *, bend: float = 0.0, size: tuple[int, int] = SIZE) -> Chain:
    paper_px = (paper.size_mm[0] * at.px_per_mm, paper.size_mm[1] * at.px_per_mm)
    corners = paper.corners()
    cut = None if corners is None else corners * at.px_per_mm
    return Chain(at, paper_px, Lens(size, bend), paper.curl, paper.curl_axis_deg, cut)


def edge_offsets(light: NDArray[np.float32], chain: Chain, *, reach: int = 7) -> NDArray[np.float64]:
    """How far (px, outwards) the light's edge lies off the true edge, at 41 places of each side.

    Across an edge the light is a step, blurred evenly: the sum of a profile says where it steps. The profiles are
    sampled 16 times a pixel by plain bilinear reading, written here apart from the code under test, after the blur
    of a good lens (0.8 px), without which a single slanted profile aliases by 0.1 px.
    """
    light = cv2.GaussianBlur(light, (0, 0), 0.8)
    border = chain.border(steps=201).reshape(4, 201, 2)
    centre = border.reshape(-1, 2).mean(axis=0)
    offsets = []
    for side in border:
        for index in range(20, 181, 4):
            along = side[index + 1] - side[index - 1]
            outward = np.array([along[1], -along[0]]) / np.hypot(*along)
            outward *= np.sign(outward @ (side[index] - centre))
            steps = np.arange(-reach, reach, 1 / 16) + 1 / 32
            profile = read(light, side[index] + steps[:, None] * outward)
            offsets.append(profile.sum() / 16 - reach)
    return np.array(offsets)


def read(light: NDArray[np.float32], points: NDArray[np.float64]) -> NDArray[np.float64]:
    column, row = np.floor(points).astype(int).T
    x, y = points[:, 0] - column, points[:, 1] - row
    top = light[row, column] * (1 - x) + light[row, column + 1] * x
    low = light[row + 1, column] * (1 - x) + light[row + 1, column + 1] * x
    return np.asarray(top * (1 - y) + low * y)


PLACES = {
    "straight": Placement((299.5, 224.5), 0, 4.0),
    "off the pixels": Placement((287.37, 231.81), 0, 3.97),
    "turned": Placement((299.2, 224.1), 23.0, 3.6),
    "turned far and tilted": Placement((310.7, 220.3), -131.0, 3.4, (6.0, -5.0)),
}


@pytest.mark.parametrize("bend", [0.0, 0.03, -0.03])
@pytest.mark.parametrize("at", PLACES.values(), ids=PLACES.keys())
def test_edges_lie_on_the_truth(at: Placement, bend: float) -> None:
    white = light_of(PLAIN, at, bend=bend)
    off = edge_offsets(white / white.max(), chain_of(PLAIN, at, bend=bend)).reshape(4, 41)
    # A tenth of each side, fitted together, as any finder would; single places alias by 0.05 px at most angles.
    assert np.abs(off[:, :40].reshape(4, 10, 4).mean(axis=2)).max() <= 0.03
    assert np.abs(off.mean(axis=1)).max() <= 0.01
    assert np.abs(off).max() <= 0.06


@pytest.mark.parametrize("curl", [0.01, -0.02])
def test_edges_of_a_curled_paper_lie_on_the_truth(curl: float) -> None:
    at, paper = Placement((250.3, 260.8), 17.0, 3.4, (2.0, 3.0)), Paper(
        WHITE, border_mm=0, tone="colour", yellowing=0, texture=0, curl=curl
    )  # fmt: skip
    chain = chain_of(paper, at)
    # The shading is divided out by reading it off just inside the paper: a curled sheet is not evenly white.
    white = light_of(paper, at)
    assert np.abs(edge_offsets((white > 0.4).astype(np.float32), chain)).mean() <= 0.3
    assert np.hypot(*(chain.to_paper(chain.border()) - chain_border_flat(chain)).T).max() <= 0.01


@pytest.mark.parametrize(("bend", "curl"), [(0.03, 0.0), (-0.03, 0.0), (0.02, 0.02), (0.0, -0.02)])
def test_the_map_between_its_knots_is_that_of_every_pixel(bend: float, curl: float) -> None:
    # A whole print at the demo's scale, looked at in its left part, where a curled sheet bends away most steeply.
    paper, at, size = Paper(WHITE, curl=curl), Placement((1150.3, 930.8), 3.0, 14.5, (3.0, -4.0)), (2400, 1800)
    chain, box = chain_of(paper, at, bend=bend, size=size), (slice(700, 1001), slice(440, 843))
    raster = paper.raster(at.px_per_mm)
    across, down = _map(raster, chain, box)
    grid = np.stack(np.meshgrid(*(np.arange(s.start, s.stop, dtype=float) for s in box[::-1])), axis=-1)
    exact = (chain.to_paper(grid) / chain.paper_px + 0.5) * [raster.shape[1], raster.shape[0]] - 0.5
    near = ((exact > -4) & (exact < [raster.shape[1] + 3, raster.shape[0] + 3])).all(axis=-1)
    assert near.any(axis=0).sum() > 300
    assert (~near).any()
    assert np.abs(np.stack([across, down], axis=-1) - exact)[near].max() <= 0.01


def chain_border_flat(chain: Chain) -> NDArray[np.float64]:
    flat = Chain(Placement((0.0, 0.0), 0, chain.placement.px_per_mm), chain.paper_px, Lens((1, 1)))
    return flat.border()


def test_the_long_edges_of_a_curled_paper_bow_as_much_as_asked() -> None:
    at = Placement((299.5, 224.5), 0, 4.0)
    paper = Paper(WHITE, curl=0.02)
    top = chain_of(paper, at).border(steps=101)[:101]
    chord = top[-1] - top[0]
    normal = np.array([-chord[1], chord[0]]) / np.hypot(*chord)
    bow = np.abs((top - top[0]) @ normal).max()
    assert bow / (paper.size_mm[0] * at.px_per_mm) == pytest.approx(0.02, abs=0.001)


def test_the_corners_are_those_of_the_outer_rectangle() -> None:
    at = Placement((300.0, 200.0), 0, 4.0)
    seen = simulate_capture([PLAIN], [at], Stage(), size=SIZE, seed=1)
    assert seen.truths[0] == pytest.approx(np.array([[120, 80], [480, 80], [480, 320], [120, 320]]))


def test_a_quarter_turn_equals_rot90() -> None:
    picture = drawn_picture(4, (300, 200))
    size = (451, 451)
    paper = Paper(picture, border_mm=5, seed=3)
    upright, turned = (raster_of(paper, Placement((225.0, 225.0), angle, 4.0), size) for angle in (0, 90))
    assert np.abs(np.rot90(upright, -1) - turned).max() <= 1e-3


def raster_of(paper: Paper, at: Placement, size: tuple[int, int]) -> NDArray[np.float32]:
    scene = np.zeros((size[1], size[0], 3), np.float32)
    lay(scene, [(paper, chain_of(paper, at, size=size))], [], None)
    return scene


def test_the_corners_turn_with_the_print() -> None:
    upright, turned = (
        simulate_capture(
            [PLAIN], [Placement((224.0, 224.0), angle, 4.0)], Stage(), size=(449, 449), seed=1
        ).truths[0]
        for angle in (0, 90)
    )
    # Clockwise on the screen: (x, y) from the middle becomes (-y, x); the first corner stays the print's own.
    assert turned - 224 == pytest.approx(np.column_stack([-(upright[:, 1] - 224), upright[:, 0] - 224]))


points = st.tuples(st.floats(0, 2999), st.floats(0, 2249))


@given(points, st.floats(-0.05, 0.05), st.floats(-0.02, 0.02))
def test_the_lens_goes_forth_and_back(point: tuple[float, float], bend: float, bend_2: float) -> None:
    lens = Lens((3000, 2250), bend, bend_2)
    captured = np.array([point])
    assert lens.captured(lens.ideal(captured)) == pytest.approx(captured, abs=1e-6)


@settings(max_examples=50)
@given(
    st.floats(-0.03, 0.03).filter(lambda bow: abs(bow) > 1e-4),
    st.floats(-300, 300),
    st.floats(-200, 200),
    st.floats(-900, 900),
    st.floats(-45, 45),
)
def test_curl_goes_forth_and_back(bow: float, x: float, y: float, eye: float, axis: float) -> None:
    curl = Curl(bow, size=(600.0, 400.0), eye=np.array([eye, eye / 2]), distance=3000.0, axis_deg=axis)
    flat = np.array([[x, y]])
    assert curl.flat(curl.seen(flat)) == pytest.approx(flat, abs=1e-6)


def test_blur_and_noise_leave_the_mean_alone() -> None:
    grey = np.full((200, 300, 3), 0.2, np.float32)
    camera = Camera(noise=3, blur_px=1, shake_px=9, shake_deg=30, defocus_px=4)
    seen = camera.expose(grey, np.random.default_rng(1))
    assert float(seen.mean()) == pytest.approx(255 * (1.055 * 0.2 ** (1 / 2.4) - 0.055), abs=0.1)
    assert float(seen.std()) == pytest.approx(3.0, abs=0.15)


def test_linear_light_survives_the_way_to_code_values_and_back() -> None:
    codes = np.repeat(np.arange(256, dtype=np.uint8)[None, :, None], 3, axis=2)
    back = Camera(noise=0, blur_px=0).expose(linear(codes), np.random.default_rng(1))
    assert (back == codes).all()
