"""Tesseract as a second reader, where its program is installed: for Cyrillic, Greek and what else it has data for.

Called as a program, a picture in and a table (TSV) out; nothing of it comes with Solander. The form of the table
is that of its own documentation (from memory): level, numbers of page, block, paragraph, line and word, box,
confidence in per cent, text.
"""

from __future__ import annotations

import csv
import io
import os
import shutil
import subprocess
from collections import defaultdict
from collections.abc import Sequence

import cv2
from attrs import frozen

from solander.core.errors import CannotBegin, Trouble
from solander.core.inscriptions.records import Word
from solander.core.sentence import Sentence
from solander.reading.inscriptions.reader import LineRead, Patch, Rgb

__all__ = ["TesseractReader", "tesseract_reader"]

_PROGRAM = "tesseract"
_SECONDS = 60
_A_PAGE, _A_LINE = "11", "7"  # sparse text; one line
_WORD = "5"

_Row = dict[str, str]


@frozen
class TesseractReader:
    """Reads by the program at `program` with the data of `languages` ("rus+ukr"), on one thread."""

    program: str
    languages: str = "eng"

    def find(self, rgb: Rgb) -> list[Patch]:
        """The lines that it finds; they run across."""
        lines: defaultdict[tuple[str, ...], list[_Row]] = defaultdict(list)
        for row in self._words(rgb, _A_PAGE):
            lines[row["block_num"], row["par_num"], row["line_num"]].append(row)
        return [_patch(rows) for rows in lines.values()]

    def read(self, lines: Sequence[Rgb]) -> list[LineRead]:
        """What each line says."""
        return [_line(self._words(line, _A_LINE), line.shape[1]) for line in lines]

    def _words(self, rgb: Rgb, mode: str) -> list[_Row]:
        _, png = cv2.imencode(".png", rgb[..., ::-1])
        try:
            told = subprocess.run(
                [self.program, "stdin", "stdout", "-l", self.languages, "--psm", mode, "tsv"],
                input=png.tobytes(),
                capture_output=True,
                env={**os.environ, "OMP_THREAD_LIMIT": "1"},
                timeout=_SECONDS,
                check=False,
            )
        except subprocess.TimeoutExpired as late:
            raise Trouble(
                Sentence("Tesseract could not read"),
                Sentence("it gave no answer within %(number)s seconds", number=_SECONDS),
                Sentence("Read this picture without it"),
            ) from late
        if told.returncode:
            raise CannotBegin(
                Sentence("Tesseract could not read"),
                told.stderr.decode("utf-8", "replace").strip().partition("\n")[0],
                Sentence("Install its data for %(languages)s", languages=self.languages),
            )
        table = csv.DictReader(io.StringIO(told.stdout.decode("utf-8")), delimiter="\t", quoting=csv.QUOTE_NONE)
        return [row for row in table if row["level"] == _WORD and row["text"].strip()]


def tesseract_reader(languages: str = "eng") -> TesseractReader:
    """Tesseract, when its program is there.

    Raises
    ------
    CannotBegin
        When it is not.
    """
    program = shutil.which(_PROGRAM)
    if program is None:
        raise CannotBegin(
            Sentence("Tesseract can't read"),
            Sentence("the program “tesseract” is not installed"),
            Sentence("Install it with the data of the languages that you need"),
        )
    return TesseractReader(program, languages)


def _patch(rows: Sequence[_Row]) -> Patch:
    left, top = (min(float(row[key]) for row in rows) - 0.5 for key in ("left", "top"))
    right = max(float(row["left"]) + float(row["width"]) for row in rows) - 0.5
    low = max(float(row["top"]) + float(row["height"]) for row in rows) - 0.5
    return Patch(((left, top), (right, top), (right, low), (left, low)), _sure(rows))


def _line(rows: Sequence[_Row], width: int) -> LineRead:
    words = tuple(
        Word(
            row["text"].strip(),
            max(0.0, float(row["conf"]) / 100),
            float(row["left"]) / width,
            (float(row["left"]) + float(row["width"])) / width,
        )
        for row in rows
    )
    return LineRead(words, _sure(rows) if words else 0.0)


def _sure(rows: Sequence[_Row]) -> float:
    return sum(max(0.0, float(row["conf"])) for row in rows) / (100 * len(rows))
