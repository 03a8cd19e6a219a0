"""The XMP properties of an access picture: the master copy of its description.

Which property holds which fact follows IPTC Photo Metadata 2023.1, Dublin Core, the XMP specification and
Darwin Core (radius); what none of them can hold stands in our own namespace, see `docs/own-xmp-namespace.md`.
"""

from __future__ import annotations

from collections.abc import Iterator

from solander import __version__
from solander.core.descriptions import PersonShown, Reason
from solander.core.prints import Side
from solander.core.statements import Statement, Sure
from solander.core.treatments import Step
from solander.delivery.embed_facts import AccessCopy, identifier_of, moment_of_capture
from solander.delivery.embed_packet import Alt, Bag, Node, Seq, Struct
from solander.delivery.embed_place import place_in_xmp
from solander.delivery.embed_regions import regions_of
from solander.delivery.embed_words import (
    description_of,
    extent_of,
    keywords_of,
    plain_number,
    title_of,
)

__all__ = ["PRINT_SOURCE", "properties_of"]

PRINT_SOURCE = "http://cv.iptc.org/newscodes/digitalsourcetype/print"
"""The IPTC digital source type of a digitised paper photograph (NewsCodes, 2024-10-23)."""

_TRUE, _FALSE = "True", "False"  # XMP specification part 1, 8.2.1.1


def properties_of(copy: AccessCopy, *, with_statements: bool = True) -> dict[str, Node]:
    """All XMP properties by name with prefix; empty ones are among them and are for the packet to drop."""
    return {
        **_words(copy),
        **_dates(copy),
        **_people(copy),
        **regions_of(copy),
        **place_in_xmp(copy),
        **_identity(copy),
        **_object(copy),
        **_own(copy),
        "solander:statements": Bag(_statements(copy) if with_statements else ()),
    }


def _words(copy: AccessCopy) -> dict[str, Node]:
    described = copy.described
    return {
        "dc:title": Alt(title_of(described, copy.side)),
        "dc:description": Alt(
            description_of(described, copy.side, sortable=copy.sortable, treatment=copy.treatment)
        ),
        "dc:subject": Bag(keywords_of(described)),
        "dc:rights": Alt(copy.rights),
        "Iptc4xmpExt:Event": Alt(described.occasion),
    }


def _dates(copy: AccessCopy) -> dict[str, Node]:
    captured = moment_of_capture(copy)
    return {
        "dcterms:created": copy.described.when.edtf,
        "photoshop:DateCreated": copy.plain_date,
        "exif:DateTimeOriginal": copy.sortable or copy.plain_date,
        "xmp:CreateDate": captured.isoformat(timespec="seconds") if captured else "",
        "xmp:MetadataDate": copy.changed,
        "xmp:CreatorTool": f"Solander {__version__}",
    }


def _people(copy: AccessCopy) -> dict[str, Node]:
    people = copy.described.people
    # A plain name can't say "perhaps": a guess is told only where its sureness stands beside it.
    sure = [shown for shown in people if shown.sure is not Sure.GUESS]
    return {
        "Iptc4xmpExt:PersonInImage": Bag(tuple(shown.person.name for shown in sure)),
        "Iptc4xmpExt:PersonInImageWDetails": Bag(tuple(_person(shown) for shown in people)),
        "solander:people": Bag(
            tuple(
                Struct(
                    {
                        "solander:name": Alt(shown.person.name),
                        "solander:sure": shown.sure.value,
                        "solander:age": Alt(shown.age),
                    }
                )
                for shown in people
            )
        ),
    }


def _person(shown: PersonShown) -> Struct:
    known = [f"aged {shown.age}"] if shown.age else []
    doubt = [] if shown.sure is Sure.CERTAIN else [shown.sure.value]
    return Struct(
        {
            "Iptc4xmpExt:PersonName": Alt(shown.person.name),
            "Iptc4xmpExt:PersonDescription": Alt("; ".join(known + doubt)),
        }
    )


