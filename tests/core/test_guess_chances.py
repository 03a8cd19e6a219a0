"""The chances along a chain against every path there is, and the sums in blocks against plain sums."""

from __future__ import annotations

from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.core.chronology.guess import belief_of
from solander.core.chronology.kernels import BLOCK, CANDIDATES, Step, belief_before, candidates, gap_chances, mixed
from solander.core.chronology.passes import Batch, Passes

CELL_DAYS = (1.0, 7.0, 30.436875)
BEFORE = belief_before(9, ordered=True)


@pytest.mark.parametrize("cell_days", CELL_DAYS)
@pytest.mark.parametrize(("later", "earlier"), [(True, False), (False, True), (True, True)])
def test_sums_in_blocks_equal_plain_sums(cell_days, later, earlier):
    ordered, cells = not (later and earlier), 6 * BLOCK
    gaps = candidates(cell_days, ordered=ordered)
    far = np.arange(cells) - np.arange(cells)[:, None]
    ways = np.where(far == 0, True, np.where(far > 0, later, earlier))
    plain = gap_chances(gaps, cells, ordered=ordered)[:, np.abs(far)] * ways
    chances = np.random.default_rng(1).random((CANDIDATES, 3, cells))
    assert np.allclose(Step(gaps, cells, later=later, earlier=earlier)(chances), chances @ plain, rtol=1e-12)


@pytest.mark.parametrize("cell_days", CELL_DAYS)
def test_all_gaps_together_are_certain(cell_days):
    for ordered in (True, False):
        gaps = candidates(cell_days, ordered=ordered)
        assert gaps.same + (gaps.heights / (1 - gaps.decays)).sum(axis=1) == pytest.approx(np.ones(CANDIDATES))
        assert (gap_chances(gaps, 3000, ordered=ordered) >= 0).all()


@pytest.mark.parametrize("mean", [0.5, 1.0, 7.0, 90.0])
def test_a_gap_has_the_mean_and_the_variance_of_its_exponential(mean):
    gaps = mixed(np.ones((1, 1)), mean_cells=np.array([[mean]]))
    chances, far = gap_chances(gaps, 10_000, ordered=True)[0], np.arange(10_000)
    assert chances @ far == pytest.approx(mean, rel=1e-6)
    assert chances @ far**2 - mean**2 == pytest.approx(mean**2, rel=1e-6)


def every_path(allowed, ordered, *, cell_days):
    """Chances of cells by adding up all paths through them, the candidates by how likely all paths are."""
    links, cells = allowed.shape
    single = {
        order: gap_chances(candidates(cell_days, ordered=order), cells, ordered=order) for order in (True, False)
    }
    found = np.zeros((links, cells))
    before = belief_before(links, ordered=all(ordered))
    for path in product(range(cells), repeat=links):
        chance = before * np.prod([allowed[link, cell] for link, cell in enumerate(path)])
        for (a, b), order in zip(pairwise(path), ordered, strict=True):
            chance = chance * (single[order][:, abs(b - a)] if b >= a or not order else 0.0)
        for link, cell in enumerate(path):
            found[link, cell] += chance.sum()
    return found


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_chances_equal_the_sum_over_all_paths(data):
    ordered = data.draw(st.lists(st.booleans(), max_size=3))
    cells, cell_days = 6, data.draw(st.sampled_from(CELL_DAYS))
    share = st.sampled_from([0.0, 0.0, 1e-6, 0.03, 0.5, 1.0])
    rows = st.lists(
        st.lists(share, min_size=cells, max_size=cells), min_size=len(ordered) + 1, max_size=len(ordered) + 1
    )
    allowed = np.array(data.draw(rows))
    reference = every_path(allowed, ordered, cell_days=cell_days)
    padded = np.zeros((len(allowed), 1, BLOCK))
    padded[:, 0, :cells] = allowed
    batch = Batch(padded, [len(allowed)], np.array([ordered], dtype=bool).T, cell_days)
    passes = Passes(batch)
    belief = belief_of(passes.fits[:, 0], belief_before(len(allowed), ordered=all(ordered)))
    assert belief.any() == (reference.sum() > 0)
    if belief.any():
        found = passes.chances(belief[:, None])[:, 0]
        assert np.allclose(
            found[:, :cells], reference / reference.sum(axis=1, keepdims=True), rtol=1e-9, atol=1e-14
        )
        assert not found[:, cells:].any()


