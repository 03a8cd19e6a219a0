"""How the numbers of a language are kept: the words for each, as the tables want them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

__all__ = ["told"]


def told(forms: Mapping[int, Iterable[str]]) -> dict[str, int]:
    """The words, alternatives parted by bars, to the number that they mean."""
    return {"|".join(dict.fromkeys(words)): number for number, words in forms.items()}
