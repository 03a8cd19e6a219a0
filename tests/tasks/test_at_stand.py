"""A station without a browser: words become its slip, pictures become prints with that slip, and all goes back."""

from __future__ import annotations

import threading

import pytest
from small_box import OUT_OF_FOCUS
from stand_here import back, empty, said, still

from solander.core.errors import NotFound, Trouble
from solander.core.orders import Order
from solander.core.prints import Side
from solander.core.questions import Asks
from solander.core.slips import Part
from solander.core.statements import Says
from solander.tasks.at_stand import AtStand
from solander.tasks.collection import Collection
from solander.tasks.stand_told import Tone
from solander.tasks.verify import verify


@pytest.mark.slow
def test_a_print_gets_what_the_slip_says_and_undo_takes_all_of_it_back(people: Collection, stand: AtStand) -> None:
    stand.say("box two, envelope five")
    told = stand.say("summer nineteen fifty-eight, Vessholm, with Ingrid and Nils")
    assert told.state == "understood"
    assert [part for part, _, _ in told.parts] == [Part.DATE, Part.PLACE, Part.PEOPLE]
    taken = stand.take(still(1), "still-1.jpg", route="still")
    assert (taken.accession, taken.side, taken.tone) == ("B2-E5-0001", "front", Tone.TAKEN)
    assert taken.words == "B2-E5-0001 is taken."
    assert said(people, "B2-E5-0001", Says.EXPOSURE) == ["1958-22"]
    assert said(people, "B2-E5-0001", Says.PLACE) == ["Vessholm"]
    assert said(people, "B2-E5-0001", Says.PERSON) == ["Ingrid Sollihøgda", "Nils Sollihøgda"]
    stand.order(Order.BACK)
    back = stand.take(still(2), "still-2.jpg")
    assert (back.accession, back.side) == ("B2-E5-0001", "back")
    assert [one.side for one in stand.last()] == ["back", "front"]
    assert "Summer 1958" in stand.last()[0].words
    assert stand.order(Order.UNDO).words == "Taken back: took the back of B2-E5-0001 at the stand."
    assert people.catalogue.print("B2-E5-0001").verso is None
    stand.order(Order.UNDO)
    assert people.catalogue.prints() == []
    assert people.catalogue.statements() == []
    assert len(people.catalogue.captures()) == 2  # what a camera saw is never lost
    assert verify(people.root).faults == ()


@pytest.mark.slow
def test_the_slip_and_the_last_prints_outlive_a_restart(people: Collection, stand: AtStand) -> None:
    stand.say("envelope five, 1958, with Ingrid")
    stand.take(still(1), "a.jpg")
    again = AtStand(people, station="1")
    assert again.slip == stand.slip
    assert again.slip_words() == "E5 · 1958 · Ingrid Sollihøgda"
    assert [one.accession for one in again.last()] == ["E5-0001"]
    assert AtStand(people, station="2").slip_words() == "Nothing is on the slip yet."
    assert again.take(still(2), "b.jpg").accession == "E5-0002"
    assert people.catalogue.history(1)[0].act == "took E5-0002 at the stand"


@pytest.mark.slow
def test_a_correction_reaches_the_prints_that_have_it_and_only_what_was_said_here(
    people: Collection, stand: AtStand
) -> None:
    stand.say("1958, with Ingrid")
    for number in (1, 2):
        stand.take(still(number), f"{number}.jpg")
    told = stand.say("no, nineteen sixty")
    assert told.act is not None
    assert [said(people, one, Says.EXPOSURE) for one in ("P-0001", "P-0002")] == [["1960"], ["1960"]]
    assert said(people, "P-0001", Says.PERSON) == ["Ingrid Sollihøgda"]
    stand.order(Order.UNDO)
    assert stand.slip.date == "1958"
    assert [said(people, one, Says.EXPOSURE) for one in ("P-0001", "P-0002")] == [["1958"], ["1958"]]
    stand.say("nineteen sixty-one")  # not a correction: it holds for what comes
    assert said(people, "P-0002", Says.EXPOSURE) == ["1958"]


