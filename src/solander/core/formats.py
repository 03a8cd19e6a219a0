"""Names of the sizes in which photographs were printed.

A measured size is named, never changed: a print that was trimmed keeps the millimetres that it has.
"""

from __future__ import annotations

from attrs import frozen

from solander.core.evidence.print_sizes import SIZE_TOLERANCE_MM

__all__ = ["FORMATS", "Format", "format_of"]

NO_SOURCE = "common practice, no source"
MEMORY = "from memory"


@frozen
class Format:
    """A usual size: its `name` as people say it, shorter and longer side in millimetres, and who says so."""

    name: str
    shorter_mm: float
    longer_mm: float
    source: str = NO_SOURCE

    def off(self, size_mm: tuple[float, float]) -> float:
        """The larger of the two differences of sides, in millimetres."""
        shorter, longer = sorted(size_mm)
        return max(abs(shorter - self.shorter_mm), abs(longer - self.longer_mm))


def _inches(name: str, shorter: float, longer: float, source: str = NO_SOURCE) -> Format:
    return Format(name, round(25.4 * shorter, 1), round(25.4 * longer, 1), source)


FORMATS = (
    Format("4½ × 6 cm", 45, 60),
    Format("6 × 6 cm", 60, 60),
    Format("6 × 9 cm", 60, 90),
    Format("6½ × 9 cm", 65, 90),
    Format("7 × 7 cm", 70, 70),
    Format("7 × 10 cm", 70, 100),
    Format("9 × 9 cm", 90, 90),
    Format("9 × 12 cm", 90, 120),
    Format("9 × 13 cm", 90, 130),
    Format("10 × 15 cm", 100, 150),
    Format("13 × 18 cm", 130, 180),
    Format("18 × 24 cm", 180, 240),
    Format("20 × 25 cm", 200, 250),
    Format("24 × 30 cm", 240, 300),
    _inches("2½ × 3½ in", 2.5, 3.5),
    _inches("3½ × 3½ in", 3.5, 3.5, "Snapshot formats"),
    _inches("3½ × 5 in", 3.5, 5),
    _inches("3½ × 4½ in", 3.5, 4.5, "Establishing dates for color photographs"),
    _inches("2½ × 4¼ in", 2.5, 4.25, "Film sizes and designations"),
    _inches("3¼ × 5½ in", 3.25, 5.5, "Film sizes and designations"),
    _inches("4 × 5 in", 4, 5),
    _inches("4 × 6 in", 4, 6),
    _inches("5 × 7 in", 5, 7),
    _inches("8 × 10 in", 8, 10),
    _inches("11 × 14 in", 11, 14),
    Format("picture postcard, 9 × 14 cm", 90, 140),
    _inches("postcard, 3½ × 5½ in", 3.5, 5.5),
    _inches("carte de visite", 2.5, 4, MEMORY),
    _inches("cabinet card", 4.25, 6.5, MEMORY),
    Format("instant print, 88 × 107 mm", 88, 107, MEMORY),
)
"""The usual sizes of loose prints. An inch has 25.4 mm; metric sizes are nominal. Named sources are those of the
table of facts that date paper (`authorities/dating_sources.csv`)."""


def format_of(size_mm: tuple[float, float], *, unsure_mm: float = 0.0) -> Format | None:
    """The usual size that a measured one is, None where none is near or two are as near.

    Both sides must be within `SIZE_TOLERANCE_MM` less `unsure_mm`, the standard error of the measurement twice
    over: what is measured badly is not named. A second format must be at least half a millimetre further off.
    """
    ranked = sorted(FORMATS, key=lambda one: one.off(size_mm))
    nearest, next_one = ranked[0], ranked[1]
    if nearest.off(size_mm) > SIZE_TOLERANCE_MM - unsure_mm:
        return None
    return nearest if next_one.off(size_mm) - nearest.off(size_mm) >= APART_MM + unsure_mm else None


APART_MM = 0.5
