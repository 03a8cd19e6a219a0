"""Finding people by what is said: names in all their forms, kinship, plausible lives."""

from __future__ import annotations

from solander.authorities.naming.candidates import Candidate, Seen, understood
from solander.authorities.naming.find import Finder, find_people
from solander.authorities.naming.lives import Then, life_then
from solander.authorities.naming.phrase import Mention, read_people, split_people

__all__ = [
    "Candidate",
    "Finder",
    "Mention",
    "Seen",
    "Then",
    "find_people",
    "life_then",
    "read_people",
    "split_people",
    "understood",
]
