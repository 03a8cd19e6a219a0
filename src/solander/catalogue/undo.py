"""Taking an act back: its changes in reverse order, unless something stands in the way."""

from __future__ import annotations

from sqlalchemy import Connection, Select, and_, exists, not_, or_, select

from solander.catalogue.database import first_row, rows
from solander.catalogue.history import Recorder
from solander.catalogue.records import Row
from solander.catalogue.schema import acts, changes, kin, metadata, questions, row_key, statements
from solander.core.errors import Trouble
from solander.core.language import marked
from solander.core.sentence import Sentence
from solander.core.statements import About

__all__ = ["in_the_way", "last_act", "standing_act", "take_back"]

_NOUNS = {
    "containers": marked("container"),
    "prints": marked("print"),
    "views": marked("view"),
    "statements": marked("statement"),
    "occasions": marked("occasion"),
    "people": marked("person"),
    "kin": marked("kin"),
    "places": marked("place"),
    "questions": marked("question"),
    "settings": marked("setting"),
    "sounds": marked("recording"),
    "faces": marked("face"),
    "face_measures": marked("measure of a face"),
    "faces_looked": marked("search for faces in"),
}


_SEVERAL = {
    "acts": marked("acts"),
    "captures": marked("captures"),
    "containers": marked("containers"),
    "faces": marked("faces"),
    "prints": marked("prints"),
    "views": marked("views"),
}
"""What rows of other tables need."""


def _noun(table: str) -> str:
    return Sentence(_NOUNS[table])


_undoing = acts.alias("undoing")
_overruling = changes.alias("overruling")
_can_go_back = and_(
    changes.c.lasting.is_(False),
    not_(
        exists().where(
            _overruling.c.table_name == changes.c.table_name,
            _overruling.c.row_key == changes.c.row_key,
            _overruling.c.id > changes.c.id,
            _overruling.c.lasting.is_(True),
        )
    ),
)
"""A change that a lasting one of the same row did not overrule since."""
_stands = and_(acts.c.undoes.is_(None), not_(exists().where(_undoing.c.undoes == acts.c.id)))
"""An act that was not taken back and did not take one back."""


def last_act(connection: Connection) -> Row | None:
    """The act with the newest change that can be taken back."""
    # Asked of each change from the newest on, so that the first that fits ends it: joined, all are sorted first.
    stands = exists().where(acts.c.id == changes.c.act, _stands)
    newest = select(changes.c.act).where(_can_go_back, stands).order_by(changes.c.id.desc()).limit(1)
    return first_row(connection, select(acts).where(acts.c.id == newest.scalar_subquery()))


def standing_act(connection: Connection, number: int) -> Row | None:
    """The act of that number, while it was not taken back, took none back, and did what can be taken back."""
    query = select(acts).join_from(changes, acts).where(acts.c.id == number, _stands, changes.c.lasting.is_(False))
    return first_row(connection, query.limit(1))


def take_back(connection: Connection, act: Row, recorder: Recorder) -> None:
    """Reverses the changes of an act, newest first.

    Raises
    ------
    Trouble
        When a later act touched one of its rows, or needs one; names what stands in the way.
    """
    _refuse_if_touched_since(connection, act)
    connection.exec_driver_sql("PRAGMA defer_foreign_keys = ON")
    done = changes.c.act == act["id"], _can_go_back
    for change in rows(connection, select(changes).where(*done).order_by(changes.c.id.desc())):
        _refuse_if_changed_by_hand(act, change, was=_reverse(change, recorder))
    _refuse_if_still_needed(connection, act)


def _refuse_if_touched_since(connection: Connection, act: Row) -> None:
    if why := in_the_way(connection, act["id"]):
        raise _stays(act, why)


