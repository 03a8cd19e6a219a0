"""The contact sheet of a container, as a file to keep or to print."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from typing import IO

from fastapi import FastAPI
from fastapi.responses import StreamingResponse

from solander.core.prints import container_code
from solander.station.workbench import Page, Workbench
from solander.tasks.contact_sheet import ContactSheetOf

__all__ = ["add_contact_sheet"]

_CHUNK = 1 << 20


def add_contact_sheet(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds its address: that of the container, with /contact-sheet.pdf behind."""
    desk = bench.arranging
    if desk is None:
        return

    @app.get("/container/{code}/contact-sheet.pdf")
    def contact_sheet(code: str) -> StreamingResponse:
        sheet = ContactSheetOf(desk.collection, container_code(code))
        held = tempfile.TemporaryFile()  # noqa: SIM115 - it is closed, and gone, when the last of it was sent
        sheet.write(held)
        name = code.replace("/", "-")
        headers = {"Content-Disposition": f'inline; filename="{name}-treated.pdf"'}
        return StreamingResponse(_read(held), media_type="application/pdf", headers=headers)


def _read(held: IO[bytes]) -> Iterator[bytes]:
    with held:
        held.seek(0)
        while chunk := held.read(_CHUNK):
            yield chunk
