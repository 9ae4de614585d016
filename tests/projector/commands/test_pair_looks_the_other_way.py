"""A pair that is cut at the table and shall look the other way then: status, tags, picture, light and record follow."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from jobs.journal import history_of, journal_path, read_journal
from projector.commands.shared.planned import load_plan
from projector.papers.hung_drawing import FLAT, panel_pixels
from projector.papers.hung_panel import hung_panels
from projector.papers.sheet.flow import PaperSize
from projector.papers.sheet.pages import sheet_pages, tag_pages
from projector.prints.face import face_of
from projector.session.actions import Action
from projector.session.cutting.mode import Cutting
from tests.docs.reading import text_of
from tests.projector.commands.running import Ran, run
from tests.projector.commands.test_cut_from_session_to_session import at_a_stop, cut, pressed

__all__ = ["cut"]
NOTE = (
    "River window looks the other way now: what was cut as its left panel hangs at the right, with the edge that led "
    "as its return edge. Mark it anew."
)
PER_INCH = 8.0


def one_panel(cutting: Cutting) -> None:
    at_a_stop(cutting)
    pressed(cutting, *[Action.NEXT_STOP] * 3)
    assert len(cutting.state.done) == 1


def other_way(job: Path) -> None:
    job.write_text(job.read_text().replace("hang: mirrored", "facing: right as it lies"), encoding="utf-8")


def test_one_word_in_the_job_and_all_that_is_told_follows(cut: Callable[..., Ran]) -> None:
    job: Path = cut.job  # type: ignore[attr-defined]
    cut(one_panel)
    assert "done   River window, left, 1 of 1: piece 1, from 6 5/8 in to 99 5/8 in" in run("status", job).out
    record = journal_path(job).read_bytes()
    other_way(job)
    told = run("status", job).out
    assert "done   River window, right, 1 of 1: piece 1, from 6 5/8 in to 99 5/8 in" in told
    assert "next   River window, left, 1 of 1" in told
    assert f"Note: {NOTE}" in told
    assert NOTE in text_of("at-the-table.md")
    assert journal_path(job).read_bytes() == record
    plan = load_plan(job)
    lies = {one.cut.hand.value: (one.start, one.cut.way.value) for one in plan.placements}
    assert lies["right"] == (Fraction(53, 8), "upright")
    assert lies["left"][1] == "turned"
    pages = [
        *sheet_pages(plan, PaperSize.LETTER, date(2026, 1, 1).isoformat()),
        *tag_pages(plan, PaperSize.LETTER, 3.5, 2.5),
    ]
    words = [line.text for page in pages for line in page.words]
    assert any("right" in line for line in words)

    def the_other(cutting: Cutting) -> None:
        assert cutting.state.done == ("river-window-right",)
        at_a_stop(cutting)
        assert cutting.state.stop.placement.cut.id == "river-window-left"
        pressed(cutting, *[Action.NEXT_STOP] * 6)
        assert len(cutting.state.done) == 2

    ran = cut(the_other)
    assert f"Note: {NOTE}" in ran.out
    # The record has only grown, and tells the hand without the job.
    assert journal_path(job).read_bytes().startswith(record)
    made = history_of(read_journal(journal_path(job)).events).made
    assert [(one.cut, one.placed.hand.value) for one in made if one.placed] == [
        ("river-window-right", "right"),
        ("river-window-left", "left"),
    ]
    told = run("status", job).out
    assert "2 of 2 cuts done" in told
    assert "Note" not in told


@pytest.mark.parametrize("changed", [False, True])
def test_the_picture_shows_the_cloth_that_was_really_cut(cut: Callable[..., Ran], changed: bool) -> None:
    """The print is a photograph whose colours tell where on the cloth a place lies. A panel that was cut upright, top
    first, shows ``u`` from its left side and ``v`` below its top what lies ``v`` below its folded heading along the
    piece and ``u`` inside the fold of its near side: by the record, whatever hand it is called.
    """
    job: Path = cut.job  # type: ignore[attr-defined]
    high, wide = 99, 106
    tile = np.zeros((high, wide, 3), np.uint8)
    tile[..., 0] = np.linspace(0, 250, high)[:, None]
    tile[..., 1] = np.linspace(0, 250, wide)[None, :]
    Image.fromarray(tile).save(job.with_name("tile.png"))
    job.write_text(job.read_text().replace("  drop: 0\n", "  drop: 0\n  picture: tile.png\n"), encoding="utf-8")
    cut(one_panel)
    (made,) = history_of(read_journal(journal_path(job)).events).made
    assert made.placed is not None
    assert (made.placed.start, made.placed.top_edge.value, made.placed.way.value) == (
        Fraction(53, 8),
        "first end",
        "upright",
    )
    if changed:
        other_way(job)
    plan = load_plan(job)
    left, right = hung_panels(plan, "River window")
    panel = right if changed else left
    cloth = plan.job.cloth
    face = face_of(cloth)
    shown = panel_pixels(plan, panel, FLAT.gather(panel, None), face, PER_INCH).astype(int)
    v, u = ((np.arange(size) + 0.5) / PER_INCH for size in shown.shape[:2])
    along = float(made.placed.start) + 4 + v - 4.75
    across = 0.5 + 2 + u
    first_column = 27 - 1.5 * 13.25
    expected_down = (along / 12.375 + 0.5) % 1
    expected_aside = ((across - first_column) / 13.25 + 0.5) % 1
    red = np.linspace(0, 250, high)[(expected_down * high).astype(int)][:, None]
    green = np.linspace(0, 250, wide)[(expected_aside * wide).astype(int)][None, :]
    # A pixel of the tile may be the next one where a place lies on their border.
    assert (np.abs(shown[..., 0] - red) <= 4).mean() > 0.98
    assert (np.abs(shown[..., 1] - green) <= 4).mean() > 0.98
    other = left if changed else right
    mirrored = panel_pixels(plan, other, FLAT.gather(other, None), face, PER_INCH).astype(int)
    assert (np.abs(mirrored[..., 1] - green) <= 4).mean() < 0.5
