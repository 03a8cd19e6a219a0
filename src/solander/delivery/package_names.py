"""Names of files in a release: which are refused, and how manifests write them."""

from __future__ import annotations

import re
import unicodedata

from solander.core.errors import InvalidValue

__all__ = ["NamesTaken", "check_path", "decoded", "encoded", "leaves_folder"]

# RFC 8493, 2.1.3: these three characters, and only these, are percent-encoded in manifests.
_ENCODED = {"%": "%25", "\r": "%0D", "\n": "%0A"}
_DECODED = {code: char for char, code in _ENCODED.items()}

# What file systems of cameras and Windows refuse or drop (Microsoft, "Naming Files, Paths, and Namespaces"; from
# memory), and what programs that read manifests take for the end of a line.
_NOT_ON_EVERY_DISK = re.compile(
    r"[\\<>:\"|?*\x00-\x09\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]|(^|/)\s|[\s.](/|$)"
    r"|(^|/)(con|prn|aux|nul|com[0-9]|lpt[0-9])(\.[^/]*)?(/|$)",
    re.IGNORECASE,
)


class NamesTaken:
    """The names that a release has so far; two that differ only in capitals or in how accents are composed
    cannot both be in it, since on many disks one would overwrite the other."""

    def __init__(self) -> None:
        self._taken: dict[str, str] = {}

    def take(self, path: str) -> None:
        """Marks the path as taken.

        Raises
        ------
        InvalidValue
            When it is, or is too close to one that is.
        """
        folded = unicodedata.normalize("NFC", unicodedata.normalize("NFD", path).casefold())
        if folded in self._taken:
            raise InvalidValue(
                f"“{self._taken[folded]}” and “{path}” cannot both be in a release",
                "on many disks one would overwrite the other",
                "Give one of them another name",
            )
        self._taken[folded] = path


def encoded(path: str) -> str:
    """The path as a line of a manifest holds it."""
    return re.sub("[%\r\n]", lambda found: _ENCODED[found[0]], path)


def decoded(written: str) -> str:
    """The path that a line of a manifest means; other percent signs stay, as older bags have them."""
    return re.sub("%25|%0D|%0A", lambda found: _DECODED[found[0].upper()], written, flags=re.IGNORECASE)


def check_path(path: str) -> str:
    """The path in composed Unicode (NFC).

    Raises
    ------
    InvalidValue
        When it leaves the folder that it is relative to, or could not lie on every disk.
    """
    composed = unicodedata.normalize("NFC", path)
    if leaves_folder(composed):
        raise InvalidValue(f"“{path}” is no name for a file in a release", "it is empty or leaves its folder")
    if _NOT_ON_EVERY_DISK.search(composed):
        raise InvalidValue(
            f"“{path}” is no name for a file in a release",
            "it has a character or a form that some disks cannot hold",
            "Use letters, digits, hyphens and underscores",
        )
    return composed


def leaves_folder(path: str) -> bool:
    """Whether following the path could lead out of the folder that it is relative to, on any system."""
    parts = re.split(r"[/\\]", path)
    return path.startswith("~") or bool(re.match("[A-Za-z]:", path)) or not {"", ".", ".."}.isdisjoint(parts)
