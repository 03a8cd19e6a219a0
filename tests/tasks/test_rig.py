"""A stand measured from simulated pictures whose truth is known; and what later captures' views then show."""

from __future__ import annotations

import json
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import cv2
import numpy as np
import pypdfium2
import pytest
from attrs import evolve
from click.testing import CliRunner

from solander.cli.main import solander
from solander.core.errors import CannotBegin, NotFound, Trouble
from solander.core.language import speaking, told
from solander.core.levels import Figure
from solander.core.prints import Outline, Side, Stand, View
from solander.core.stand_profile import profile_of
from solander.imaging.chart import read_chart
from solander.imaging.colour import chart_lab, difference, lab_of
from solander.imaging.decode import decode, probe
from solander.imaging.encode import encode_png
from solander.imaging.evenness import flat_of, read_blank
from solander.imaging.linear_light import linear
from solander.imaging.sheet import pattern
from solander.imaging.simulate.chart import RigCamera, chart_shot, sheet_shot
from solander.imaging.stand_light import StandLight, corrected
from solander.look.languages import language_of
from solander.tasks.collection import Collection
from solander.tasks.prepare import cut_out, remake_view, view_paths
from solander.tasks.rig import BLANK, CHART, EDGE, all_figures, look_at
from solander.tasks.rig_advice import advice
from solander.tasks.rig_keep import forget_profile, keep_rig, last_report, profile_from
from solander.tasks.rig_report import write_report
from solander.tasks.rig_told import Told, told_of
from solander.tasks.stand_light import kept_profile, light_for, lit

