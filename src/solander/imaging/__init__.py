"""Pixels: bytes or arrays in, arrays or small records out. Imports nothing else of Solander."""
