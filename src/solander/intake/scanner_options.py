"""What a scanner can do, read from what `scanimage --all-options` prints, and which options to ask it for.

Every maker's driver names its options in its own way; these are the ones that SANE calls well known (SANE standard
1.06, section 4.5) and how `scanimage` writes their values: words or numbers with bars between, or a range.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from attrs import frozen

from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence

__all__ = ["Abilities", "Wish", "options_for", "read_abilities", "source_for"]

_OPTION = re.compile(
    r"^\s+(?:--(?P<long>[\w-]+)|-(?P<short>[xy]))[ =\[]+(?P<values>.*?)\]?\s+\[(?P<now>[^\]]*)\]\s*$"
)
_RANGE = re.compile(r"(-?[\d.]+)\.\.(-?[\d.]+)")
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_COLOUR = re.compile(r"colou?r", re.IGNORECASE)
_MANY_BITS = re.compile(r"\b(?:48|42|36|30)[ -]?bits?", re.IGNORECASE)
_FEEDER = re.compile(r"feeder|adf", re.IGNORECASE)
_BOTH_SIDES = re.compile(r"duplex|both sides", re.IGNORECASE)
_GLASS = re.compile(r"flat ?bed|platen|glass", re.IGNORECASE)


@frozen
class Wish:
    """What a person asks for: pixels an inch, bits a colour (8 or 16), and where the prints lie."""

    dpi: int = 600
    bits: int = 8
    feeder: bool = False
    both_sides: bool = False


@frozen
class Abilities:
    """The values that a scanner offers; empty where it has no such option. `resolutions` are single ones, or a
    lowest and a highest with all between (`any_between`). The area is in millimetres, None where it is not
    told."""

    modes: tuple[str, ...] = ()
    depths: tuple[int, ...] = ()
    sources: tuple[str, ...] = ()
    resolutions: tuple[float, ...] = ()
    any_between: bool = False
    width_mm: float | None = None
    height_mm: float | None = None


def read_abilities(printed: str) -> Abilities:
    """The abilities in what `scanimage --all-options` printed."""
    found: dict[str, str] = {}
    for line in printed.splitlines():
        if (option := _OPTION.match(line)) and option["now"] != "inactive":
            found.setdefault(option["long"] or option["short"], option["values"])
    resolution = found.get("resolution", found.get("x-resolution", ""))
    span = _RANGE.search(resolution)
    return Abilities(
        modes=_words(found.get("mode", "")),
        depths=tuple(int(float(number)) for number in _NUMBER.findall(found.get("depth", ""))),
        sources=_words(found.get("source", "")),
        resolutions=tuple(map(float, span.groups() if span else _NUMBER.findall(resolution))),
        any_between=span is not None,
        width_mm=_largest(found.get("x", "")),
        height_mm=_largest(found.get("y", "")),
    )


def source_for(abilities: Abilities, wish: Wish) -> str:
    """The place to scan from; empty where the scanner has only one.

    Raises
    ------
    CannotBegin
        When it has no feeder, or none that sees both sides.
    """
    feeders = [source for source in abilities.sources if _FEEDER.search(source) and not _GLASS.search(source)]
    if not wish.feeder:
        glass = [source for source in abilities.sources if _GLASS.search(source)]
        return next(iter(glass or [source for source in abilities.sources if source not in feeders]), "")
    fitting = [source for source in feeders if bool(_BOTH_SIDES.search(source)) == wish.both_sides]
    if not fitting:
        why = Sentence("its feeder sees one side only") if feeders else Sentence("this scanner has no feeder")
        todo = (
            Sentence("Feed the sheets twice, or scan on the glass") if feeders else Sentence("Scan on the glass")
        )
        raise CannotBegin(Sentence("Nothing was scanned"), why, todo)
    return fitting[0]


def options_for(abilities: Abilities, wish: Wish, source: str) -> tuple[list[str], float]:
    """The options for `scanimage`, in the order in which they depend on each other, and the resolution they ask
    for.

    The whole area is scanned, in colour. Where the resolution is not offered, the next higher one is taken, else
    the highest.

    Raises
    ------
    CannotBegin
        When it has no colour, or not so many bits.
    """
    mode, depth = _mode_and_depth(abilities, wish.bits)
    dpi = _resolution(abilities, wish.dpi)
    asked = {"--source": source, "--mode": mode, "--depth": depth, "--resolution": f"{dpi:g}"}
    options = [f"{name}={value}" for name, value in asked.items() if value and _has(abilities, name)]
    for name, largest in (("-x", abilities.width_mm), ("-y", abilities.height_mm)):
        options += [] if largest is None else [name, f"{largest:g}"]
    return options, dpi


def _has(abilities: Abilities, option: str) -> bool:
    return option != "--resolution" or bool(abilities.resolutions)


def _mode_and_depth(abilities: Abilities, bits: int) -> tuple[str, str]:
    colour = [mode for mode in abilities.modes if _COLOUR.search(mode)]
    if abilities.modes and not colour:
        why = Sentence("this scanner tells no colours (%(modes)s)", modes=", ".join(abilities.modes))
        raise CannotBegin(Sentence("Nothing was scanned"), why, Sentence("Use another, or a camera"))
    rich = [mode for mode in colour if _MANY_BITS.search(mode)]
    plain = [mode for mode in colour if mode not in rich]
    if bits == 16 and 16 not in abilities.depths and not rich:
        why = Sentence("this scanner does not offer 16 bits a colour")
        raise CannotBegin(Sentence("Nothing was scanned"), why, Sentence("Scan with 8: leave out --bits 16"))
    if bits == 16 and rich:
        return rich[0], "16" if 16 in abilities.depths else ""
    return next(iter(plain or colour), ""), str(bits) if bits in abilities.depths else ""


def _resolution(abilities: Abilities, dpi: int) -> float:
    offered = sorted(abilities.resolutions)
    if not offered:
        return dpi
    if abilities.any_between:
        return min(max(dpi, offered[0]), offered[-1])
    return next((one for one in offered if one >= dpi), offered[-1])


def _words(values: str) -> tuple[str, ...]:
    return tuple(word.strip() for word in values.split("|") if word.strip())


def _largest(values: str) -> float | None:
    """The largest value in millimetres; some drivers tell pixels, which say nothing of paper."""
    numbers: Sequence[str] = (
        () if "pel" in values else _NUMBER.findall(values.partition("(")[0].replace("..", " "))
    )
    return max(map(float, numbers), default=None)
