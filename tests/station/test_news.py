"""Pages are told of changes at once, and a slow one holds up nobody."""

from __future__ import annotations

import asyncio
import threading
import time
from pathlib import Path

import httpx
import pytest
from named_box import opened
from served import running

from solander.core.statements import Says
from solander.station.news import News
from solander.tasks.keep_people import say_date

pytestmark = pytest.mark.slow


async def first(listening, count: int = 1) -> list[int | None]:
    """The first things that a listener is told."""
    heard = []
    async for newest in listening:
        heard.append(newest)
        if len(heard) == count:
            break
    await listening.aclose()
    return heard


def test_who_comes_late_is_told_the_newest_at_once():
    assert asyncio.run(first(News(lambda: 7).since(3))) == [7]


def test_nobody_is_told_what_they_know():
    async def listen() -> list[int | None]:
        changes = iter([5, 5, 5, 6])
        return await first(News(lambda: next(changes)).since(5))

    assert asyncio.run(listen()) == [6]


def test_a_slow_listener_holds_up_nobody_and_gets_only_the_newest():
    async def listen() -> tuple[list[int], list[int]]:
        now = [0]
        news = News(lambda: now[0])
        quick, slow = [], []

        async def hear(kept: list[int], slowly: float) -> None:
            async for newest in news.since(0):
                kept.append(newest)
                await asyncio.sleep(slowly)

        tasks = [asyncio.create_task(hear(quick, 0)), asyncio.create_task(hear(slow, 3))]
        for number in range(1, 4):
            now[0] = number
            while not quick or quick[-1] < number:
                await asyncio.sleep(0.01)
        news.close()
        await tasks[0]
        tasks[1].cancel()
        return quick, slow

    quick, slow = asyncio.run(listen())
    assert quick == [1, 2, 3]
    assert slow == [1]


def test_closing_lets_listeners_go_and_nobody_is_looked_up_for_nobody():
    async def listen() -> int:
        asked = []
        news = News(lambda: len(asked.append(1) or asked) and 1)
        task = asyncio.create_task(first(news.since(1)))
        await asyncio.sleep(0.05)
        news.close()
        assert await task == []
        await asyncio.sleep(0.6)
        before = len(asked)
        await asyncio.sleep(0.6)
        return len(asked) - before

    assert asyncio.run(listen()) == 0


@pytest.mark.slow
def test_a_page_hears_of_a_change_that_another_program_made(tmp_path: Path):
    """The format is that of the HTML standard, 9.2.6: a `data` field, ended by an empty line."""
    with opened(tmp_path / "box") as bench, running(bench.app) as address:
        seen = bench.collection.catalogue.last_change()
        with httpx.stream("GET", f"{address}/changes?since={seen}", timeout=20) as answer:
            assert answer.headers["content-type"].startswith("text/event-stream")
            assert answer.headers["cache-control"] == "no-store"
            threading.Timer(0.3, say_date, (bench.collection, "Olav Sollihøgda", Says.DIED, "1972")).start()
            heard = next(line for line in answer.iter_lines() if line.startswith("data:"))
    assert int(heard.removeprefix("data:")) > seen


@pytest.mark.slow
def test_the_workbench_closes_while_a_page_listens(tmp_path: Path):
    with opened(tmp_path / "box") as bench:
        with running(bench.app) as address:
            client = httpx.Client(timeout=20)
            answer = client.send(client.build_request("GET", f"{address}/changes"), stream=True)
            next(answer.iter_lines())
            began = time.monotonic()
        assert time.monotonic() - began < 50  # it would wait for ever
        client.close()
