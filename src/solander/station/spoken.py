"""Objects for page scripts, with every sentence in them in the reader's language."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from solander.core.errors import Trouble
from solander.core.language import told

__all__ = ["spoken", "trouble_message"]


def spoken(value: Any) -> Any:
    """The same as JSON holds it, told in the language that is spoken here and now."""
    if isinstance(value, Mapping):
        return {name: spoken(one) for name, one in value.items()}
    if isinstance(value, list | tuple):
        return [spoken(one) for one in value]
    return told(value)


def trouble_message(of: Trouble) -> Mapping[str, Any]:
    """What went wrong: what, why, what to do."""
    return {"trouble": {"what": of.what, "why": of.why, "todo": of.todo}}
