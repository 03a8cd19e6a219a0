from __future__ import annotations

import socket

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
