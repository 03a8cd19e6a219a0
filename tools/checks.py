"""Every check of the project, one after the other, with a closing summary. Standard library only.

A check that fails does not stop the others; what can't run here is said with its reason, never passed over.
"""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import tempfile
import time
import xml.etree.ElementTree as ElementTree
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from bounded import run_shown
from environment import CANNOT_BEGIN, INTERRUPTED, CannotSetUp, make_gazetteer, python_of, set_up

__all__ = ["check"]

NOT_QUICK = "slow or browser or end_to_end"
"""Markers left out of `./test quick`."""

MOST_WORKERS = 6
"""More pytest workers hardly help and each holds OpenCV and pictures in memory (common practice, no source)."""

TESTS_MOST_S = 45 * 60.0
"""All tests are ended by then: half as long again as they may take, so that a machine that does other things
meanwhile still comes to their end. A single test may take `faulthandler_timeout` of pyproject.toml."""

STEP_MOST_S = 10 * 60.0
"""Every other check must be done by then; each takes a minute or less (our choice)."""

FETCHING_MOST_S = 10 * 60.0
"""A line that answers nothing is given up by then (common practice, no source)."""

SYSTEM_PROGRAMS = {
    "exiftool": ("libimage-exiftool-perl", ("exiftool",), "embedded fields are not read back by a second program"),
    "Chromium": (
        "chromium",
        ("chromium", "chromium-browser", "google-chrome"),
        "pages are not opened in a browser",
    ),
    "scanimage": ("sane-utils", ("scanimage",), "nothing is scanned with SANE's test driver"),
}
"""What tests use and pip can't install: Debian package, names of the command, what is lost without it."""


@dataclass
class Report:
    """What ran, with its outcome and seconds; what was skipped, with its reason."""

    ran: list[tuple[str, bool, float]] = field(default_factory=list)
    skipped: list[str] = field(default_factory=list)
    last_line: str = ""

    @property
    def failed(self) -> list[str]:
        """The headings of what failed."""
        return [heading for heading, passed, _ in self.ran if not passed]


def check(root: str | Path, arguments: list[str]) -> int:
    """Runs the checks that `arguments` ask for; 0 when all passed, 1 when not, 2 when they could not begin."""
    root = Path(root)
    signal.signal(signal.SIGTERM, signal.default_int_handler)  # as Ctrl-C: what was begun is ended, too
    try:
        set_up(root, tests=True)
        make_gazetteer(root)
        report = Report()
        if not arguments:
            _get_system_programs(report)
            _everything(root, report)
        elif arguments == ["quick"]:
            _everything(root, report, quick=True)
        else:
            _pytest(root, report, arguments)
    except CannotSetUp as reason:
        print(reason, flush=True)
        return CANNOT_BEGIN
    except KeyboardInterrupt:
        print("\nStopped.", flush=True)
        return INTERRUPTED
    _sum_up(report)
    return 1 if report.failed else 0


def _everything(root: Path, report: Report, *, quick: bool = False) -> None:
    python = str(python_of(root))
    scripts = ["run", "test"]
    _step(root, report, "Lint (ruff)", [python, "-m", "ruff", "check", ".", *scripts])
    _step(root, report, "Format (ruff)", [python, "-m", "ruff", "format", "--check", ".", *scripts])
    _step(root, report, "Types (mypy)", [python, "-m", "mypy", "src/solander", "tools"])
    _step(root, report, "Import directions (import-linter)", [str(python_of(root).parent / "lint-imports")])
    _page_scripts(root, report)
    _pytest(root, report, ["-m", f"not ({NOT_QUICK})", "--hypothesis-profile=quick"] if quick else [])
    if quick:
        report.skipped.append("tests marked slow, browser or end_to_end: left out of the quick subset")


def _step(root: Path, report: Report, heading: str, command: list[str]) -> None:
    """Runs one check and notes how it went."""
    _headline(heading)
    began = time.monotonic()
    shown = run_shown(command, root, most_s=STEP_MOST_S)
    _note(report, heading, shown.status == 0, time.monotonic() - began)


def _note(report: Report, heading: str, passed: bool, seconds: float) -> None:
    report.ran.append((heading, passed, seconds))
    print(f"{'passed' if passed else 'FAILED'} in {seconds:.1f} s", flush=True)


def _headline(heading: str) -> None:
    print(f"\n=== {heading}", flush=True)


