"""The web workbench: pages over one collection, on this machine only."""

from __future__ import annotations

from typing import Any

from fastapi import Depends, FastAPI
from fastapi.responses import HTMLResponse
from starlette.staticfiles import StaticFiles

from solander.look.pages import STATIC, environment
from solander.station.accounts import add_accounts
from solander.station.album import add_album_pages
from solander.station.api import add_api
from solander.station.arrange import add_arranging
from solander.station.asked import asked
from solander.station.backs import add_backs
from solander.station.camera import add_camera
from solander.station.contact_sheet import add_contact_sheet
from solander.station.containers import add_containers
from solander.station.faces import add_faces
from solander.station.find import add_find
from solander.station.guard import Guard
from solander.station.hand_over import add_hand_over
from solander.station.how_far import add_how_far
from solander.station.name_sounds import add_name_sounds
from solander.station.names import add_names
from solander.station.news import add_news
from solander.station.occasions import add_occasions
from solander.station.one_person import add_one_person
from solander.station.outlines import add_outlines
from solander.station.phones import add_phones
from solander.station.pictures import add_pictures
from solander.station.place import STATION_STATIC
from solander.station.print_room import add_print_room
from solander.station.questions import add_questions
from solander.station.sealing import sealed, watch
from solander.station.speaking import Speaking, add_languages
from solander.station.stand_room import add_stand
from solander.station.station_room import add_station
from solander.station.table import add_table
from solander.station.treatment_asked import add_treatment_asked
from solander.station.treatment_room import add_treatment_room
from solander.station.troubles import add_troubles
from solander.station.turning import add_turning
from solander.station.undo import add_undo
from solander.station.what_was_done import add_what_was_done
from solander.station.which import add_which
from solander.station.who import add_who
from solander.station.workbench import Page, Workbench

__all__ = ["create_app", "pages"]

ROOMS = (
    add_name_sounds,
    add_station,
    add_stand,
    add_table,
    add_find,
    add_print_room,
    add_questions,
    add_backs,
    add_names,
    add_hand_over,
    add_outlines,
    add_faces,
    add_album_pages,
    add_accounts,
    add_pictures,
    add_treatment_asked,
    add_treatment_room,
    add_turning,
    add_which,
    add_one_person,
    add_who,
    add_arranging,
    add_occasions,
    add_containers,
    add_contact_sheet,
    add_how_far,
    add_what_was_done,
    add_undo,
    add_camera,
    add_phones,
    add_languages,
    add_news,
    add_api,
)
"""What the workbench is made of, each with its pages and answers; one whose desk is missing adds nothing."""


def create_app(bench: Workbench) -> FastAPI:
    """The workbench over one collection.

    Every answer carries the headers of `guard`; requests that name another host than this machine are refused.
    """
    app = FastAPI(
        title="Solander",
        docs_url=None,
        redoc_url=None,
        openapi_url=None,
        dependencies=[Depends(watch(bench)), Depends(bench.collection.settle)],
    )
    app.add_middleware(Guard)
    app.add_middleware(Speaking)  # added last, it stands first: who is refused is told so in their language
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    page = pages()
    for add in ROOMS:
        add(app, bench, page)
    # After the rooms, for addresses below that of a station; a file's has one part, a station's has two.
    app.mount("/station", StaticFiles(directory=STATION_STATIC), name="station")
    add_troubles(app, bench, page)
    return app


def pages() -> Page:
    """Makes pages of the station's templates."""
    templates = environment("solander.station")
    templates.globals |= {"sealed": sealed, "this_page": asked}

    def page(template: str, *, status: int = 200, **values: Any) -> HTMLResponse:
        return HTMLResponse(templates.get_template(template).render(**values), status)

    return page
