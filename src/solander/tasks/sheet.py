"""The stage sheet, written for a printer."""

from __future__ import annotations

from pathlib import Path

from solander.core.errors import CannotBegin
from solander.imaging.sheet import FIELD_MM, PATTERN_MM, pattern

__all__ = ["write_sheet"]


def write_sheet(target: Path, *, paper: str) -> None:
    """Writes the stage sheet as a PDF; `paper` is "a4" or "letter".

    Raises
    ------
    CannotBegin
        When something lies at `target` already, or it can't be written.
    """
    # Loaded only when it is needed: drawing takes a tenth of a second to load, and no other command draws.
    from solander.delivery.sheets import Pattern, stage_sheet

    what = f"The stage sheet was not written to {target}"
    try:
        with target.open("xb") as file:
            file.write(stage_sheet(paper, Pattern(pattern(), PATTERN_MM, FIELD_MM)))
    except FileExistsError as error:
        raise CannotBegin(what, "something is there already", "Give another name") from error
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise CannotBegin(what, why, "Check the folder's name and that you may write there") from error
