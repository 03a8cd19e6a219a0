"""The style sheet keeps what the look promises: contrast, type sizes, fonts that are there and light."""

from __future__ import annotations

import hashlib
import re

import pytest

from solander.look.pages import STATIC

SHEET = (STATIC / "solander.css").read_text(encoding="utf-8")
SCHEMES = {"light": SHEET.split(":root {")[1], "dark": SHEET.split(":root {")[2]}
TEXT = ("ink", "quiet", "accent", "warning")
GROUNDS = ("table", "paper")


def colour(scheme: str, name: str) -> tuple[float, ...]:
    found = re.search(rf"--{name}: #([0-9A-F]{{6}});", SCHEMES[scheme])
    assert found, f"no colour {name} in {scheme}"
    return tuple(int(found.group(1)[i : i + 2], 16) / 255 for i in (0, 2, 4))


def luminance(rgb: tuple[float, ...]) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in rgb]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def test_contrast_of_black_on_white_is_21():
    """Source: WCAG 2.2, definition of contrast ratio."""
    assert contrast((0, 0, 0), (1, 1, 1)) == pytest.approx(21)


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("text", TEXT)
def test_text_stands_out_from_its_ground(scheme: str, ground: str, text: str):
    """Source: WCAG 2.2, success criterion 1.4.3, 4.5 to 1."""
    assert contrast(colour(scheme, text), colour(scheme, ground)) >= 4.5


def test_type_has_three_sizes():
    sizes = set(re.findall(r"font(?:-size)?:[^;}]*?([\d.]+)rem", SHEET))
    assert sizes <= {"1", "1.25", "1.75"}


def test_every_font_is_there_with_its_licence_and_all_are_light():
    named = set(re.findall(r"url\((fonts/[^)]+)\)", SHEET))
    there = {f"fonts/{path.name}" for path in (STATIC / "fonts").glob("*.woff2")}
    assert named == there
    assert sum((STATIC / name).stat().st_size for name in there) <= 400_000
    licences = [path.read_text(encoding="utf-8") for path in (STATIC / "fonts").glob("*OFL.txt")]
    assert len(licences) == 2
    assert all("SIL OPEN FONT LICENSE" in licence for licence in licences)


_OURS = [path for pattern in ("*.css", "*.js", "map/*.css", "map/*.js") for path in STATIC.glob(pattern)]
_SVG_NAMES = "http://www.w3.org/2000/svg"  # a name by which a browser knows SVG, and no address that it asks


def test_what_others_made_is_unchanged_and_its_licences_lie_beside_it():
    told = (STATIC / "vendor" / "LICENCES.txt").read_text(encoding="utf-8")
    sums = dict(re.findall(r"^\| (\S+) \| .* \| ([0-9a-f]{64}) \|$", told, re.MULTILINE))
    there = {path.name: path for path in (STATIC / "vendor").iterdir() if path.name != "LICENCES.txt"}
    assert sums == {name: hashlib.sha256(path.read_bytes()).hexdigest() for name, path in there.items()}
    assert told.count("Permission to use, copy, modify, and/or distribute this software") == 4
    assert "Natural Earth" in told


def test_nothing_comes_from_elsewhere():
    for path in _OURS:
        assert "://" not in path.read_text(encoding="utf-8").replace(_SVG_NAMES, "")
        assert "@import" not in path.read_text(encoding="utf-8")


def test_scripts_stay_short_and_typed():
    for path in (path for path in _OURS if path.suffix == ".js"):
        lines = path.read_text(encoding="utf-8").splitlines()
        assert lines[0] == "// @ts-check"
        assert len(lines) <= 400


def test_motion_ends_when_the_system_asks_for_less():
    assert "prefers-reduced-motion: reduce" in SHEET
    times = [int(ms) for ms in re.findall(r"(\d+)ms", SHEET)]
    assert times
    assert all(120 <= ms <= 180 for ms in times)
