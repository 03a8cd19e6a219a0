from __future__ import annotations

import os
import stat
from concurrent.futures import ThreadPoolExecutor

import pytest

from solander.core import own_files
from solander.core.errors import NotFound, Trouble
from solander.core.own_files import locked
from solander.tasks.cameras import CODE_LASTS_S, DISUSED_DAYS, Cameras


@pytest.fixture
def now() -> list[float]:
    return [1_800_000_000.0]


@pytest.fixture
def cameras(tmp_path, now) -> Cameras:
    return Cameras(tmp_path / "own" / "cameras.json", clock=lambda: now[0])


def test_a_code_pairs_one_phone_and_no_second(cameras):
    code = cameras.offer()
    assert cameras.is_offered(code)
    assert cameras.known(cameras.pair(code, "Phone in the stand")).name == "Phone in the stand"
    assert not cameras.is_offered(code)
    with pytest.raises(Trouble, match="the code was used already") as refused:
        cameras.pair(code, "Another")
    assert refused.value.status == 403


def test_a_code_ends_by_itself(cameras, now):
    code = cameras.offer()
    now[0] += CODE_LASTS_S
    with pytest.raises(Trouble):
        cameras.pair(code, "late")


def test_a_code_that_never_was_pairs_nobody(cameras):
    for code in ("", "guess", cameras.offer()[:-1]):
        with pytest.raises(Trouble):
            cameras.pair(code, "thief")
    assert cameras.all == []


def test_the_file_holds_no_secret_and_is_read_by_its_user_alone(cameras):
    secret = cameras.pair(cameras.offer(), "phone")
    assert secret not in cameras.file.read_text()
    if os.name != "nt":
        assert stat.S_IMODE(cameras.file.stat().st_mode) == 0o600


def test_a_phone_is_known_again_after_a_restart_until_it_is_sent_away(cameras):
    told = []
    secret = cameras.pair(cameras.offer(), "phone")
    again = Cameras(cameras.file, on_revoked=told.append)
    key = again.known(secret).key
    assert again.known(secret + "x") is None
    assert again.revoke(key).name == "phone"
    assert told == [key]
    assert again.known(secret) is None
    assert cameras.known(secret) is None, "another program that runs meanwhile lets it in no more either"
    with pytest.raises(NotFound):
        again.revoke(key)


def test_when_it_was_last_seen_is_written_down(cameras, now):
    secret = cameras.pair(cameras.offer(), "phone")
    before = cameras.all[0].seen
    now[0] += 7200
    cameras.known(secret)
    assert cameras.all[0].seen > before
    assert cameras.all[0].paired == before


@pytest.mark.parametrize("content", ["", "[]", "{", '{"cameras": [{"key": 1}]}'])
def test_a_file_that_is_spoilt_lets_nobody_in_and_is_made_anew(cameras, content):
    secret = cameras.pair(cameras.offer(), "phone")
    cameras.file.write_text(content)
    assert cameras.known(secret) is None
    assert cameras.known(cameras.pair(cameras.offer(), "phone")) is not None


def test_a_code_ends_when_a_newer_one_is_shown(cameras):
    old, new = cameras.offer(), cameras.offer()
    assert not cameras.is_offered(old)
    with pytest.raises(Trouble, match="or a newer one was shown"):
        cameras.pair(old, "phone")
    assert cameras.known(cameras.pair(new, "phone")) is not None


def test_a_phone_that_was_not_seen_for_long_is_not_known_any_more(cameras, now):
    """Our choice, told in docs/station.md; a phone that is used every now and then stays."""
    used, forgotten = (cameras.pair(cameras.offer(), name) for name in ("used", "forgotten"))
    now[0] += (DISUSED_DAYS - 1) * 24 * 3600
    assert cameras.known(used) is not None
    now[0] += 2 * 24 * 3600
    assert cameras.known(used) is not None
    assert cameras.known(forgotten) is None
    assert [one.name for one in cameras.all] == ["used"]


def test_of_several_programs_at_once_none_loses_what_another_wrote(cameras):
    def pair(number: int) -> str:
        own = Cameras(cameras.file, clock=cameras.clock)  # as each program has its own
        return own.pair(own.offer(), str(number))

    with ThreadPoolExecutor(10) as programs:
        secrets = list(programs.map(pair, range(20)))
    assert all(cameras.known(secret) for secret in secrets)


def test_a_file_that_another_program_holds_is_not_waited_for_without_end(cameras, monkeypatch):
    monkeypatch.setattr(own_files, "PATIENCE_S", 0.05)
    code = cameras.offer()
    with locked(cameras.file), pytest.raises(Trouble, match="another Solander holds"):
        cameras.pair(code, "phone")
    assert cameras.is_offered(code)
    assert cameras.pair(code, "phone")


def test_a_secret_of_any_bytes_is_looked_up(cameras):
    assert cameras.known("\udcff\udcfe") is None
