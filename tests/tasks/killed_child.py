"""A take-in in a process of its own that is there to be killed; see test_accession_killed.

Imported once, in a process from which each take-in is forked: starting Python anew takes longer than the take-in.
"""

from __future__ import annotations

import os
from multiprocessing.connection import Connection
from pathlib import Path

from solander.tasks.accession import accession
from solander.tasks.collection import Collection


def take_in(root: Path, files: Path, slips: Path, told: Connection) -> None:
    """Says into the pipe `told` that it has begun, each capture that is safe, and that it is done."""

    def say(words: str) -> None:
        os.write(told.fileno(), f"{words}\n".encode())

    with Collection.open(root) as collection:
        say("begun")
        accession(collection, [files], slips=slips, watch=lambda progress: say(progress.subject))
        say("done")