def _get_system_programs(report: Report) -> None:
    """Installs what is missing where that is allowed, and says what is lost where it is not."""
    missing = _missing_programs()
    if missing and shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0:
        _headline(f"Installing {' and '.join(missing)} (apt-get)")
        _apt_get(["update", "-q"])
        for name in missing:
            _apt_get(["install", "-q", "-y", "--no-install-recommends", SYSTEM_PROGRAMS[name][0]])
    for name in _missing_programs():
        package, _, loss = SYSTEM_PROGRAMS[name]
        report.skipped.append(f"what needs {name}: it is not installed (Debian's package {package}), so {loss}")


def _missing_programs() -> list[str]:
    return [name for name, (_, commands, _) in SYSTEM_PROGRAMS.items() if not any(map(shutil.which, commands))]


def _apt_get(arguments: list[str]) -> None:
    """Runs apt-get quietly; when it fails its last lines are shown, and the tests say what they skip."""
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    try:
        outcome = subprocess.run(
            ["apt-get", *arguments],
            env=quiet,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
            check=False,
            timeout=FETCHING_MOST_S,
        )
    except subprocess.TimeoutExpired:
        print("apt-get was given up: it took too long.", flush=True)
        return
    if outcome.returncode:
        print("".join(outcome.stdout.splitlines(keepends=True)[-5:]), flush=True)


def _page_scripts(root: Path, report: Report) -> None:
    """Checks the types of the page scripts with a pinned TypeScript, where Node is there."""
    heading = "Types of the page scripts (TypeScript)"
    if not any(root.glob("src/solander/*/static/**/*.js")):
        report.skipped.append("types of the page scripts: there are none yet")
        return
    npm = shutil.which("npm")
    if not (shutil.which("node") and npm):
        report.skipped.append("types of the page scripts: Node with npm is not installed")
        return
    place = root / "tools" / "page-checks"
    compiler = place / "node_modules" / "typescript" / "bin" / "tsc"
    if not _is_pinned_compiler(place):
        _headline("Fetching TypeScript (npm)")
        if run_shown([npm, "ci", "--no-audit", "--no-fund"], place, most_s=FETCHING_MOST_S).status != 0:
            report.skipped.append("types of the page scripts: npm could not fetch TypeScript")
            return
    _step(root, report, heading, ["node", str(compiler), "--noEmit", "-p", "."])


def _is_pinned_compiler(place: Path) -> bool:
    installed = place / "node_modules" / "typescript" / "package.json"
    if not installed.exists():
        return False
    pinned = json.loads((place / "package.json").read_text(encoding="utf-8"))["devDependencies"]["typescript"]
    return bool(json.loads(installed.read_text(encoding="utf-8"))["version"] == pinned)


def _pytest(root: Path, report: Report, arguments: list[str]) -> None:
    """Runs pytest, shows what it says as it says it, and reads from its report what was skipped and why."""
    _headline("Tests (pytest)")
    began = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        results = Path(folder) / "results.xml"
        command = [
            str(python_of(root)), "-m", "pytest", "-n", str(min(os.cpu_count() or 1, MOST_WORKERS)),
            "--dist", "worksteal", "--durations=10", f"--junitxml={results}", *arguments,
        ]  # fmt: skip
        # Tests start many programs: each would be compiled anew where nothing compiled may be kept.
        environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        if not arguments:  # of single tests people look at the pictures of pages
            environment["SOLANDER_PICTURES"] = "none"
        shown = run_shown(command, root, most_s=TESTS_MOST_S, environment=environment)
        report.skipped += _skipped_tests(results)
    report.last_line = shown.last_line
    _note(report, "Tests (pytest)", shown.status == 0, time.monotonic() - began)


def _skipped_tests(results: Path) -> Iterator[str]:
    if not results.exists():
        return
    reasons = Counter(skip.get("message", "") for skip in ElementTree.parse(results).iter("skipped"))
    for reason, count in reasons.items():
        yield f"{count} test{'s' if count > 1 else ''}: {reason}"


def _sum_up(report: Report) -> None:
    """The closing summary; pytest's own last line comes last, where readers of logs look for it."""
    _headline("Summary")
    for heading, passed, seconds in report.ran:
        print(f"{'passed' if passed else 'FAILED'}  {heading} ({seconds:.1f} s)")
    for reason in report.skipped:
        print(f"skipped {reason}")
    total = sum(seconds for _, _, seconds in report.ran)
    print(f"{'All passed' if not report.failed else 'Failed: ' + ', '.join(report.failed)} ({total:.0f} s)")
    if report.last_line:
        print(report.last_line, flush=True)