@pytest.mark.slow
def test_an_occasion_keeps_its_date_and_brings_it_along_again(people: Collection, stand: AtStand) -> None:
    stand.say("occasion School outing, May 1936, Vessholm, with Nils")
    stand.take(still(1), "1.jpg")
    assert said(people, "P-0001", Says.EXPOSURE) == []
    assert said(people, "School outing", Says.EXPOSURE) == ["1936-05"]
    stand.say("occasion Wedding")
    assert (stand.slip.date, stand.slip.place, stand.slip.people) == ("", "", ("Nils Sollihøgda",))
    stand.say("school outing")
    assert (stand.slip.date, stand.slip.place) == ("1936-05", "Vessholm")
    stand.say("June 1936")
    stand.take(still(2), "2.jpg")
    assert said(people, "P-0002", Says.EXPOSURE) == ["1936-06"]  # of this print alone
    assert said(people, "School outing", Says.EXPOSURE) == ["1936-05"]


def test_nothing_is_taken_of_an_empty_stage_unless_it_is_ordered(people: Collection, stand: AtStand) -> None:
    told = stand.take(empty(), "empty.jpg")
    assert (told.accession, told.tone) == ("", Tone.AGAIN)
    assert people.catalogue.prints() == []
    assert verify(people.root).faults == ()


def test_what_was_ordered_is_taken_whole(people: Collection, stand: AtStand) -> None:
    stand.order(Order.TAKE)
    told = stand.take(empty(), "empty.jpg")
    assert told.accession == "P-0001"
    assert [fault.key for fault in told.faults][-1] == "edge"
    assert stand.expects is None


def test_bytes_that_are_no_picture_are_refused_in_one_sentence(people: Collection, stand: AtStand) -> None:
    with pytest.raises(Trouble, match="set aside"):
        stand.take(b"no picture", "broken.jpg")
    assert people.catalogue.captures() == []


@pytest.mark.slow
def test_faults_are_told_at_once(stand: AtStand) -> None:
    told = stand.take(still(1, camera=OUT_OF_FOCUS), "soft.jpg")
    assert told.tone is Tone.AGAIN
    assert "not-sharp" in {fault.key for fault in told.faults}
    assert "It is not sharp: focus anew, and keep the camera still." in told.words


@pytest.mark.slow
def test_taken_again_stands_beside_the_first_until_a_person_chooses(people: Collection, stand: AtStand) -> None:
    first = stand.take(still(1), "1.jpg")
    stand.order(Order.TAKE_AGAIN)
    second = stand.take(still(1, angle_deg=3.0), "1 again.jpg")
    assert second.accession == first.accession
    recto = people.catalogue.print("P-0001").recto
    assert recto is not None
    assert recto.key == first.key
    again = stand.again
    assert again is not None
    assert (again.old, again.new, again.side) == (first.key, second.key, "front")
    told = stand.keep_of_two("new")
    recto = people.catalogue.print("P-0001").recto
    assert recto is not None
    assert recto.key == second.key
    assert stand.again is None
    assert people.catalogue.questions_about(["P-0001"]) == []
    stand.order(Order.UNDO)
    assert stand.again == again
    stand.keep_of_two("old")
    assert [view.key for view in people.catalogue.print("P-0001").views] == [first.key]
    assert told.act is not None
    with pytest.raises(NotFound):
        stand.keep_of_two("new")


@pytest.mark.slow
def test_taken_again_and_again_the_newest_is_shown_when_it_is_chosen(people: Collection, stand: AtStand) -> None:
    stand.take(still(1), "1.jpg")
    for angle in (3.0, 6.0):
        stand.order(Order.TAKE_AGAIN)
        newest = stand.take(still(1, angle_deg=angle), f"{angle}.jpg")
    stand.keep_of_two("new")
    assert [view.key for view in people.catalogue.print("P-0001").views] == [newest.key]
    assert [one.key for one in stand.last()] == [newest.key]


@pytest.mark.slow
def test_the_same_print_laid_down_again_is_told_and_asked(people: Collection, stand: AtStand) -> None:
    stand.take(still(1), "1.jpg")
    told = stand.take(still(1, angle_deg=3.0), "2.jpg")
    assert told.looks_like == "P-0001"
    assert told.tone is Tone.AGAIN
    assert [one.asks for one in people.catalogue.questions_about(["P-0002"])] == [Asks.DUPLICATE]


