"""Which language a reader is answered in: the one they chose here, else the one their browser likes best."""

from __future__ import annotations

import json
from http.cookies import CookieError, SimpleCookie

from fastapi import FastAPI, Response
from fastapi.responses import RedirectResponse
from starlette.datastructures import Headers
from starlette.types import ASGIApp, Receive, Scope, Send

from solander.core.errors import NotFound
from solander.core.language import speaking
from solander.core.sentence import Sentence
from solander.look.languages import LANGUAGES, best_of, language_of, script_words
from solander.station.forms import Fields, own_address
from solander.station.workbench import Page, Workbench

__all__ = ["Speaking", "add_languages", "add_script_words"]

_COOKIE = "language"
_A_YEAR = 365 * 24 * 3600


class Speaking:
    """Answers each request in its reader's language."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answers one request or socket."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        with speaking(language_of(_code(Headers(scope=scope)))):
            await self.app(scope, receive, send)


def _code(headers: Headers) -> str:
    """The code of the language: as chosen, else as the browser says."""
    try:
        chosen = SimpleCookie(headers.get("cookie", "")).get(_COOKIE)
    except CookieError:
        chosen = None
    if chosen is not None and chosen.value in LANGUAGES:
        return chosen.value
    return best_of(headers.get("accept-language", ""))


def add_script_words(app: FastAPI) -> None:
    """Adds the address at which page scripts find their words."""

    @app.get("/words/{code}.js")
    def words(code: str) -> Response:
        if code not in LANGUAGES:
            raise NotFound(Sentence("There is no language “%(code)s” here", code=code))
        told = json.dumps(dict(script_words(code)), ensure_ascii=False)
        return Response(f"self.spoken = {told};", media_type="text/javascript")


def add_languages(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the address by which a reader chooses; an empty code leaves it to the browser again."""
    add_script_words(app)

    @app.post("/language")
    def choose(form: Fields) -> Response:
        answer = RedirectResponse(own_address(form.get("then", "")), 303)
        if form.get("code") in LANGUAGES:
            answer.set_cookie(_COOKIE, form["code"], max_age=_A_YEAR, httponly=True, samesite="strict")
        else:
            answer.delete_cookie(_COOKIE)
        return answer
