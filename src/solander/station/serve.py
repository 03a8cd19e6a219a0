"""Runs the workbench on this machine until it is stopped."""

from __future__ import annotations

import socket
import webbrowser

import uvicorn
from fastapi import FastAPI

from solander.core.errors import CannotBegin
from solander.station.news import News

__all__ = ["PORT", "Server", "listening_socket", "serve"]

PORT = 8765
HOST = "127.0.0.1"


class Server(uvicorn.Server):
    """A server that does not wait for pages that listen for news: they would never let go by themselves."""

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Stops, and lets the listeners go first."""
        news = getattr(getattr(self.config.app, "state", None), "news", None)
        if isinstance(news, News):
            news.close()
        await super().shutdown(sockets=sockets)


def serve(app: FastAPI, *, port: int = 0, open_browser: bool = True) -> None:
    """Serves `app` on the loopback address and prints where; comes back when Ctrl-C stops it.

    `port` 0 takes `PORT`, or any free one where that is in use.

    Raises
    ------
    CannotBegin
        When the port that was asked for is in use.
    """
    listening = listening_socket(port)
    address = f"http://{HOST}:{listening.getsockname()[1]}/"
    print(f"The workbench is open at {address}\nCtrl-C closes it.", flush=True)
    if open_browser:
        # The socket listens already, so a browser that is faster than the server waits instead of failing.
        webbrowser.open(address)
    try:
        Server(uvicorn.Config(app, log_level="warning", server_header=False)).run(sockets=[listening])
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
    raise CannotBegin(f"port {port} could not be used", reason, "Name another one, or none for any free one")
