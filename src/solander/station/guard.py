"""What keeps the workbench to this machine: the host that a request names, the page that it comes from, and the
headers of every answer."""

from __future__ import annotations

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

__all__ = ["HEADERS", "HOSTS", "READING", "TOKEN_HEADER", "Guard"]

HOSTS = ("localhost", "127.0.0.1", "[::1]")
"""Names of this machine. Another name means that a page elsewhere points its own name at us to read along
(DNS rebinding)."""

_WEB_PORT = 80
"""The port that browsers leave out of the Host header."""

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; img-src 'self'; style-src 'self'; font-src 'self'; script-src 'self'; "
        "connect-src 'self'; "
        "base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}
"""On every answer: nothing from elsewhere, nothing inline, shown in nobody's frame, told to nobody."""


READING = ("GET", "HEAD", "OPTIONS")
"""Methods that change nothing (RFC 9110, 9.2.1); all others must come from a page of ours."""


TOKEN_HEADER = "x-solander-token"
"""Where a program says the word that forms carry in a field (see `sealing`). A page elsewhere can't send a header
of this name unasked (CORS, Fetch standard), and can't read the word."""


class Guard:
    """Refuses requests under a foreign name, and those that would change something from a foreign page; puts
    `HEADERS` on every answer."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answers one request."""
        if scope["type"] != "http":
            # Sockets come with the station page; until then none is spoken.
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return
        await self._answering(scope)(scope, receive, _with_headers(send))

    def _answering(self, scope: Scope) -> ASGIApp:
        if not _names_this_machine(scope):
            return PlainTextResponse(_FOREIGN_NAME, 421)
        if scope["method"] not in READING and not _comes_from_here(scope):
            return PlainTextResponse(_FOREIGN_PAGE, 403)
        return self.app


def _names_this_machine(scope: Scope) -> bool:
    """Whether the Host header is one of `HOSTS` with the port that was really called."""
    host = Headers(scope=scope).get("host", "")
    _, port = scope.get("server") or ("", None)
    port = port or _WEB_PORT
    with_port = {f"{name}:{port}" for name in HOSTS}
    return host in with_port or (port == _WEB_PORT and host in HOSTS)


def _comes_from_here(scope: Scope) -> bool:
    """Whether the browser says that a page of ours sent this (cross-site request forgery).

    It names the page's origin; for a form of a page that tells nobody where it was, "null", and then whether page
    and address are of one origin (Fetch Metadata, W3C), which no script can set.
    """
    headers = Headers(scope=scope)
    origin = headers.get("origin", "null")
    if TOKEN_HEADER in headers and "origin" not in headers and "sec-fetch-site" not in headers:
        return True  # a program on this machine; whether the word is right is looked at behind this
    if origin != "null":
        return origin == f"http://{headers.get('host', '')}"
    return headers.get("sec-fetch-site") == "same-origin"


_FOREIGN_NAME = "This workbench answers under the name of this machine only: http://127.0.0.1."
_FOREIGN_PAGE = "This did not come from a page of the workbench, so nothing was changed. Load the page again."


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers[name] = value
            headers.setdefault("Cache-Control", "no-store")
        await send(message)

    return sending
