"""The project's own Python environment in `.venv`: made when it is needed, once, also when two starts meet.

Standard library only: this runs before anything is installed. All that is said goes to stderr, because stdout
belongs to the program that is started afterwards.
"""

from __future__ import annotations

import errno
import hashlib
import importlib.util
import os
import re
import shlex
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO

__all__ = ["INTERRUPTED", "CannotSetUp", "make_gazetteer", "python_of", "say", "set_up", "start"]

CANNOT_BEGIN = 2
INTERRUPTED = 130
RUNTIME_LOCK = "runtime"
TEST_LOCK = "test"

_FAILURES = (
    (
        "DO NOT MATCH THE HASHES",
        "a part that was fetched is not the one this version was made with",
        "Try again; if it stays so, ask whoever runs your package index",
    ),
    ("No space left on device", "the disk is full", "Make room (about 800 MB), then start again"),
    (
        r"Temporary failure in name resolution|NewConnectionError|NameResolutionError|Connection\w*Error|"
        r"ProxyError|SSLError|ReadTimeout|Max retries exceeded|Network is unreachable",
        "the package index can't be reached",
        "Check the network connection (and pip's settings, if this computer has its own), then start again",
    ),
    (
        r"from versions: none",
        "the package index can't be reached, or does not hold what is needed",
        "Check the network connection (and pip's settings, if this computer has its own), then start again",
    ),
    (
        "No matching distribution found",
        "no ready-made part was found for this computer and this Python",
        "See docs/dependencies.md for the systems that are supported; a Python of the usual kind may help",
    ),
)
"""What pip says, why that is, what to do; the first that matches counts."""


class CannotSetUp(Exception):
    """Set-up failed; the message is one sentence for people that says what to do."""


def start(root: str | Path, arguments: list[str]) -> int:
    """Sets up when needed, then becomes `solander ARGUMENTS`; gives the exit status."""
    root = Path(root)
    try:
        set_up(root)
    except CannotSetUp as reason:
        say(str(reason))
        return CANNOT_BEGIN
    except KeyboardInterrupt:
        say("\nStopped while setting up. Start again to go on.")
        return INTERRUPTED
    # What Solander tells its user to type next is what they typed now.
    os.environ["SOLANDER_STARTED_AS"] = _started_as(root, sys.argv[0])
    return _become([str(python_of(root)), "-m", "solander", *arguments])


def _started_as(root: Path, script: str) -> str:
    """How to start it again from the same folder; `script` is the path by which it was called."""
    if os.name == "nt":
        return "python run"
    with suppress(OSError):  # the folder one is in may be gone
        if Path.cwd() == root.resolve():
            return "./run"
    return shlex.quote(script)


def set_up(root: Path, *, tests: bool = False) -> None:
    """Makes `.venv` in `root` ready for use, and does nothing when it is.

    A stamp is written last, so that whatever was left half made is noticed and finished by the next start.

    Raises
    ------
    CannotSetUp
        With a sentence that says what to do.
    """
    locks = [RUNTIME_LOCK, TEST_LOCK] if tests else [RUNTIME_LOCK]
    if _missing(root, locks):
        try:
            with _only_one(_turn(root)):
                _install(root, _missing(root, locks))
        except OSError as error:
            raise CannotSetUp(
                f"Solander could not be set up in {root}: {error.strerror or error}. "
                "Check the folder's permissions and the free space."
            ) from error


def python_of(root: Path) -> Path:
    """The environment's own Python."""
    return root / ".venv" / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def say(sentence: str, *, end: str = "\n") -> None:
    """A line on stderr."""
    sys.stderr.write(sentence + end)
    sys.stderr.flush()


def _missing(root: Path, locks: list[str]) -> list[str]:
    return [lock for lock in locks if _read(_stamp(root, lock)) != _state(root, lock)]


def _stamp(root: Path, lock: str) -> Path:
    return root / ".venv" / f"solander-{lock}.stamp"


