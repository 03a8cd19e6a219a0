from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor

import pytest

from solander.station.allowance import Allowance
from solander.station.newest import Newest
from solander.station.once import Once


def test_only_the_newest_picture_is_looked_at_of_those_that_came_meanwhile():
    looked, looking, go_on, done = [], threading.Event(), threading.Event(), threading.Event()

    def look(picture: bytes, at_ms: int) -> None:
        looked.append((picture, at_ms))
        looking.set()
        assert go_on.wait(10)
        if picture == b"19":
            done.set()

    newest = Newest(look)
    newest.put(b"0", 0)
    assert looking.wait(10)
    for number in range(1, 20):
        newest.put(str(number).encode(), number)
    go_on.set()
    assert done.wait(10)
    newest.close()
    assert looked == [(b"0", 0), (b"19", 19)]


def test_nothing_is_looked_at_once_it_is_closed():
    newest = Newest(lambda picture, at_ms: pytest.fail("it looked"))
    newest.close()
    newest.put(b"0", 0)


def test_what_is_asked_for_twice_is_done_once_also_while_it_is_being_done():
    once, begun, go_on, done = Once(), threading.Event(), threading.Event(), []

    def doing() -> int:
        begun.set()
        assert go_on.wait(10)
        done.append(1)
        return len(done)

    with ThreadPoolExecutor(2) as pool:
        first = pool.submit(once.do, "a", doing)
        assert begun.wait(10)
        second = pool.submit(once.do, "a", doing)
        go_on.set()
        assert (first.result(10), second.result(10)) == (1, 1)
    assert once.do("a", doing) == 1
    assert once.do("b", doing) == 2
    assert once.do("", doing) == 3
    assert once.do("", doing) == 4


def test_what_went_wrong_may_be_asked_for_once_more():
    once = Once()
    with pytest.raises(ZeroDivisionError):
        once.do("a", lambda: 1 // 0)
    assert once.do("a", lambda: 7) == 7


def test_an_allowance_gives_so_much_at_once_and_so_much_a_second():
    now = [0.0]
    allowance = Allowance(2, 3, clock=lambda: now[0])
    assert [allowance.allows() for _ in range(5)] == [True, True, True, False, False]
    now[0] = 0.5
    assert [allowance.allows() for _ in range(2)] == [True, False]
    now[0] = 100
    assert [allowance.allows() for _ in range(5)] == [True, True, True, False, False]
    assert not Allowance(1, 10, clock=lambda: now[0]).allows(11)
