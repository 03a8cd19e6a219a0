"""What was measured of a stand, as plain numbers that can be kept, told and drawn."""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from attrs import asdict, frozen

from solander.core.levels import FADGI, ISO, Figure, Judged, judged
from solander.core.sentence import kept, read_kept
from solander.core.stand_profile import StandProfile
from solander.imaging.chart import GREYS
from solander.imaging.colour import difference
from solander.imaging.linear_light import encoded
from solander.tasks.rig import Looked, all_figures
from solander.tasks.rig_advice import advice

__all__ = ["Told", "told_of"]

Point = tuple[float, float]


@frozen
class Told:
    """A report of the stand: `figures` by name; `pictures` as (name, what each shows); `advice` for every
    language, the step that gains most first; and the plots: `tone` (published L*, measured L*) of the greys,
    `curves` of contrast by frequency (cycles a pixel), across and down, `cells` of light relative to the brightest
    (0–1, None where nothing was seen), `colours` of each patch as (measured sRGB, ΔE2000).

    `profile`, `edition`, `error_before` and `error_after` as in `StandProfile`.
    """

    made: str
    pictures: tuple[tuple[str, tuple[str, ...]], ...]
    figures: Mapping[str, float]
    advice: tuple[str, ...] = ()
    tone: tuple[Point, ...] = ()
    curves: tuple[tuple[Point, ...], ...] = ()
    cells: tuple[tuple[float | None, ...], ...] = ()
    colours: tuple[tuple[str, float], ...] = ()
    edition: str | None = None
    residuals: tuple[float, float] | None = None
    profile: str | None = None
    error_before: float | None = None
    error_after: float | None = None

    @property
    def judgements(self) -> tuple[Judged, Judged]:
        """By FADGI's stars and by ISO 19264-1."""
        known = {Figure(name): value for name, value in self.figures.items()}
        return judged(known, FADGI), judged(known, ISO)

    def as_json(self) -> str:
        """As a line of JSON."""
        told = {**asdict(self), "advice": [kept(one) for one in self.advice]}
        return json.dumps(told, ensure_ascii=False)

    @classmethod
    def from_json(cls, told: Mapping[str, Any]) -> Told:
        """Back again."""
        return cls(
            **{
                **told,
                "pictures": tuple((name, tuple(shows)) for name, shows in told["pictures"]),
                "tone": tuple((a, b) for a, b in told["tone"]),
                "curves": tuple(tuple((a, b) for a, b in curve) for curve in told["curves"]),
                "cells": tuple(tuple(row) for row in told["cells"]),
                "colours": tuple((a, b) for a, b in told["colours"]),
                "advice": tuple(map(read_kept, told["advice"])),
                "residuals": told["residuals"] and tuple(told["residuals"]),
            }
        )


def told_of(looked: Sequence[Looked], profile: StandProfile | None = None) -> Told:
    """The report of some pictures of one stand."""
    figures = all_figures(looked)
    chart = next((one.chart for one in looked if one.chart is not None), None)
    more: dict[str, Any] = {}
    if chart is not None:
        errors = difference(chart.lab, chart.reference)
        codes = np.rint(encoded(chart.colours)).astype(int)
        more = {
            "tone": tuple(zip(_rounded(chart.reference[GREYS, 0]), _rounded(chart.lab[GREYS, 0]), strict=True)),
            "colours": tuple(
                (f"#{r:02x}{g:02x}{b:02x}", e) for (r, g, b), e in zip(codes, _rounded(errors), strict=True)
            ),
        }
        if np.isfinite(chart.residuals).all():  # else too many patches are cut off to tell the edition
            more |= {"edition": chart.edition, "residuals": tuple(_rounded(chart.residuals))}
    return Told(
        made=datetime.datetime.now(datetime.UTC).strftime("%Y-%m-%d %H:%M UTC"),
        pictures=tuple((one.name, one.shows) for one in looked),
        figures={figure.value: round(value, 3) for figure, value in figures.items()},
        advice=tuple(advice(figures, looked, profile)),
        curves=_curves(looked),
        cells=_cells(looked),
        profile=profile.light.profile if profile else None,
        error_before=profile.error_before if profile else None,
        error_after=profile.error_after if profile else None,
        **more,
    )


def _rounded(values: Any) -> list[float]:
    return [round(float(v), 3) for v in values]


def _curves(looked: Sequence[Looked]) -> tuple[tuple[Point, ...], ...]:
    """Those of the first picture with an edge, at steps of 1/40 cycle."""
    curves = next((one.curves for one in looked if one.curves), ())
    at = np.arange(0, 0.5001, 0.025)
    return tuple(tuple((round(float(f), 3), round(one.at_frequency(float(f)), 4)) for f in at) for one in curves)


def _cells(looked: Sequence[Looked]) -> tuple[tuple[float | None, ...], ...]:
    """The light of the first blank sheet."""
    blank = next((one.blank for one in looked if one.blank is not None), None)
    if blank is None:
        return ()
    light = blank.luminance / np.nanmax(blank.luminance)
    return tuple(tuple(None if np.isnan(v) else round(float(v), 3) for v in row) for row in light)
