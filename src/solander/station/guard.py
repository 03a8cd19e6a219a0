"""What keeps the workbench to this machine: the host that a request names, and the headers of every answer."""

from __future__ import annotations

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

__all__ = ["HEADERS", "HOSTS", "Guard"]

HOSTS = ("localhost", "127.0.0.1", "[::1]")
"""Names of this machine. Another name means that a page elsewhere points its own name at us to read along
(DNS rebinding)."""

_WEB_PORT = 80
"""The port that browsers leave out of the Host header."""

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; img-src 'self'; style-src 'self'; font-src 'self'; script-src 'self'; "
        "base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}
"""On every answer: nothing from elsewhere, nothing inline, shown in nobody's frame, told to nobody."""


class Guard:
    """Refuses requests under a foreign name and puts `HEADERS` on every answer."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answers one request."""
        if scope["type"] != "http":
            # Sockets come with the station page; until then none is spoken.
            if scope["type"] == "lifespan":
                await self.app(scope, receive, send)
            return
        app = self.app if _names_this_machine(scope) else _refusal()
        await app(scope, receive, _with_headers(send))


def _names_this_machine(scope: Scope) -> bool:
    """Whether the Host header is one of `HOSTS` with the port that was really called."""
    host = Headers(scope=scope).get("host", "")
    _, port = scope.get("server") or ("", None)
    port = port or _WEB_PORT
    with_port = {f"{name}:{port}" for name in HOSTS}
    return host in with_port or (port == _WEB_PORT and host in HOSTS)


def _refusal() -> PlainTextResponse:
    return PlainTextResponse("This workbench answers under the name of this machine only: http://127.0.0.1.", 421)


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers[name] = value
            headers.setdefault("Cache-Control", "no-store")
        await send(message)

    return sending
