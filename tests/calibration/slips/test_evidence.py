"""How well a hypothesis explains the marks, against densities of SciPy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from calibration.fitting import USUAL, Linearised
from calibration.lens import Lens
from calibration.marks import CAREFUL
from calibration.slips.evidence import Batch, Evidence, Frame
from calibration.table import fit_table, frame_grid
from tests.calibration.rigs import HEIGHT_PX, WIDTH_PX, lit, marks_of, random_rig

PIXELS = frame_grid(WIDTH_PX, HEIGHT_PX, 7, 5, 0.05)


@pytest.mark.parametrize("k1", [0.02, 0.04])
def test_of_two_lenses_that_explain_the_marks_the_usual_one_is_likelier(k1: float) -> None:
    # The same marks meant for a lens of a small bend or of a larger one: both fit, so what is left is how often lenses
    # bend so (Student's t for k1, normal for the other terms) and how much of it the marks leave open.
    matrix = random_rig(np.random.default_rng(2))
    places = np.stack([lit(matrix, Lens.for_frame(WIDTH_PX, HEIGHT_PX, one).undo(PIXELS)) for one in (0.01, k1)])
    batch = Batch(places, np.zeros(places.shape, dtype=bool), np.array([0.5, 0.5]))
    log_chances = Evidence(batch, Frame(PIXELS, WIDTH_PX, HEIGHT_PX, CAREFUL, USUAL), 8).log_chances()

    def expected(each: np.ndarray) -> float:
        marks = marks_of(each, PIXELS)
        made = Linearised(fit_table(marks, WIDTH_PX, HEIGHT_PX).fit, marks, CAREFUL)
        bend, *others = made.fit.terms
        widths = USUAL.widths(bend**2 + made.covariance[8, 8])
        density = stats.t.logpdf(bend, USUAL.tails, scale=USUAL.k1) + stats.norm.logpdf(others, 0, widths[1:]).sum()
        return float(density + 0.5 * np.linalg.slogdet(made.covariance)[1])

    usual, other = (expected(each) for each in places)
    # 0.1: the two maps differ a little, and with them how likely each is.
    assert log_chances[1] - log_chances[0] == pytest.approx(other - usual, abs=0.1)
