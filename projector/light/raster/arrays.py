"""What arrays hold, by name: used all over the drawing of light."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Singles = NDArray[np.float32]
"""Single precision: counts of pixels stay below the frame's size, so rounding stays below 0.0003 px."""
Packed = NDArray[np.uint32]
"""Pixels 0xCCRRGGBB; CC is coverage while a frame is drawn, and 0 in what is shown."""
Indices = NDArray[np.intp]
Flags = NDArray[np.bool_]