def in_the_way(connection: Connection, act: int) -> str:
    """What a later act did to a row of this one, as a clause; empty where none did."""
    own, later = changes.alias("own"), changes.alias("later")
    same_row = and_(
        later.c.table_name == own.c.table_name, later.c.row_key == own.c.row_key, later.c.id > own.c.id
    )
    # The acts are asked of each change that was found: joined, SQLite goes through all of history.
    stands = exists().where(acts.c.id == later.c.act, _stands)
    by_another = later.c.act != act, later.c.lasting.is_(False), stands
    query = (
        select(own.c.table_name, own.c.row_key, later.c.act)
        .select_from(own.join(later, same_row))
        .where(own.c.act == act, own.c.lasting.is_(False), *by_another)
        .order_by((later.c.id + 0).desc())  # + 0: else it begins at the end of history
        .limit(1)
    )
    found = connection.execute(query).first()
    if found is None:
        return ""
    what = connection.scalar(select(acts.c.what).where(acts.c.id == found.act))
    return Sentence(
        "“%(act)s” changed the %(thing)s %(key)s afterwards",
        act=what,
        thing=_noun(found.table_name),
        key=found.row_key,
    )


def _reverse(change: Row, recorder: Recorder) -> Row | None:
    """Makes a row what it was before a change; gives it as it was until now, None where there was none."""
    table, key = metadata.tables[change["table_name"]], change["row_key"]
    if change["action"] == "insert":
        return recorder.delete(table, key)
    if change["action"] == "delete" and recorder.row(table, key) is None:
        recorder.insert(table, change["before"])
        return None
    return recorder.update(table, key, change["before"])


def _refuse_if_changed_by_hand(act: Row, change: Row, *, was: Row | None) -> None:
    # Compared by the columns that there were when the change was made: a migration may have added some.
    after = change["after"] or {}
    if (was is None) != (change["after"] is None) or any((was or {}).get(name) != after[name] for name in after):
        raise _stays(
            act,
            Sentence(
                "%(thing)s %(key)s was changed outside of Solander",
                thing=_noun(change["table_name"]),
                key=change["row_key"],
            ),
        )


def _refuse_if_still_needed(connection: Connection, act: Row) -> None:
    for table, rowid, parent, _place in connection.exec_driver_sql("PRAGMA foreign_key_check").all():
        by = _key_of_row(connection, table, rowid)
        message = marked("the %(thing)s %(key)s came later and needs one of its %(parents)s")
        raise _stays(act, Sentence(message, thing=_noun(table), key=by, parents=Sentence(_SEVERAL[parent])))
    gone = _taken_away(act, "people")
    tied = kin.c.withdrawn.is_(None), or_(kin.c.person.in_(gone), kin.c.other.in_(gone))
    if found := connection.execute(select(kin.c.person, kin.c.other).where(*tied).limit(1)).first():
        raise _stays(
            act,
            Sentence("%(one)s and %(other)s were entered as kin afterwards", one=found.person, other=found.other),
        )
    for about, table in ((About.PRINT, "prints"), (About.OCCASION, "occasions")):
        gone = _taken_away(act, table)
        said = statements.c.about == about, statements.c.subject.in_(gone), statements.c.withdrawn.is_(None)
        if found := connection.execute(select(statements.c.subject).where(*said).limit(1)).scalar():
            raise _stays(
                act,
                Sentence(
                    "something was said about the %(thing)s %(key)s afterwards",
                    thing=_noun(table),
                    key=found,
                ),
            )
    waits = questions.c.subject.in_(_taken_away(act, "prints")), questions.c.settled.is_(None)
    if found := connection.execute(select(questions.c.subject).where(*waits).limit(1)).scalar():
        raise _stays(act, Sentence("a question was raised about the print %(print)s afterwards", print=found))


def _taken_away(act: Row, table: str) -> Select[tuple[str]]:
    added = changes.c.act == act["id"], changes.c.action == "insert", changes.c.table_name == table
    return select(changes.c.row_key).where(*added)


def _key_of_row(connection: Connection, name: str, rowid: int) -> str:
    table = metadata.tables[name]
    found = connection.exec_driver_sql(f"SELECT {row_key(table).name} FROM {name} WHERE rowid = ?", (rowid,))
    return str(found.scalar())


def _stays(act: Row, why: str) -> Trouble:
    return Trouble(
        Sentence("“%(what)s” was not taken back", what=act["what"]),
        why,
        Sentence("Change it by hand where it is shown"),
    )
