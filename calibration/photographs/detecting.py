"""The corners of the lit pattern in a photograph, to a part of a pixel.

OpenCV finds the codes and the corners between them; it is asked for only here, and only when a photograph is read.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calibration.photographs.pattern import CODE_MODULES, MODULES, Pattern

Array = NDArray[np.float64]
Grey = NDArray[np.uint8]


@lru_cache(maxsize=1)
def _dictionary() -> Any:
    import cv2

    return cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_5X5_250)


def code_bits(number: int) -> NDArray[np.uint8]:
    """The code of this number with its black rim, (7, 7) of 0 and 1."""
    import cv2

    return np.asarray(cv2.aruco.generateImageMarker(_dictionary(), number, CODE_MODULES) // 255, np.uint8)


def board_of(pattern: Pattern) -> Any:
    """OpenCV's own board for the pattern, in frame pixels from the board's corner."""
    import cv2

    side, module = pattern.side_px, pattern.side_px // MODULES
    return cv2.aruco.CharucoBoard((pattern.columns, pattern.rows), side, CODE_MODULES * module, _dictionary())