def test_company_changes_nothing():
    """A chain has the same chances alone and among longer ones, in another order or in none."""
    rng = np.random.default_rng(3)
    allowed, ordered = rng.random((9, 4, 3 * BLOCK)), rng.random((8, 4)) < 0.6
    lengths = [9, 6, 4, 4]
    for chain, length in enumerate(lengths):
        allowed[length:, chain] = 0
    together = chances_by_fit(Batch(allowed, lengths, ordered, 7.0))
    for chain, length in enumerate(lengths):
        alone = Batch(allowed[:length, [chain]], [length], ordered[: length - 1, [chain]], 7.0)
        assert np.allclose(chances_by_fit(alone)[:, 0], together[:length, chain], rtol=1e-12)


def chances_by_fit(batch):
    passes = Passes(batch)
    return passes.chances(np.stack([belief_of(fit, BEFORE) for fit in passes.fits.T], axis=1))


def plain_chances(allowed, ordered, *, cell_days):
    """A pass forward and one back with a whole table of gaps, for one chain."""
    far = np.arange(allowed.shape[1]) - np.arange(allowed.shape[1])[:, None]
    on = {
        known: gap_chances(candidates(cell_days, ordered=known), len(far), ordered=known)[:, np.abs(far)]
        * ((far >= 0) | (not known))
        for known in (True, False)
    }
    forward, back = [np.repeat(allowed[:1], CANDIDATES, axis=0)], [np.ones((CANDIDATES, len(far)))]
    for link, known in enumerate(ordered, 1):
        forward.append(np.einsum("rt,rtu->ru", forward[-1], on[known]) * allowed[link])
    for link, known in reversed(list(enumerate(ordered, 1))):
        back.append(np.einsum("ru,rtu->rt", back[-1] * allowed[link], on[known]))
    found = np.einsum("r,lrt->lt", BEFORE, np.array(forward) * np.array(back[::-1]))
    return found / found.sum(axis=1, keepdims=True)


@pytest.mark.parametrize("known", [0.0, 0.6, 1.0])
def test_links_that_are_allowed_few_cells_each_have_the_chances_of_a_whole_table(known):
    """Each chain in frames of its own that move with its links, two chains in one batch."""
    rng = np.random.default_rng(7)
    allowed, ordered = np.zeros((8, 2, 9 * BLOCK)), rng.random((7, 2)) < known
    for link, chain in product(range(8), range(2)):
        start = 10 + 20 * link + 15 * chain
        allowed[link, chain, start : start + 50] = rng.random(50)
    found = chances_by_fit(Batch(allowed, [8, 8], ordered, 30.436875))
    for chain in range(2):
        plain = plain_chances(allowed[:, chain], ordered[:, chain].tolist(), cell_days=30.436875)
        assert np.allclose(found[:, chain], plain, rtol=1e-9, atol=1e-14)


def test_a_candidate_that_counts_nowhere_changes_nothing():
    rng = np.random.default_rng(4)
    batch = Batch(rng.random((5, 2, BLOCK)), [5, 5], rng.random((4, 2)) < 0.5, 7.0)
    belief = rng.random((CANDIDATES, 2))
    belief[2:] = 0
    apart = sum(
        Passes(batch).chances(np.where(np.arange(CANDIDATES)[:, None] == one, belief, 0)) for one in (0, 1)
    )
    assert np.allclose(Passes(batch).chances(belief), apart, rtol=1e-12)
