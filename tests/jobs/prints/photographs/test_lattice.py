"""How sure a lattice is of its lengths when the print was photographed at a slant."""

import math
from dataclasses import replace

import numpy as np
import pytest

from jobs.prints.photographs.lattice import lattice_of
from jobs.prints.photographs.level import View
from jobs.prints.photographs.plane import Plane

SLANTED = np.array([(4.0, 110.0, 300.0), (120.0, 6.0, 250.0), (0.012, 0.02, 1.0)])


@pytest.mark.parametrize("error", [0.03, 0.15])
def test_a_focal_length_that_is_not_known_well_makes_a_slanted_repeat_as_unsure_as_another_one_would_change_it(error):
    view = View((1200, 900), 1000.0, error)

    def found(view):
        lattice = lattice_of(Plane(SLANTED, np.zeros((8, 8))), np.eye(3), view)
        assert lattice is not None
        return lattice

    # The plane itself is known exactly here: what is left is the focal length. One standard error of it is a share, and
    # a share so small that the lattice changes in proportion tells by how much.
    share = 1.001
    longer, shorter = found(replace(view, focal_px=1000 * share)), found(replace(view, focal_px=1000 / share))
    for name in ("along", "across"):
        changes = (getattr(longer, name) - getattr(shorter, name)) / (2 * math.log(share))
        assert abs(changes) > 0.1
        assert getattr(found(view), f"{name}_error") == pytest.approx(abs(changes) * error, rel=1e-3)
