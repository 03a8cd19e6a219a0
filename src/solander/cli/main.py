"""The `solander` command: gathers the verbs, and turns every `Trouble` into one sentence and an exit status."""

from __future__ import annotations

import sys

import click

from solander import __version__
from solander.catalogue.act import done_by
from solander.cli import (
    accession,
    address,
    chronology,
    condition,
    contact_sheet,
    copy,
    customs,
    date,
    demo,
    duplicates,
    evidence,
    faces,
    inscription,
    landmarks,
    new,
    open_,
    outline,
    people,
    place,
    places,
    release,
    rig,
    scan,
    sheet,
    transcribe,
    treat,
    undo,
    verify,
    who,
)
from solander.cli.paper import command, say_trouble
from solander.core.errors import Trouble

__all__ = ["run", "solander"]

INTERRUPTED = 130


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80})
@click.version_option(__version__, message="Solander %(version)s")
def solander() -> None:
    """From a box of old paper photographs to a described, ordered, verifiable archive."""
    click.get_current_context().with_resource(done_by("at the command line"))


for verb in (
    demo.demo,
    open_.open_collection,
    new.new,
    sheet.sheet,
    rig.rig,
    accession.accession,
    scan.scan,
    outline.outline,
    condition.condition,
    faces.faces,
    inscription.inscription,
    date.date,
    customs.customs,
    evidence.evidence,
    who.who,
    chronology.chronology,
    duplicates.duplicates_command,
    people.people,
    place.place,
    places.places,
    landmarks.landmarks,
    address.address,
    undo.undo,
    contact_sheet.contact_sheet,
    release.release,
    transcribe.transcribe,
    treat.treat,
    copy.copy,
    verify.verify,
):
    solander.add_command(verb)


def run() -> None:
    """Runs the command line and ends the process with its status: 0 all well, 1 something was set aside or a
    check failed, 2 could not begin, 130 interrupted."""
    try:
        # Help names the command as it was typed: `./run` in a checkout.
        sys.exit(solander.main(prog_name=command("").strip(), standalone_mode=False) or 0)
    except Trouble as trouble:
        say_trouble(trouble)
        sys.exit(trouble.exit)
    except click.ClickException as error:
        error.show()
        sys.exit(2)
    except (KeyboardInterrupt, click.exceptions.Abort):
        sys.exit(INTERRUPTED)
