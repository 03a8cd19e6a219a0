"""The sentence that the licence of the place data asks for, in one place."""

from __future__ import annotations

from solander.core.language import marked

__all__ = ["GEONAMES_CREDIT"]

GEONAMES_CREDIT = marked(
    "Places: GeoNames (www.geonames.org), CC BY 4.0 (creativecommons.org/licenses/by/4.0), selected and indexed."
)
"""Shown in the workbench, in releases and on sites wherever places of GeoNames are used (CC BY 4.0, 3.a)."""
