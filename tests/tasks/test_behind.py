"""The process that works the order out ends with the workbench that began it, however that ends."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from told_prints import say, take_in

from solander.core.statements import Says
from solander.tasks.collection import Collection
from solander.tasks.standing import holds

_WORKBENCH = """
import sys, time
from pathlib import Path
from solander.tasks.behind import Behind
if __name__ == "__main__":
    behind = Behind(Path(sys.argv[1]))
    behind.start()
    print(behind.at_work, flush=True)
    time.sleep(600)
"""


@pytest.mark.slow
def test_it_ends_with_a_workbench_that_is_killed(collection: Collection, tmp_path: Path) -> None:
    take_in(collection, "B1", 10)
    say(collection, "B1-0001", Says.EXPOSURE, "1938-06")
    script = tmp_path / "workbench.py"
    script.write_text(_WORKBENCH)
    command = [sys.executable, str(script), str(collection.root)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as workbench:
        assert workbench.stdout is not None
        assert workbench.stdout.readline() == "True\n"
        workbench.kill()
        # Both write to one pipe: it ends only when both are gone.
        workbench.communicate(timeout=120)
    assert not holds(collection), "it had no time to finish, so that it was ended in the midst of it"
