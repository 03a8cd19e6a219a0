"""Family-tree files (GEDCOM 5.5.1 and 7.0, GEDZIP): what they tell of people."""

from solander.authorities.genealogy.people import read_tree

__all__ = ["read_tree"]
