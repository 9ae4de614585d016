"""How colours look to eyes that lack one kind of cone, by a published linear model.

G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A physiologically-based model for simulation of color vision
deficiency", IEEE Trans. Visualization and Computer Graphics 15 (2009): matrices for linear RGB at full severity.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

EYES: Mapping[str, Floats] = {
    "usual": np.eye(3),
    "protan": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deutan": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritan": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}
"""Linear RGB to linear RGB, by kind of eye."""


def as_seen(light: ArrayLike, eye: str) -> Floats:
    """Linear light (..., 3) as such an eye sees it, told in the light of the usual one; never below none."""
    return np.maximum(np.asarray(light, float) @ EYES[eye].T, 0.0)


def by_all_eyes(light: ArrayLike) -> Floats:
    """Linear light (..., 3) as each kind of eye sees it: (kinds, ..., 3), the usual eye first."""
    return np.stack([as_seen(light, eye) for eye in EYES])
