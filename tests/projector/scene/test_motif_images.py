"""The picture of a pair mirrors where the program says that the pair does, slides and offsets included."""

from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.cutting import cut_list
from jobs.job import Allowances, Cloth, Job, Panels, Piece, Print, Repeat, RowRule, Symmetry, Unit, Window
from jobs.layout.placing import start_after_row
from jobs.plan import PieceUse, Placement, Plan
from projector.papers.hung_panel import HungMotif, HungPanel, hung_panels
from projector.scene.motif import images_of, motif_of

F = Fraction
MIRROR, GLIDE, NONE = Symmetry.MIRROR, Symmetry.GLIDE, Symmetry.NONE


def pair_of(sheet: Print, drop: Fraction, cuts: Fraction) -> Plan:
    cloth = Cloth("Boats", F(54), F(1, 2), Repeat(F(12), F(9)), drop, sheet, pieces=(Piece(F(900), F(4)),))
    bay = Window("Mill door", Panels.PAIR, F(40), cuts_per_panel=cuts, row=RowRule(below_top=F(3)))
    job = Job("Cider house", Unit.INCH, cloth, (bay,), Allowances(F(4), F(8), F(2), F(1, 2), F(1)))
    made = cut_list(job)
    placements = tuple(
        Placement(cut, 1, 60 * (number + 1) + 4 + start_after_row(cut, cloth)) for number, cut in enumerate(made)
    )
    use = PieceUse(1, cloth.pieces[0], F(800), ())
    return Plan(job, made, placements, (use,), (), F(800), F(800), True, F(0), False)


def drawn(panel: HungPanel, plan: Plan, mirrored: bool) -> set[tuple[object, ...]]:
    """Every motif of the panel with the points it is drawn by, as its partner's mirror image when ``mirrored``."""
    side = -1 if mirrored else 1

    def look(motif: HungMotif) -> frozenset[frozenset[tuple[float, float]]]:
        return frozenset(
            frozenset((round(side * motif.right * x, 6) + 0.0, round(motif.up * y, 6) + 0.0) for x, y in part)
            for part in motif_of(plan.job.cloth)
        )

    inside = (m for m in panel.motifs if 0 < m.from_left < panel.width and 0 < m.below_top < panel.length)
    return {(panel.width - m.from_left if mirrored else m.from_left, m.below_top, look(m)) for m in inside}


@pytest.mark.parametrize("cuts", [F(1), F(2)])
@pytest.mark.parametrize(
    ("sheet", "drop", "images"),
    [
        (Print(MIRROR), F(0), 1),
        (Print(MIRROR, mirror_offset=F(2)), F(0), 2),
        (Print(MIRROR, mirror_offset=F(2)), F(1, 2), 2),
        (Print(NONE, MIRROR, mirror_offset_across=F(0)), F(1, 2), 1),
        (Print(NONE, MIRROR, mirror_offset_across=F(5, 4)), F(0), 2),
        (Print(GLIDE, mirror_offset=F(2)), F(0), 2),
        (Print(NONE, GLIDE, mirror_offset_across=F(5, 4)), F(0), 2),
        (Print(MIRROR, MIRROR, True, F(2), mirror_offset_across=F(5, 4)), F(0), 4),
        (Print(GLIDE, MIRROR, True, F(2)), F(0), 2),
        (Print(MIRROR, GLIDE, True), F(0), 2),
        (Print(GLIDE, GLIDE, True, F(2), mirror_offset_across=F(5, 4)), F(0), 4),
        # Both glide lines a quarter from the motif point: a half-turn goes through it.
        (Print(GLIDE, GLIDE, True, F(3), mirror_offset_across=F(9, 4)), F(0), 2),
    ],
)
def test_the_picture_of_a_mirrored_pair_mirrors(sheet, drop, images, cuts):
    plan = pair_of(sheet, drop, cuts)
    assert len(images_of(plan.job.cloth)) == images
    left, right = hung_panels(plan, "Mill door")
    assert left.width == right.width
    assert drawn(right, plan, mirrored=False) == drawn(left, plan, mirrored=True)
    assert len(drawn(left, plan, mirrored=False)) > 10


def test_rows_are_those_of_the_job_not_of_the_images():
    left, _ = hung_panels(pair_of(Print(GLIDE, mirror_offset=F(2)), F(0), F(1)), "Mill door")
    assert left.rows_below_top == (3, 15, 27, 39)


def test_the_picture_of_a_print_without_a_mirror_does_not_mirror():
    plan = pair_of(Print(MIRROR), F(0), F(1))
    job = replace(plan.job, cloth=replace(plan.job.cloth, print=Print()))
    boats = replace(plan, job=job)
    left, right = hung_panels(boats, "Mill door")
    assert drawn(right, boats, mirrored=False) != drawn(left, boats, mirrored=True)
