"""Fronts and backs told by name or by turn; false friends stay fronts."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.prints import Side
from solander.intake.sides import Placed, assign_sides, pair_by_name, side_by_name, sides_by_rows

R, V, D = Side.RECTO, Side.VERSO, Side.DETAIL


@pytest.mark.parametrize(
    ("stem", "told"),
    [
        ("x_r", ("x", R)),
        ("x_v", ("x", V)),
        ("x-front", ("x", R)),
        ("x-back", ("x", V)),
        ("Box 2_RECTO", ("Box 2", R)),
        ("x__Verso", ("x", V)),
        ("img-0014-V", ("img-0014", V)),
        ("x_detail", ("x", D)),
        ("x-Detail-12", ("x", D)),
        ("x_r_detail2", ("x_r", D)),
        ("the detail", ("the detail", None)),
        ("anna", ("anna", None)),
        ("back", ("back", None)),
        ("_r", ("_r", None)),
        ("drawer", ("drawer", None)),
        ("comeback", ("comeback", None)),
        ("seen from the back", ("seen from the back", None)),
        ("xa", ("xa", None)),
        ("x_a", ("x_a", None)),
        ("", ("", None)),
    ],
)
def test_the_side_in_a_name(stem: str, told: tuple[str, Side | None]) -> None:
    assert side_by_name(stem) == told


@pytest.mark.parametrize(
    "names",
    [
        ["anna.jpg", "bob.jpg", "1958a.jpg"],
        ["anna.jpg", "anne.jpg", "ann.jpg"],
        ["1958b.jpg", "1959a.jpg"],
        ["14a.jpg", "14b.jpg", "14c.jpg"],
        ["14a.jpg", "14b.jpg", "14B.tif"],
        ["a.jpg", "b.jpg"],
        ["one/14a.jpg", "two/14b.jpg"],
        ["seen from the back.jpg", "Onkel R.jpg"],
        ["x (front).jpg", "x (detail).jpg"],
    ],
)
def test_false_friends_are_fronts_without_partner(names: list[str]) -> None:
    assert pair_by_name(names) == {}
    assert assign_sides(names, "by-name") == dict.fromkeys(names, Placed(R))


@pytest.mark.parametrize(
    ("front", "back"),
    [
        ("x_r.jpg", "x_v.jpg"),
        ("x-front.jpg", "x-back.tif"),
        ("xa.jpg", "xb.jpg"),
        ("14a.jpg", "14B.JPG"),
        ("x (front).jpg", "x (back).jpg"),
        ("x recto.jpg", "x verso.jpg"),
        ("IMG_1recto.jpg", "IMG_1verso.jpg"),
        ("deep/X_R.jpg", "deep/x_v.jpg"),
        ("x_front.jpg", "x-verso.jpg"),
    ],
)
def test_pairs_find_each_other(front: str, back: str) -> None:
    for names in ([front, back], [back, "other.jpg", front]):
        placed = assign_sides(names, "by-name")
        assert (placed[front], placed[back]) == (Placed(R, back), Placed(V, front))
        assert list(placed) == names


@pytest.mark.parametrize("whole", ["x.jpg", "x_r.jpg", "X-front.tif", "x_v.jpg"])
def test_details_belong_to_what_shows_the_print_whole(whole: str) -> None:
    placed = assign_sides(["x_detail1.jpg", "x_detail2.jpg", "y_detail.jpg", whole], "by-name")
    assert [placed[name] for name in ("x_detail1.jpg", "x_detail2.jpg")] == [Placed(D, whole)] * 2
    assert placed["y_detail.jpg"] == Placed(D)
    assert placed[whole].partner is None


@pytest.mark.parametrize("names", [["x_detail1.jpg", "x_detail2.jpg"], ["x_detail2.jpg", "x_detail1.jpg"]])
def test_parts_without_a_whole_are_one_print(names: list[str]) -> None:
    assert assign_sides(names, "by-name") == {
        "x_detail1.jpg": Placed(D),
        "x_detail2.jpg": Placed(D, "x_detail1.jpg"),
    }


def test_rows_tell_sides_by_what_stands_above() -> None:
    rows = [("1.jpg", None), ("2.jpg", D), ("3.jpg", V), ("4.jpg", R), ("5.jpg", None), ("6.jpg", V)]
    assert sides_by_rows(rows) == {
        "2.jpg": Placed(D, "1.jpg"),
        "3.jpg": Placed(V, "1.jpg"),
        "4.jpg": Placed(R),
        "6.jpg": Placed(V, "5.jpg"),
    }
    assert sides_by_rows([("1.jpg", D), ("2.jpg", D)]) == {"1.jpg": Placed(D), "2.jpg": Placed(D, "1.jpg")}


def test_a_back_alone_is_a_back_without_partner() -> None:
    assert assign_sides(["x_v.jpg", "y.jpg"], "by-name") == {"x_v.jpg": Placed(V), "y.jpg": Placed(R)}


def test_two_fronts_and_a_back_are_a_question_for_a_person() -> None:
    placed = assign_sides(["x_r.jpg", "x_r.tif", "x_v.jpg"], "by-name")
    assert [place.partner for place in placed.values()] == [None, None, None]
    assert [place.side for place in placed.values()] == [R, R, V]


def test_letters_and_words_do_not_pair_with_each_other() -> None:
    assert pair_by_name(["14a.jpg", "14 verso.jpg"]) == {}


def test_alternate_begins_anew_in_each_folder() -> None:
    names = ["1.jpg", "2.jpg", "3.jpg", "sub/1.jpg", "sub/2.jpg"]
    assert assign_sides(names, "alternate") == {
        "1.jpg": Placed(R, "2.jpg"),
        "2.jpg": Placed(V, "1.jpg"),
        "3.jpg": Placed(R),
        "sub/1.jpg": Placed(R, "sub/2.jpg"),
        "sub/2.jpg": Placed(V, "sub/1.jpg"),
    }


def test_recto_means_all_are_fronts() -> None:
    assert assign_sides(["x_v.jpg"], "recto") == {"x_v.jpg": Placed(R)}


NAMES = st.lists(
    st.from_regex(r"(s/)?[a-z0-9 ]{0,3}[_\- (]?(r|v|a|b|c|front|back|recto|verso)?\)?\.(jpg|tif)", fullmatch=True),
    unique=True,
    max_size=12,
)


@given(NAMES, st.sampled_from(["recto", "alternate", "by-name"]))
def test_partners_are_mutual_and_show_other_sides(names: list[str], rule: str) -> None:
    placed = assign_sides(names, rule)
    assert list(placed) == names
    for name, place in placed.items():
        if place.partner is not None:
            other = placed[place.partner]
            assert (other.partner, {place.side, other.side}) == (name, {R, V})


@given(NAMES)
def test_the_order_of_arrival_does_not_change_sides_by_name(names: list[str]) -> None:
    assert assign_sides(names, "by-name") == assign_sides(names[::-1], "by-name")


@given(st.from_regex(r"[A-Za-zÄ-ü0-9 ._-]{1,20}", fullmatch=True), st.sampled_from(["_", "-"]))
def test_any_name_with_a_side_written_behind_it_tells_it(stem: str, mark: str) -> None:
    assert side_by_name(f"{stem}{mark}verso")[1] is V
    assert side_by_name(f"{stem}{mark}R")[1] is R
