"""XMP packets as text: plain values, alternatives by language, lists and structures in their namespaces.

A whole packet can carry any namespace; setting properties one by one needs each registered in the library.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from attrs import frozen

__all__ = ["NAMESPACES", "SOLANDER", "Alt", "Bag", "Node", "Seq", "Struct", "clean", "packet"]

SOLANDER = "urn:uuid:c7bee87d-ab97-44c9-880c-b61c3ac96afc#"
"""Our own namespace: a random UUID, so that it needs no domain; `docs/own-xmp-namespace.md` describes it.
Readers of XMP expect a namespace to end in `/` or `#`."""

NAMESPACES: Mapping[str, str] = {
    "Iptc4xmpCore": "http://iptc.org/std/Iptc4xmpCore/1.0/xmlns/",
    "Iptc4xmpExt": "http://iptc.org/std/Iptc4xmpExt/2008-02-29/",
    "dc": "http://purl.org/dc/elements/1.1/",
    "dcterms": "http://purl.org/dc/terms/",
    "dwcterms": "http://rs.tdwg.org/dwc/terms/",
    "exif": "http://ns.adobe.com/exif/1.0/",
    "mwg-coll": "http://www.metadataworkinggroup.com/schemas/collections/",
    "mwg-rs": "http://www.metadataworkinggroup.com/schemas/regions/",
    "photoshop": "http://ns.adobe.com/photoshop/1.0/",
    "plus": "http://ns.useplus.org/ldf/xmp/1.0/",
    "solander": SOLANDER,
    "stArea": "http://ns.adobe.com/xmp/sType/Area#",
    "stDim": "http://ns.adobe.com/xap/1.0/sType/Dimensions#",
    "stEvt": "http://ns.adobe.com/xap/1.0/sType/ResourceEvent#",
    "stRef": "http://ns.adobe.com/xap/1.0/sType/ResourceRef#",
    "xmp": "http://ns.adobe.com/xap/1.0/",
    "xmpMM": "http://ns.adobe.com/xap/1.0/mm/",
}

# What XML 1.0 forbids (section 2.2), and DEL, which the XMP toolkit turns into a space (measured).
_FORBIDDEN = re.compile("[^\t\n\r\x20-\x7e\x80-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@frozen
class Alt:
    """Text for people, in a language that is not known: one alternative, `x-default`."""

    text: str


@frozen
class Bag:
    """A list without order."""

    items: tuple[Node, ...]


@frozen
class Seq:
    """A list in order."""

    items: tuple[Node, ...]


@frozen
class Struct:
    """Named fields; each name with its prefix ("solander:role")."""

    fields: Mapping[str, Node]


Node = str | Alt | Bag | Seq | Struct
"""A value of XMP; a plain `str` is for what programs read, `Alt` for what people wrote."""


def clean(text: str) -> str:
    """The text with every character that XML cannot hold shown as U+FFFD, the sign for a lost character."""
    return _FORBIDDEN.sub("\ufffd", text)


def packet(properties: Mapping[str, Node]) -> str:
    """The XMP packet that holds the properties, in their order; names carry a prefix of `NAMESPACES`.

    Empty values are left out: an empty field says "known to be nothing", which nobody stated.
    """
    declared = "".join(f'\n   xmlns:{prefix}="{uri}"' for prefix, uri in NAMESPACES.items())
    body = "\n".join(f"   {_element(name, node)}" for name, node in properties.items() if not _is_empty(node))
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>\n'
        '<x:xmpmeta xmlns:x="adobe:ns:meta/">\n'
        ' <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">\n'
        f'  <rdf:Description rdf:about=""{declared}>\n'
        f"{body}\n"
        "  </rdf:Description>\n </rdf:RDF>\n</x:xmpmeta>\n"
        '<?xpacket end="w"?>'
    )


def _is_empty(node: Node) -> bool:
    match node:
        case Alt(text):
            return not text
        case Bag(items) | Seq(items):
            return all(_is_empty(item) for item in items)
        case Struct(fields):
            return all(_is_empty(item) for item in fields.values())
    return not node


def _element(name: str, node: Node) -> str:
    if isinstance(node, Struct):
        return f'<{name} rdf:parseType="Resource">{"".join(_fields(node))}</{name}>'
    return f"<{name}>{_content(node)}</{name}>"


def _content(node: str | Alt | Bag | Seq) -> str:
    match node:
        case Alt(text):
            return f'<rdf:Alt><rdf:li xml:lang="x-default">{_escape(text)}</rdf:li></rdf:Alt>'
        case Bag(items):
            return f"<rdf:Bag>{_items(items)}</rdf:Bag>"
        case Seq(items):
            return f"<rdf:Seq>{_items(items)}</rdf:Seq>"
    # The writing library reads "type=" at the head of a plain value as a command (libexiv2's XmpValue).
    return _escape(f" {node}" if node.startswith("type=") else node)


def _fields(struct: Struct) -> Iterator[str]:
    return (_element(name, node) for name, node in struct.fields.items() if not _is_empty(node))


def _items(items: tuple[Node, ...]) -> str:
    return "".join(_item(item) for item in items if not _is_empty(item))


def _item(node: Node) -> str:
    if isinstance(node, str):  # the library takes items of lists as they are
        return f"<rdf:li>{_escape(node)}</rdf:li>"
    return _element("rdf:li", node)


def _escape(text: str) -> str:
    escaped = clean(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return escaped.replace("\r", "&#xD;")  # a bare carriage return would be read back as a line feed
