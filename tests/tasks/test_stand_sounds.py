"""Sound at a station: what was not understood serves every print it covered; a told story is kept with its prints.

The files are read back by another program's library than wrote them where there is one: FLAC by its own checksum
(RFC 9639 keeps the MD5 of the samples in the file).
"""

from __future__ import annotations

import hashlib
import io
import wave

import pytest
from stand_here import said, still, voice

from solander.core.errors import NotFound
from solander.core.orders import Order
from solander.core.sounds import SoundKind
from solander.core.statements import Says
from solander.tasks import stand_account
from solander.tasks.accounts import accounts_of
from solander.tasks.at_stand import AtStand
from solander.tasks.collection import Collection
from solander.tasks.copy import second_copy
from solander.tasks.stand_sounds import switch_slip_sound
from solander.tasks.verify import verify


def test_no_sound_is_kept_until_somebody_says_so(people: Collection, stand: AtStand) -> None:
    assert not stand.keeps_sound
    assert stand.keep_sound(voice()).words == ""
    assert stand.sounds() == ()
    assert not (people.root / "sound").exists()


@pytest.mark.slow
def test_what_was_not_understood_is_typed_once_and_serves_every_print(people: Collection, stand: AtStand) -> None:
    switch_slip_sound(people, on=True)
    stand.say("1950")
    stand.keep_sound(voice())
    (sound,) = stand.sounds()
    stand.take(still(1), "1.jpg")
    stand.take(still(2), "2.jpg")
    stand.say("1961")  # said after it: of the date of what follows the sound tells nothing
    stand.take(still(4), "3.jpg")
    assert stand.sounds()[0].covers == ("P-0001", "P-0002", "P-0003")
    with wave.open(io.BytesIO(stand.sound_wav(sound.id))) as played:
        assert (played.getframerate(), played.readframes(played.getnframes())) == (16_000, voice())
    told = stand.type_sound(sound.id, "summer 1958, with Ingrid")
    assert told.state == "understood"
    assert [said(people, f"P-000{n}", Says.EXPOSURE) for n in (1, 2, 3)] == [["1958-22"], ["1958-22"], ["1961"]]
    assert [said(people, f"P-000{n}", Says.PERSON) for n in (1, 2, 3)] == [["Ingrid Sollihøgda"]] * 3
    assert (stand.slip.date, stand.slip.people, stand.sounds()) == ("1961", ("Ingrid Sollihøgda",), ())
    with pytest.raises(NotFound):
        stand.type_sound(sound.id, "1958")
    stand.order(Order.UNDO)
    assert [said(people, f"P-000{n}", Says.EXPOSURE) for n in (1, 2, 3)] == [["1950"], ["1950"], ["1961"]]
    assert stand.sounds()[0].id == sound.id
    assert AtStand(people, station="1").sounds() == stand.sounds()


@pytest.mark.slow
def test_a_story_is_kept_with_its_prints_and_changes_no_slip(people: Collection, stand: AtStand) -> None:
    stand.say("1958, with Ingrid")
    stand.take(still(1), "1.jpg")
    slip = stand.slip
    assert stand.order(Order.STORY).words == "The story is recorded. It goes with P-0001."
    stand.story_sound(voice(2.0))
    assert stand.story is not None
    assert (stand.story.seconds, stand.story.prints) == (2.0, ("P-0001",))
    stand.take(still(2), "2.jpg")
    stand.story_sound(voice(1.0, pitch=140))
    told = stand.order(Order.STORY_ENDS)
    assert told.words == "The story is kept with P-0001 and P-0002."
    assert stand.story is None
    (kept,) = people.catalogue.sounds(SoundKind.ACCOUNT)
    assert kept.seconds == 3.0
    assert people.catalogue.prints_of_sound(kept.sha256) == ["P-0001", "P-0002"]
    assert stand.slip.people == slip.people
    flac = people.sounds.path(kept.sha256).read_bytes()
    assert flac[:4] == b"fLaC"
    told_md5 = flac[8 + 18 : 8 + 34]  # STREAMINFO ends with the MD5 of the unencoded samples (RFC 9639, 8.2)
    assert told_md5 == hashlib.md5(voice(2.0) + voice(1.0, pitch=140)).digest()
    assert verify(people.root).faults == ()


