"""The tables of the catalogue, apart from the records that they keep: the records know no database.

Each row that a person can change has a natural key (`row_key`), by which history speaks of it. `changes`, `acts`,
`captures`, `arrivals` and `sounds` are appended only; triggers in the database hold that, whoever writes.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import (
    JSON,
    Boolean,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
    TypeDecorator,
    text,
)

from solander.core.sentence import kept, read_kept

__all__ = [
    "HEAD",
    "acts",
    "arrivals",
    "captures",
    "changes",
    "containers",
    "face_measures",
    "faces",
    "faces_looked",
    "kin",
    "metadata",
    "occasions",
    "people",
    "person_names",
    "places",
    "prints",
    "questions",
    "row_key",
    "search_documents",
    "settings",
    "slips",
    "sounds",
    "standing",
    "standing_told",
    "standing_whole",
    "statements",
    "views",
    "writings",
]

HEAD = "0017"
"""The newest migration, four digits; kept here so that opening a collection need not load alembic."""

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)


class SentenceText(TypeDecorator[str]):
    """A sentence, kept so that it can be told in each reader's language; see `solander.core.sentence`."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: str | None, dialect: Any) -> str | None:
        """As it is written."""
        return None if value is None else kept(value)

    def process_result_value(self, value: str | None, dialect: Any) -> str | None:
        """As it is read."""
        return None if value is None else read_kept(value)


def _text(name: str, **options: bool) -> Column[str]:
    return Column(name, Text, **{"nullable": False, **options})  # type: ignore[arg-type]


settings = Table("settings", metadata, _text("key", primary_key=True), _text("value"))

containers = Table(
    "containers",
    metadata,
    _text("code", primary_key=True),
    Column("parent", Text, ForeignKey("containers.code"), index=True),
    _text("title"),
    Column("captures", JSON(none_as_null=True)),  # SHA-256 of those that show it as it was found
)

captures = Table(
    "captures",
    metadata,
    _text("sha256", primary_key=True),
    _text("name"),
    _text("media_type"),
    Column("size", Integer, nullable=False),
    Column("width", Integer, nullable=False),
    Column("height", Integer, nullable=False),
    Column("pages", Integer, nullable=False),
    Column("dpi", Float),
    _text("taken", nullable=True),
    _text("suffix"),
)

arrivals = Table(
    "arrivals",
    metadata,
    Column("id", Integer, primary_key=True),
    _text("name", index=True),
    _text("base", index=True),  # the last part of the name, case folded
    Column("sha256", Text, ForeignKey("captures.sha256"), nullable=False, index=True),
    _text("at"),
)

_IS_BACK = text("back_of IS NOT NULL")  # nearly all are none

prints = Table(
    "prints",
    metadata,
    _text("accession", primary_key=True),
    Column("container", Text, ForeignKey("containers.code")),
    Column("number", Integer, nullable=False),
    # A print that turned out to be the back of another keeps its row, so that its number is never given again.
    Column("back_of", Text, ForeignKey("prints.accession")),
    _text("taken_out", nullable=True),  # when a person said that it is no print; its number is not given again
    Index("ix_prints_container_number", "container", "number"),
    Index("ix_prints_back_of", "back_of", sqlite_where=_IS_BACK, postgresql_where=_IS_BACK),
)

views = Table(
    "views",
    metadata,
    _text("key", primary_key=True),
    Column("accession", Text, ForeignKey("prints.accession"), nullable=False, index=True),
    Column("sequence", Integer, nullable=False, index=True),  # a view that replaces another takes its place
    _text("superseded", nullable=True),
    _text("side"),
    Column("capture", Text, ForeignKey("captures.sha256"), nullable=False, index=True),
    Column("page", Integer, nullable=False),
    Column("corners", JSON, nullable=False),
    Column("second", JSON(none_as_null=True)),
    Column("confidence", Float, nullable=False),
    Column("checked", Boolean, nullable=False),
    Column("turn", Integer, nullable=False),
    Column("width", Integer, nullable=False),
    Column("height", Integer, nullable=False),
    Column("ppi", Float),
    Column("condition", JSON(none_as_null=True)),
    _text("upright", nullable=True),
    Column("bows", JSON(none_as_null=True)),
    Column("stand", JSON(none_as_null=True)),
    Column("treatment", JSON(none_as_null=True)),
    Index(
        "ix_views_unchecked", "confidence", "sequence", sqlite_where=text("superseded IS NULL AND checked IS 0")
    ),
)

