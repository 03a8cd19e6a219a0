"""The certificate; OpenSSL, in Python's ssl, judges whether a browser could believe it."""

from __future__ import annotations

import hashlib
import os
import socket
import ssl
import stat
import threading
from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509

from solander.station.certificate import LASTS, certificate_for, house_addresses, machine_names

NAMES = ["127.0.0.1", "192.168.7.20", "desk", "desk.local"]


def test_it_is_kept_while_it_is_for_all_names_and_lasts(tmp_path):
    first = certificate_for(NAMES, tmp_path)
    assert set(first.names) == set(NAMES)
    assert certificate_for(NAMES[:2], tmp_path) == first
    if os.name != "nt":
        assert {stat.S_IMODE(path.stat().st_mode) for path in (first.chain, first.key)} == {0o600}


def test_it_is_made_anew_when_an_address_changes_and_before_it_ends(tmp_path):
    first = certificate_for(NAMES, tmp_path)
    moved = certificate_for([*NAMES, "192.168.7.21"], tmp_path)
    assert moved.fingerprint != first.fingerprint
    later = datetime.now(UTC) + LASTS - timedelta(days=29)
    assert certificate_for(NAMES, tmp_path, now=later).fingerprint != moved.fingerprint


@pytest.mark.parametrize("file", ["station.crt", "station.key"])
@pytest.mark.parametrize("content", [b"", b"no certificate"])
def test_it_is_made_anew_when_a_file_is_spoilt(tmp_path, file, content):
    first = certificate_for(NAMES, tmp_path)
    (tmp_path / file).write_bytes(content)
    assert certificate_for(NAMES, tmp_path).fingerprint != first.fingerprint


def test_a_key_of_another_certificate_is_seen(tmp_path):
    first = certificate_for(NAMES, tmp_path / "a")
    other = certificate_for(NAMES, tmp_path / "b")
    first.key.write_bytes(other.key.read_bytes())
    assert certificate_for(NAMES, tmp_path / "a").fingerprint != first.fingerprint


def test_its_limits_are_those_that_browsers_ask_for(tmp_path):
    """CA/Browser Forum, Baseline Requirements 6.3.2: at most 398 days; and it can vouch for nobody else."""
    made = x509.load_pem_x509_certificate(certificate_for(NAMES, tmp_path).chain.read_bytes())
    assert made.not_valid_after_utc - made.not_valid_before_utc <= timedelta(days=398)
    assert made.extensions.get_extension_for_class(x509.BasicConstraints).value.ca is False


@pytest.mark.parametrize(
    ("name", "believed"), [("127.0.0.1", True), ("desk.local", True), ("desk.example", False)]
)
def test_who_believes_it_reaches_this_computer_under_its_names_alone(tmp_path, name, believed):
    certificate = certificate_for(NAMES, tmp_path)
    serving = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    serving.load_cert_chain(certificate.chain, certificate.key)
    asking = ssl.create_default_context(cafile=str(certificate.chain))
    ours, theirs = socket.socketpair()
    for end in (ours, theirs):
        end.settimeout(60)

    def answer() -> None:
        try:
            with serving.wrap_socket(theirs, server_side=True) as line:
                line.sendall(b"here")
                line.recv(1)
        except (ssl.SSLError, OSError):
            theirs.close()

    thread = threading.Thread(target=answer)
    thread.start()
    try:
        with asking.wrap_socket(ours, server_hostname=name) as line:
            assert believed
            assert line.recv(4) == b"here"
            printed = hashlib.sha256(line.getpeercert(binary_form=True)).hexdigest().upper()
            assert certificate.fingerprint.replace(":", "") == printed
    except ssl.SSLCertVerificationError:
        assert not believed
    finally:
        ours.close()
        thread.join(10)


def test_addresses_are_those_of_a_house_alone():
    for address in house_addresses():
        assert not address.startswith("127.")
    assert all("." not in name or name.endswith(".local") for name in machine_names())