@pytest.mark.slow
def test_the_very_same_bytes_are_taken_once(people: Collection, stand: AtStand) -> None:
    stand.take(still(1), "1.jpg")
    told = stand.take(still(1), "1.jpg")  # a phone that heard no answer sends it again
    assert told.known
    assert told.accession == "P-0001"
    assert len(people.catalogue.prints()) == 1


@pytest.mark.slow
def test_a_back_that_is_a_print_of_its_own(people: Collection, stand: AtStand) -> None:
    stand.say("with Nils")
    stand.take(still(1), "1.jpg")
    stand.order(Order.BACK)
    stand.take(still(2), "2.jpg")
    told = stand.order(Order.OWN_PRINT)
    assert told.words == "It is a print of its own: P-0002."
    assert [one.side for one in people.catalogue.print("P-0002").views] == [Side.RECTO]
    assert people.catalogue.print("P-0001").verso is None
    assert said(people, "P-0002", Says.PERSON) == ["Nils Sollihøgda"]
    stand.order(Order.UNDO)
    assert people.catalogue.print("P-0001").verso is not None
    assert len(people.catalogue.prints()) == 1


def test_how_things_stand_is_told_while_a_picture_is_taken(stand: AtStand) -> None:
    """Or the live picture of every page would stop meanwhile."""
    told: list[object] = []
    with stand._at.lock:
        asking = threading.Thread(
            target=lambda: told.extend(
                [stand.slip_words(), stand.slip_parts(), stand.last(), stand.again, stand.sounds(), stand.story]
            ),
            daemon=True,
        )
        asking.start()
        asking.join(20)
    assert told == ["Nothing is on the slip yet.", (), (), None, (), None]


def test_orders_for_the_last_print_want_one(stand: AtStand) -> None:
    assert stand.order(Order.BACK).tone is Tone.NOT_UNDERSTOOD
    assert stand.expects is None
    with pytest.raises(Trouble, match="Nothing was taken back"):
        stand.order(Order.UNDO)


@pytest.mark.slow
def test_each_station_takes_its_own_last_deed_back(people: Collection, stand: AtStand) -> None:
    other = AtStand(people, station="2")
    other.say("envelope nine")
    stand.take(still(1), "1.jpg")
    other.take(still(2), "2.jpg")
    stand.order(Order.UNDO)
    assert [one.accession for one in people.catalogue.prints()] == ["E9-0001"]
    other.order(Order.UNDO)
    assert people.catalogue.prints() == []


