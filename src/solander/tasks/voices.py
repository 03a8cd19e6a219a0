"""Who said what of one print, side by side: what is believed, what was left out and why, nothing overwritten."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from attrs import evolve, frozen

from solander.authorities.dating import dating_facts
from solander.core.ages import read_age_value
from solander.core.chronology import Between
from solander.core.dates import Dated, parse_edtf
from solander.core.evidence import Evidence
from solander.core.sentence import Joined, Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.put_in_order import Clash, Timeline
from solander.tasks.typed import Field

__all__ = ["FIELD_OF", "Voice", "fellows_of", "plain_voices", "voices_of"]

FIELD_OF: Mapping[Says, Field] = {
    Says.EXPOSURE: Field.DATE,
    Says.PRINTING: Field.DATE,
    Says.UNREAD_DATE: Field.DATE,
    Says.PLACE: Field.PLACE,
    Says.PERSON: Field.PEOPLE,
    Says.AGE: Field.PEOPLE,
    Says.OCCASION: Field.OCCASION,
    Says.CAPTION: Field.CAPTION,
    Says.NOTE: Field.NOTE,
    Says.TRANSCRIPTION: Field.TRANSCRIPTION,
    Says.EVIDENCE: Field.EVIDENCE,
}
"""The field of the slip that a statement belongs to; what is missing here is not typed on a print's page."""

_SURENESS = (Sure.CERTAIN, Sure.LIKELY, Sure.GUESS)


@frozen
class Voice:
    """One view of one field.

    `ident` is the statement's, empty for what follows from other things, as a life does from a birth; `said` are
    the words, `understood` what was made of them where that is something else. `earliest` and `latest` are the
    days that it allows, None where open or none. `believed` is whether it is among what is believed, `why_not`
    says why it is not. `own` when it can be taken back on this page; `occasion` names the one that it was said of.
    """

    ident: str
    source: str
    said: str
    sure: Sure
    understood: str = ""
    earliest: int | None = None
    latest: int | None = None
    believed: bool = True
    why_not: str = ""
    own: bool = True
    occasion: str = ""


def voices_of(line: Timeline, statements: Sequence[Statement]) -> dict[Field, list[Voice]]:
    """All views of each field in the order of entry; of the date also what follows from the paper, from lives and
    ages, as far as it bears on this print alone."""
    found: dict[Field, list[Voice]] = defaultdict(list)
    believed = _believed_statements(statements)
    people = (one for one in statements if one.says is Says.PERSON)
    told_with_person = {age.id for one in people for age in fellows_of(one, statements)[1:]}
    dated = _DateVoices(line)
    for said in statements:
        kind = FIELD_OF.get(said.says)
        if kind is None or (said.about is About.OCCASION and said.says not in (Says.EXPOSURE, Says.PLACE)):
            continue
        if said.id in told_with_person:
            continue
        voice = dated.stated(said) if kind is Field.DATE else _plain(said, is_believed=said.id in believed)
        if said.says is Says.PERSON:
            voice = evolve(voice, understood=_with_ages(voice.understood, fellows_of(said, statements)[1:]))
        found[kind].append(voice)
    stated = {voice.ident for voice in found[Field.DATE]}
    found[Field.DATE] += dated.others(stated)
    return {kind: found[kind] for kind in Field if found[kind]}


def plain_voices(statements: Iterable[Statement]) -> dict[Field, list[Voice]]:
    """All views of each field as they were told, where nobody looks into what is believed."""
    found: dict[Field, list[Voice]] = defaultdict(list)
    for said in statements:
        if kind := FIELD_OF.get(said.says):
            found[kind].append(evolve(_plain(said, is_believed=True), own=False, occasion=""))
    return {kind: found[kind] for kind in Field if found[kind]}


def fellows_of(said: Statement, statements: Iterable[Statement]) -> list[Statement]:
    """The statement with those that came in with the same words: who somebody is, and how old."""
    if said.says is not Says.PERSON:
        return [said]
    ages = (one for one in statements if one.says is Says.AGE and one.source == said.source)
    return [
        said,
        *(one for one in ages if one.subject == said.subject and read_age_value(one.value)[0] == said.value),
    ]


def _with_ages(understood: str, ages: Iterable[Statement]) -> str:
    told = [read_age_value(one.value)[1].words for one in ages]
    return Joined(filter(None, (understood, *told)), ", ") if told else understood


