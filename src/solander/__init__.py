"""Solander: from a box of old paper photographs to a described, ordered, verifiable archive."""

__version__ = "0.1.0"
