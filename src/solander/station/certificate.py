"""The certificate under which phones reach this computer: made here, for this computer's own addresses.

A browser gives a page the camera only over a secure line (Secure Contexts, W3C), and no authority gives out
certificates for addresses within a house. So this computer vouches for itself, and the browser asks its user once
whether to believe it; the fingerprint lets them compare.
"""

from __future__ import annotations

import ipaddress
import socket
from collections.abc import Sequence
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

from attrs import frozen
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from solander.core.own_files import private_file

__all__ = ["Certificate", "certificate_for", "house_addresses", "machine_names"]

LASTS = timedelta(days=397)
"""Browsers refuse certificates that last longer than 398 days (CA/Browser Forum, Baseline Requirements 6.3.2)."""

RENEWED_BEFORE = timedelta(days=30)

_NOWHERE = ("10.255.255.255", "192.168.255.255", "172.31.255.255", "192.0.2.255")
"""Asking the way to these tells which of our addresses would be used; nothing is sent."""


@frozen
class Certificate:
    """One that is valid: where its two files lie, for which names, its fingerprint (SHA-256) and when it ends."""

    chain: Path
    key: Path
    names: tuple[str, ...]
    fingerprint: str
    ends: datetime


def house_addresses() -> list[str]:
    """This computer's addresses (IPv4) in networks of a house: none that the world could reach."""
    found: dict[str, None] = {}
    for target in _NOWHERE:
        with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
            asking.connect((target, 9))
            found[asking.getsockname()[0]] = None
    with suppress(OSError):
        for *_, address in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET):
            found[str(address[0])] = None
    return [address for address in found if _is_of_a_house(address)]


def _is_of_a_house(address: str) -> bool:
    parsed = ipaddress.ip_address(address)
    return parsed.is_private and not parsed.is_loopback and not parsed.is_unspecified


def machine_names() -> list[str]:
    """The names under which a house may know this computer (RFC 6762 for the second)."""
    name = socket.gethostname().split(".")[0].lower()
    return [name, f"{name}.local"] if name and name != "localhost" else []


def certificate_for(names: Sequence[str], folder: Path, *, now: datetime | None = None) -> Certificate:
    """The certificate for these names and addresses, made anew when there is none in `folder` that is for all of
    them and lasts for another month."""
    now = now or datetime.now(UTC)
    chain, key = folder / "station.crt", folder / "station.key"
    kept = _kept(chain, key)
    if kept is None or not set(names) <= set(kept.names) or kept.ends - now < RENEWED_BEFORE:
        _make(names, chain, key, now)
        kept = _kept(chain, key)
    assert kept is not None
    return kept


def _kept(chain: Path, key: Path) -> Certificate | None:
    try:
        held = x509.load_pem_x509_certificate(chain.read_bytes())
        private = serialization.load_pem_private_key(key.read_bytes(), password=None)
        names = held.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except (OSError, ValueError, TypeError, x509.ExtensionNotFound):
        return None
    if private.public_key() != held.public_key():
        return None  # one of the two files was changed
    told = (*names.get_values_for_type(x509.DNSName), *map(str, names.get_values_for_type(x509.IPAddress)))
    printed = ":".join(f"{byte:02X}" for byte in held.fingerprint(hashes.SHA256()))
    return Certificate(chain, key, told, printed, held.not_valid_after_utc)


def _make(names: Sequence[str], chain: Path, key: Path, now: datetime) -> None:
    private = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Solander, this computer")])
    made = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(private.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(hours=1))  # clocks of a house differ
        .not_valid_after(now + LASTS)
        .add_extension(x509.SubjectAlternativeName([_name(one) for one in names]), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(private, hashes.SHA256())
    )
    as_pem = serialization.Encoding.PEM
    private_file(
        key,
        private.private_bytes(as_pem, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()),
    )
    private_file(chain, made.public_bytes(as_pem))


def _name(name: str) -> x509.GeneralName:
    try:
        return x509.IPAddress(ipaddress.ip_address(name))
    except ValueError:
        return x509.DNSName(name)
