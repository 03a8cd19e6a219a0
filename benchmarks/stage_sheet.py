"""How well the stage sheet is read: its PDF through a known camera, and back.

The PDF is rendered by PDFium, laid under a camera of OpenCV's model (pinhole with k1, k2, p1, p2: `projectPoints`
says where each corner falls, not our own lens), photographed with blur, noise and JPEG, and partly covered.

    python benchmarks/stage_sheet.py --captures 40
"""

from __future__ import annotations

import argparse
import time

import cv2
import numpy as np
import pypdfium2
from attrs import frozen
from numpy.typing import NDArray

from solander.delivery.sheets import Pattern, stage_sheet
from solander.imaging.conventions import Rgb
from solander.imaging.lens import lens_from_sheets
from solander.imaging.scale import plane_of_sheet
from solander.imaging.sheet import FIELD_MM, PATTERN_MM, SeenSheet, pattern, read_sheet

PRINTED_DPI = 400
A4_MM = np.array([210.0, 297.0])
TOP_MM, LEFT_MM = 15.0, 15.0  # of the pattern on A4


@frozen(eq=False)
class Truth:
    """The camera that took a capture: `matrix` 3 × 3, `bend` (k1, k2, p1, p2), turn and place of the sheet."""

    matrix: NDArray[np.float64]
    bend: NDArray[np.float64]
    turn: NDArray[np.float64]
    place: NDArray[np.float64]
    frame: tuple[int, int]

    def captured(self, mm: NDArray[np.float64]) -> NDArray[np.float64]:
        flat = np.column_stack([mm, np.zeros(len(mm))])
        seen, _ = cv2.projectPoints(flat, self.turn, self.place, self.matrix, self.bend)
        return np.asarray(seen.reshape(-1, 2))

    def millimetres(self, captured: NDArray[np.float64]) -> NDArray[np.float64]:
        """Back again, by OpenCV's own way back."""
        until = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 100, 1e-12)
        rays = cv2.undistortPoints(captured[:, None], self.matrix, self.bend, criteria=until).reshape(-1, 2)
        to_ray = np.column_stack([cv2.Rodrigues(self.turn)[0][:, :2], self.place])
        flat = np.linalg.inv(to_ray) @ np.column_stack([rays, np.ones(len(rays))]).T
        return np.asarray((flat[:2] / flat[2]).T)

    @property
    def tilt_deg(self) -> float:
        return float(np.degrees(np.arccos(abs(cv2.Rodrigues(self.turn)[0][2, 2]))))


def printed() -> Rgb:
    """The A4 sheet as PDFium renders it."""
    page = pypdfium2.PdfDocument(stage_sheet("a4", Pattern(pattern(), PATTERN_MM, FIELD_MM)))[0]
    return page.render(scale=PRINTED_DPI / 72, rev_byteorder=True).to_numpy()[..., :3].copy()


def random_truth(rng: np.random.Generator, frame: tuple[int, int], *, tilt: float = 6.0) -> Truth:
    """A camera over the sheet: 24 to 60 mm equivalent, tilted by up to `tilt` degrees, sheet turned anyhow."""
    focal = float(rng.uniform(24, 60)) / 36 * max(frame)
    matrix = np.array([[focal, 0, (frame[0] - 1) / 2], [0, focal, (frame[1] - 1) / 2], [0, 0, 1]])
    half = 0.5 * float(np.hypot(*frame))
    k1, k2 = rng.normal(0, 0.03), rng.normal(0, 0.008)  # in half diagonals, as our own lens counts
    bend = np.array([k1 * (focal / half) ** 2, k2 * (focal / half) ** 4, *rng.normal(0, 1e-4, 2)])
    about = rng.uniform(0, 2 * np.pi)
    lean = np.radians(rng.uniform(0, tilt)) * np.array([np.cos(about), np.sin(about), 0.0])
    turned = cv2.Rodrigues(lean)[0] @ cv2.Rodrigues(np.array([0, 0, rng.uniform(-np.pi, np.pi)]))[0]
    turned = (
        turned if rng.random() < 0.5 else cv2.Rodrigues(lean)[0] @ cv2.Rodrigues(np.array([0, 0, np.pi / 2]))[0]
    )
    distance = focal * float(rng.uniform(320, 480)) / max(frame)  # 320 to 480 mm along the frame's long side
    middle = turned @ np.array([PATTERN_MM[0] / 2, PATTERN_MM[1] / 2, 0.0])
    place = np.array([0.0, 0.0, distance]) - middle + np.array([*rng.uniform(-15, 15, 2), 0.0])
    return Truth(matrix, bend, cv2.Rodrigues(turned)[0], place, frame)