statements = Table(
    "statements",
    metadata,
    Column("entry", Integer, primary_key=True),
    _text("id", unique=True),
    _text("about"),
    _text("subject", index=True),
    _text("says"),
    _text("value"),
    _text("words"),
    _text("sure"),
    _text("source"),
    _text("entered"),
    _text("withdrawn", nullable=True),
    Index("ix_statements_says_value", "says", "value"),
)

occasions = Table("occasions", metadata, _text("name", primary_key=True))

people = Table(
    "people",
    metadata,
    _text("name", primary_key=True),
    Column("also_called", JSON, nullable=False),
    _text("born"),
    _text("died"),
    Column("names", JSON, nullable=False, server_default="[]"),
    Column("sex", Text, nullable=False, server_default=text("''")),
    Column("born_at", Text, nullable=False, server_default=text("''")),
    Column("died_at", Text, nullable=False, server_default=text("''")),
    Column("known_as", JSON, nullable=False, server_default="[]"),
    Column("said", JSON, nullable=False, server_default="[]"),  # what is said of the person, in order of entry
)

# What a person is called, as folded words: filled from `people`, so that nobody need load everybody.
person_names = Table(
    "person_names",
    metadata,
    Column("id", Integer, primary_key=True),
    _text("words", index=True),
    _text("person", index=True),
)

kin = Table(
    "kin",
    metadata,
    Column("entry", Integer, primary_key=True),
    _text("id", unique=True),
    _text("person", index=True),
    _text("how"),
    _text("other", index=True),
    _text("by"),
    _text("source"),
    _text("sure"),
    _text("entered"),
    _text("withdrawn", nullable=True),
)

places = Table(
    "places",
    metadata,
    _text("name", primary_key=True),
    _text("country"),
    Column("latitude", Float),
    Column("longitude", Float),
    Column("radius_m", Float),
    Column("what", Text, nullable=False, server_default=text("''")),
    Column("names", JSON, nullable=False, server_default="[]"),  # each with the years in which it held
    Column("known_as", JSON, nullable=False, server_default="[]"),  # its keys in files and tables from outside
    Column("town", Text, nullable=False, server_default=text("''")),
    Column("region", Text, nullable=False, server_default=text("''")),
    Column("source", Text, nullable=False, server_default=text("''")),
    Column("sure", Text, nullable=False, server_default="certain"),
)

questions = Table(
    "questions",
    metadata,
    Column("entry", Integer, primary_key=True),
    _text("key", unique=True),
    _text("asks"),
    _text("subject", index=True),
    _text("sentence"),
    _text("raised"),
    _text("settled", nullable=True),
)

acts = Table(
    "acts",
    metadata,
    Column("id", Integer, primary_key=True),
    _text("at"),
    _text("who"),
    Column("what", SentenceText, nullable=False),
    Column("undoes", Integer, ForeignKey("acts.id"), unique=True),
)

changes = Table(
    "changes",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("act", Integer, ForeignKey("acts.id"), nullable=False, index=True),
    _text("at"),
    _text("action"),
    _text("table_name"),
    _text("row_key"),
    Column("before", JSON(none_as_null=True)),
    Column("after", JSON(none_as_null=True)),
    Column("lasting", Boolean, nullable=False),  # never taken back by undo
    Index("ix_changes_table_name_row_key", "table_name", "row_key"),
)

faces = Table(
    "faces",
    metadata,
    _text("key", primary_key=True),
    Column("view", Text, ForeignKey("views.key"), nullable=False, index=True),
    *(Column(name, Float, nullable=False) for name in ("left", "top", "width", "height")),
    Column("points", JSON(none_as_null=True)),
    Column("score", Float),
    Column("group_number", Integer),
    _text("person"),
    _text("aside", nullable=True),
    _text("by"),
)

