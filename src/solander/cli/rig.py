"""`solander rig`."""

from __future__ import annotations

import sys
import textwrap
from pathlib import Path

import click

from solander.cli.paper import json_line, say
from solander.core.errors import Trouble
from solander.core.levels import FIGURE_NAMES, Figure, Judged
from solander.tasks.collection import Collection
from solander.tasks.rig import Looked, look_at
from solander.tasks.rig_keep import forget_profile, keep_rig, profile_from
from solander.tasks.rig_report import refuse_report, write_report
from solander.tasks.rig_told import Told, told_of
from solander.tasks.stand_light import kept_profile

__all__ = ["rig"]

_WHO = "archivist"

_WIDTH = 80


@click.command()
@click.argument("images", type=click.Path(path_type=Path), nargs=-1, metavar="IMAGE...")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line.")
@click.option(
    "--keep",
    type=click.Path(path_type=Path),
    metavar="COLLECTION",
    help="Keep flat field, colours and report: pictures taken at the stand go by them from now on.",
)
@click.option(
    "--report",
    type=click.Path(path_type=Path),
    multiple=True,
    metavar="FILE",
    help="Write the report to FILE.html or FILE.pdf.",
)
@click.option(
    "--forget",
    type=click.Path(path_type=Path),
    metavar="COLLECTION",
    help="Go by no profile any more; it needs no IMAGE.",
)
def rig(
    images: tuple[Path, ...], as_json: bool, keep: Path | None, report: tuple[Path, ...], forget: Path | None
) -> None:
    """Measure a stand against the published levels.

    Each IMAGE shows a chart of 24 patches, a slanted edge, a blank sheet of paper or the stage
    sheet, taken at the stand as prints are. The worst figure decides; what was not measured is said.
    """
    if forget is not None and not images:
        with Collection.open(forget) as opened:
            forget_profile(opened, who=_WHO)
        say("Pictures are left as captured from now on.")
        return
    if forget is not None:
        raise click.UsageError("Give --forget by itself: it leaves the profile, and measures no pictures.")
    if not images:
        raise click.UsageError("Name pictures of the stand.")
    for file in report:
        refuse_report(file)
    looked, seen, failed = [], [], False
    for image in images:
        try:
            one = look_at(image)
        except Trouble as trouble:
            failed = True
            json_line({"image": str(image), "error": trouble.sentence}) if as_json else say(trouble.sentence)
        else:
            looked.append(one)
            seen.append(image)
            if as_json:
                json_line(_record(image, one))
    if looked:
        _tell(looked, seen, as_json=as_json, keep=keep, report=report)
    if failed or not looked:
        sys.exit(1)


def _tell(
    looked: list[Looked], images: list[Path], *, as_json: bool, keep: Path | None, report: tuple[Path, ...]
) -> None:
    profile = None
    if keep is not None:
        with Collection.open(keep) as opened:
            keep_rig(opened, images, looked, who=_WHO)
            profile = kept_profile(opened)
    elif report:
        try:
            profile = profile_from(looked)
        except Trouble:
            profile = None  # the report tells the figures all the same
    told = told_of(looked, profile)
    for file in report:
        write_report(told, file)
    if as_json:
        return
    _say(told)
    if keep is not None:
        say(f"Kept as profile {told.profile}." if told.profile else "Kept; the pictures give no profile.")
    for file in report:
        say(f"Written to {file}.")


def _record(image: Path, one: Looked) -> dict[str, object]:
    told = told_of([one])
    fadgi, iso = told.judgements
    record: dict[str, object] = {
        "image": str(image),
        "shows": list(one.shows),
        "figures": dict(told.figures),
        "fadgi": _level(fadgi),
        "iso19264": _level(iso),
        "advice": list(told.advice),
    }
    if told.edition:
        record["chart"] = {"edition": f"{told.edition} November 2014", "residuals": list(told.residuals or ())}
    return record


def _level(judged: Judged) -> dict[str, object]:
    return {
        "level": judged.level,
        "name": judged.name or None,
        "decided_by": [figure.value for figure in judged.decides],
        "not_measured": [figure.value for figure in judged.unmeasured],
        "source": judged.scheme.source,
    }


def _say(told: Told) -> None:
    for name, shows in told.pictures:
        say(f"{name} shows {' and '.join(shows)}.")
    if told.edition:
        say(f"The chart is of the edition {told.edition} November 2014: its table fits better.")
    say()
    for figure, value in told.figures.items():
        name, unit = FIGURE_NAMES[Figure(figure)]
        say(f"  {name:<56}{value:>9.3g} {unit}")
    for judged in told.judgements:
        say()
        say(textwrap.fill(_judgement(judged), _WIDTH))
    say()
    for number, step in enumerate(told.advice, 1):
        say(textwrap.fill(f"{number}. {step}", _WIDTH, subsequent_indent="   "))


def _judgement(judged: Judged) -> str:
    if judged.level is None:
        return f"{judged.scheme.name}: nothing of it was measured."
    names = "; ".join(FIGURE_NAMES[figure][0].lower() for figure in judged.decides)
    missing = "; ".join(FIGURE_NAMES[figure][0].lower() for figure in judged.unmeasured)
    beyond = f" Not measured, and not claimed: {missing}." if missing else ""
    return f"{judged.scheme.name}: {judged.name}, decided by {names}.{beyond} Source: {judged.scheme.source}."
