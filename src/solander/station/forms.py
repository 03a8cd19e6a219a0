"""What a form sends: its fields as they were filled in, and files that were given with it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated, cast
from urllib.parse import parse_qs

from attrs import field, frozen
from fastapi import Depends, Request
from fastapi.responses import RedirectResponse

from solander.core.errors import Trouble
from solander.core.sentence import Sentence

__all__ = ["NUMBERS", "Fields", "Form", "GivenFile", "Parts", "Sent", "onward", "own_address", "sent_with"]

Form = Mapping[str, str]

NUMBERS = 2**63
"""Beyond every number of a row in the catalogue (SQLite, "Datatypes": 8 bytes with a sign)."""

LARGEST_FILE = 512 * 2**20
"""Bytes of a form with a file: more than a family tree of a million people (our choice)."""


@frozen
class GivenFile:
    """A file that was chosen in a form; `name` is its last part, as the browser says it."""

    name: str
    content: bytes = field(repr=False)


@frozen
class Sent:
    """A form with files: fields by name, and the files that hold anything by the name of their field."""

    fields: Form
    files: Mapping[str, GivenFile]


async def sent_with(request: Request) -> Sent:
    """What a request brought, read once: the fields of a form as they were filled in (of several of one name the
    last), and files that came with them (multipart/form-data, RFC 7578)."""
    if not hasattr(request.state, "sent"):
        request.state.sent = await _read(request)
    return cast("Sent", request.state.sent)


async def _read_form(request: Request) -> Form:
    return (await sent_with(request)).fields


async def _read(request: Request) -> Sent:
    length = request.headers.get("content-length", "")
    if length.isdecimal() and int(length) > LARGEST_FILE:
        raise Trouble(
            Sentence("The file was not taken"),
            Sentence("it is larger than 512 MB"),
            Sentence("Give the path to it instead"),
        )
    kind = request.headers.get("content-type", "")
    boundary = re.search(r'boundary="?([^";,]+)"?', kind)
    body = await request.body()
    if kind.startswith("application/json"):
        return Sent({}, {})  # the interface for programs reads it by itself
    if not kind.startswith("multipart/form-data") or boundary is None:
        return Sent(_plain_fields(body), {})
    return sent_in(body, boundary.group(1).encode("latin-1"))


def sent_in(body: bytes, boundary: bytes) -> Sent:
    """The fields and files between the boundaries of a body (RFC 2046, 5.1.1)."""
    fields: dict[str, str] = {}
    files: dict[str, GivenFile] = {}
    for part in (b"\r\n" + body).split(b"\r\n--" + boundary)[1:-1]:
        head, _, content = part.removeprefix(b"\r\n").partition(b"\r\n\r\n")
        said = head.decode("utf-8", "replace")
        name, file = (re.search(rf'[; ]{what}="([^"]*)"', said) for what in ("name", "filename"))
        if name and file is None:
            fields[name.group(1)] = content.decode("utf-8", "replace")
        elif name and file and file.group(1):
            # Some browsers say the whole path: its last part is the name.
            last = re.split(r"[/\\]", file.group(1))[-1]
            files[name.group(1)] = GivenFile(last, content)
    return Sent(fields, files)


def _plain_fields(body: bytes) -> Form:
    read = parse_qs(body.decode("utf-8", "replace"), keep_blank_values=True)
    return {name: values[-1] for name, values in read.items()}


Fields = Annotated[Form, Depends(_read_form)]
"""The fields of a form, for a route."""

Parts = Annotated[Sent, Depends(sent_with)]
"""Fields and files, for a route."""


def own_address(address: str) -> str:
    """An address of the workbench; anything else leads to the table."""
    return address if address.startswith("/") and not address.startswith(("//", "/\\")) else "/"


def onward(form: Form, act: int | None, otherwise: str = "/") -> RedirectResponse:
    """Leads to the address that a form carries as `then`, or `otherwise`; the page there can take the act back."""
    address = own_address(form.get("then", "") or otherwise)
    place, mark, anchor = address.partition("#")
    if act is not None:
        place += f"{'&' if '?' in place else '?'}done={act}"
    return RedirectResponse(place + mark + anchor, 303)