face_measures = Table(  # never in history, so that a measure that is erased is nowhere any more
    "face_measures",
    metadata,
    Column("face", Text, ForeignKey("faces.key", ondelete="CASCADE"), primary_key=True, nullable=False),
    Column("measure", LargeBinary, nullable=False),
)

faces_looked = Table(
    "faces_looked",
    metadata,
    Column("view", Text, ForeignKey("views.key"), primary_key=True, nullable=False),
)

writings = Table(  # what a machine read on a view; never in history, for it can be read again
    "writings",
    metadata,
    Column("view", Text, ForeignKey("views.key", ondelete="CASCADE"), primary_key=True, nullable=False),
    Column("read", Integer, nullable=False),  # the edition of the reading
    Column("written", Boolean, nullable=False),  # whether anything stands there
    Column("told", JSON, nullable=False),
)

slips = Table(  # what holds at each station just now; never in history
    "slips",
    metadata,
    _text("station", primary_key=True),
    Column("told", JSON, nullable=False),
)

sounds = Table(
    "sounds",
    metadata,
    _text("sha256", primary_key=True),
    _text("what"),
    _text("begun"),
    Column("seconds", Float, nullable=False),
    Column("size", Integer, nullable=False),
    _text("station"),
    _text("suffix"),
)

search_documents = Table(
    "search_documents",
    metadata,
    Column("id", Integer, primary_key=True),
    _text("accession", unique=True),
    _text("caption"),
    _text("people"),
    _text("place"),
    _text("occasion"),
    _text("note"),
    _text("transcription"),
    _text("also"),  # other spellings of its words
    _text("machine"),  # what a machine read on it, where nobody wrote it down
    sqlite_autoincrement=True,
)

# Where each print stands, worked out from all the rest (`solander.core.standing`); never in history.
standing = Table(
    "standing",
    metadata,
    _text("accession", primary_key=True),
    Column("rank", Integer, nullable=False),
    _text("shelf"),  # the container's code so written that it sorts as containers stand on a shelf
    Column("number", Integer, nullable=False),
    _text("container", nullable=True),
    _text("occasion"),
    Column("occasion_rank", Integer, nullable=False),
    *(Column(name, Integer) for name in ("year", "day", "earliest", "latest", "likely_first", "likely_last")),
    *(
        Column(name, Boolean, nullable=False)
        for name in ("undated", "nobody", "unsure", "again", "contradicts", "has_back")
    ),
    Column("waits", Integer, nullable=False),
    Column("change", Integer, nullable=False),
    Index("ix_standing_rank", "rank", "accession"),
    Index("ix_standing_shelf", "shelf", "number", "accession"),
    Index("ix_standing_occasion_rank", "occasion_rank", "rank", "accession"),
    Index("ix_standing_occasion", "occasion"),
    Index("ix_standing_year", "year"),
)

standing_told = (
    Table(  # the date of each print with its reasons: apart, so that `standing` stays quick to go through
        "standing_told",
        metadata,
        _text("accession", primary_key=True),
        Column("told", JSON, nullable=False),
    )
)

standing_whole = Table(  # one row: what was worked out of all prints together, and as of which change
    "standing_whole",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("change", Integer, nullable=False),
    Column("told", JSON, nullable=False),
)

_KEYS = {
    "settings": "key",
    "containers": "code",
    "captures": "sha256",
    "arrivals": "id",
    "prints": "accession",
    "views": "key",
    "statements": "id",
    "occasions": "name",
    "people": "name",
    "person_names": "id",
    "kin": "id",
    "places": "name",
    "questions": "key",
    "sounds": "sha256",
    "faces": "key",
    "face_measures": "face",
    "faces_looked": "view",
}


def row_key(table: Table) -> Column[str]:
    """The column by which history names the rows of a table."""
    return table.c[_KEYS[table.name]]