@pytest.mark.slow
def test_two_stations_at_once_lose_nothing_and_clash_nowhere(people: Collection) -> None:
    """Both take into one container at the same time: every picture becomes a print, under numbers of their own."""
    stations = [AtStand(people, station=name) for name in "12"]
    pictures = [still(number) for number in range(8)]
    troubles: list[BaseException] = []

    def work(which: int) -> None:
        try:
            stations[which].say("envelope five, with " + ("Ingrid", "Nils")[which])
            for number in range(which, 8, 2):
                stations[which].take(pictures[number], f"{number}.jpg")
        except BaseException as error:  # told in the test's own thread
            troubles.append(error)

    threads = [threading.Thread(target=work, args=(which,), daemon=True) for which in (0, 1)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(240)
        assert not thread.is_alive(), "one waits for the other"
    assert troubles == []
    found = people.catalogue.prints()
    assert [one.number for one in found] == list(range(1, 9))
    shown = [said(people, one.accession, Says.PERSON) for one in found]
    assert sorted(shown) == [["Ingrid Sollihøgda"]] * 4 + [["Nils Sollihøgda"]] * 4
    assert all(len(station.last(9)) == 4 for station in stations)
    assert verify(people.root).faults == ()


@pytest.mark.slow
def test_what_waits_is_done_as_a_part_of_the_same_act(people: Collection, stand: AtStand) -> None:
    stand.take(still(1), "1.jpg")
    stand.finish()
    assert {one.asks for one in people.catalogue.questions_about(["P-0001"])} <= {Asks.UPRIGHT}
    stand.order(Order.UNDO)
    assert people.catalogue.questions() == []


def test_parts_are_put_and_dropped_by_hand(stand: AtStand) -> None:
    stand.put("container", "b2/e5")
    stand.put("date", "about 1958")
    stand.put("people", "Ingrid and an unknown boy")
    assert stand.slip_words() == "B2/E5 · Likely about 1958 · Ingrid Sollihøgda and an unknown boy"
    stand.drop("date")
    assert stand.slip.date == ""
    stand.order(Order.CLEAR)
    assert (stand.slip.container, stand.slip.people) == ("B2/E5", ())
    stand.order(Order.UNDO)
    assert len(stand.slip.people) == 2


def test_what_is_only_heard_half_changes_nothing(stand: AtStand) -> None:
    told = stand.say("1958, with Ingrid", sure="ask")
    assert told.state == "ask"
    assert "1958" in told.words
    assert stand.slip_words() == "Nothing is on the slip yet."
    assert stand.say("mumble mumble").state == "not"


@pytest.mark.slow
@pytest.mark.parametrize("yes", [True, False])
def test_a_plain_side_with_writing_is_proposed_as_a_back(people: Collection, stand: AtStand, yes: bool) -> None:
    stand.say("with Nils")
    stand.take(still(1), "1.jpg")
    told = stand.take(back(), "2.jpg")
    assert (told.accession, told.back_of) == ("P-0002", "P-0001")
    assert "It looks like the back of P-0001. Is it?" in told.words
    assert [one.asks for one in people.catalogue.questions_about(["P-0002"])] == [Asks.PAIR]
    answer = stand.answer_back(yes)
    assert people.catalogue.questions() == []
    if not yes:
        assert said(people, "P-0002", Says.PERSON) == ["Nils Sollihøgda"]
        stand.order(Order.UNDO)
        assert stand.last()[0].back_of == "P-0001"
        return
    assert answer.words == "It is the back of P-0001."
    assert [one.side for one in people.catalogue.print("P-0001").views] == [Side.RECTO, Side.VERSO]
    assert [(one.accession, one.side) for one in stand.last()] == [("P-0001", "back"), ("P-0001", "front")]
    assert stand.take(still(2), "3.jpg").accession == "P-0002"  # no number is lost
    stand.order(Order.UNDO)
    stand.order(Order.UNDO)
    assert people.catalogue.print("P-0001").verso is None
    assert stand.last()[0].accession == "P-0002"  # it is the print again that it was, and asked about
    assert stand.last()[0].back_of == "P-0001"
    assert said(people, "P-0002", Says.PERSON) == ["Nils Sollihøgda"]
    stand.answer_back(yes)
    stand.order(Order.UNDO)
    assert people.catalogue.print("P-0002").recto is not None
    stand.order(Order.UNDO)
    assert [one.accession for one in stand.last()] == ["P-0001"]
    with pytest.raises(NotFound):
        people.catalogue.print("P-0002")


@pytest.mark.slow
def test_no_print_is_lost_where_the_front_of_a_back_went_meanwhile(people: Collection, stand: AtStand) -> None:
    front = stand.take(still(1), "1.jpg").act
    stand.take(back(), "2.jpg")
    people.catalogue.take_back("somebody at the desk", front)
    with pytest.raises(NotFound):
        stand.answer_back(True)
    assert people.catalogue.print(stand.last()[0].accession).recto is not None
    assert stand.last()[0].back_of == "P-0001"


@pytest.mark.slow
def test_a_photograph_is_proposed_as_nobodys_back(stand: AtStand) -> None:
    stand.take(still(1), "1.jpg")
    assert stand.take(still(2), "2.jpg").back_of == ""


@pytest.mark.parametrize(
    "words",
    [
        "summer 1958, Vessholm, with Ingrid and Nils",
        "with Ingrid, Nils, Vessholm, summer 1958",
        "summer nineteen fifty-eight Vessholm with Ingrid and Nils",
        "with Ingrid and Nils at Vessholm in summer 1958",
        "Vessholm in summer 1958 with Ingrid and Nils",
        "mit Ingrid und Nils, Sommer 1958, in Vessholm",
        "avec Ingrid et Nils, été 1958, à Vessholm",
    ],
)
def test_one_sentence_says_it_all_in_any_order(stand: AtStand, words: str) -> None:
    told = stand.say(words)
    assert told.left == ()
    assert (stand.slip.date, stand.slip.place) == ("1958-22", "Vessholm")
    assert stand.slip.people == ("Ingrid Sollihøgda", "Nils Sollihøgda")
    stand.say("without Nils")
    assert stand.slip.people == ("Ingrid Sollihøgda",)
