"""What the camera does to the light: lens, sensor, a telephone's software, JPEG."""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.simulate.light import CODE_SHARES, Linear, Rgb, encoded
from solander.imaging.simulate.optics import blurred, fringed, lit
from solander.imaging.simulate.sensor import developed, even_noise, through_mosaic

__all__ = ["Camera"]


@frozen
class Camera:
    """A camera's faults; all that are left out are absent.

    Lens: `blur_px` is the standard deviation of its blur in the middle, `corner_blur_px` what is added towards the
    corners; `defocus_px` the radius of a blur disc, `shake_px` the length of a straight shake at `shake_deg`
    clockwise from x; `distortion` and `distortion_2` the radial bend (see `Lens`; > 0 barrel); `falloff` the share
    of light lost in the corners, `fringe_px` how far red lies outside and blue inside green there.

    Sensor: `noise` is the standard deviation in code values of 8 bits, everywhere or, with `mosaic`, of a middle
    grey (shot noise, and correlated by demosaicing). `exposure` multiplies the light, `cast` the three channels.

    Software: `smoothing` (0–1) takes noise out and fine texture with it, `sharpening` (0–1) sets halos along
    edges; `jpeg_quality` (1–100) sends the picture through JPEG once, colours at half the size if `chroma_halved`;
    None keeps it as it is.
    """

    blur_px: float = 0.6
    corner_blur_px: float = 0.0
    defocus_px: float = 0.0
    shake_px: float = 0.0
    shake_deg: float = 0.0
    distortion: float = 0.0
    distortion_2: float = 0.0
    falloff: float = 0.0
    fringe_px: float = 0.0
    noise: float = 1.5
    mosaic: bool = False
    exposure: float = 1.0
    cast: tuple[float, float, float] = (1.0, 1.0, 1.0)
    smoothing: float = 0.0
    sharpening: float = 0.0
    jpeg_quality: int | None = None
    chroma_halved: bool = True

    def expose(self, light: Linear, rng: np.random.Generator) -> Rgb:
        """The picture that the camera hands over, (height, width, 3) uint8 sRGB; `light` is spent."""
        light = self._through_lens(light)
        if self.mosaic:
            codes = encoded(through_mosaic(light, rng, self.noise))
        else:
            codes = encoded(light)
            if self.noise:
                codes = np.asarray(cv2.add(codes, even_noise(rng, codes.shape[:2], self.noise)))
        if self.smoothing or self.sharpening:
            codes = developed(codes, smoothing=self.smoothing, sharpening=self.sharpening, noise=self.noise)
        return self._stored(np.asarray(cv2.convertScaleAbs(np.maximum(codes, 0), alpha=1 / CODE_SHARES)))

    def _through_lens(self, light: Linear) -> Linear:
        light = blurred(light, self.blur_px, self.corner_blur_px, self._kernels())
        if self.fringe_px:
            light = fringed(light, self.fringe_px)
        gain = np.asarray(self.cast, np.float32) * np.float32(self.exposure)
        if self.falloff or (gain != 1).any():
            light = lit(light, gain, self.falloff)
        return light

    def _kernels(self) -> list[NDArray[np.float32]]:
        kernels = []
        if self.defocus_px:
            kernels.append(_disc(self.defocus_px))
        if self.shake_px:
            kernels.append(_stroke(self.shake_px, self.shake_deg))
        return kernels

    def _stored(self, rgb: Rgb) -> Rgb:
        if self.jpeg_quality is None:
            return rgb
        halved, whole = cv2.IMWRITE_JPEG_SAMPLING_FACTOR_420, cv2.IMWRITE_JPEG_SAMPLING_FACTOR_444
        sampling = halved if self.chroma_halved else whole
        options = [cv2.IMWRITE_JPEG_QUALITY, self.jpeg_quality, cv2.IMWRITE_JPEG_SAMPLING_FACTOR, sampling]
        done, data = cv2.imencode(".jpg", rgb[..., ::-1], options)
        if not done:
            raise RuntimeError("the JPEG encoder gave nothing")
        back = np.asarray(cv2.imdecode(data, cv2.IMREAD_COLOR), np.uint8)
        return np.ascontiguousarray(back[..., ::-1])


def _disc(radius: float) -> NDArray[np.float32]:
    reach = int(np.ceil(radius)) + 1
    y, x = np.mgrid[-reach : reach + 1, -reach : reach + 1]
    disc = np.clip(radius + 0.5 - np.hypot(x, y), 0, 1)
    return np.asarray(disc / disc.sum(), np.float32)


def _stroke(length: float, angle_deg: float) -> NDArray[np.float32]:
    """A straight line through the middle of a square, each of its points spread over the four nearest pixels."""
    reach = int(np.ceil(length / 2)) + 1
    kernel = np.zeros((2 * reach + 1, 2 * reach + 1), np.float32)
    angle = np.deg2rad(angle_deg)
    for along in np.linspace(-length / 2, length / 2, 8 * reach + 1):
        x, y = reach + along * np.cos(angle), reach + along * np.sin(angle)
        column, row = int(x), int(y)
        shares = np.outer([row + 1 - y, y - row], [column + 1 - x, x - column])
        kernel[row : row + 2, column : column + 2] += shares
    return np.asarray(kernel / kernel.sum())
