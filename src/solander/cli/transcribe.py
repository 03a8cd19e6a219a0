"""`solander transcribe`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from solander.cli.paper import say, watched
from solander.look.words import counted
from solander.tasks.collection import Collection
from solander.tasks.transcribe import transcribe as write_down

__all__ = ["transcribe"]


@click.command()
@click.argument("collection", type=click.Path(path_type=Path))
@click.option(
    "--model",
    required=True,
    type=click.Path(path_type=Path),
    help="A folder with a speech model of the Whisper family, converted for faster-whisper.",
)
@click.option("--language", help="The language that is spoken, as two letters; guessed where it is not given.")
def transcribe(collection: Path, model: Path, language: str | None) -> None:
    """Write down told stories by a program; nobody has checked it then.

    Nothing is got from a network. What may date a print, or name somebody, becomes a question.
    """
    with Collection.open(collection) as opened, watched() as watch:
        done = write_down(opened, model, language=language, watch=watch)
    say(f"{counted(done.written, 'story', 'stories')} written down, {done.silent} in which nothing was heard.")
    for sentence in done.set_aside:
        say(sentence)
    if done.set_aside:
        sys.exit(1)
