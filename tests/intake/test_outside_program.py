"""A program of others is heard whatever it says; a shell script stands for one."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import IO

import pytest

from solander.intake.outside_program import OutsideProgram

LATIN_1 = "printf 'Caf\\351 scanner\\n'"
"""A name as a driver tells it that knows no UTF-8: é is the one byte E9 (ISO 8859-1)."""


@pytest.fixture
def program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> OutsideProgram:
    script = tmp_path / "speaks"
    script.write_text(f"#!/bin/sh\n{LATIN_1}\n{LATIN_1} >&2\n", "utf-8")
    script.chmod(0o755)
    monkeypatch.setenv("PATH", f"{tmp_path}:/usr/bin:/bin")
    return OutsideProgram("speaks", ("", "", ""))


def test_an_answer_in_another_encoding_is_an_answer(program: OutsideProgram) -> None:
    said = program.asked()
    assert said is not None
    assert said.stdout == "Caf\ufffd scanner\n"


def test_words_in_another_encoding_do_not_end_the_listening(program: OutsideProgram, tmp_path: Path) -> None:
    heard: list[str] = []

    def hear(words: IO[str]) -> Iterator[None]:
        yield from ()
        heard.extend(words)

    with program.running(folder=tmp_path, hear=hear, hear_all=True) as process:
        process.wait(60)
    assert heard == ["Caf\ufffd scanner\n"] * 2
