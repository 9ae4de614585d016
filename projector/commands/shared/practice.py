"""The simulated table: a session on it in an ordinary window, and pictures of what a session lights."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from jobs.model.plan import Plan, Stop
from projector.commands.shared.light import shared_rim
from projector.commands.shared.pictures import Rgb, write_pixels
from projector.demo.cloth import AsItLies
from projector.demo.match import matches
from projector.demo.setup import AsCalibrated, DemoSetup, cloth_at, table_size
from projector.demo.view import Outlook, Picture, View, picture_of
from projector.files.write import write_whole
from projector.papers.svg import frame_svg
from projector.session.cutting.mode import Cutting
from projector.session.cutting.state import Session, setup_of
from projector.session.keys import DEFAULT_KEYS, Keys
from projector.words.measures import format_length

TABLE_PICTURE_PX = (1400, 900)


def run_on_demo_table(
    plan: Plan, demo: DemoSetup, lies: AsItLies | None = None, keys: Keys | None = None, *, sound: bool = False
) -> Session:
    """Run the plan on the simulated table; nothing is recorded. Raises ``NoDisplayError``.

    ``lies`` is how the cloth really lies (None: exactly as planned).
    """
    from projector.session.run import run_demo  # the window library, which pictures need none of

    def eye_at(stop: Stop, size_px: tuple[int, int]) -> Callable[[NDArray[np.uint32]], Picture]:
        outlook = Outlook.over(*demo.table_in, *size_px)
        return View(demo.projector, cloth_at(plan, stop, lies), outlook, demo.table_in).seen

    def place_of(pixel: tuple[int, int], size_px: tuple[int, int]) -> tuple[float, float]:
        outlook = Outlook.over(*demo.table_in, *size_px)
        x = outlook.left + (pixel[0] + 0.5) / outlook.px_per_in
        return x, outlook.near + (outlook.height_px - pixel[1] - 0.5) / outlook.px_per_in

    setup = setup_of(plan, demo.table, keys or DEFAULT_KEYS)
    rim = shared_rim("cutting", plan.job.title, sound=sound, simulated=True, as_it_lies=lies is not None)
    return run_demo(setup, eye_at, place_of, rim=rim)


def match_lines(plan: Plan, session: Session, lies: AsItLies | None) -> list[str]:
    """How well each pair that was cut matches, for the person: the truth of the simulated cloth is known."""
    stops = session.stops
    cut_by = {
        cut: (stops[at], fit)
        for cut, at, fit in zip(session.done, session.ticked_at, session.cut_by, strict=True)
        if fit is not None
    }
    return [
        f"{match.window}, cut {match.number} of each panel: the pair matches to within "
        f"{format_length(match.missed_in, plan.job.unit.value)} over the whole cloth width"
        for match in matches(plan, cut_by, lies)
    ]


def as_it_lies(wanted: bool) -> AsItLies | None:
    """The cloth for those who want to see what laying is for."""
    return AsItLies() if wanted else None


def write_lit(cutting: Cutting, what: str, out: Path) -> None:
    """What a session lights: its frame, as PNG or as true lines of an SVG, or the table with that frame on it."""
    if what == "frame" and out.suffix.lower() == ".svg":
        lit = cutting.lit()
        write_whole(out, frame_svg(lit.scene, lit.table, lit.styles, lit.width_factor))
        return
    frame = frame_of(cutting)
    pixels = rgb_of(frame) if what == "frame" else table_picture(cutting, frame)
    write_pixels(pixels, out)


def frame_of(cutting: Cutting) -> NDArray[np.uint32]:
    """The frame (height, width) that a session lights, packed 0x00RRGGBB."""
    width, height = cutting.size_px
    frame = np.zeros((height, width), np.uint32)
    cutting.paint(frame)
    return frame


def table_picture(cutting: Cutting, frame: NDArray[np.uint32]) -> Rgb:
    """What the eye sees from above at the stop of a session when the calibration is the truth."""
    session, plan = cutting.state, cutting.state.setup.plan
    cloth = cloth_at(plan, session.stop)
    return picture_of(AsCalibrated(session.setup.table), cloth, frame, *TABLE_PICTURE_PX, table_size(plan.job))


def rgb_of(frame: NDArray[np.uint32]) -> Rgb:
    """Packed pixels (height, width) as (height, width, 3)."""
    return np.stack([(frame >> shift & 255).astype(np.uint8) for shift in (16, 8, 0)], axis=-1)
