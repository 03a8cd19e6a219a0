"""What of a treatment is done to a view of a given size: nothing is told that did not happen."""

from __future__ import annotations

import pytest

from solander.core.treatment_size import done_to, treated_size
from solander.core.treatments import Step, Treatment

LIGHTER = Step("density", {"by": -0.1})


@pytest.mark.parametrize(
    ("long_side", "others", "is_done"),
    [
        (1000, (), False),  # as long as the view is
        (999, (), True),
        (2000, (), False),
        (600, (Step("crop", {"box": [0.2, 0, 0.7, 1]}),), False),  # what is left is 500 × 600
        (599, (Step("crop", {"box": [0.2, 0, 0.7, 1]}),), True),
    ],
)
def test_a_view_is_never_told_to_be_made_so_long_as_it_was_not(long_side, others, is_done):
    treatment = Treatment.of([LIGHTER, *others, Step("output", {"long_side": long_side})])
    done = done_to(treatment, (1000, 600))
    assert (done.step("output") is not None) is is_done
    unreduced = treatment.without("output")
    assert (treated_size(treatment, (1000, 600)) != treated_size(unreduced, (1000, 600))) is is_done
    assert done.step("density") == LIGHTER
