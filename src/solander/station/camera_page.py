"""The page of a camera: it shows the whole stage, sends its picture, and takes stills when it is asked."""

from __future__ import annotations

from fastapi.responses import HTMLResponse

from solander.station.workbench import Page

__all__ = ["camera_page"]


def camera_page(
    page: Page, station: str, phone: str = "", *, collection: str = "", token: str = ""
) -> HTMLResponse:
    """The page for one station of a `collection`, by its identifier: on a `phone` by its name, else on this
    computer with the sitting's `token`."""
    values = {"station": station, "phone": phone, "collection": collection, "token": token}
    return page("camera.html", title="Solander", made_up=False, look="/static", **values)
