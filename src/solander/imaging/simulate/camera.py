"""What the camera does to the light: lens blur, shake, noise, JPEG."""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.simulate.light import CODE_SHARES, Linear, Rgb, encoded

__all__ = ["Camera"]


@frozen
class Camera:
    """A camera's faults.

    `blur_px` is the standard deviation of the lens's blur, `defocus_px` the radius of a blur disc, `shake_px` the
    length of a straight shake at `shake_deg` clockwise from x, `noise` the standard deviation in code values of
    8 bits, `distortion` the radial bend (see `Lens`; > 0 barrel), `exposure` multiplies the light, `cast` the
    three channels. `jpeg_quality` (1–100) sends the picture through JPEG once; None keeps it as it is.
    """

    blur_px: float = 0.6
    defocus_px: float = 0.0
    shake_px: float = 0.0
    shake_deg: float = 0.0
    noise: float = 1.5
    distortion: float = 0.0
    exposure: float = 1.0
    cast: tuple[float, float, float] = (1.0, 1.0, 1.0)
    jpeg_quality: int | None = None

    def expose(self, light: Linear, rng: np.random.Generator) -> Rgb:
        """The picture that the camera hands over, (height, width, 3) uint8 sRGB; `light` is spent."""
        for kernel in self._kernels():
            light = np.asarray(cv2.filter2D(light, -1, kernel, borderType=cv2.BORDER_REFLECT_101))
        if self.blur_px:
            light = np.asarray(cv2.GaussianBlur(light, (0, 0), self.blur_px))
        if self.exposure != 1 or self.cast != (1.0, 1.0, 1.0):
            light *= np.asarray(self.cast, np.float32) * np.float32(self.exposure)
        codes = encoded(light)
        if self.noise:
            codes = np.asarray(cv2.add(codes, _noise(rng, codes.shape[:2], self.noise)))
        return self._stored(np.asarray(cv2.convertScaleAbs(np.maximum(codes, 0), alpha=1 / CODE_SHARES)))

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
        done, data = cv2.imencode(".jpg", rgb[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, self.jpeg_quality])
        if not done:
            raise RuntimeError("the JPEG encoder gave nothing")
        back = np.asarray(cv2.imdecode(data, cv2.IMREAD_COLOR), np.uint8)
        return np.ascontiguousarray(back[..., ::-1])


def _noise(rng: np.random.Generator, shape: tuple[int, ...], sigma: float) -> NDArray[np.int16]:
    """Three channels of noise out of one draw: the second and third are the first, moved, with its sign turned."""
    drawn = rng.standard_normal(shape, dtype=np.float32)
    drawn *= sigma * CODE_SHARES
    first = drawn.astype(np.int16)
    rows, columns = (int(rng.integers(shape[axis] // 3, shape[axis] // 2 + 1)) for axis in (0, 1))
    return np.dstack([first, np.roll(-first, rows, axis=0), np.roll(first, (columns, rows), axis=(1, 0))])


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
