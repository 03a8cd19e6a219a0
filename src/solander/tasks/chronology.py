"""The order of a collection with all that is to be said of it, and worked problems of dating."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from attrs import frozen

from solander.core.chronology import Guesser, answer, problems_in, read_problem
from solander.core.descriptions import DescribedPrint
from solander.core.errors import CannotBegin, InvalidValue
from solander.tasks.collection import Collection
from solander.tasks.described import described_on
from solander.tasks.put_in_order import Timeline, clash_words, mend_words, timeline
from solander.tasks.worth_asking import WorthAsking, worth_asking

__all__ = ["ContradictionTold", "OrderTold", "answers", "order_told"]


@frozen
class ContradictionTold:
    """What can't be true together, as one sentence; `subject` is the print's number."""

    subject: str
    sentence: str


@frozen
class OrderTold:
    """All prints in order of time, the undated last, what contradicts, and what is best asked next.

    `mends` say which single claim, if it were withdrawn, would settle several contradictions at once.
    """

    prints: Sequence[DescribedPrint]
    contradictions: Sequence[ContradictionTold]
    mends: Sequence[str]
    questions: Sequence[WorthAsking]


def order_told(
    collection: Collection, guesser: Guesser | None = None, *, line: Timeline | None = None
) -> OrderTold:
    """The order of a collection as its live statements give it.

    A `guesser` that is kept spares work, and so does a `line` that was worked out just now.
    """
    line = line or timeline(collection, guesser)
    prints = described_on(line, collection)
    contradictions = [ContradictionTold(clash.left_out.about, clash_words(clash)) for clash in line.clashes]
    return OrderTold(prints, contradictions, list(mend_words(line)), worth_asking(line, prints))


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
