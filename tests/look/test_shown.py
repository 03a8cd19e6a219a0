from __future__ import annotations

from attrs import evolve
from drawn_box import described_prints, many_prints, undated

from solander.core.descriptions import DescribedPrint
from solander.core.prints import Side, View
from solander.look.shown import LONGEST_PX, SHORTEST_PX, laid_size, show, stretches


class Places:
    def page(self, described: DescribedPrint) -> str:
        return f"/print/{described.print.accession}"

    def small(self, described: DescribedPrint, view: View) -> str:
        return "small.jpg"

    def full(self, described: DescribedPrint, view: View) -> str:
        return "full.jpg"


def test_paper_twice_as_wide_lies_twice_as_wide():
    view = described_prints()[8].print.views[0]
    assert view.ppi is not None
    half = laid_size(evolve(view, ppi=view.ppi * 1.5))
    assert laid_size(view)[0] / half[0] == 1.5 or abs(laid_size(view)[0] - 1.5 * half[0]) <= 1.5


def test_sizes_on_the_table_stay_within_bounds_and_keep_their_shape():
    view = described_prints()[0].print.views[0]
    for ppi in (10.0, 100.0, 5000.0, None):
        width, height = laid_size(evolve(view, ppi=ppi))
        assert SHORTEST_PX <= max(width, height) <= LONGEST_PX
        assert abs(width / height - view.width / view.height) < 0.02


def test_the_back_lies_on_top_only_where_there_is_no_front():
    both = described_prints()[8]
    shown = show(both, Places())
    assert shown.top is shown.front
    assert shown.under is shown.back is not None
    backs = tuple(view for view in both.print.views if view.side is Side.VERSO)
    alone = show(evolve(both, print=evolve(both.print, views=backs)), Places())
    assert alone.top is not None
    assert alone.top.side == "back"
    assert alone.under is None


def test_stretches_keep_the_order_and_lose_nothing():
    prints = [show(one, Places()) for one in described_prints()]
    parts = stretches(prints)
    assert [part.heading for part in parts] == ["1900s", "1920s", "1930s", "1940s", "1950s", "1970s"]
    assert [shown for part in parts for shown in part.prints] == prints


def test_full_decades_are_parted_into_years():
    parts = stretches([show(one, Places()) for one in many_prints(900)])
    assert parts[0].heading == "1900"
    assert [part.decade for part in parts[:11]] == [1900, *[None] * 9, 1910]
    assert len({part.anchor for part in parts}) == len(parts)


def test_a_collection_without_any_date_has_one_stretch():
    bare = [evolve(one, when=evolve(one.when, guess=None)) for one in described_prints()]
    (only,) = stretches([show(one, Places()) for one in bare])
    assert only.heading == "No date yet"
    assert only.count == "14 prints"


def test_prints_without_a_guess_come_last_and_those_with_one_lie_in_its_decade():
    prints = [
        *described_prints(12),
        undated(described_prints()[12], "1962-01-01"),
        undated(described_prints()[13]),
    ]
    parts = stretches([show(one, Places()) for one in prints])
    assert [(part.heading, len(part.prints)) for part in parts[-2:]] == [("1960s", 1), ("No date yet", 1)]