FRAME = (1500, 1000)
MATRIX = np.array([[0.85, 0.10, 0.05], [0.08, 0.86, 0.06], [0.02, 0.12, 0.86]]) * [[1.05], [1.0], [0.93]]
CAMERA = RigCamera(MATRIX, exposure=0.9, fall=0.12, vignette=0.08, blur_px=0.9, noise=1.0, aside_px=0.3)

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def pictures(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    folder = tmp_path_factory.mktemp("pictures")
    chart, blank = folder / "chart.png", folder / "blank.png"
    chart.write_bytes(encode_png(chart_shot(CAMERA, frame=FRAME).rgb))
    blank.write_bytes(encode_png(sheet_shot(CAMERA, frame=FRAME)))
    return chart, blank


@pytest.fixture(scope="module")
def looked(pictures):
    return [look_at(one) for one in pictures]


def test_each_picture_tells_what_it_shows(looked):
    assert [one.shows for one in looked] == [(CHART, EDGE), (BLANK,)]


def test_the_figures_are_those_of_the_camera(looked):
    """The truth of the same camera without noise; the blur's MTF is exp(−2 π² σ² f²)."""
    figures = all_figures(looked)
    truth = lab_of(chart_shot(CAMERA, frame=FRAME).truth)
    reference = chart_lab("after")
    errors = difference(truth, reference)
    assert figures[Figure.COLOUR_MEAN] == pytest.approx(errors.mean(), abs=0.1)
    assert figures[Figure.COLOUR_MAX] == pytest.approx(errors.max(), abs=0.2)
    assert figures[Figure.TONE] == pytest.approx(np.abs(truth - reference)[18:, 0].max(), abs=0.1)
    half = np.sqrt(np.log(2) / 2) / (np.pi * 0.9) / 0.5 * 100
    assert figures[Figure.MTF50] == pytest.approx(half, rel=0.08)
    assert figures[Figure.MISREGISTRATION] == pytest.approx(0.3, abs=0.1)
    assert figures[Figure.SHARPENING] == pytest.approx(1.0, abs=0.02)
    assert Figure.SAMPLING not in figures, "a chart does not tell its size"


def test_advice_names_the_dark_side(looked):
    steps = advice(all_figures(looked), looked)
    assert any("bottom right" in one for one in steps)
    assert not any("window" in one for one in steps), "one kind of light"


def test_two_kinds_of_light_are_told(tmp_path):
    light = np.array(sheet_shot(CAMERA, frame=(900, 600)))
    light[..., 0] = np.clip(light[..., 0] * np.linspace(0.85, 1.0, 900)[None], 0, 255)
    file = tmp_path / "mixed.png"
    file.write_bytes(encode_png(light))
    one = look_at(file)
    assert "Two kinds of light" in advice(one.figures, [one])[0]


def test_a_report_is_kept_as_numbers_and_written_on_one_page(looked, tmp_path):
    report = told_of(looked, profile_from(looked))
    assert Told.from_json(json.loads(report.as_json())) == report
    for ending in ("html", "pdf"):
        write_report(report, tmp_path / f"report.{ending}")
    page = (tmp_path / "report.html").read_text(encoding="utf-8")
    assert page.count("<svg") == 4
    assert "Not measured, and not claimed: Sampling" in page
    assert "after November 2014" in page
    assert len(pypdfium2.PdfDocument(tmp_path / "report.pdf")) == 1
    with pytest.raises(CannotBegin, match="something is there already"):
        write_report(report, tmp_path / "report.pdf")
    with pytest.raises(CannotBegin, match="its name ends neither in"):
        write_report(report, tmp_path / "report.doc")


def test_a_chart_of_which_most_is_cut_off_tells_no_edition(looked):
    """Infinity is no JSON (RFC 8259), and an edition that nothing tells is not claimed."""
    chart = looked[0].chart
    blind = type(chart)(chart.colours, chart.places, chart.noise, chart.clipped, "before", (np.inf, np.inf))
    report = told_of([evolve(looked[0], chart=blind)])
    assert report.edition is None
    assert "Infinity" not in report.as_json()


def test_what_tells_nothing_is_refused_in_a_sentence(tmp_path):
    grain = np.random.default_rng(0).integers(0, 255, (300, 400, 3), dtype=np.uint8)
    file = tmp_path / "grain.png"
    file.write_bytes(encode_png(grain))
    with pytest.raises(NotFound, match="tells nothing of the stand"):
        look_at(file)
    with pytest.raises(NotFound, match="no such file"):
        look_at(tmp_path / "none.png")


def test_later_views_go_by_the_profile(collection: Collection, pictures, looked, tmp_path):
    keep_rig(collection, pictures, looked, who="archivist")
    profile = kept_profile(collection)
    assert profile.error_after < 1.0 < profile.error_before
    assert last_report(collection).profile == profile.light.profile
    capture = pictures[0]  # a print of known colours: the chart itself
    facts, rgb, before = probe(capture), decode(capture), capture.read_bytes()
    corners = ((-0.5, -0.5), (1499.5, -0.5), (1499.5, 999.5), (-0.5, 999.5))
    view = View(
        "a" * 64, 0, Outline(corners, 1.0, checked=True), Side.RECTO, 0, 0, stand=lit(None, profile, facts)
    )
    cut = cut_out(rgb, view, tmp_path)
    assert cut.stand.light.profile == profile.light.profile
    assert cut.key != evolve(cut, stand=None).key
    file = view_paths(tmp_path, cut.key)[0]
    made = file.read_bytes()
    file.unlink()
    remake_view(capture, cut, tmp_path)
    assert file.read_bytes() == made, "the same capture, outline and profile give the same bytes"
    assert capture.read_bytes() == before
    shot = chart_shot(CAMERA, frame=FRAME)
    shown = decode(file)
    patches = [
        linear(shown[y - 12 : y + 12, x - 12 : x + 12]).reshape(-1, 3).mean(axis=0)
        for x, y in np.rint(shot.places).astype(int)
    ]
    assert difference(lab_of(patches), chart_lab("after")).mean() < 1.2


def test_the_profile_speaks_for_its_own_frame_alone(looked):
    profile = profile_from(looked)
    facts = looked[0].facts
    assert light_for(profile, facts) == profile.light
    assert light_for(profile, evolve(facts, width=1600)) is None
    assert light_for(profile, evolve(facts, focal=0.8)) is None
    assert light_for(profile, evolve(facts, dpi=600.0)) is None
    turned = light_for(profile, evolve(facts, width=1000, height=1500, quarter_turns=1))
    assert turned.flat != profile.light.flat
    assert turned.colour == profile.light.colour
    assert profile_of(profile.told()) == profile


def test_a_stand_without_profile_is_left_as_it_was():
    stand = Stand(focal=0.8)
    assert lit(stand, None, None) is stand


def test_a_profile_is_left_and_comes_back_by_undo(collection: Collection, pictures, looked):
    keep_rig(collection, pictures, looked, who="archivist")
    before = kept_profile(collection)
    forget_profile(collection, who="archivist")
    assert kept_profile(collection) is None
    assert last_report(collection) is not None
    collection.catalogue.undo("archivist")
    assert kept_profile(collection) == before


def test_a_chart_that_is_far_too_dark_gives_no_profile(tmp_path):
    file = tmp_path / "dark.png"
    file.write_bytes(encode_png(chart_shot(evolve(CAMERA, exposure=0.3), frame=FRAME).rgb))
    with pytest.raises(Trouble, match="far too dark"):
        profile_from([look_at(file)])


def test_pictures_of_two_cameras_give_no_profile(looked, tmp_path):
    file = tmp_path / "other.png"
    file.write_bytes(encode_png(sheet_shot(CAMERA, frame=(900, 600))))
    with pytest.raises(Trouble, match="not of one size"):
        profile_from([*looked, look_at(file)])


def test_pictures_of_two_focal_lengths_give_no_profile(looked):
    """A zoom that was turned between both changes light and lens; a file that tells none is believed."""
    chart, blank = looked
    near, far = (evolve(one, facts=evolve(one.facts, focal=focal)) for one, focal in ((chart, 0.8), (blank, 1.2)))
    with pytest.raises(Trouble, match="not of one focal length"):
        profile_from([near, far])
    assert profile_from([near, blank]) is not None


def test_a_profile_that_is_kept_needs_no_advice_to_keep_it(looked):
    poor = all_figures(looked) | {Figure.COLOUR_MEAN: 9.0}
    profile = profile_from(looked)
    assert any("Keep the colour profile" in one for one in advice(poor, looked))
    assert not any("colour profile" in one for one in advice(poor, looked, profile))
    assert any("leave errors" in one for one in advice(poor, looked, evolve(profile, error_after=9.0)))


def test_advice_is_told_in_the_language_of_its_reader(looked):
    kept = Told.from_json(json.loads(told_of(looked).as_json())).advice
    assert "Move the lamps" in " ".join(kept)
    with speaking(language_of("de")):
        assert "Lampen" in " ".join(map(told, kept))


def test_a_report_that_can_not_be_is_told_before_the_work(tmp_path):
    for name, why in (("report.doc", "ends neither"), ("none/report.pdf", "no such folder")):
        done = CliRunner().invoke(solander, ["rig", "no-picture.png", "--report", str(tmp_path / name)])
        assert done.exit_code != 0
        assert why in str(done.exception)
        assert done.output == "", "no picture was looked at"
    done = CliRunner().invoke(solander, ["rig", "no-picture.png", "--forget", str(tmp_path)])
    assert "by itself" in done.output


def test_charts_that_are_looked_for_at_once_leave_the_threads_as_they_were(pictures):
    before, rgb = cv2.getNumThreads(), decode(pictures[0])
    with ThreadPoolExecutor(3) as threads:
        assert all(threads.map(read_chart, [rgb] * 3))
    assert cv2.getNumThreads() == before


def test_a_blank_sheet_comes_out_even(looked, pictures):
    flat = StandLight(flat_of(looked[1].blank))
    out = corrected(decode(pictures[1]), flat, FRAME, lambda shares: shares * np.array(FRAME) - 0.5)
    assert looked[1].blank.unevenness > 10
    assert read_blank(out).unevenness < 1.0


def test_the_stage_sheet_tells_scale_and_tilt(tmp_path):
    scale = 6.0
    page = np.full((1500, 1300, 3), 255, np.uint8)
    for x, y, width, height in pattern():
        left, top = round(60 + x * scale), round(50 + y * scale)
        page[top : round(50 + (y + height) * scale), left : round(60 + (x + width) * scale)] = 15
    file = tmp_path / "sheet.png"
    file.write_bytes(encode_png(page))
    figures = look_at(file).figures
    assert figures[Figure.SAMPLING] == pytest.approx(scale * 25.4, rel=0.005)
    assert figures[Figure.TILT] < 0.3
