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
            urllib.request.urlopen(address)
        running.send_signal(signal.SIGINT)
        assert running.stdout.read().endswith("Closed.\n")
        assert running.wait(timeout=10) == 0
