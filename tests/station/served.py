"""A workbench over the made-up box on a port of this machine, for a browser."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from typing import Any

import uvicorn
from fastapi import FastAPI
from served_box import Box

from solander.station.app import create_app
from solander.station.serve import Server, listening_socket
from solander.station.workbench import Workbench

LONG_S = 60.0
"""Seconds after which what must come is missed, on a machine that does ten other things."""


@contextmanager
def workbench(box: Box) -> Iterator[str]:
    """Its address; stopped and closed also when what is done with it fails."""
    with running(create_app(Workbench(box))) as address:
        yield address


@contextmanager
def running(app: FastAPI, **config: Any) -> Iterator[str]:
    """The address of any workbench, in the same way; `config` is uvicorn's."""
    with closing(listening_socket()) as listening:
        server = Server(uvicorn.Config(app, log_level="error", **config))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        try:
            ends = time.monotonic() + LONG_S
            while not server.started:
                assert thread.is_alive(), "the workbench could not begin"
                assert time.monotonic() < ends, "the workbench does not begin"
                time.sleep(0.01)
            yield f"http://127.0.0.1:{listening.getsockname()[1]}"
        finally:
            server.should_exit = True
            thread.join(LONG_S)
            assert not thread.is_alive(), "the workbench does not end"
