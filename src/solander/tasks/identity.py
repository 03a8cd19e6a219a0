"""What makes a statement the same one when it is made again."""

from __future__ import annotations

import hashlib
from collections.abc import Container

from solander.core.statements import Statement

__all__ = ["statement_identity"]


def statement_identity(said: Statement, *, taken: Container[str] = ()) -> str:
    """An id made from all that a statement claims and who says so, so that entering a file twice says nothing
    twice. Where that id is `taken`, by the same claim withdrawn, the claim is a new one: what is withdrawn stays.
    """
    told = "\n".join((said.about, said.subject, said.says, said.value, said.words, said.source))
    identity = hashlib.sha256(told.encode()).hexdigest()[:16]
    while identity in taken:
        identity = hashlib.sha256(f"{identity}\nagain".encode()).hexdigest()[:16]
    return identity
