"""What all tests share: how many examples the quick subset tries where a test tries any, and that none hangs."""

from __future__ import annotations

import faulthandler
import signal
from collections.abc import Generator

import pytest
from _pytest.faulthandler import fault_handler_stderr_fd_key
from hypothesis import settings

settings.register_profile("quick", max_examples=25)

if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:  # started in the background of a script: programs that tests
    signal.signal(signal.SIGINT, signal.default_int_handler)  # start and interrupt would ignore Ctrl-C, too


@pytest.hookimpl(wrapper=True, tryfirst=True)
def pytest_runtest_teardown(item: pytest.Item) -> Generator[None, None, None]:
    """Bounds the end of a test as well: pytest stops its clock when a test fails, and what follows may hang."""
    if seconds := float(item.config.getini("faulthandler_timeout")):
        said = item.config.stash[fault_handler_stderr_fd_key]
        faulthandler.dump_traceback_later(seconds, file=said, exit=True)
    return (yield)
