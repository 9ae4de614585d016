"""Small things wanted, in the picture of the cloth and on the sheet, with the motif in their middle."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.model.choices import Motif, Panels, Unit
from jobs.model.cloth import Cloth
from jobs.model.goods import Wanted
from jobs.model.job import Job
from jobs.model.lengths import show_cut
from jobs.model.piece import Piece
from jobs.model.plan import Plan
from jobs.model.print import Repeat
from jobs.planning.planner import plan_job
from projector.commands.plan import plan_lines
from projector.commands.shared.json_text import of_plan
from projector.papers.cloth_picture import cloth_picture
from projector.papers.drawing import INK, ROW, THING, Path, Words
from projector.papers.piece_shapes import Scale, tiers_of
from projector.papers.sheet.flow import PaperSize
from projector.papers.sheet.pages import sheet_pages
from projector.papers.thing_shapes import thing_shapes
from tests.jobs.made import cloth, job, window

F = Fraction
FRONT = Wanted("Cushion front", (F(9), F(11)), 2, Motif.CENTRED)
TIE = Wanted("Tie", (F(4), F(20)))


def reeds(length: int = 200) -> Cloth:
    return cloth(width=F(54), selvedge=F(1), repeat=Repeat(F(12), F(13)), pieces=(Piece(F(length), F(5)),))


def planned(*wanted: Wanted, length: int = 200) -> Plan:
    one: Job = job(reeds(length), window("Bay", 80, Panels.WHOLE), heading=4, hem=6)
    return plan_job(replace(one, wanted=wanted))


def crosses(shapes: object) -> list[tuple[float, float]]:
    """Middles of the level strokes of the crosses."""
    return [
        ((s.points[0][0] + s.points[1][0]) / 2, s.points[0][1])
        for s in shapes  # type: ignore[attr-defined]
        if isinstance(s, Path) and s.stroke == ROW and len(s.points) == 2 and s.width == 0.03
        and s.points[0][1] == s.points[1][1]
    ]  # fmt: skip


def test_a_thing_is_outlined_where_it_is_cut_and_a_cross_stands_on_a_motif_of_the_print() -> None:
    plan = planned(FRONT)
    (tier,) = tiers_of(plan, plan.pieces[0])
    scale = Scale(0.0, 0.0, 1.0, tier.span, F(54))
    shapes = thing_shapes(tier, scale)
    boxes = [s.points for s in shapes if isinstance(s, Path) and s.stroke == INK]
    assert [(b[0][0], b[2][0]) for b in boxes] == [(float(t.start), float(t.end)) for t in plan.wanted]
    assert len(boxes) == 2
    # Rows at 5 + 12 k along; columns at 7 1/2, 20 1/2, 33 1/2, 46 1/2 from the near selvedge, which lies below.
    for x, y in crosses(shapes):
        assert (x - 5) % 12 == 0
        assert 54 - y in (7.5, 20.5, 33.5, 46.5)
    assert len(crosses(shapes)) == 2


def test_a_thing_that_may_lie_anywhere_has_no_cross() -> None:
    plan = planned(TIE)
    (tier,) = tiers_of(plan, plan.pieces[0])
    assert crosses(thing_shapes(tier, Scale(0.0, 0.0, 1.0, tier.span, F(54)))) == []


def test_the_picture_of_the_cloth_names_each_thing_and_its_number() -> None:
    said = [shape.text for shape in cloth_picture(planned(FRONT, TIE)).shapes if isinstance(shape, Words)]
    assert sum(text.startswith("Cush") and text.endswith((" 1", " 2")) for text in said) == 2
    assert "Tie" in said


def test_words_of_a_leftover_do_not_show_through_a_thing() -> None:
    drawing = cloth_picture(planned(Wanted("Banner", (F(60), F(50)))))
    plate = next(s for s in drawing.shapes if isinstance(s, Path) and s.fill == THING)
    middle = plate.points[0]
    outlines = [s for s in drawing.shapes if isinstance(s, Path) and s.stroke == INK and s.width == 0.02]
    (left, upper), (right, lower) = outlines[0].points[0], outlines[0].points[2]
    assert left < middle[0] < right
    inside = [w.text for w in drawing.words if left < w.at[0] < right and upper < w.at[1] < lower]
    assert inside == ["Banner"]


def test_no_strip_is_broken_inside_a_thing_and_a_strip_with_nothing_else_is_drawn() -> None:
    plan = planned(Wanted("Runner", (F(100), F(16)), 4), length=600)
    tiers = tiers_of(plan, plan.pieces[0])
    assert len(tiers) > 1
    for thing in plan.wanted:
        assert any(tier.span.start <= thing.start and thing.end <= tier.span.end for tier in tiers)
    drawn = [shape.text for shape in cloth_picture(plan).shapes if isinstance(shape, Words)]
    assert {f"Runner {number}" for number in range(1, 5)} <= set(drawn)


def test_the_sheet_says_where_each_thing_is_cut_and_what_found_no_room() -> None:
    plan = planned(FRONT, Wanted("Tent", (F(300), F(50))))
    text = " ".join(
        shape.text
        for page in sheet_pages(plan, PaperSize.A4, "1 May")
        for shape in page.shapes
        if isinstance(shape, Words)
    )
    first = plan.wanted[0]
    assert f"Cushion front, 1 of 2: piece 1, from {show_cut(first.start, Unit.INCH)} to" in text
    assert "a motif in its middle, at" in text
    assert "No room for 1 of Tent." in text


def test_text_and_json_tell_the_place_of_the_motif() -> None:
    plan = planned(FRONT)
    first = plan.wanted[0]
    at = [(first.start + first.end) / 2, (first.near + first.far) / 2]
    assert of_plan(plan)["wanted"][0]["motif_in"] == at
    assert any("; its motif at" in line for line in plan_lines(plan))
    assert of_plan(planned(TIE))["wanted"][0]["motif_in"] is None


@pytest.mark.parametrize("count", [1, 2])
def test_a_name_too_long_for_its_thing_is_cut_short_and_keeps_its_number(count: int) -> None:
    plan = planned(Wanted("Cover of the organist's bench", (F(14), F(14)), count))
    (tier,) = tiers_of(plan, plan.pieces[0])
    shapes = thing_shapes(tier, Scale(0.0, 0.0, 0.06, tier.span, F(54)))
    texts = [shape.text for shape in shapes if isinstance(shape, Words)]
    assert len(texts) == count
    assert all(".." in text for text in texts)
    assert count == 1 or [text[-1] for text in texts] == ["1", "2"]
