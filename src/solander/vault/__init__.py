"""Captures and sound, kept exactly as they arrived: written once, named by their SHA-256."""
