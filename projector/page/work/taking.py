"""The virtual camera of the simulated table: a photograph of it from a place around it, by the light that is lit."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
from PIL import Image

from calibration.photographs.standing import SIDES, SLANTS_DEG
from projector.demo.practice import TABLE_IN, practice
from projector.demo.virtual_camera import LitTable, Taking, VirtualCamera, backed_off, jpeg_bytes

LONG_PX, SHORT_PX = 1600, 1200
FOCAL_SHARE, K1 = 0.75, 0.04
"""A telephone's usual lens, and how it bends."""
AWAY_IN = 70.0
SHAKE_DEG, ASIDE_IN = 4.0, 3.0


def taken(frame: Path, out: Path, side: int, high: bool, upright: bool, number: int) -> None:
    """Write the photograph that the simulated table, lit by this frame (a PNG), shows from a side of it.

    No two are quite the same: ``number`` tells how the hand that holds the camera moves.
    """
    with Image.open(frame) as picture:
        lit = np.asarray(picture.convert("L")).astype(np.uint32)
    rng = np.random.default_rng([number, side])
    angle, down = side * math.tau / SIDES, math.radians(SLANTS_DEG[0 if high else 1] + rng.uniform(-3, 3))
    middle = np.array(TABLE_IN) / 2
    aim = middle + rng.uniform(-ASIDE_IN, ASIDE_IN, 2)
    x, y = middle + AWAY_IN * math.sin(down) * np.array([math.cos(angle), math.sin(angle)])
    # Whoever stands at a side holds the camera so that its far edge is up.
    roll = -math.degrees(angle) - 90 + (90 if upright else 0) + rng.uniform(-SHAKE_DEG, SHAKE_DEG)
    camera = VirtualCamera(
        (float(x), float(y), AWAY_IN * math.cos(down)),
        (float(aim[0]), float(aim[1])),
        FOCAL_SHARE * LONG_PX,
        LONG_PX,
        SHORT_PX,
        roll,
        K1,
    )
    table = LitTable(practice().projector, lit, None, TABLE_IN)
    taking = Taking(blur_px=0.6, noise=3.0, upright=upright, seed=1000 * side + number)
    out.write_bytes(jpeg_bytes(backed_off(camera, TABLE_IN), table, taking))
