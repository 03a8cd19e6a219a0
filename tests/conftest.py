"""What all tests share: how many examples the quick subset tries where a test tries any, and that none hangs.

A test that hangs ends the process that runs it. Beside others (pytest-xdist) it leaves its stacks in a file of
that process, and they stand in the report of the test: at the end of what pytest says, and in its JUnit file.
"""

from __future__ import annotations

import faulthandler
import os
import signal
import tempfile
from collections.abc import Generator
from pathlib import Path

import pytest
from _pytest.faulthandler import fault_handler_stderr_fd_key
from hypothesis import settings

settings.register_profile("quick", max_examples=25)

if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:  # started in the background of a script: programs that tests
    signal.signal(signal.SIGINT, signal.default_int_handler)  # start and interrupt would ignore Ctrl-C, too

STACKS = pytest.StashKey[tempfile.TemporaryDirectory[str]]()


@pytest.hookimpl(optionalhook=True)
def pytest_configure_node(node) -> None:
    """Tells a process that is to run tests where its stacks go."""
    if STACKS not in node.config.stash:
        node.config.stash[STACKS] = tempfile.TemporaryDirectory(prefix="solander-stacks-")
    node.workerinput["stacks"] = str(_stacks(node))


@pytest.hookimpl(trylast=True)
def pytest_configure(config: pytest.Config) -> None:
    """In such a process, what runs out of time is told there; what kills it, on its error output as ever."""
    if stacks := getattr(config, "workerinput", {}).get("stacks"):
        config.stash[fault_handler_stderr_fd_key] = os.open(stacks, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)


@pytest.hookimpl(optionalhook=True)
def pytest_handlecrashitem(report: pytest.TestReport) -> None:
    """Adds the stacks of a process that ended to the report of the test that it ran."""
    stacks = _stacks(report.node)
    if stacks.exists():
        report.longrepr = f"{report.longrepr}\n\n{stacks.read_text(encoding='utf-8', errors='replace')}"


def _stacks(node) -> Path:
    return Path(node.config.stash[STACKS].name) / f"{node.gateway.id}.txt"


def pytest_unconfigure(config: pytest.Config) -> None:
    if folder := config.stash.get(STACKS, None):
        folder.cleanup()


@pytest.hookimpl(wrapper=True, tryfirst=True)
def pytest_runtest_teardown(item: pytest.Item) -> Generator[None, None, None]:
    """Bounds the end of a test as well: pytest stops its clock when a test fails, and what follows may hang."""
    if seconds := float(item.config.getini("faulthandler_timeout")):
        said = item.config.stash[fault_handler_stderr_fd_key]
        faulthandler.dump_traceback_later(seconds, file=said, exit=True)
    return (yield)
