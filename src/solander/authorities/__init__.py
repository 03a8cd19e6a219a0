"""Lookup files from outside (people, places) turned into records."""
