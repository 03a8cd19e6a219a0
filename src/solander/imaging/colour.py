"""Colour by the numbers of the CIE, from linear sRGB: Lab under D50, CIEDE2000, and the fit of a camera's colours.

Convention: linear sRGB is float, (…, 3), 0 black to 1 white (IEC 61966-2-1, D65); Lab is CIE 1976 under D50, where
the tables of charts stand; adaptation is Bradford's (as ICC.1 has it). The formulas are those of colour-science,
which takes a second to load: it is loaded by the first call.
"""

from __future__ import annotations

import warnings
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["ILLUMINANT", "chart_lab", "difference", "fitted", "lab_of", "linear_of_lab", "roots"]

Floats = NDArray[np.float64]

ILLUMINANT = "D50"

_OBSERVER = "CIE 1931 2 Degree Standard Observer"


@cache
def _science() -> Any:
    """colour-science; it warns of a plotting library that is not asked for here."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
    return colour


@cache
def _white(name: str) -> Floats:
    return np.asarray(_science().CCS_ILLUMINANTS[_OBSERVER][name], np.float64)


def lab_of(linear: ArrayLike) -> Floats:
    """Lab (D50) of linear sRGB."""
    science = _science()
    xyz = science.RGB_to_XYZ(
        np.asarray(linear, np.float64), "sRGB", _white("D50"), chromatic_adaptation_transform="Bradford"
    )
    return np.asarray(science.XYZ_to_Lab(xyz, _white("D50")), np.float64)


def linear_of_lab(lab: ArrayLike) -> Floats:
    """Linear sRGB of Lab (D50); below 0 or above 1 where sRGB does not hold the colour."""
    science = _science()
    xyz = science.Lab_to_XYZ(np.asarray(lab, np.float64), _white("D50"))
    rgb = science.XYZ_to_RGB(xyz, "sRGB", _white("D50"), chromatic_adaptation_transform="Bradford")
    return np.asarray(rgb, np.float64)


def difference(lab_a: ArrayLike, lab_b: ArrayLike) -> Floats:
    """CIEDE2000 (CIE 142-2001; Sharma, Wu and Dalal, 2005), weights 1."""
    with np.errstate(invalid="ignore"):
        return np.asarray(_science().delta_E(lab_a, lab_b, method="CIE 2000"), np.float64)


def chart_lab(edition: str) -> Floats:
    """Published Lab (D50) of the 24 patches, (24, 3), row by row; `edition` "before" or "after" November 2014."""
    science = _science()
    chart = science.CCS_COLOURCHECKERS[f"ColorChecker24 - {edition.capitalize()} November 2014"]
    xyz = science.xyY_to_XYZ(np.array(list(chart.data.values())))
    return np.asarray(science.XYZ_to_Lab(xyz, chart.illuminant), np.float64)


def roots(linear: ArrayLike) -> Floats:
    """The terms of a root-polynomial of degree 2: R, G, B, √RG, √GB, √RB; (…, 6).

    Source: Finlayson, Mackiewicz and Hurlbert, Color correction using root-polynomial regression, IEEE
    Transactions on Image Processing 24(5), 2015. All terms go with the exposure, so the fit holds for any.
    """
    red, green, blue = np.moveaxis(np.maximum(np.asarray(linear, np.float64), 0), -1, 0)
    mixed = (np.sqrt(red * green), np.sqrt(green * blue), np.sqrt(red * blue))
    return np.stack([red, green, blue, *mixed], axis=-1)


def fitted(camera: ArrayLike, target: ArrayLike) -> Floats:
    """The matrix (3, 6) that brings `roots(camera)` nearest to `target`, both linear, (n, 3), by least squares."""
    matrix = _science().characterisation.matrix_colour_correction_Finlayson2015(
        np.asarray(camera, np.float64), np.asarray(target, np.float64), degree=2
    )
    return np.asarray(matrix, np.float64)