def _identity(copy: AccessCopy) -> dict[str, Node]:
    accession = copy.described.print.accession
    identifier = copy.identifier
    others = [view for view in copy.described.print.views if view.key != copy.view.key]
    return {
        "dc:identifier": identifier,
        "plus:ImageSupplierImageID": identifier,
        "dc:source": f"{accession} (paper print)",
        "dc:relation": Bag(tuple(identifier_of("view", view.key).urn for view in others)),
        "xmpMM:DocumentID": copy.document.urn,
        "xmpMM:InstanceID": copy.instance.urn,
        "xmpMM:History": Seq(tuple(_step(step) for step in copy.treatment.applied)),
        "xmpMM:DerivedFrom": Struct(
            {
                "stRef:documentID": identifier_of("capture", copy.view.capture).urn,
                "stRef:filePath": copy.capture_path,
            }
        ),
        "mwg-coll:Collections": Bag(
            tuple(
                Struct({"mwg-coll:CollectionName": name})
                for name in (copy.collection, copy.described.print.container or "")
                if name
            )
        ),
    }


def _step(step: Step) -> Struct:
    """One step as an event of the file's history, in the words of XMP part 2 for what happens (from memory)."""
    action = {"crop": "cropped", "output": "resized"}.get(step.name, "edited")
    return Struct(
        {"stEvt:action": action, "stEvt:parameters": step.told, "stEvt:softwareAgent": f"Solander {__version__}"}
    )


def _object(copy: AccessCopy) -> dict[str, Node]:
    """The paper itself."""
    extent = extent_of(copy.view)
    paper = Struct(
        {
            "Iptc4xmpExt:AOSourceInvNo": copy.described.print.accession,
            "Iptc4xmpExt:AOCircaDateCreated": copy.described.when.words,
            "Iptc4xmpExt:AOPhysicalDescription": Alt(f"paper photograph, {extent}" if extent else ""),
        }
    )
    return {
        "dcterms:extent": extent,
        "Iptc4xmpExt:DigitalSourceType": PRINT_SOURCE,
        "Iptc4xmpExt:ArtworkOrObject": Bag((paper,)),
    }


def _own(copy: AccessCopy) -> dict[str, Node]:
    described, when, size = copy.described, copy.described.when, copy.view.size_mm
    return {
        "solander:accession": described.print.accession,
        "solander:side": copy.side.value,
        "solander:sides": Seq(tuple(_sides(copy))),
        "solander:orderNumber": str(described.order),
        "solander:dateEDTF": when.edtf,
        "solander:dateWords": Alt(when.words),
        "solander:dateSure": when.sure.value if when.edtf else "",
        "solander:dateStated": (_TRUE if when.stated else _FALSE) if when.edtf else "",
        "solander:dateEarliest": when.earliest or "",
        "solander:dateLatest": when.latest or "",
        "solander:printingEDTF": when.printing_edtf,
        "solander:standInDate": _TRUE if copy.sortable else _FALSE,
        "solander:reasons": Seq(tuple(_reason(reason) for reason in when.reasons)),
        "solander:transcription": Alt(described.transcription),
        "solander:note": Alt(described.note),
        "solander:size": Struct(
            {"solander:widthMm": plain_number(size[0]), "solander:heightMm": plain_number(size[1])} if size else {}
        ),
        "solander:captureSHA256": copy.view.capture,
        "solander:captureName": Alt(copy.capture.name if copy.capture else ""),
        "solander:treatment": Seq(copy.treatment.sentences),
    }


def _sides(copy: AccessCopy) -> Iterator[Struct]:
    for view in sorted(copy.described.print.views, key=lambda view: list(Side).index(view.side)):
        identifier = identifier_of("view", view.key).urn
        yield Struct({"solander:role": view.side.value, "solander:id": identifier})


def _reason(reason: Reason) -> Struct:
    return Struct(
        {
            "solander:sentence": Alt(reason.sentence),
            "solander:source": Alt(reason.source),
            "solander:sure": reason.sure.value,
            "solander:boundsPrinting": _TRUE if reason.bounds_printing else _FALSE,
        }
    )


def _statements(copy: AccessCopy) -> tuple[Struct, ...]:
    return tuple(_statement(said) for said in copy.described.statements if said.withdrawn is None)


def _statement(said: Statement) -> Struct:
    return Struct(
        {
            "solander:about": said.about.value,
            "solander:subject": Alt(said.subject),
            "solander:says": said.says.value,
            "solander:value": Alt(said.value),
            "solander:words": Alt(said.words),
            "solander:sure": said.sure.value,
            "solander:source": Alt(said.source),
            "solander:entered": said.entered,
        }
    )
