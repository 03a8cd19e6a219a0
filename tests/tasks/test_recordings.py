"""A recording that is erased for good: not a byte of it, and of what was said of it, is left in the collection."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest
from stand_here import still, voice

from solander.core.errors import NotFound, Trouble
from solander.core.orders import Order
from solander.core.sounds import SoundKind
from solander.core.statements import Says
from solander.tasks.accounts import AccountDesk, accounts_of, all_accounts
from solander.tasks.at_stand import AtStand
from solander.tasks.collection import Collection
from solander.tasks.copy import second_copy
from solander.tasks.recordings import erase_recording
from solander.tasks.release import release
from solander.tasks.sitting import Sitting
from solander.tasks.stand_sounds import switch_slip_sound
from solander.tasks.verify import verify
from solander.vault.store import SET_ASIDE

pytestmark = pytest.mark.slow

TEXT = "Quillfeather rowed the zweihander across in the summer of 1937"
"""Words that stand nowhere else in a collection."""
WORDS = (b"Quillfeather", b"quillfeather", b"zweihander")


@pytest.fixture
def told(people: Collection, stand: AtStand) -> Collection:
    stand.take(still(1), "1.jpg")
    for pitch in (180.0, 220.0):
        stand.story_begins("Mette Wolverhampton")
        stand.story_sound(voice(2.0, pitch=pitch))
        stand.story_ends()
    stand.finish()
    return people


def every_byte(collection: Collection) -> Iterator[tuple[str, bytes]]:
    """All files of the collection, those of the catalogue's log too."""
    for path in sorted(collection.root.rglob("*")):
        if path.is_file():
            yield path.relative_to(collection.root).as_posix(), path.read_bytes()


def test_a_story_goes_with_every_byte_of_it(told: Collection, tmp_path: Path) -> None:
    desk = AccountDesk(told, Sitting(told))
    gone, stays = desk.of("P-0001")
    first = desk.write_down(gone.sha256, TEXT)
    desk.sitting.undo(desk.write_down(gone.sha256, f"{TEXT} again"))  # what was taken back stands in history still
    desk.write_down(gone.sha256, f"{TEXT} once more")
    sound = told.sounds.path(gone.sha256).read_bytes()
    middle = sound[len(sound) // 2 : len(sound) // 2 + 64]
    assert first is not None
    assert any(word in content for _, content in every_byte(told) for word in WORDS)
    second_copy(told, tmp_path / "copy")
    assert list((tmp_path / "copy").rglob(f"{gone.sha256}*"))

    act = desk.erase(gone.sha256)

    for name, content in every_byte(told):
        assert middle not in content, name
        for word in (*WORDS, TEXT.encode()):
            assert word not in content, name
    assert [one.sha256 for one in all_accounts(told)] == [stays.sha256]
    assert told.sounds.path(stays.sha256).is_file()
    assert verify(told.root).faults == ()
    kept = told.catalogue.act_kept(act)
    assert kept is not None
    assert kept.what.startswith("erased for good a story told about P-0001 on ")
    with pytest.raises(NotFound, match="There is no such recording"):
        desk.erase(gone.sha256)
    with pytest.raises(NotFound):
        desk.path(gone.sha256)

    release(told, tmp_path / "bag", audience="archive")
    assert not list((tmp_path / "bag").rglob(f"*{gone.sha256}*"))
    assert not any(word in path.read_bytes() for path in (tmp_path / "bag").rglob("*.jsonl") for word in WORDS)
    second_copy(told, tmp_path / "copy")
    assert not list((tmp_path / "copy").rglob(f"{gone.sha256}*"))
    assert verify(tmp_path / "copy").faults == ()


def test_it_cannot_be_taken_back_and_what_was_done_before_it_can(told: Collection, stand: AtStand) -> None:
    sitting = Sitting(told)
    gone = accounts_of(told, "P-0001")[0]
    act = AccountDesk(told, sitting).erase(gone.sha256)
    with pytest.raises(Trouble):
        told.catalogue.take_back("archivist", act)
    assert all_accounts(told) != []
    assert verify(told.root).faults == ()


def test_one_that_was_interrupted_is_done_by_doing_it_again(told: Collection, monkeypatch) -> None:
    gone = accounts_of(told, "P-0001")[0].sha256

    def killed(self: object, sha256: str, **_how: object) -> int:
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(type(told.catalogue), "erase_sound", killed)
        with pytest.raises(KeyboardInterrupt):
            erase_recording(told, gone)
    assert told.catalogue.sound(gone) is not None
    erase_recording(told, gone)
    assert told.catalogue.sound(gone) is None
    assert verify(told.root).faults == ()


def test_what_was_not_understood_goes_from_the_slip_too_and_undo_brings_it_back_nowhere(
    people: Collection, stand: AtStand
) -> None:
    switch_slip_sound(people, on=True)
    stand.keep_sound(voice(1.0))
    (sound,) = stand.sounds()
    stand.drop(sound.id)
    assert people.catalogue.sound(sound.sha256).what is SoundKind.SLIP
    stand.order(Order.UNDO)
    assert [one.sha256 for one in stand.sounds()] == [sound.sha256]
    erase_recording(people, sound.sha256)
    assert stand.sounds() == ()
    assert not list(people.root.rglob(f"{sound.sha256}*"))
    stand.say("Vessholm")
    stand.order(Order.UNDO)
    assert stand.sounds() == ()
    assert AtStand(people).sounds() == ()


def test_a_story_that_waits_for_a_print_and_was_erased_goes_with_none(people: Collection, stand: AtStand) -> None:
    stand.story_begins()
    stand.story_sound(voice(2.0))
    stand.story_ends()
    (sound,) = people.catalogue.sounds()
    erase_recording(people, sound.sha256)
    stand.take(still(1), "1.jpg")
    stand.finish()
    assert [one for one in people.catalogue.statements() if one.says is Says.ACCOUNT] == []


def test_what_is_damaged_or_was_set_aside_goes_too(told: Collection) -> None:
    gone = accounts_of(told, "P-0001")[0].sha256
    path = told.sounds.path(gone)
    (told.sounds.home / SET_ASIDE).mkdir()
    (told.sounds.home / SET_ASIDE / path.name).write_bytes(path.read_bytes())
    erase_recording(told, gone)
    assert not list(told.root.rglob(f"{gone}*"))
    assert not told.sounds.erase("../../solander")
    assert sqlite3.connect(told.catalogue.path).execute("SELECT count(*) FROM sounds").fetchone() == (1,)