@pytest.mark.slow
def test_undo_takes_a_story_off_its_prints_and_keeps_the_recording(people: Collection, stand: AtStand) -> None:
    stand.take(still(1), "1.jpg")
    stand.story_begins("Ingrid Sollihøgda")
    stand.story_sound(voice())
    stand.story_ends()
    assert said(people, "P-0001", Says.ACCOUNT) != []
    stand.order(Order.UNDO)
    assert said(people, "P-0001", Says.ACCOUNT) == []
    assert len(people.catalogue.sounds()) == 1
    assert verify(people.root).faults == ()


@pytest.mark.slow
def test_a_story_without_a_print_goes_with_the_next(people: Collection, stand: AtStand) -> None:
    assert "next print" in stand.story_begins().words
    stand.story_sound(voice())
    assert "next print" in stand.story_ends().words
    stand.take(still(1), "1.jpg")
    assert len(said(people, "P-0001", Says.ACCOUNT)) == 1


def test_a_story_in_which_nothing_was_heard_is_told(stand: AtStand) -> None:
    stand.story_begins()
    assert "Nothing was heard" in stand.story_ends().words
    assert stand.story is None


def test_a_story_that_a_crash_cut_off_is_kept(people: Collection, stand: AtStand) -> None:
    stand.story_begins()
    stand.story_sound(voice(1.5))
    again = AtStand(people, station="1")
    assert again.story is None
    (kept,) = people.catalogue.sounds()
    assert kept.seconds == 1.5


@pytest.mark.slow
def test_verify_and_the_second_copy_cover_recordings(
    people: Collection, stand: AtStand, tmp_path_factory: pytest.TempPathFactory
) -> None:
    stand.take(still(1), "1.jpg")
    stand.story_begins()
    stand.story_sound(voice())
    stand.story_ends()
    target = tmp_path_factory.mktemp("copy") / "copy"
    assert second_copy(people, target).faults == ()
    assert verify(target).faults == ()
    (sound,) = people.catalogue.sounds()
    path = people.sounds.path(sound.sha256)
    path.chmod(0o644)
    content = bytearray(path.read_bytes())
    content[-9] ^= 1
    path.write_bytes(content)
    assert [one for one in verify(people.root).faults if path.name in one and "has changed" in one]
    assert second_copy(people, target).notes != ()
    assert verify(people.root).faults == ()
    path.unlink()
    assert [one for one in verify(people.root).faults if path.name[:12] in one and "missing" in one]


@pytest.mark.slow
def test_a_long_story_is_kept_after_a_word_and_goes_on_in_a_next_recording(
    people: Collection, stand: AtStand, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(stand_account, "LONGEST_S", 3.0)
    monkeypatch.setattr(stand_account, "ANNOUNCED_S", 2.0)
    stand.take(still(1), "1.jpg")
    stand.story_begins("Ingrid Sollihøgda")
    told = [stand.story_sound(voice(0.5)) for _ in range(7)]
    assert [one is not None for one in told] == [False, True, False, False, False, True, False]
    assert told[1].words.startswith("The story has become long")
    assert told[5].words == "What was told so far is kept; the story goes on in a next recording."
    assert (stand.story.seconds, stand.story.prints) == (0.5, ("P-0001",))
    stand.story_ends()
    assert [one.seconds for one in people.catalogue.sounds()] == [3.0, 0.5]
    stories = accounts_of(people, "P-0001")
    assert [one.teller for one in stories] == ["Ingrid Sollihøgda"] * 2
    assert len({one.sha256 for one in stories}) == 2
