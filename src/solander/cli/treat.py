"""`solander treat`."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import click
from attrs import evolve

from solander.cli.paper import command, json_line, say, watched
from solander.core.errors import CannotBegin, Trouble
from solander.core.language import told
from solander.core.prints import Print, container_code
from solander.core.treatment_steps import kind_of
from solander.core.treatments import Step
from solander.engine.local import local_executor
from solander.look.words import counted
from solander.tasks.collection import Collection
from solander.tasks.treat import Refused, Treated, Wish, give, prints_in, switch, withdraw
from solander.tasks.treatment_proposals import Looked, accept, look_for_treatments, proposed_for, waiting_proposals

__all__ = ["treat"]

_SHORT: dict[str, Callable[[str], dict[str, Any]]] = {
    "density": lambda text: {"by": float(text)},
    "fine turn": lambda text: {"degrees": float(text)},
    "quarter turn": lambda text: {"turns": int(text)},
    "output": lambda text: {"long_side": int(text)},
    "detail": lambda text: dict(zip(("shadows", "highlights"), map(float, text.split(",")), strict=False)),
}
"""Steps whose numbers can be said on one line; the others take JSON."""


@click.command("treat")
@click.argument("collection", type=click.Path(path_type=Path))
@click.option("--container", "containers", multiple=True, metavar="CODE", help="Only prints in it, nested too.")
@click.option("--print", "prints", multiple=True, metavar="NUMBER", help="Only this print.")
@click.option("--propose", is_flag=True, help="Look what would gain; it waits as questions.")
@click.option("--accept", "accepts", is_flag=True, help="Give what is proposed and waits.")
@click.option("--give", "given", multiple=True, metavar="STEP[=VALUE]", help="A step: neutral, density=-0.1, …")
@click.option("--off", "off", metavar="STEP", help="Switch it off; it stays in the list.")
@click.option("--on", "on", metavar="STEP", help="Switch it on again.")
@click.option("--withdraw", "gone", metavar="STEP", help="Take it away; “all” takes the whole treatment.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line: a print.")
def treat(
    collection: Path, prints: tuple[str, ...], containers: tuple[str, ...], as_json: bool, **asked: Any
) -> None:
    """List, propose, give and withdraw treatments of prints.

    Without an option the treatments are listed. Captures and untreated views
    stay as they are, and each change is one act that undo takes back.

    Steps with a value: density=-0.1 (lighter) to 0.4, detail=0.3,0.1 (shadows,
    highlights), fine turn=1.5 (degrees), quarter turn=1, output=2000 (pixels).
    Measured on each print: neutral, yellowing, texture, marks, crop. Any step
    may be given its parameters as JSON: --give 'crop={"box": [0, 0, 1, 0.9]}'.
    """
    wanted = [name for name, value in asked.items() if value]
    if len(wanted) > 1:
        raise CannotBegin(
            "Nothing was treated", "more than one thing was asked for", "Ask for one after the other"
        )
    wishes = [_wish(each) for each in asked["given"]]
    for name in filter(None, (asked["on"], asked["off"], asked["gone"])):
        if name != "all" or not asked["gone"]:
            _known(name)
    with Collection.open(collection) as opened:
        chosen = prints_in(opened, prints, [container_code(one) for one in containers])
        refused = _do(opened, chosen, wanted[0] if wanted else "", asked, wishes, as_json)
    if refused:
        sys.exit(1)


def _do(
    opened: Collection,
    chosen: Sequence[Print],
    what: str,
    asked: dict[str, Any],
    wishes: Sequence[Wish],
    as_json: bool,
) -> Sequence[Refused]:
    """Does what was asked for and tells it; gives what was left as it was."""
    if what == "propose":
        with watched() as watch, local_executor() as executor:
            return _tell_looked(
                opened, look_for_treatments(opened, chosen, executor=executor, watch=watch), as_json
            )
    if not what:
        return _list(chosen, as_json)
    if what == "given":
        with watched() as watch:
            done = give(opened, chosen, wishes, watch=watch)
    elif what == "accepts":
        done = _accept(opened, chosen)
    elif what == "gone":
        done = withdraw(opened, chosen, "" if asked["gone"] == "all" else asked["gone"])
    else:
        done = switch(opened, chosen, asked[what], on=what == "on")
    return _tell_done(opened, done, as_json)


def _accept(opened: Collection, chosen: Sequence[Print]) -> Treated:
    numbers = {one.accession for one in chosen}
    asked = [one.subject for one in waiting_proposals(opened) if one.subject in numbers]
    found, aside = [], []
    for one in asked:
        try:
            found.append(proposed_for(opened, one))
        except Trouble as trouble:
            aside.append(Refused(one, trouble.why or trouble.what))
    done = accept(opened, list(filter(None, found)))
    return evolve(done, refused=(*aside, *done.refused))


def _known(name: str) -> None:
    """Refuses the name of no step before anything is done."""
    try:
        kind_of(name)
    except Trouble as trouble:
        raise CannotBegin(trouble.what, trouble.why, trouble.todo) from trouble


def _wish(text: str) -> Wish:
    """A step as it is typed: its name alone, with one value, or with its parameters as JSON.

    Raises
    ------
    CannotBegin
        When the value can't be read.
    """
    name, given, value = text.partition("=")
    name = name.strip()
    _known(name)
    try:
        if not given:
            step = None
        elif name in _SHORT and not value.lstrip().startswith("{"):
            step = Step(name, _SHORT[name](value))
        else:
            step = Step(name, json.loads(value))
    except Trouble as trouble:
        raise CannotBegin(trouble.what, trouble.why, trouble.todo) from trouble
    except (ValueError, TypeError) as error:
        raise CannotBegin(
            f"The step “{text}” can't be read", "its value is no number and no JSON", "Write density=0.1"
        ) from error
    return Wish(name, step.parameters if step else None)


def _list(chosen: Sequence[Print], as_json: bool) -> Sequence[Refused]:
    views = [(one.accession, view) for one in chosen for view in one.views if view.treatment.steps]
    for accession, view in views:
        if as_json:
            steps = view.treatment.as_json()["steps"]
            json_line(
                {"print": accession, "side": view.side.value, "treatment": _told(view.treatment), "steps": steps}
            )
        else:
            say(f"{accession} {view.side.value}")
            _say_steps(view.treatment)
    if not views and not as_json:
        say("None of these prints is treated.")
    return ()


def _tell_looked(opened: Collection, looked: Looked, as_json: bool) -> Sequence[Refused]:
    for one in looked.proposed:
        if as_json:
            steps = one.treatment.as_json()["steps"]
            told_ = {"print": one.accession, "treatment": _told(one.treatment), "asks_neutral": one.asks_neutral}
            json_line({**told_, "steps": steps})
        else:
            say(one.accession)
            _say_steps(one.treatment)
    _tell_refused(looked.set_aside, as_json)
    if not as_json:
        say(f"{counted(looked.looked_at, 'print')} looked at, something proposed for {len(looked.proposed)}.")
        if looked.proposed:
            say("It waits as questions; accept them in the workbench, or all at once:")
            say(f"  {command(f'treat {opened.root} --accept')}")
    return looked.set_aside


def _tell_done(opened: Collection, done: Treated, as_json: bool) -> Sequence[Refused]:
    for one in opened.catalogue.prints_of(done.prints) if as_json else ():
        json_line({"print": one.accession, "treatment": _told(one.recto.treatment) if one.recto else []})
    _tell_refused(done.refused, as_json)
    if not as_json:
        last = opened.catalogue.last_act() if done.act is not None else None
        say(f"Done: {told(last[1])}." if last else "Nothing had to change.")
    return done.refused


def _tell_refused(refused: Sequence[Refused], as_json: bool) -> None:
    for one in refused:
        if as_json:
            json_line({"print": one.accession, "error": told(one.why)})
        else:
            say(f"{one.accession} stays as it is: {told(one.why)}.")


def _told(treatment: Any) -> list[str]:
    return [told(sentence) for sentence in treatment.sentences]


def _say_steps(treatment: Any) -> None:
    for step in treatment:
        off = "" if step.on else " (off)"
        say(f"  {told(step.told)}{off}")
        if step.reason:
            say(f"    {told(step.reason)}")
