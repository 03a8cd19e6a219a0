"""How long a page waits for the backs that are still to be transcribed, among very many.

    .venv/bin/python benchmarks/many_backs.py [--backs 100000]

A third of the backs bear writing of six lines as a machine reads it, on the rest it found nothing; one in six is
transcribed. Rows are written past the catalogue's own way, which would take minutes; they are read by it.
"""

from __future__ import annotations

import argparse
import json
import sqlite3
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from solander.catalogue.store import FILE_NAME, Catalogue
from solander.core.inscriptions import Inscription, Line, Word
from solander.core.inscriptions.kept import READ, Writing

LINE = Line((Word("Skegness", 0.9), Word("1952", 0.9)), ((1.0, 1.0), (61.0, 1.0), (61.0, 11.0), (1.0, 11.0)), 0.9)


def main() -> None:
    """Fills a catalogue and says how much processor time each question takes."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--backs", type=int, default=100_000)
    backs = parser.parse_args().backs
    with tempfile.TemporaryDirectory() as folder:
        Catalogue.create(Path(folder)).close()
        _fill(Path(folder) / FILE_NAME, backs)
        with Catalogue.open(Path(folder)) as catalogue:
            _say("counted for the list and for How far", catalogue.backs_counted)
            _say("listed, at most once a minute", catalogue.backs_listed)
            _say("those that are done, for each back", catalogue.backs_done)
            _say("those that are due to be read", catalogue.views_read)


def _say(what: str, asked: Callable[[], object]) -> None:
    began = time.process_time()
    asked()
    print(f"{what}: {time.process_time() - began:.2f} s")


def _fill(path: Path, backs: int) -> None:
    told = [json.dumps(Writing(Inscription(lines), 90, 60).as_kept()) for lines in ((LINE,) * 6, ())]
    numbers = [(f"B1-{number:06d}", number) for number in range(1, backs + 1)]
    with sqlite3.connect(path) as connection:
        connection.execute("INSERT INTO containers(code, title) VALUES ('B1', '')")
        connection.execute("INSERT INTO captures VALUES (?, '', '', 1, 9, 9, 1, NULL, NULL, '.jpg')", ("a" * 64,))
        connection.executemany("INSERT INTO prints(accession, container, number) VALUES (?, 'B1', ?)", numbers)
        for at, side in enumerate(("recto", "verso")):
            connection.executemany(
                "INSERT INTO views(key, accession, sequence, side, capture, page, corners, confidence, checked,"
                f" turn, width, height) VALUES (?, ?, ?, '{side}', '{'a' * 64}', 0, '[]', 1, 1, 0, 9, 9)",
                ((f"{2 * number + at:032x}", accession, 2 * number + at) for accession, number in numbers),
            )
        connection.executemany(
            "INSERT INTO writings(view, read, written, told) VALUES (?, ?, ?, ?)",
            ((f"{2 * n + 1:032x}", READ, n % 3 == 0, told[n % 3 > 0]) for _, n in numbers),
        )
        connection.executemany(
            "INSERT INTO statements(id, about, subject, says, value, words, sure, source, entered)"
            " VALUES (?, 'print', ?, 'transcription', 'a', 'a', 'certain', '', '')",
            ((accession, accession) for accession, number in numbers if number % 6 == 0),
        )


if __name__ == "__main__":
    main()
