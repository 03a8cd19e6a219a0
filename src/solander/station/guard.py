"""What keeps the workbench to this machine: the host that a request names, the page that it comes from, and the
headers of every answer. Sockets are asked the same as forms: a browser lets any page open one anywhere."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from solander.core.language import _, marked

__all__ = ["HEADERS", "HOSTS", "READING", "STAGE_HEADERS", "TOKEN_HEADER", "Guard", "short"]

HOSTS = ("localhost", "127.0.0.1", "[::1]")
"""Names of this machine. Another name means that a page elsewhere points its own name at us to read along
(DNS rebinding)."""

_WEB_PORTS = {"http": 80, "https": 443}
"""The ports that browsers leave out of the Host header."""

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; img-src 'self'; style-src 'self'; font-src 'self'; script-src 'self'; "
        "connect-src 'self'; media-src 'self'; "
        "base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
    ),
    "Permissions-Policy": "camera=(), microphone=()",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}
"""On every answer: nothing from elsewhere, nothing inline, shown in nobody's frame, told to nobody."""

STAGE_HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; img-src 'self' blob:; style-src 'self'; font-src 'self'; script-src 'self'; "
        "connect-src 'self' {socket}; media-src 'self' blob:; worker-src 'self'; "
        "base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
    ),
    "Permissions-Policy": "camera=(self), microphone=(self)",
}
"""On the pages at the stand instead: a camera, a microphone, a live picture. The socket is named, because
browsers of before 2022 do not count it as 'self'."""

_AT_THE_STAND = "/station"

READING = ("GET", "HEAD", "OPTIONS")
"""Methods that change nothing (RFC 9110, 9.2.1); all others must come from a page of ours."""


TOKEN_HEADER = "x-solander-token"
"""Where a program says the word that forms carry in a field (see `sealing`). A page elsewhere can't send a header
of this name unasked (CORS, Fetch standard), and can't read the word."""


class Guard:
    """Refuses requests under a foreign name, and those that would change something, or open a socket, from a
    foreign page; puts `HEADERS` on every answer.

    `hosts` are the names under which it answers, `scheme` is "http" or "https"; `headers` take the place of ours.
    """

    def __init__(
        self,
        app: ASGIApp,
        hosts: Sequence[str] = HOSTS,
        scheme: str = "http",
        headers: Mapping[str, str] | None = None,
    ) -> None:
        self.app, self.hosts, self.scheme = app, hosts, scheme
        self.headers = headers or {}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answers one request or socket."""
        if scope["type"] == "http":
            await self._answering(scope)(scope, receive, self._with_headers(scope, send))
        elif scope["type"] == "websocket":
            await self._opening(scope)(scope, receive, send)
        else:
            await self.app(scope, receive, send)

    def _answering(self, scope: Scope) -> ASGIApp:
        if not self._names_us(scope):
            return PlainTextResponse(_(_FOREIGN_NAME), 421)
        if scope["method"] not in READING and not self._comes_from_here(scope):
            return PlainTextResponse(_(_FOREIGN_PAGE), 403)
        return self.app

    def _opening(self, scope: Scope) -> ASGIApp:
        """The same for a socket, which always names its page (RFC 6455, 10.2); one without is refused."""
        if not self._names_us(scope):
            return _refusal(_(_FOREIGN_NAME), 421)
        if Headers(scope=scope).get("origin") != self._own_origin(scope):
            return _refusal(_(_FOREIGN_PAGE), 403)
        return self.app

    def _names_us(self, scope: Scope) -> bool:
        """Whether the Host header is one of our names with the port that was really called."""
        host = Headers(scope=scope).get("host", "")
        _, port = scope.get("server") or ("", None)
        usual = _WEB_PORTS[self.scheme]
        port = port or usual
        with_port = {f"{name}:{port}" for name in self.hosts}
        return host in with_port or (port == usual and host in self.hosts)

    def _own_origin(self, scope: Scope) -> str:
        return f"{self.scheme}://{Headers(scope=scope).get('host', '')}"

    def _comes_from_here(self, scope: Scope) -> bool:
        """Whether the browser says that a page of ours sent this (cross-site request forgery).

        It names the page's origin; for a form of a page that tells nobody where it was, "null", and then whether
        page and address are of one origin (Fetch Metadata, W3C), which no script can set.
        """
        headers = Headers(scope=scope)
        origin = headers.get("origin", "null")
        if TOKEN_HEADER in headers and "origin" not in headers and "sec-fetch-site" not in headers:
            return True  # a program on this machine; whether the word is right is looked at behind this
        if origin != "null":
            return origin == self._own_origin(scope)
        return headers.get("sec-fetch-site") == "same-origin"

    def _with_headers(self, scope: Scope, send: Send) -> Send:
        told = {**HEADERS, **_for_the_stand(scope, self.scheme), **self.headers}

        async def sending(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in told.items():
                    headers[name] = value
                headers.setdefault("Cache-Control", "no-store")
            await send(message)

        return sending


def _for_the_stand(scope: Scope, scheme: str) -> Mapping[str, str]:
    path = scope["path"]
    if path != _AT_THE_STAND and not path.startswith(_AT_THE_STAND + "/"):
        return {}
    socket = f"{scheme.replace('http', 'ws')}://{Headers(scope=scope).get('host', '')}"
    return {name: value.replace("{socket}", socket) for name, value in STAGE_HEADERS.items()}


def _refusal(words: str, status: int) -> ASGIApp:
    """Refuses a socket with a sentence, where the server can send one before it is open, else by closing it."""

    async def refusing(scope: Scope, receive: Receive, send: Send) -> None:
        await receive()  # what opens it
        if "websocket.http.response" in scope.get("extensions", {}):
            await PlainTextResponse(words, status)(scope, receive, send)
        else:
            await send({"type": "websocket.close", "code": 1008, "reason": short(words)})

    return refusing


def short(sentence: str) -> str:
    """So much of a sentence as a closing frame holds: 123 bytes (RFC 6455, 5.5.1)."""
    return sentence.encode()[:123].decode(errors="ignore")


_FOREIGN_NAME = marked("This workbench answers under the name of this machine only: http://127.0.0.1.")
_FOREIGN_PAGE = marked(
    "This did not come from a page of the workbench, so nothing was changed. Load the page again."
)
