"""A workbench over the made-up box on a port of this machine, for a browser."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager

import uvicorn
from fastapi import FastAPI
from served_box import Box

from solander.station.app import create_app
from solander.station.serve import Server, listening_socket
from solander.station.workbench import Workbench


@contextmanager
def workbench(box: Box) -> Iterator[str]:
    """Its address; stopped and closed also when what is done with it fails."""
    with running(create_app(Workbench(box))) as address:
        yield address


@contextmanager
def running(app: FastAPI) -> Iterator[str]:
    """The address of any workbench, in the same way."""
    with closing(listening_socket()) as listening:
        server = Server(uvicorn.Config(app, log_level="error"))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        try:
            while not server.started:
                assert thread.is_alive(), "the workbench could not begin"
                time.sleep(0.01)
            yield f"http://127.0.0.1:{listening.getsockname()[1]}"
        finally:
            server.should_exit = True
            thread.join()
