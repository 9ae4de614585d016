"""The virtual camera of the simulated table: a photograph of it from a place around it, by the light that is lit."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from calibration.photographs.standing import SIDES, SLANTS_DEG
from jobs.io.reader import parse_job
from jobs.model.records import dataclass
from projector.demo.cloth import AsItLies
from projector.demo.cut_panel import panel_laid_back
from projector.demo.practice import TABLE_IN, practice
from projector.demo.setup import cloth_at, demo_setup
from projector.demo.virtual_camera import LitTable, Taking, VirtualCamera, backed_off, jpeg_bytes
from projector.scene.lit_stretch import plan_on_table
from projector.session.cutting.photographed import read_asked

LONG_PX, SHORT_PX = 1600, 1200
FOCAL_SHARE, K1 = 0.75, 0.04
"""A telephone's usual lens, and how it bends."""
AWAY_IN = 70.0
NEAR_SIDE = 6
"""Where the person stands."""
SHAKE_DEG, ASIDE_IN = 4.0, 3.0


@dataclass(frozen=True)
class Held:
    """How the camera is held: at a ``side`` of the table, ``high`` or low, ``upright`` or across.

    No two photographs are quite the same: ``number`` tells how the hand moves.
    """

    side: int
    high: bool
    upright: bool
    number: int


def taken(frame: Path, out: Path, held: Held, *, knocked: bool = False) -> None:
    """Write the photograph that the simulated table, lit by this frame (a PNG), shows; its projector may be knocked."""
    table = LitTable(practice(knocked=knocked).projector, _lit(frame), None, TABLE_IN)
    taking = Taking(blur_px=0.6, noise=3.0, upright=held.upright, seed=1000 * held.side + held.number)
    out.write_bytes(jpeg_bytes(camera_held(TABLE_IN, held), table, taking))


def cloth_taken(frame: Path, asked: Path, out: Path) -> None:
    """Write the photograph of the simulated cloth, lit by this frame (a PNG), from the near side of its table.

    ``asked`` is a file, JSON: ``lay`` as the session published it, ``as_it_lies`` whether the cloth lies otherwise than
    planned, and the ``number`` of the photograph.
    """
    told = json.loads(asked.read_text(encoding="utf-8"))
    job, number = parse_job(told["lay"]["job"], "the job"), int(told["number"])
    demo = demo_setup(job)
    plan = plan_on_table(job, demo.table.lit_area())
    stop = next(stop for stop in plan.stops if stop.number == told["lay"]["stop"])
    lies = AsItLies() if told["as_it_lies"] else None
    back = read_asked(told["lay"]).back
    cloth = cloth_at(plan, stop, lies) if back is None else panel_laid_back(plan, stop, back.light, lies)
    table = LitTable(demo.projector, _lit(frame), cloth, demo.table_in)
    taking = Taking(blur_px=0.6, noise=3.0, seed=7000 + number)
    held = Held(NEAR_SIDE, high=True, upright=False, number=number)
    out.write_bytes(jpeg_bytes(camera_held(demo.table_in, held), table, taking))


def _lit(frame: Path) -> NDArray[np.uint32]:
    with Image.open(frame) as picture:
        return np.asarray(picture.convert("L")).astype(np.uint32)


def camera_held(table_in: tuple[float, float], held: Held) -> VirtualCamera:
    """The camera in a hand that stands at a side of the table."""
    rng = np.random.default_rng([held.number, held.side])
    slant = SLANTS_DEG[0 if held.high else 1] + rng.uniform(-3, 3)
    angle, down = held.side * math.tau / SIDES, math.radians(slant)
    middle = np.array(table_in) / 2
    aim = middle + rng.uniform(-ASIDE_IN, ASIDE_IN, 2)
    x, y = middle + AWAY_IN * math.sin(down) * np.array([math.cos(angle), math.sin(angle)])
    # Whoever stands at a side holds the camera so that its far edge is up.
    roll = -math.degrees(angle) - 90 + (90 if held.upright else 0) + rng.uniform(-SHAKE_DEG, SHAKE_DEG)
    camera = VirtualCamera(
        (float(x), float(y), AWAY_IN * math.cos(down)),
        (float(aim[0]), float(aim[1])),
        FOCAL_SHARE * LONG_PX,
        LONG_PX,
        SHORT_PX,
        roll,
        K1,
    )
    return backed_off(camera, table_in)
