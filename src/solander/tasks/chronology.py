"""Worked problems of dating, in the form of a JSON file, for the command line."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from solander.core.chronology import answer, problems_in, read_problem
from solander.core.errors import CannotBegin, InvalidValue

__all__ = ["answers"]


def answers(path: Path) -> Iterator[dict[str, Any]]:
    """The answer to each problem of the file, in its order; an impossible problem gives `id` and `error`.

    Raises
    ------
    CannotBegin
        When the file is missing or is not JSON of that form.
    """
    for data in _problems(path):
        try:
            yield answer(read_problem(data))
        except InvalidValue as trouble:
            ident = data.get("id") if isinstance(data, dict) else None
            yield {"id": ident, "error": trouble.sentence}


def _problems(path: Path) -> list[Any]:
    try:
        return problems_in(json.loads(path.read_text(encoding="utf-8")))
    except OSError as error:
        raise CannotBegin(f"{path} could not be read", error.strerror or "", "Check the name") from error
    except (ValueError, InvalidValue) as error:
        raise CannotBegin(
            f"{path} could not be read", str(error), "Give a JSON file with one or more examples"
        ) from error
