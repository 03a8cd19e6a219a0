import os
import subprocess
import sys
from pathlib import Path

import pytest

from solander.core.errors import InvalidValue, Trouble
from solander.engine.local import ProcessExecutor, SerialExecutor, WorkerDied, local_executor


def double_even(number: int) -> int:
    if number == 13:
        os._exit(9)  # as a crash in a decoder ends the process
    if number % 2:
        raise InvalidValue(f"{number} is odd", "only even numbers are doubled", "Take another")
    return 2 * number


def test_serial_hands_troubles_back_in_place() -> None:
    with SerialExecutor() as executor:
        outcomes = list(executor.map(double_even, [2, 3, 4]))
    assert [item for item, _ in outcomes] == [2, 3, 4]
    assert outcomes[0][1] == 4
    assert isinstance(outcomes[1][1], InvalidValue)
    assert outcomes[1][1].why == "only even numbers are doubled"


@pytest.mark.slow
def test_processes_keep_order_and_survive_a_death() -> None:
    numbers = [2, 3, 13, 4, 6, 8, 10, 12]
    with ProcessExecutor(2) as executor:
        outcomes = list(executor.map(double_even, numbers))
    assert [item for item, _ in outcomes] == numbers
    results = dict(outcomes)
    assert [results[n] for n in (2, 4, 6, 8, 10, 12)] == [4, 8, 12, 16, 20, 24]
    assert isinstance(results[3], InvalidValue)
    assert isinstance(results[13], WorkerDied)


_PROGRAM = """
import sys
from time import sleep
from solander.engine.local import ProcessExecutor
if __name__ == "__main__":
    with ProcessExecutor(2) as executor:
        for slept in executor.map(sleep, [0] + 99 * [600]):
            print("at work", flush=True)
"""


@pytest.mark.slow
def test_workers_end_with_a_program_that_is_killed(tmp_path: Path) -> None:
    script = tmp_path / "program.py"
    script.write_text(_PROGRAM)
    with subprocess.Popen([sys.executable, str(script)], stdout=subprocess.PIPE, text=True) as program:
        assert program.stdout is not None
        assert program.stdout.readline() == "at work\n"
        program.kill()
        # All write to one pipe: it ends only when all are gone.
        program.communicate(timeout=120)


def test_items_are_drawn_only_as_they_are_worked_on() -> None:
    drawn: list[int] = []

    def numbers():
        for number in range(0, 1000, 2):
            drawn.append(number)
            yield number

    with SerialExecutor() as executor:
        outcomes = executor.map(double_even, numbers())
        next(outcomes)
    assert len(drawn) == 1


def test_one_worker_needs_no_pool() -> None:
    assert isinstance(local_executor(1), SerialExecutor)


def test_troubles_travel_between_processes() -> None:
    import pickle

    trouble = Trouble("scan.tif was set aside", "it is cut off after 2 MB", "Copy it again from the card")
    again = pickle.loads(pickle.dumps(trouble))
    assert again.sentence == trouble.sentence
    assert again.sentence == "scan.tif was set aside: it is cut off after 2 MB. Copy it again from the card."