def _believed_statements(statements: Sequence[Statement]) -> set[str]:
    """What shows on the slip: of a place the surest, of an occasion and a caption the last, of all else all."""
    believed = {one.id for one in statements if one.says not in (Says.PLACE, Says.OCCASION, Says.CAPTION)}
    places = [one for one in statements if one.says is Says.PLACE]
    if places:
        believed.add(min(places, key=lambda one: _SURENESS.index(one.sure)).id)
    for says in (Says.OCCASION, Says.CAPTION):
        last = [one.id for one in statements if one.says is says and one.about is About.PRINT][-1:]
        believed.update(last)
    return believed


def _plain(said: Statement, *, is_believed: bool) -> Voice:
    return Voice(
        said.id,
        said.source,
        said.words,
        said.sure,
        _understood(said),
        believed=is_believed,
        why_not="" if is_believed else _WHY_NOT.get(said.says, ""),
        own=said.about is About.PRINT,
        occasion=said.subject if said.about is About.OCCASION else "",
    )


_WHY_NOT = {
    Says.PLACE: Sentence("another one is said as surely or more so"),
    Says.OCCASION: Sentence("another one was said later"),
    Says.CAPTION: Sentence("another one was said later"),
}


def _understood(said: Statement) -> str:
    """What was made of the words, where they do not say so themselves."""
    if said.says is Says.AGE:
        name, age = read_age_value(said.value)
        return Sentence("%(person)s was %(age)s", person=name, age=age.words)
    if said.says is Says.EVIDENCE:
        fact = dating_facts().get(said.value)
        return fact.named if fact and fact.named.casefold() != said.words.casefold() else ""
    return "" if said.value in said.words else said.value


class _DateVoices:
    """Views of the date: what is among the evidence was believed, what is in a clash was left out."""

    def __init__(self, line: Timeline) -> None:
        self._line = line
        self._by_statement: dict[str, Evidence] = {}
        for ident, evidence in line.evidence.items():
            for part in ident.split():
                self._by_statement.setdefault(part, evidence)
        self._clashes: dict[str, Clash] = {}
        for clash in (*line.clashes, *line.overruled):
            for part in clash.left_out.constraint.id.split():
                self._clashes.setdefault(part, clash)

    def stated(self, said: Statement) -> Voice:
        """The view of somebody who told a date."""
        days = parse_edtf(said.value).bounds() if said.value else None
        clash = self._clashes.get(said.id)
        believed = said.id in self._by_statement
        return Voice(
            said.id,
            said.source,
            said.words,
            said.sure,
            Dated(said.value) if said.value else Sentence("not understood yet"),
            days.earliest if days else None,
            days.latest if days else None,
            believed,
            _against(clash) if clash and not believed else "",
            said.about is About.PRINT,
            said.subject if said.about is About.OCCASION else "",
        )

    def others(self, stated: set[str]) -> Iterator[Voice]:
        """What else bears on the date, each once; what is always so is nobody's view."""
        told: set[str] = set()
        believed = [(one, None) for one in self._line.evidence.values() if one.rank >= 0]
        left_out = [(clash.left_out, clash) for clash in (*self._line.clashes, *self._line.overruled)]
        for evidence, clash in (*believed, *left_out):
            first = evidence.constraint.id.split()[0]
            sentence = evidence.reason.sentence
            if sentence in told or {first, *evidence.constraint.id.split()} & stated:
                continue
            told.add(sentence)
            days = evidence.constraint if isinstance(evidence.constraint, Between) else None
            yield Voice(
                "", evidence.reason.source, sentence, evidence.reason.sure,
                earliest=days.earliest if days else None,
                latest=days.latest if days else None,
                believed=clash is None,
                why_not=_against(clash) if clash else "",
                own=False,
            )  # fmt: skip


def _against(clash: Clash) -> str:
    """What it can't be true together with."""
    told = dict.fromkeys(one.reason.sentence for one in clash.conflict if one.rank >= 0)
    others = Joined(told) if told else Sentence("what is always so: a picture is taken before it is printed")
    if clash.left_out.soft:
        return Sentence("gave way to: %(others)s", others=others)
    return Sentence("can’t be true together with: %(others)s", others=others)