def _lock_file(root: Path, lock: str) -> Path:
    return root / "requirements" / f"{lock}.txt"


def _state(root: Path, lock: str) -> bytes:
    """What the stamp must say: it changes with the lock, and with the Python beneath the environment."""
    parts = (
        _lock_file(root, lock).read_bytes(),
        _read(root / ".venv" / "pyvenv.cfg"),
        os.fsencode(os.path.realpath(python_of(root))),
    )
    return hashlib.sha256(b"\0".join(parts)).hexdigest().encode()


def _read(path: Path) -> bytes:
    return path.read_bytes() if path.exists() else b""


def _turn(root: Path) -> Path:
    """The file whose lock says whose turn it is; while a new environment is unfinished it says so inside."""
    return root / ".venv.lock"


@contextmanager
def _only_one(path: Path) -> Iterator[None]:
    """Holds a lock that the system drops when its process dies, so that none is ever stale."""
    with path.open("ab") as file:
        told = False
        while not _taken(file):
            if not told:
                say("Another start is setting Solander up; waiting for it…")
                told = True
            time.sleep(0.3)
        yield


def _taken(file: BinaryIO) -> bool:
    try:
        _take(file)
    except OSError as error:
        if error.errno in (errno.EACCES, errno.EAGAIN, errno.EDEADLK):
            return False
        say(f"This disk knows no locks ({error.strerror}): start Solander only once until it is set up.")
    return True


if os.name == "nt":
    import msvcrt

    def _take(file: BinaryIO) -> None:
        file.seek(1 << 20)  # a locked byte can't be read or written, so one far behind the content
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined]
else:
    import fcntl

    def _take(file: BinaryIO) -> None:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


def _install(root: Path, missing: list[str]) -> None:
    if not missing:
        return  # the start that was waited for has done it
    began = time.monotonic()
    if RUNTIME_LOCK in missing:
        _make_environment(root)
    for lock in missing:
        if lock == TEST_LOCK:
            say("Adding what the tests need…")
        _install_lock(root, lock)
        if lock == RUNTIME_LOCK:
            _link_source(root)
        _stamp(root, lock).write_bytes(_state(root, lock))
        _turn(root).write_bytes(b"")
    make_gazetteer(root)
    say(f"Set up in {time.monotonic() - began:.0f} s.")


def make_gazetteer(root: Path) -> None:
    """Makes the table of places now, so that nobody waits for it later; if that fails, first use tries again."""
    command = [str(python_of(root)), "-m", "solander.authorities.gazetteer"]
    made = subprocess.run(command, stdout=sys.stderr, check=False)
    if made.returncode:
        say("Place names can't be looked up yet; the sentence above says why. All else works.")


def _make_environment(root: Path) -> None:
    if _works(root):
        say("Bringing Solander's parts up to date…")
        return
    say("Setting up Solander for the first time (about a minute)…")
    if not (importlib.util.find_spec("venv") and importlib.util.find_spec("ensurepip")):
        raise CannotSetUp(_NO_VENV)
    # A process killed while it installs leaves parts that look whole: until the end, better begin anew.
    _turn(root).write_text(_UNFINISHED, encoding="utf-8")
    made = subprocess.run(
        [_base_python(), "-m", "venv", "--clear", str(root / ".venv")],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        check=False,
    )
    if made.returncode == INTERRUPTED or made.returncode < 0:
        raise KeyboardInterrupt
    if made.returncode:
        raise CannotSetUp(_NO_VENV if "ensurepip" in made.stdout else _failure(made.stdout, root))


_UNFINISHED = "unfinished"

_NO_VENV = (
    "Solander could not be set up: this Python lacks the parts that make environments. "
    f"On Debian and Ubuntu: sudo apt install python{sys.version_info[0]}.{sys.version_info[1]}-venv "
    "(or python3-venv); elsewhere install a complete Python. Then start again."
)


def _base_python() -> str:
    # Started by the environment's own Python, the one beneath it must make it anew.
    return getattr(sys, "_base_executable", None) or sys.executable


