from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import urllib.error
import urllib.request

import pytest

from solander.core.errors import CannotBegin
from solander.station.serve import listening_socket


def test_only_this_machine_is_listened_to():
    with listening_socket() as listening:
        assert listening.getsockname()[0] == "127.0.0.1"


def test_a_port_in_use_gives_way_to_a_free_one():
    with listening_socket() as first, listening_socket() as second:
        assert first.getsockname()[1] != second.getsockname()[1]


def test_a_port_that_was_asked_for_and_is_in_use_is_trouble():
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        with pytest.raises(CannotBegin, match=f"port {port} could not be used"):
            listening_socket(port)


@pytest.mark.slow
@pytest.mark.skipif(os.name == "nt", reason="Windows has no SIGINT that one process can send to another.")
def test_the_address_is_told_and_ctrl_c_closes_it():
    program = (
        "from fastapi import FastAPI; from solander.station.serve import serve; "
        "serve(FastAPI(), port=0, open_browser=False)"
    )
    with subprocess.Popen([sys.executable, "-c", program], stdout=subprocess.PIPE, text=True) as running:
        assert running.stdout is not None
        address = running.stdout.readline().split()[-1]
        assert address.startswith("http://127.0.0.1:")
        with pytest.raises(urllib.error.HTTPError, match="404"):
            urllib.request.urlopen(address, timeout=60)
        running.send_signal(signal.SIGINT)
        assert running.stdout.read().endswith("Closed.\n")
        assert running.wait(timeout=60) == 0


_HALF_READ = """
from fastapi import FastAPI, Request
from solander.station import serve
app = FastAPI()
@app.post("/")
async def whole(request: Request) -> int:
    print("begun", flush=True)
    return len(await request.body())
serve.CLOSES_S = 1
serve.serve(app, port=0, open_browser=False)
"""


@pytest.mark.slow
@pytest.mark.skipif(os.name == "nt", reason="Windows has no SIGINT that one process can send to another.")
def test_it_closes_also_while_a_page_does_not_send_the_rest_of_what_it_began():
    with subprocess.Popen([sys.executable, "-c", _HALF_READ], stdout=subprocess.PIPE, text=True) as running:
        assert running.stdout is not None
        port = int(running.stdout.readline().rstrip("/\n").rpartition(":")[2])
        with socket.create_connection(("127.0.0.1", port), timeout=60) as line:
            line.sendall(b"POST / HTTP/1.1\r\nhost: 127.0.0.1\r\ncontent-length: 9\r\n\r\nhalf")
            assert "begun\n" in (running.stdout.readline(), running.stdout.readline())
            running.send_signal(signal.SIGINT)
            assert running.wait(timeout=60) == 0
