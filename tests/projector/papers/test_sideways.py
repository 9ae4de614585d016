"""Cloth run sideways on paper: how it hangs, the picture of the piece, the lines of letters, the sheet and the tags."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.model.choices import Hang, Panels, Run, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.cuts import Way
from jobs.model.job import Job, Pins
from jobs.model.plan import Plan
from jobs.model.print import Print, Repeat
from jobs.model.window import Window
from jobs.planning.planner import plan_job
from projector.papers.cloth_picture import cloth_picture
from projector.papers.cloth_text import cloth_lines
from projector.papers.drawing import INK, Path, Words
from projector.papers.exchange import plan_csv
from projector.papers.hung_panel import HungPanel, hung_panels
from projector.papers.sheet.lengths import length_format
from projector.papers.sheet.sewing import fold_blocks
from projector.papers.sheet.words import side_words
from projector.scene.stop_scene import scene_of_stop
from tests.jobs.made import below_top, cloth, job, window

F = Fraction
SIDE, DOWN = Print(side_to_side=Symmetry.MIRROR), Print(top_to_bottom=Symmetry.MIRROR)


def tall(sheet: Print | None = None, **more: object) -> Cloth:
    made = cloth(width=F(118), selvedge=F(1), run=Run.SIDEWAYS, repeat=Repeat(F(24), F(10)), **more)
    return made if sheet is None else replace(made, print=sheet)


def made(of: Cloth, panels: Panels = Panels.PAIR, **more: object) -> Job:
    bay: Window = window("Bay", 90, panels, cuts_per_panel=None, rod=F(60), **more)
    return job(of, bay, heading=8, hem=10, side_hem=3, squaring=1)


def hung(of: Cloth, **more: object) -> tuple[Plan, tuple[HungPanel, ...]]:
    plan = plan_job(made(of, **more))
    return plan, hung_panels(plan, "Bay")


def shown(panel: HungPanel) -> set[tuple[Fraction, Fraction, int, int]]:
    """The motifs inside a panel, counted from its leading edge; ``right`` as seen from there."""
    left = panel.hand.value == "left"
    return {
        (panel.width - m.from_left if left else m.from_left, m.below_top, -m.right if left else m.right, m.up)
        for m in panel.motifs
        if 0 <= m.from_left <= panel.width and 0 <= m.below_top <= panel.length
    }


def test_a_panel_is_as_wide_as_it_is_flat_and_as_long_as_it_hangs() -> None:
    _, panels = hung(tall(SIDE))
    assert [(panel.width, panel.length, panel.seams) for panel in panels] == [(60, 90, ()), (60, 90, ())]


def test_what_the_cloth_loses_in_the_wash_leaves_the_finished_sizes() -> None:
    _, (panel,) = hung(tall(shrinkage=F(1, 12), shrinkage_across=F(1, 40)), panels=Panels.WHOLE)
    assert (panel.width, panel.length) == (120, 90)


def test_the_row_that_was_asked_for_hangs_there_and_so_do_whole_repeats_across() -> None:
    _, (panel,) = hung(tall(), panels=Panels.WHOLE, row=below_top("7/2"))
    assert panel.rows_below_top == tuple(F(7, 2) + 10 * k for k in range(9))


@pytest.mark.parametrize("sheet", [SIDE, DOWN])
def test_a_mirrored_pair_shows_the_same_motifs_in_from_both_leading_edges(sheet: Print) -> None:
    _, (left, right) = hung(tall(sheet))
    one, two = shown(left), shown(right)
    assert len(one) > 10
    # A motif with its own upright mirror line looks alike either way round; one with a level line alike either way up.
    level = sheet is SIDE
    assert {(x, y, 1 if not level else r, 1 if level else u) for x, y, r, u in one} == {
        (x, y, 1 if not level else r, 1 if level else u) for x, y, r, u in two
    }


def test_a_pair_hung_the_same_way_shows_the_same_motifs_from_left_to_right() -> None:
    _, (left, right) = hung(tall(), hang=Hang.SAME)
    assert left.motifs == right.motifs


def texts(plan: Plan) -> dict[str, list[Words]]:
    found: dict[str, list[Words]] = {}
    for shape in cloth_picture(plan).shapes:
        if isinstance(shape, Words):
            found.setdefault(shape.text, []).append(shape)
    return found


def test_the_picture_of_the_piece_has_top_at_the_selvedge_it_lies_at() -> None:
    said = texts(plan_job(made(tall(SIDE))))
    tops, feet = said["TOP"], said["foot"]
    # The left panel's top lies far (above), the turned right one's near (below).
    assert tops[0].at[1] < feet[0].at[1]
    assert tops[1].at[1] > feet[1].at[1]
    assert not any(words.upwards for words in (*tops, *feet))
    assert all(words.upwards for words in said["leading edge"])


def test_the_picture_says_where_sideways_cuts_start_and_end() -> None:
    plan = plan_job(made(tall(SIDE)))
    said = texts(plan)
    assert all(f"{int(placed.start)} in" in said for placed in plan.placements)


def test_chevrons_point_up_to_a_top_at_the_far_selvedge() -> None:
    plan = plan_job(made(tall(), Panels.WHOLE))
    bent = [
        s.points
        for s in cloth_picture(plan).shapes
        if isinstance(s, Path) and s.stroke == INK and len(s.points) == 3 and not s.closed
    ]
    assert len(bent) == 2
    assert all(tip[1] < one[1] == other[1] for one, tip, other in bent)


def test_the_lines_of_letters_point_to_the_top_and_explain_it() -> None:
    lines = cloth_lines(plan_job(made(tall(SIDE))))
    above, below = (next(n for n, line in enumerate(lines) if word in line) for word in ("A TOP A", "V TOP V"))
    assert above < below
    assert "A V beside TOP" in lines[-1]


def test_a_tag_says_on_which_side_of_top_the_leading_edge_is() -> None:
    left, right = plan_job(made(tall(SIDE))).placements
    assert side_words(left) == "leading edge: right of TOP"
    assert side_words(right) == "leading edge: left of TOP"
    assert right.cut.way is Way.TURNED


def test_the_table_of_a_plan_says_that_its_cuts_run_sideways() -> None:
    rows = list(csv.DictReader(io.StringIO(plan_csv(plan_job(made(tall(SIDE)))))))
    assert [row["run"] for row in rows] == ["sideways"] * 2
    assert [row["top_selvedge"] for row in rows] == ["far", "near"]
    assert [row["leading_selvedge"] for row in rows] == ["", ""]
    assert (rows[0]["top_in"], rows[0]["foot_in"], rows[0]["across_to_in"]) == ("117", "9", "117")
    assert rows[0]["leading_in"] == rows[0]["end_in"]


def test_the_lines_of_a_sideways_stop_can_be_written_for_drawing_programs() -> None:
    from projector.papers.exchange import dxf_text

    plan = plan_job(made(tall(SIDE)))
    assert "cut line" in dxf_text(scene_of_stop(plan, plan.stops[0]))


def test_lines_of_letters_name_all_panels_that_lie_one_above_the_other() -> None:
    plan = plan_job(
        job(replace(tall(), repeat=None), window("Bay", 40, cuts_per_panel=None, rod=F(60)), heading=8, hem=10)
    )
    assert any("left + right" in line for line in cloth_lines(plan))


def test_the_sheet_gives_hems_and_pins_as_they_lie_before_the_wash() -> None:
    # 126 / (1 - 1/10) = 140 along, of which each hem takes 3 / (9/10) = 3 1/3; 133 1/3 between the folds.
    one = replace(made(tall(shrinkage=F(1, 10)), Panels.WHOLE), pins=Pins(F(20), F(0)))
    plan, show = length_format(plan_job(one), None)
    text = " ".join(w.text for block in fold_blocks(plan, show, 7.0) for w in block.shapes if isinstance(w, Words))
    assert "Side hems: 3 5/16 in." in text
    assert "Pins along the finished top of a panel 133 5/16 in wide: 8" in text
