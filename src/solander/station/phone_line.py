"""Lets phones in: everything that `solander open --phones` adds, made from what this computer is."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from attrs import evolve

from solander.core.errors import CannotBegin
from solander.core.own_folder import own_folder
from solander.core.sentence import Sentence
from solander.station.app import pages
from solander.station.camera_app import CameraDoor, create_camera_app
from solander.station.certificate import certificate_for, house_addresses, machine_names
from solander.station.pairing import Phones
from solander.station.serve import SecureLine, house_sockets
from solander.station.workbench import Workbench
from solander.tasks.cameras import Cameras

__all__ = ["with_phones"]


def with_phones(
    bench: Workbench, *, addresses: Sequence[str] | None = None, folder: Path | None = None
) -> tuple[Workbench, SecureLine]:
    """The workbench with its page for phones, and what is served to them beside it.

    `addresses` are those of this computer in the house, `folder` where its certificate and the phones are.

    Raises
    ------
    CannotBegin
        When this computer is in no network of a house.
    """
    folder = folder or own_folder()
    addresses = house_addresses() if addresses is None else addresses
    if not addresses or bench.stages is None:
        raise CannotBegin(
            Sentence("Phones can’t be let in"),
            Sentence("this computer is in no network of a house"),
            Sentence("Connect it by cable or wireless, and open it again"),
        )
    names = [*addresses, *machine_names()]
    certificate, cameras = certificate_for(names, folder), Cameras(folder / "cameras.json")
    sockets = house_sockets(addresses)
    port = sockets[0].getsockname()[1]
    phones = Phones(cameras, certificate, [f"https://{name}:{port}" for name in names])
    app = create_camera_app(bench.stages, CameraDoor(cameras), pages(), hosts=names)
    return evolve(bench, phones=phones), SecureLine(app, sockets, certificate)