def _works(root: Path) -> bool:
    """Whether a whole environment is there that can be installed into: made for an older lock, or by hand."""
    asked = "import sys, pip; sys.exit(sys.prefix == sys.base_prefix or sys.version_info < (3, 11))"
    python = python_of(root)
    if not python.exists() or _read(_turn(root)) == _UNFINISHED.encode():
        return False
    return subprocess.run([str(python), "-c", asked], capture_output=True, check=False).returncode == 0


_WITHOUT_WHEEL = {RUNTIME_LOCK: ("--no-binary", "pymeeus"), TEST_LOCK: ("--no-binary", "bagit")}
"""What its makers publish as source only; everything else is taken ready-made or not at all."""


def _install_lock(root: Path, lock: str) -> None:
    """Hands pip the lock. Where parts come from is for the user's own pip settings to say."""
    lock_file = _lock_file(root, lock)
    command = [
        str(python_of(root)), "-m", "pip", "install", "--no-user", "--no-input", "--disable-pip-version-check",
        "--require-hashes", "--only-binary", ":all:", *_WITHOUT_WHEEL.get(lock, ()), "-r", str(lock_file),
    ]  # fmt: skip
    total = len(set(re.findall(r"^([\w.-]+)==", lock_file.read_text(encoding="utf-8"), re.MULTILINE)))
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace"
    ) as pip:
        said = "".join(_watched(pip.stdout or iter(()), total))
    if pip.returncode < 0:
        raise KeyboardInterrupt
    if pip.returncode:
        raise CannotSetUp(_failure(said, root))


_PART = re.compile(
    r"(?:Collecting|Requirement already satisfied:) ([\w.-]+)==|Processing .*?([\w.]+)-\d[^/\\]*\.(?:whl|tar\.gz)"
)
"""How pip names a part that it has come to: from an index, there already, or from a folder."""


def _watched(lines: Iterator[str], total: int) -> Iterator[str]:
    """The lines, with progress shown: one line that changes on a terminal, a few lines in a log."""
    terminal = sys.stderr.isatty()
    fetched = 0
    for line in lines:
        yield line
        part = _PART.match(line)
        fetched += bool(part)
        if part and terminal:
            say(f"\r\033[K  {fetched} of {total}: {part[1] or part[2]}", end="")
        elif part and fetched % 10 == 0:
            say(f"  {fetched} of {total}")
        elif line.startswith("Installing collected packages"):
            say(("\r\033[K" if terminal else "") + "  all fetched; installing…")
    if terminal:
        say("\r\033[K", end="")


def _failure(said: str, root: Path) -> str:
    """One sentence from what a failed step said, which is kept whole in a file."""
    log = root / ".venv" / "solander-setup.log"
    with suppress(OSError):  # the sentence matters more than the log
        log.write_text(said, encoding="utf-8")
    for pattern, why, todo in _FAILURES:
        if re.search(pattern, said):
            return f"Solander could not be set up: {why}. {todo}. (Details: {log})"
    last = next((line for line in reversed(said.splitlines()) if line.strip()), "no reason was given")
    return f"Solander could not be set up: {last.strip()} (Details: {log})"


def _link_source(root: Path) -> None:
    """Makes the environment import Solander from `src`, by a relative path so that the folder may move."""
    command = [str(python_of(root)), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"]
    site = Path(subprocess.run(command, capture_output=True, text=True, check=True).stdout.strip())
    source = os.path.relpath((root / "src").resolve(), site.resolve())
    (site / "solander-source.pth").write_text(source + "\n", encoding="utf-8")


def _become(command: list[str]) -> int:
    if os.name == "nt":  # exec there gives the prompt back before the program has ended
        with suppress(KeyboardInterrupt):
            return subprocess.run(command, check=False).returncode
        return INTERRUPTED
    os.execv(command[0], command)
    raise AssertionError("exec gives no way back")
