"""The light of the stand, as the collection keeps it, and as views are put right by it."""

from __future__ import annotations

import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from solander.core.prints import Stand, View
from solander.core.stand_profile import Light, StandProfile, profile_of
from solander.imaging.decode import FileFacts
from solander.imaging.evenness import Flat
from solander.imaging.in_view import InView
from solander.imaging.lens import Lens
from solander.imaging.stand_light import StandLight, corrected
from solander.tasks.collection import Collection

__all__ = ["PROFILE_KEY", "channels_of", "in_true_light", "is_one_focal", "kept_profile", "light_for", "lit"]

Rgb = NDArray[np.uint8]

PROFILE_KEY = "stand_profile"
"""The setting that holds the profile in use."""

SAME_FOCAL = 1e-3


def kept_profile(collection: Collection) -> StandProfile | None:
    """The profile by which captures at the stand are put right; None where there is none."""
    return profile_of(collection.catalogue.setting(PROFILE_KEY))


def light_for(profile: StandProfile | None, facts: FileFacts) -> Light | None:
    """The light of a capture as it lies; None where the profile does not speak for it.

    It speaks for captures of its own frame and focal length, turned or not; never for scans, which have a light of
    their own.
    """
    if profile is None or facts.dpi or not _same_focal(profile.focal, facts.focal):
        return None
    turns = _turns(profile, facts)
    if turns is None:
        return None
    if profile.light.flat is None or turns == 0:
        return profile.light
    flat = _flat_of(profile.light)
    assert flat is not None
    turned = flat.turned(turns)
    return evolve(profile.light, flat=channels_of(turned), box=turned.box)


def lit(stand: Stand | None, profile: StandProfile | None, facts: FileFacts) -> Stand | None:
    """What is known of the camera, with the light that is known of the stand."""
    light = light_for(profile, facts)
    return stand if light is None else evolve(stand or Stand(focal=facts.focal), light=light)


def in_true_light(straight: Rgb, view: View, frame: tuple[int, int]) -> Rgb:
    """A straightened picture as its profile puts it right; without one as it is."""
    if view.stand is None or view.stand.light is None:
        return straight
    stand, light = view.stand, view.stand.light
    paper = InView(view.outline.corners, frame, lens=Lens(*stand.lens), bows=view.outline.bows, focal=stand.focal)
    return corrected(straight, StandLight(_flat_of(light), light.colour), frame, paper.seen)


def channels_of(flat: Flat) -> tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]:
    """A flat field as `Light` keeps it."""
    return flat.red, flat.green, flat.blue


def _flat_of(light: Light) -> Flat | None:
    return None if light.flat is None else Flat(*light.flat, light.box)


def is_one_focal(one: float, other: float) -> bool:
    """Whether two pictures were taken at one focal length (long sides of the frame)."""
    return abs(one - other) <= SAME_FOCAL * one


def _same_focal(one: float | None, other: float | None) -> bool:
    return one == other or (one is not None and other is not None and is_one_focal(one, other))


def _turns(profile: StandProfile, facts: FileFacts) -> int | None:
    """Quarter turns clockwise from the profile's picture to a capture; None where it is another frame."""
    size, before, now = (facts.width, facts.height), profile.turns, facts.quarter_turns
    if now is None or before is None:
        return 0 if size == profile.frame and now == before else None
    turns = (now - before) % 4
    return turns if size == (profile.frame if turns % 2 == 0 else profile.frame[::-1]) else None
