"""Colours as the file means them, turned into sRGB."""

from __future__ import annotations

import io

from PIL import Image, ImageCms

__all__ = ["speaks", "to_srgb"]

_SRGB = ImageCms.createProfile("sRGB")
_MODES = {"RGB ": "RGB", "GRAY": "L", "CMYK": "CMYK"}


def to_srgb(picture: Image.Image, profile: bytes | None) -> Image.Image:
    """The picture in sRGB, mode RGB, 8 bits.

    `picture` is RGB, L or CMYK; `profile` is the ICC profile that came with it. Converted by LittleCMS,
    relative colorimetric with black point compensation: colours that both spaces hold stay exactly as they
    are, and black stays black. A profile that is broken, or is for another kind of colour than the picture
    has, says nothing: the numbers are taken for sRGB, as they are without a profile.
    """
    opened = _opened(profile, picture.mode)
    if opened is None:
        return picture.convert("RGB")
    try:
        converted = ImageCms.profileToProfile(
            picture,
            opened,
            _SRGB,
            renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
            outputMode="RGB",
            flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
        )
    except ImageCms.PyCMSError:
        return picture.convert("RGB")
    return converted if converted is not None else picture


def speaks(profile: bytes | None, mode: str) -> bool:
    """Whether the profile changes what a picture of that mode means: it is readable, fits, and is not sRGB."""
    return _opened(profile, mode) is not None


def _opened(profile: bytes | None, mode: str) -> ImageCms.ImageCmsProfile | None:
    """The profile where it has something to say."""
    if not profile:
        return None
    try:
        opened = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        space, name = opened.profile.xcolor_space, ImageCms.getProfileDescription(opened)
    except (OSError, ValueError, ImageCms.PyCMSError):
        return None
    if _MODES.get(space) != mode or (mode == "RGB" and name.strip().startswith("sRGB")):
        return None
    return opened