def capture(sheet: Rgb, truth: Truth, rng: np.random.Generator, *, covered: bool = False) -> Rgb:
    """The sheet as that camera takes it; with `covered`, a print lies over a corner of the pattern."""
    if covered:
        sheet = sheet.copy()
        size = (np.array([150, 105]) * PRINTED_DPI / 25.4).astype(int)
        x, y = (
            int(rng.integers(0, max(1, whole - part)))
            for whole, part in zip(sheet.shape[1::-1], size, strict=True)
        )
        sheet[y : y + size[1], x : x + size[0]] = rng.integers(40, 200, 3)
    width, height = truth.frame
    grid = np.stack(np.meshgrid(np.arange(0.0, width + 16, 16), np.arange(0.0, height + 16, 16)), axis=-1)
    mm = truth.millimetres(grid.reshape(-1, 2)) + np.array([LEFT_MM, TOP_MM])
    # PDFium fills whole pixels: the true scale is that of the picture.
    places = (mm * np.array(sheet.shape[1::-1]) / A4_MM - 0.5).astype(np.float32).reshape(*grid.shape[:2], 2)
    finer = np.array([[1 / 16, 0, 0], [0, 1 / 16, 0]])
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    across, down = (
        cv2.warpAffine(np.ascontiguousarray(places[..., i]), finer, truth.frame, flags=flags) for i in (0, 1)
    )
    shrink = float(np.median(np.hypot(np.diff(across, axis=1)[:-1], np.diff(down, axis=1)[:-1])))
    light = (np.asarray(sheet, np.float32) / 255) ** 2.2
    light = cv2.GaussianBlur(light, (0, 0), max(0.3, 0.45 * shrink))
    seen = cv2.remap(
        light, across, down, cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT, borderValue=(0.05,) * 3
    )
    seen = cv2.GaussianBlur(seen, (0, 0), float(rng.uniform(0.5, 1.2))) * rng.uniform(0.6, 0.95)
    codes = 255 * np.clip(seen, 0, 1) ** (1 / 2.2) + rng.normal(0, 2.0, seen.shape)
    done, data = cv2.imencode(
        ".jpg", np.clip(codes, 0, 255).astype(np.uint8)[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, 90]
    )
    assert done
    return np.ascontiguousarray(cv2.imdecode(data, cv2.IMREAD_COLOR)[..., ::-1])


def errors(seen: list[SeenSheet], truths: list[Truth]) -> dict[str, list[float]]:
    """What is told of one camera's captures, against the truth."""
    fit = lens_from_sheets(seen)
    assert fit is not None
    told: dict[str, list[float]] = {
        name: [] for name in ("corner px", "scale %", "tilt deg", "lens %", "sigma %", "sheet %")
    }
    for sheet, truth in zip(seen, truths, strict=True):
        plane = plane_of_sheet(sheet, fit.lens)
        assert plane is not None
        told["corner px"] += list(np.hypot(*(sheet.px - truth.captured(sheet.mm)).T))
        middle = np.array([(truth.frame[0] - 1) / 2, (truth.frame[1] - 1) / 2])
        around = middle + np.array([[0, 0], [2, 0], [0, 2]])
        told["scale %"].append(100 * abs(plane.px_per_mm() / true_scale(truth, around) - 1))
        focal = truth.matrix[0, 0] / max(truth.frame)
        told["tilt deg"].append(abs(plane.tilt_deg(focal) - truth.tilt_deg))
        mm = np.stack(np.meshgrid(np.linspace(0, 180, 7), np.linspace(0, 230, 9)), axis=-1).reshape(-1, 2)
        off = plane.millimetres(truth.captured(mm)) - mm
        told["sheet %"].append(100 * float(np.hypot(*off.T).max()) / float(np.hypot(*PATTERN_MM)))
        half, focal_px = 0.5 * float(np.hypot(*truth.frame)), truth.matrix[0, 0]
        k1, k2 = truth.bend[0] * (half / focal_px) ** 2, truth.bend[1] * (half / focal_px) ** 4
        told["lens %"].append(abs(fit.lens.shift_at_corner() - 50 * (k1 + k2)))
        told["sigma %"].append(fit.sigma)
    return told


def true_scale(truth: Truth, around: NDArray[np.float64]) -> float:
    """Pixels a millimetre at a place, from the rays of OpenCV's model."""
    mm = truth.millimetres(around)
    across, down = mm[1] - mm[0], mm[2] - mm[0]
    return float(2 / np.sqrt(abs(across[0] * down[1] - across[1] * down[0])))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--captures", type=int, default=40)
    parser.add_argument("--long-side", type=int, default=4000)
    parser.add_argument("--seed", type=int, default=1)
    arguments = parser.parse_args()
    sheet = printed()
    frame = (arguments.long_side, arguments.long_side * 3 // 4)
    for name, covered in (("bare", False), ("a print over part of it", True)):
        rng = np.random.default_rng(arguments.seed)
        told: dict[str, list[float]] = {}
        missed, spent, corners = 0, [], []
        for _ in range(arguments.captures):
            truth = random_truth(rng, frame)
            rgb = capture(sheet, truth, rng, covered=covered)
            began = time.perf_counter()
            seen = read_sheet(rgb)
            spent.append(1000 * (time.perf_counter() - began))
            if seen is None:
                missed += 1
                continue
            corners.append(len(seen.mm))
            for key, values in errors([seen], [truth]).items():
                told.setdefault(key, []).extend(values)
        print(f"{name}: {missed} of {arguments.captures} not read, ", end="")
        print(f"{np.median(corners):.0f} corners, {np.median(spent):.0f} ms")
        for key, values in told.items():
            middle, late = np.quantile(values, (0.5, 0.95))
            print(f"  {key:10} median {middle:.4f}  p95 {late:.4f}  most {max(values):.4f}")


if __name__ == "__main__":
    main()
