"""What one change did, in words: of what, what it was before, what it is after."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from attrs import frozen

from solander.catalogue.history import Change
from solander.catalogue.records import statement_of
from solander.core.errors import InvalidValue
from solander.core.language import _, marked, told
from solander.core.sentence import read_kept
from solander.core.statements import About, Says, Sure
from solander.look.words import edtf_words, says_words, source_told

__all__ = ["ChangeShown", "shown"]

Row = Mapping[str, Any]

_LONGEST = 160
"""So many letters of a text are shown; the whole of it is where it belongs (our choice)."""


@frozen
class ChangeShown:
    """One change: `of` names the thing, `accession` its print where it has one, `what` which part of it; `before`
    and `after` are empty where there was or is nothing."""

    of: str
    what: str
    before: str = ""
    after: str = ""
    accession: str = ""


def shown(change: Change) -> ChangeShown:
    """A change as a person reads it."""
    before, after = change.before or {}, change.after or {}
    return _WAYS.get(change.table, _any_row)(change, before, after)


def _statement(change: Change, before: Row, after: Row) -> ChangeShown:
    row = after or before
    accession = row["subject"] if row["about"] == About.PRINT else ""
    said = f"“{_claim(row)}”"
    is_said = bool(after) and not after["withdrawn"]
    was_said = bool(before) and not before["withdrawn"]
    kept = row["subject"] if is_said and was_said else ""
    if kept and before["subject"] != after["subject"]:
        return ChangeShown(kept, _("moved to it"), before["subject"], after["subject"], accession)
    told = (said if was_said else "", said if is_said else "")
    return ChangeShown(row["subject"], _what(row), *told, accession)


def _what(row: Row) -> str:
    return says_words(statement_of(row)) if row["says"] in list(Says) else str(row["says"])


def _claim(row: Row) -> str:
    """The words, with what was understood of them where that is another, how sure, and who says so."""
    words = row["words"] or row["value"]
    value = row["value"]
    if row["says"] in (Says.EXPOSURE, Says.PRINTING) and value:
        value = _date(value)
    understood = f" ({value})" if value and value.casefold() != str(words).casefold() else ""
    sure = "" if row["sure"] == Sure.CERTAIN else f", {_(_SURE[row['sure']])}"
    return f"{_short(words)}{understood}{sure} · {source_told(row['source'])}"


_SURE = {Sure.CERTAIN: "", Sure.LIKELY: marked("likely"), Sure.GUESS: marked("a guess")}


def _date(value: str) -> str:
    try:
        return edtf_words(value)
    except InvalidValue:
        return value


def _print(change: Change, before: Row, after: Row) -> ChangeShown:
    if before and after:
        if before["taken_out"] != after["taken_out"]:
            states = (_("a print"), _("no print"))
            told = states if after["taken_out"] else states[::-1]
            return ChangeShown(
                change.key, _("taken out") if after["taken_out"] else _("put back"), *told, change.key
            )
        told = (before["back_of"] or "", after["back_of"] or "")
        return ChangeShown(change.key, _("back of"), *told, change.key)
    there: str = _("in %(container)s", container=(after or before)["container"] or _("no container"))
    return ChangeShown(change.key, _("print"), there if before else "", there if after else "", change.key)


_SIDES = {"recto": "front", "verso": "back", "detail": "detail"}


def _view(change: Change, before: Row, after: Row) -> ChangeShown:
    row = after or before
    accession: str = row["accession"]
    side = _SIDES[row["side"]]
    side, belongs, measured = _(side), _("belongs to"), _("measured")
    if not before or not after:
        cut = _("cut out")
        return ChangeShown(accession, side, cut if before else "", cut if after else "", accession)
    for name, what in (("checked", _("edge checked")), ("turn", _("turned")), ("superseded", _("in use"))):
        if before[name] != after[name]:
            told = (_state(name, before[name]), _state(name, after[name]))
            return ChangeShown(accession, f"{side}: {what}", *told, accession)
    if before["accession"] != after["accession"]:
        return ChangeShown(accession, f"{side}: {belongs}", before["accession"], after["accession"], accession)
    return ChangeShown(accession, f"{side}: {measured}", accession=accession)


def _state(name: str, value: object) -> str:
    if name == "turn":
        return f"{int(str(value)) * 90}°"
    holds = not value if name == "superseded" else bool(value)
    return _("yes") if holds else _("no")


def _question(change: Change, before: Row, after: Row) -> ChangeShown:
    row = after or before
    sentence = _short(told(read_kept(row["sentence"])))
    waited = bool(before) and not before["settled"]
    waits = bool(after) and not after["settled"]
    return ChangeShown(
        row["subject"].replace("\n", " · "), _("asked"), sentence if waited else "", sentence if waits else "",
        row["subject"] if row["asks"] not in ("place", "same-person", "set-aside") else "",
    )  # fmt: skip


def _container(change: Change, before: Row, after: Row) -> ChangeShown:
    return ChangeShown(
        change.key,
        _("container"),
        (before["title"] or change.key) if before else "",
        (after["title"] or change.key) if after else "",
    )


def _named(noun: Callable[[], str]) -> Callable[[Change, Row, Row], ChangeShown]:
    """A thing that is known by its name alone, with the fields that differ."""

    def told(change: Change, before: Row, after: Row) -> ChangeShown:
        if before and after:
            return ChangeShown(change.key, noun(), *_differing(before, after))
        name = _short(str((after or before).get("name", change.key)))
        return ChangeShown(change.key, noun(), name if before else "", name if after else "")

    return told


def _kin(change: Change, before: Row, after: Row) -> ChangeShown:
    row = after or before
    how = {"parent": _("parent of"), "partner": _("partner of")}.get(row["how"], row["how"])
    told = f"{row['person']}, {how} {row['other']}"
    was, is_now = bool(before) and not before["withdrawn"], bool(after) and not after["withdrawn"]
    return ChangeShown(row["person"], _("kin"), told if was else "", told if is_now else "")


def _face(change: Change, before: Row, after: Row) -> ChangeShown:
    was, is_now = (str(row.get("person") or "") if row else "" for row in (before, after))
    return ChangeShown(_("a face"), _("is"), was, is_now)


def _setting(change: Change, before: Row, after: Row) -> ChangeShown:
    what = {
        "second_copy": _("second copy"),
        "customs": _("how dates are read"),
        "first_words": _("first words"),
        "title": _("title of the collection"),
        "handwriting": _("recogniser of handwriting"),
    }.get(change.key, change.key.replace("_", " "))
    return ChangeShown(_("the collection"), what, *(_short(str(row.get("value", ""))) for row in (before, after)))


def _any_row(change: Change, before: Row, after: Row) -> ChangeShown:
    of = change.table.replace("_", " ")
    if before and after:
        return ChangeShown(of, change.key, *_differing(before, after))
    return ChangeShown(of, change.key, change.key if before else "", change.key if after else "")


def _differing(before: Row, after: Row) -> tuple[str, str]:
    names = [name for name in after if before.get(name) != after[name] and name != "said"]
    sides = (", ".join(f"{name}: {_plain(row.get(name))}" for name in names) for row in (before, after))
    was, is_now = sides
    return _short(was), _short(is_now)


def _plain(value: object) -> str:
    if isinstance(value, list | tuple):
        return ", ".join(_plain(one) for one in value)
    if isinstance(value, dict):
        return str(value.get("text") or next(iter(value.values()), ""))
    return "–" if value in (None, "") else str(value)


def _short(text: str) -> str:
    flat = " ".join(str(text).split())
    return flat if len(flat) <= _LONGEST else f"{flat[: _LONGEST - 1]}…"


_WAYS: Mapping[str, Callable[[Change, Row, Row], ChangeShown]] = {
    "statements": _statement,
    "prints": _print,
    "views": _view,
    "questions": _question,
    "containers": _container,
    "occasions": _named(lambda: _("occasion")),
    "people": _named(lambda: _("person")),
    "places": _named(lambda: _("place")),
    "captures": _named(lambda: _("file that came")),
    "arrivals": _named(lambda: _("arrival")),
    "kin": _kin,
    "faces": _face,
    "settings": _setting,
}
