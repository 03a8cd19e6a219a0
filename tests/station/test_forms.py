from __future__ import annotations

import pytest

from solander.station.forms import GivenFile, own_address, sent_in


def test_the_example_of_the_standard_is_read():
    """RFC 7578 keeps the form of RFC 2046, 5.1.1; this is the shape of the example in section 4.3 of the HTML
    standard's ancestor RFC 2388, 4.2: a field and a file, lines ended by CR LF."""
    body = (
        b"--AaB03x\r\n"
        b'content-disposition: form-data; name="field1"\r\n\r\n'
        b"Joe Blow\r\n"
        b"--AaB03x\r\n"
        b'content-disposition: form-data; name="pics"; filename="file1.txt"\r\n'
        b"Content-Type: text/plain\r\n\r\n"
        b"... contents of file1.txt ...\r\n"
        b"--AaB03x--\r\n"
    )
    sent = sent_in(body, b"AaB03x")
    assert sent.fields == {"field1": "Joe Blow"}
    assert sent.files == {"pics": GivenFile("file1.txt", b"... contents of file1.txt ...")}


@pytest.mark.parametrize("content", [b"", b"\r\n", b"--", b"a\r\n--b\r\n\r\nc", bytes(range(256)) * 3])
def test_bytes_of_a_file_come_as_they_are(content):
    head = b'--XyZ\r\nContent-Disposition: form-data; name="file"; filename="C:\\\\a\\\\tree.ged"\r\n\r\n'
    sent = sent_in(head + content + b"\r\n--XyZ--\r\n", b"XyZ")
    assert sent.files["file"].content == content
    assert sent.files["file"].name == "tree.ged"


def test_a_field_for_a_file_that_was_left_empty_is_no_file():
    body = b'--Q\r\nContent-Disposition: form-data; name="file"; filename=""\r\n\r\n\r\n--Q--\r\n'
    assert sent_in(body, b"Q").files == {}


@pytest.mark.parametrize(
    ("address", "leads"),
    [("/people", "/people"), ("//evil.example", "/"), ("/\\evil.example", "/"), ("https://x", "/"), ("", "/")],
)
def test_only_addresses_of_the_workbench_are_led_to(address, leads):
    assert own_address(address) == leads
