"""Runs the workbench on this machine until it is stopped."""

from __future__ import annotations

import socket
import webbrowser
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, nullcontext, suppress
from contextvars import copy_context
from threading import Thread
from typing import Any

import uvicorn
from attrs import frozen
from fastapi import FastAPI

from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence
from solander.station.certificate import Certificate
from solander.station.news import News

__all__ = ["PORT", "SecureLine", "Server", "house_sockets", "listening_socket", "serve"]

PORT = 8765
PHONE_PORT = 8766
HOST = "127.0.0.1"


LARGEST_MESSAGE = 512 * 1024
"""Bytes of one message over a socket: a picture of the stage in passing has at most 400 kB."""


CLOSES_S = 10
"""Seconds that what is under way has to come to its end when the workbench is closed; a page that does not answer
would hold it open for ever (our choice)."""


class Server(uvicorn.Server):
    """A server that does not wait for pages that listen for news: they would never let go by themselves."""

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Stops, and lets the listeners go first."""
        news = getattr(getattr(self.config.app, "state", None), "news", None)
        if isinstance(news, News):
            news.close()
        await super().shutdown(sockets=sockets)


@frozen
class SecureLine:
    """Another app that is served beside, over a secure line: on `sockets`, with a certificate."""

    app: FastAPI
    sockets: Sequence[socket.socket]
    certificate: Certificate

    @contextmanager
    def served(self) -> Iterator[None]:
        """Serves it for as long as this lasts, in a thread of its own."""
        server = Server(_config(self.app, ssl_certfile=self.certificate.chain, ssl_keyfile=self.certificate.key))
        here = copy_context()  # who works here goes with it
        thread = Thread(target=here.run, args=(server.run, list(self.sockets)), name="secure line", daemon=True)
        thread.start()
        try:
            yield
        finally:
            server.should_exit = True
            thread.join(2 * CLOSES_S)  # what it still writes then is written as a whole or not at all
            for listening in self.sockets:
                listening.close()


def _config(app: FastAPI, **more: Any) -> uvicorn.Config:
    return uvicorn.Config(
        app,
        log_level="warning",
        server_header=False,
        ws_max_size=LARGEST_MESSAGE,
        timeout_graceful_shutdown=CLOSES_S,
        **more,
    )


def serve(app: FastAPI, *, port: int = 0, open_browser: bool = True, beside: SecureLine | None = None) -> None:
    """Serves `app` on the loopback address and prints where; comes back when Ctrl-C stops it.

    `port` 0 takes `PORT`, or any free one where that is in use.

    Raises
    ------
    CannotBegin
        When the port that was asked for is in use.
    """
    listening = listening_socket(port)
    address = f"http://{HOST}:{listening.getsockname()[1]}/"
    print(f"The workbench is open at {address}", flush=True)
    if beside is not None:
        print(f"Phones are paired at {address}phones", flush=True)
    print("Ctrl-C closes it.", flush=True)
    if open_browser:
        # The socket listens already, so a browser that is faster than the server waits instead of failing.
        webbrowser.open(address)
    try:
        with beside.served() if beside else nullcontext():
            Server(_config(app)).run(sockets=[listening])
    except KeyboardInterrupt:
        print("Closed.")
    finally:
        listening.close()


def listening_socket(port: int = 0) -> socket.socket:
    """A socket that listens on the loopback address alone."""
    wanted = [port] if port else [PORT, 0]
    for candidate in wanted:
        try:
            return socket.create_server((HOST, candidate), backlog=128)
        except OSError as error:
            reason = error.strerror or str(error)
    raise CannotBegin(
        Sentence("port %(port)s could not be used", port=port),
        reason,
        Sentence("Name another one, or none for any free one"),
    )


def house_sockets(addresses: Sequence[str]) -> list[socket.socket]:
    """Sockets that listen on these addresses of a house, all on one port: `PHONE_PORT`, or any free one."""
    for port in (PHONE_PORT, 0):
        try:
            first = socket.create_server((addresses[0], port), backlog=128)
        except OSError as error:
            reason = error.strerror or str(error)
            continue
        with suppress(OSError):  # of further addresses, those where the same port is free
            return [first, *(socket.create_server((each, first.getsockname()[1])) for each in addresses[1:])]
        return [first]
    raise CannotBegin(
        Sentence("phones can’t be let in: no port could be used"), reason, Sentence("Open it without --phones")
    )
