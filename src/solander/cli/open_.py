"""`solander open`."""

from __future__ import annotations

from pathlib import Path

import click

from solander.catalogue.act import done_by
from solander.cli.paper import say
from solander.core.errors import CannotBegin
from solander.station.app import create_app
from solander.station.phone_line import with_phones
from solander.station.serve import serve
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection
from solander.tasks.speech_model import Model, SpeechModel
from solander.tasks.understood import prepare_gazetteer

__all__ = ["open_collection"]


@click.command("open")
@click.argument("collection", type=click.Path(path_type=Path))
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="The port; any free one otherwise.")
@click.option("--browser/--no-browser", default=True, help="Open the browser as well.")
@click.option(
    "--speech-model",
    metavar="FOLDER",
    help="A folder with a pocketsphinx model of another language (German so far), kept for next time; "
    "“none” for English again.",
)
@click.option("--phones", is_flag=True, help="Let paired phones of your own network be the camera of a stand.")
def open_collection(collection: Path, port: int, browser: bool, speech_model: str | None, phones: bool) -> None:
    """Open COLLECTION in the browser, on this machine only; with --phones a phone may be the camera."""
    speech = _speech(speech_model)
    with Collection.open(_collection_in(collection)) as opened:
        prepare_gazetteer()
        over = Workbench.over(opened, speech)
        bench, beside = with_phones(over) if phones else (over, None)
        with done_by(""):
            serve(create_app(bench), port=port, open_browser=browser, beside=beside)


def _speech(chosen: str | None) -> Model | None:
    """The model that is named now, or was before; where that one is gone, it says so and English is understood."""
    kept = SpeechModel()
    if chosen == "none":
        kept.forget()
    elif chosen is not None:
        return kept.choose(Path(chosen))
    try:
        return kept.model()
    except CannotBegin as trouble:
        say(str(trouble))
        return None


def _collection_in(folder: Path) -> Path:
    """The folder itself, or the collection inside a demo's folder, which is what was meant."""
    inside = folder / "collection"
    return inside if inside.is_dir() and not (folder / "solander.db").exists() else folder
