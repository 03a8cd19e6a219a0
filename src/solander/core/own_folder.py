"""Where a program of ours keeps what belongs to this user and this computer, and to no collection."""

from __future__ import annotations

import os
import sys
from pathlib import Path

__all__ = ["own_folder"]


def own_folder() -> Path:
    """The system's usual place for such data; nothing is made or looked at."""
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local") / "Solander"
    if sys.platform == "darwin":
        return home / "Library" / "Application Support" / "Solander"
    return Path(os.environ.get("XDG_DATA_HOME") or home / ".local" / "share") / "solander"
