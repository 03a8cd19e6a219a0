"""Keeps what was measured of a stand: its flat field, its colours and the report; later captures go by them."""

from __future__ import annotations

import datetime
import json
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from solander.core.errors import Trouble
from solander.core.sentence import Sentence
from solander.core.stand_profile import Light, StandProfile
from solander.imaging.chart import ChartSeen
from solander.imaging.colour import difference, fitted, lab_of, linear_of_lab, roots
from solander.imaging.evenness import Flat, flat_of
from solander.tasks.collection import Collection
from solander.tasks.rig import Looked
from solander.tasks.rig_told import Told, told_of
from solander.tasks.stand import capture_of
from solander.tasks.stand_light import PROFILE_KEY, channels_of, is_one_focal

__all__ = ["REPORT_KEY", "colours_of", "forget_profile", "keep_rig", "last_report", "profile_from"]

Floats = NDArray[np.float64]

REPORT_KEY = "stand_report"
"""The setting that holds the last report."""

WORST_FIT = 4.0
"""Mean ΔE00 that a profile may leave on its own chart; more is no chart, or light that no profile mends."""

EXPOSED = (0.5, 2.0)
"""By how much a profile may change the exposure: beyond, the picture is to be taken again."""

FEWEST_PATCHES = 18


def profile_from(looked: Sequence[Looked]) -> StandProfile | None:
    """The profile that pictures of one stand give; None where none shows a blank sheet or a chart.

    Raises
    ------
    Trouble
        When the pictures are not of one camera, or a chart gives no profile that can be used.
    """
    frames = {(one.facts.width, one.facts.height) for one in looked}
    if len({tuple(sorted(frame)) for frame in frames}) > 1:
        raise _no_profile(
            Sentence("the pictures are not of one size"), Sentence("Take them all with the camera of the stand")
        )
    focals = [one.facts.focal for one in looked if one.facts.focal is not None]
    if not all(is_one_focal(focals[0], focal) for focal in focals):
        raise _no_profile(
            Sentence("the pictures are not of one focal length: the camera was zoomed between them"),
            Sentence("Set the zoom as for prints, and take them all again"),
        )
    blanks = [one for one in looked if one.blank is not None]
    charts = [one for one in looked if one.chart is not None]
    if not blanks and not charts:
        return None
    lead = (blanks or charts)[0]
    flat = flat_of(lead.blank) if lead.blank is not None else None
    colour, before, after, edition = None, None, None, None
    if charts and charts[0].chart is not None:
        chart = charts[0].chart
        colour, before, after = colours_of(
            chart, _evened(chart, charts[0], flat if _same_lay(lead, charts[0]) else None)
        )
        edition = chart.edition
    light = Light(
        profile="",
        made=datetime.datetime.now(datetime.UTC).date().isoformat(),
        flat=channels_of(flat) if flat else None,
        box=flat.box if flat else (-1.0, -1.0, 1.0, 1.0),
        colour=colour,
    )
    frame = (lead.facts.width, lead.facts.height)
    captures = tuple(one.sha256 for one in looked)
    profile = StandProfile(
        light, frame, lead.facts.quarter_turns, lead.facts.focal, captures, edition, before, after
    )
    return profile.with_name()


def keep_rig(collection: Collection, images: Sequence[Path], looked: Sequence[Looked], *, who: str) -> int | None:
    """Keeps the pictures as captures without a print, the report, and the profile if they give one; the act.

    Captures that are there already, and views made of them, stay as they are.
    """
    profile = profile_from(looked)
    report = told_of(looked, profile)
    with collection.catalogue.act(who, Sentence("measured the stand")) as act, act.work() as work:
        for image, one in zip(images, looked, strict=True):
            kept = collection.vault.put(image, suffix=one.facts.suffix)
            work.keep_capture(capture_of(kept.path, image.name, kept.sha256, one.facts))
            work.keep_arrival(image.name, kept.sha256)
        if profile is not None:
            work.set(PROFILE_KEY, profile.told())
        work.set(REPORT_KEY, report.as_json())
        work.commit()
    return act.number


def forget_profile(collection: Collection, *, who: str) -> int | None:
    """From now on views are made without a profile; the report stays."""
    with collection.catalogue.act(who, Sentence("left the stand's profile")) as act, act.work() as work:
        work.set(PROFILE_KEY, "")
        work.commit()
    return act.number


def last_report(collection: Collection) -> Told | None:
    """What was measured of the stand last."""
    kept = collection.catalogue.setting(REPORT_KEY)
    return Told.from_json(json.loads(kept)) if kept else None


def _same_lay(one: Looked, other: Looked) -> bool:
    """Whether both pictures lie alike, so that a place of one is the same place of the other."""
    return one.facts.quarter_turns == other.facts.quarter_turns and (one.facts.width, one.facts.height) == (
        other.facts.width,
        other.facts.height,
    )


def _evened(chart: ChartSeen, looked: Looked, flat: Flat | None) -> Floats:
    """The patches' colours in an even light, as bright as the brightest place."""
    if flat is None:
        return chart.colours
    return np.asarray(chart.colours / flat.light_at(chart.places, (looked.facts.width, looked.facts.height)))


def colours_of(chart: ChartSeen, camera: Floats) -> tuple[tuple[float, ...], float, float]:
    """The 18 numbers, and the mean ΔE00 over all patches before and after."""
    told = ~chart.clipped
    if np.count_nonzero(told) < FEWEST_PATCHES:
        raise _no_profile(
            Sentence("too many of the chart's patches are cut off at white or black"),
            Sentence("Set the exposure so that its white is just below white, and take it again"),
        )
    target = linear_of_lab(chart.reference)
    matrix = np.round(fitted(camera[told], target[told]), 5)
    brighter = float(np.median(target[told, 1] / np.maximum(camera[told, 1], 1e-4)))
    after = float(difference(lab_of(roots(camera) @ matrix.T), chart.reference).mean())
    if not EXPOSED[0] <= brighter <= EXPOSED[1] or after > WORST_FIT:
        raise _no_profile(
            Sentence("the chart is far too dark or too bright, or its colours fit no chart of 24 patches"),
            Sentence("Check the light and the exposure, and take it again"),
        )
    before = float(difference(chart.lab, chart.reference).mean())
    return tuple(float(v) for v in matrix.ravel()), round(before, 3), round(after, 3)


def _no_profile(why: Sentence, todo: Sentence) -> Trouble:
    return Trouble(Sentence("No profile could be made for this stand"), why, todo)
