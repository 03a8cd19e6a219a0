"""`solander open`."""

from __future__ import annotations

from pathlib import Path

import click

from solander.catalogue.act import done_by
from solander.station.app import create_app
from solander.station.phone_line import with_phones
from solander.station.serve import serve
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection
from solander.tasks.understood import prepare_gazetteer

__all__ = ["open_collection"]


@click.command("open")
@click.argument("collection", type=click.Path(path_type=Path))
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="The port; any free one otherwise.")
@click.option("--browser/--no-browser", default=True, help="Open the browser as well.")
@click.option("--phones", is_flag=True, help="Let paired phones of your own network be the camera of a stand.")
def open_collection(collection: Path, port: int, browser: bool, phones: bool) -> None:
    """Open COLLECTION in the browser, on this machine only; with --phones a phone may be the camera."""
    with Collection.open(_collection_in(collection)) as opened:
        prepare_gazetteer()
        bench, beside = with_phones(Workbench.over(opened)) if phones else (Workbench.over(opened), None)
        with done_by(""):
            serve(create_app(bench), port=port, open_browser=browser, beside=beside)


def _collection_in(folder: Path) -> Path:
    """The folder itself, or the collection inside a demo's folder, which is what was meant."""
    inside = folder / "collection"
    return inside if inside.is_dir() and not (folder / "solander.db").exists() else folder
