"""Several processes, and processes that die: readers see what was committed, and nothing committed is lost."""

from __future__ import annotations

import random
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import made_records as made
import pytest

from solander.catalogue.store import Catalogue
from solander.core.errors import Trouble

pytestmark = pytest.mark.slow

_PRELUDE = f"""
import sys
sys.path.insert(0, {str(Path(__file__).parent)!r})
import made_records as made
from pathlib import Path
from solander.catalogue.store import Catalogue
catalogue = Catalogue.open(Path(sys.argv[1]))

def take_in(work, number):
    work.keep_capture(made.a_capture(number))
    work.add_print(made.a_print(number, views=(made.a_view(number),)))
"""

HOLDS = """
with catalogue.act("Bo", "took in") as act, act.work() as work:
    for number in range(10, 10 + int(sys.argv[2])):
        take_in(work, number)
    print("written", flush=True)
    sys.stdin.readline()
    work.commit()
    print("committed", flush=True)
"""

GOES_ON = """
with catalogue.act("Bo", "took in") as act:
    for number in range(10, 100_000):
        with act.work() as work:
            take_in(work, number)
            work.commit()
        print(number, flush=True)
"""


@contextmanager
def _another(catalogue: Catalogue, script: str, *arguments: str) -> Iterator[subprocess.Popen[str]]:
    command = [sys.executable, "-c", _PRELUDE + script, str(catalogue.path.parent), *arguments]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        try:
            yield process
        finally:
            process.kill()


def _hears(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    return process.stdout.readline().strip()


def _answers(process: subprocess.Popen[str]) -> None:
    assert process.stdin is not None
    process.stdin.write("\n")
    process.stdin.flush()


def test_a_reader_sees_only_what_was_committed(box: Catalogue) -> None:
    with _another(box, HOLDS, "5") as writer:
        assert _hears(writer) == "written"
        assert (len(box.prints()), len(box.captures())) == (3, 6)
        _answers(writer)
        assert _hears(writer) == "committed"
        assert (len(box.prints()), len(box.captures())) == (8, 11)


def test_a_reading_sees_one_moment(box: Catalogue) -> None:
    with box._reading() as connection:
        count = "SELECT count(*) FROM prints"
        before = connection.exec_driver_sql(count).scalar()
        with box.act("Ada", "took in") as act, act.work() as work:
            work.add_print(made.a_print(4))
            work.commit()
        assert connection.exec_driver_sql(count).scalar() == before
    assert len(box.prints()) == 4


def test_a_second_writer_waits_and_is_then_told(box: Catalogue) -> None:
    with (
        _another(box, HOLDS, "1") as writer,
        Catalogue.open(box.path.parent, patience_s=0.2) as impatient,
        impatient.act("Ada", "set") as act,
    ):
        assert _hears(writer) == "written"
        with pytest.raises(Trouble, match="another Solander is writing to it"), act.work():
            pytest.fail("the first writer has not finished")
        with pytest.raises(Trouble, match="another Solander is writing to it"):
            impatient.undo("Ada")
        _answers(writer)
        assert _hears(writer) == "committed"
        with act.work() as work:
            work.set("stage", "grey")
            work.commit()
    assert box.setting("stage") == "grey"


def test_a_second_writer_gets_its_turn(box: Catalogue) -> None:
    with _another(box, HOLDS, "1") as writer:
        assert _hears(writer) == "written"
        threading.Timer(0.3, _answers, [writer]).start()
        with box.act("Ada", "set") as act, act.work() as work:
            work.set("stage", "grey")
            work.commit()
    assert (box.setting("stage"), len(box.prints())) == ("grey", 4)


def test_killed_in_the_middle_of_a_transaction(box: Catalogue) -> None:
    before = made.dump(box)
    box.close()
    with _another(box, HOLDS, "3000") as writer:
        assert _hears(writer) == "written"
        writer.kill()
        writer.wait(240)
    with Catalogue.open(box.path.parent) as again:
        assert made.dump(again) == before
        _assert_sound(again)


def test_killed_at_any_moment_nothing_acknowledged_is_lost(box: Catalogue) -> None:
    chance = random.Random(1)
    with _another(box, GOES_ON) as writer:
        acknowledged = [_hears(writer) for _ in range(20)]
        time.sleep(chance.random() / 50)
        writer.kill()
        acknowledged += writer.stdout.read().split() if writer.stdout else []
    prints = {print_.number: print_ for print_ in box.prints()}
    assert {int(number) for number in acknowledged} <= set(prints)
    assert all(print_.views for print_ in prints.values())
    assert {made.sha(number) for number in prints} <= {capture.sha256 for capture in box.captures()}
    _assert_sound(box)


def test_many_threads_read_while_one_writes(box: Catalogue) -> None:
    seen: list[int] = []

    def read() -> None:
        for _ in range(20):
            seen.append(len(box.prints()))

    readers = [threading.Thread(target=read, daemon=True) for _ in range(6)]
    for reader in readers:
        reader.start()
    for number in range(4, 24):
        with box.act("Ada", "took in") as act, act.work() as work:
            work.add_print(made.a_print(number))
            work.commit()
    for reader in readers:
        reader.join(240)
        assert not reader.is_alive(), "it waits for the writer"
    assert len(seen) == 120
    assert len(box.prints()) == 23


def _assert_sound(catalogue: Catalogue) -> None:
    with catalogue._reading() as connection:
        assert connection.exec_driver_sql("PRAGMA integrity_check").scalar() == "ok"
        assert connection.exec_driver_sql("PRAGMA foreign_key_check").all() == []
