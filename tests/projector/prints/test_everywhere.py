"""One cloth wears one print: what lies under the light at a stop is what hangs, once the cut is lifted and turned."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from PIL import Image

from jobs.io.reader import read_job
from jobs.model.allowances import Allowances
from jobs.model.choices import End, Hang, Panels, Run, Symmetry, Unit
from jobs.model.cloth import Cloth
from jobs.model.cuts import Edge, Hand, Placement, Way
from jobs.model.job import Job
from jobs.model.plan import Plan, Stop
from jobs.model.print import Print, Repeat
from jobs.model.problems import JobRefused
from jobs.model.window import Window
from jobs.planning.planner import plan_job
from jobs.prints.pairs import second_panel
from projector.demo.brightness import screen_of
from projector.demo.setup import cloth_at
from projector.papers.cloth_picture import tier_shapes
from projector.papers.drawing import Drawing
from projector.papers.hung_drawing import gathered, panel_drawing, panel_pixels
from projector.papers.hung_panel import HungPanel, hung_panels
from projector.papers.piece_shapes import Scale, tiers_of
from projector.papers.png import image_of
from projector.prints.face import face_of
from tests.jobs.cutting.test_plane_groups import NAMES, SETTINGS, cloth_of
from tests.projector.commands.running import EXAMPLES

F = Fraction
PPI = 8
INKS = {"colour": "#000000", "motif_colours": ("#ffffff", "#ff0000")}
OUTLINES = 0.12


def unlike(one: np.ndarray, other: np.ndarray) -> float:
    """The share of pixels that show a motif in either picture, where the two differ."""
    assert one.shape == other.shape
    one, other = one.astype(int), other.astype(int)
    motif = (one.max(axis=2) > 128) | (other.max(axis=2) > 128)
    assert motif.sum() > 200
    return float((np.abs(one - other).max(axis=2) > 128)[motif].mean())


def flat_pixels(plan: Plan, panel: HungPanel, per_inch: float = PPI) -> np.ndarray:
    return panel_pixels(plan, panel, gathered(float(panel.width), 1.0), face_of(plan.job.cloth), per_inch)


def on_the_table(plan: Plan, stop: Stop) -> np.ndarray:
    """The cut of a stop as it lies, seen from above with the far side of the table uppermost, without any light."""
    placed = stop.placement
    near, far = placed.cut.across or (F(0), plan.job.cloth.width)
    first = float(placed.start - stop.cloth_at_left)
    x = first + (np.arange(int(placed.cut.length * PPI)) + 0.5) / PPI
    y = float(far) - (np.arange(int((far - near) * PPI)) + 0.5) / PPI
    cloth = cloth_at(plan, stop)
    places = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
    colours, on_cloth = cloth.colour_at(cloth.to_piece(places))
    assert on_cloth.all()
    return screen_of(colours).reshape(len(y), len(x), 3)


def lifted(seen: np.ndarray, placed: Placement) -> np.ndarray:
    """The cut turned so that its top is up, and over where it is used face down: by its way and its top alone."""
    quarters = {Edge.FAR: 0, Edge.LAST: 1, Edge.NEAR: 2, Edge.FIRST: -1}
    turned = np.rot90(seen, quarters[placed.cut.top_edge])
    return np.fliplr(turned) if placed.cut.way is Way.FACE_DOWN else turned


def finished(seen: np.ndarray, plan: Plan, placed: Placement, panel: HungPanel) -> np.ndarray:
    """What is left of a lifted cut when heading, hem and sides are folded away; the panel is this one cut."""
    top = round(placed.cut.heading * PPI)
    left = round((F(seen.shape[1], PPI) - panel.width) / 2 * PPI)
    return seen[top : top + round(panel.length * PPI), left : left + round(panel.width * PPI)]


STUFF = Cloth("Gulls", F(54), F(1, 2), Repeat(F(12), F(13)), **INKS)
SIDE, DOWN = Symmetry.MIRROR, Symmetry.MIRROR


@pytest.mark.parametrize(
    ("cloth", "ways"),
    [
        (replace(STUFF, print=Print(DOWN)), {Way.UPRIGHT, Way.TURNED}),
        (replace(STUFF, drop=F(1, 2), print=Print(DOWN, top_towards=End.LAST)), {Way.UPRIGHT, Way.TURNED}),
        (replace(STUFF, print=Print(half_turn=True), faces_alike=True), {Way.UPRIGHT, Way.FACE_DOWN}),
        (replace(STUFF, print=Print(top_towards=End.LAST), faces_alike=True), {Way.UPRIGHT, Way.FACE_DOWN}),
        (replace(STUFF, drop=F(1, 2), print=Print(side_to_side=SIDE)), {Way.UPRIGHT}),
        (replace(STUFF, run=Run.SIDEWAYS, width=F(118), print=Print(side_to_side=SIDE)), {Way.UPRIGHT, Way.TURNED}),
        (replace(STUFF, run=Run.SIDEWAYS, width=F(118), faces_alike=True), {Way.UPRIGHT, Way.FACE_DOWN}),
    ],
)
def test_what_lies_on_the_table_at_a_stop_is_what_hangs_when_the_cut_is_lifted(cloth, ways):
    sideways = cloth.run is Run.SIDEWAYS
    bay = Window("Bay", Panels.PAIR, F(80), cuts_per_panel=None if sideways else F(1), rod=F(45) if sideways else None)
    plan = plan_job(Job("Mill", Unit.INCH, cloth, (bay,), Allowances(F(4), F(8), F(2), F(0), F(1))))
    panels = {panel.hand: panel for panel in hung_panels(plan, "Bay")}
    seen = set()
    for stop in plan.stops:
        placed = stop.placement
        panel = panels[placed.cut.hand]
        lying = finished(lifted(on_the_table(plan, stop), placed), plan, placed, panel)
        assert unlike(lying, flat_pixels(plan, panel)) < 0.02
        seen.add(placed.cut.way)
    assert seen == ways


@pytest.mark.parametrize("setting", SETTINGS, ids=NAMES)
@pytest.mark.parametrize(("cuts", "towards"), [(1, End.FIRST), (2, End.FIRST), (1, End.LAST)])
def test_a_drawn_pair_mirrors_for_every_group_exactly_where_the_job_says_it_does(setting, cuts, towards):
    cloth = replace(cloth_of(setting), **INKS)
    cloth = replace(cloth, print=replace(cloth.print, top_towards=towards))
    try:
        second_panel(cloth, Hang.MIRRORED)
        hang = Hang.MIRRORED
    except JobRefused:
        hang = Hang.SAME
    bay = Window("Bay", Panels.PAIR, F(40), cuts_per_panel=F(cuts), hang=hang)
    plan = plan_job(Job("Mill", Unit.INCH, cloth, (bay,), Allowances(F(3), F(5), F(2), F(1, 2), F(1))))
    left, right = (flat_pixels(plan, panel) for panel in hung_panels(plan, "Bay"))
    if hang is Hang.MIRRORED:
        assert unlike(left, right[:, ::-1]) < OUTLINES
    elif cuts == 1:
        assert unlike(left, right) < OUTLINES
        assert unlike(left, right[:, ::-1]) > 2 * OUTLINES


def drawn(shapes: list, width: float, height: float) -> np.ndarray:
    return np.asarray(image_of(Drawing(width, height, tuple(shapes)), 100))


@pytest.mark.parametrize("name", ["reading_room", "lock_cottage", "tram_depot", "attic_studio"])
def test_lines_and_pixels_of_a_hung_panel_show_the_same_print(name):
    plan = plan_job(read_job(EXAMPLES / f"{name}.yaml"))
    plan = plan.with_job(replace(plan.job, cloth=replace(plan.job.cloth, **INKS)))
    for panel in hung_panels(plan, plan.job.windows[0].name):
        size = float(panel.width) * PPI / 100, float(panel.length) * PPI / 100
        lines = drawn(panel_drawing(plan, panel, (0.0, 0.0), PPI / 100), *size)
        pixels = np.asarray(Image.fromarray(flat_pixels(plan, panel)).resize(lines.shape[1::-1]))
        inside = (slice(8, -8), slice(8, -8))
        clear = [round(float(seam) * PPI) for seam in panel.seams]
        keep = [x for x in range(8, lines.shape[1] - 8) if all(abs(x - seam) > 5 for seam in clear)]
        assert unlike(lines[inside[0]][:, keep], pixels[inside[0]][:, keep]) < OUTLINES


def test_the_drawn_piece_shows_the_print_as_it_lies_on_the_table():
    cloth = replace(STUFF, print=Print())
    bay = Window("Bay", Panels.LEFT, F(68), cuts_per_panel=F(1))
    plan = plan_job(Job("Mill", Unit.INCH, cloth, (bay,), Allowances(F(4), F(8), F(2), F(0), F(1))))
    (stop,) = plan.stops
    (tier,) = tiers_of(plan, plan.pieces[0])
    scale = Scale(0.0, 0.0, PPI / 100, tier.span, cloth.width)
    shapes = tier_shapes(plan, tier, scale, face_of(cloth))
    piece = drawn(shapes, scale.right, scale.lower)
    table = on_the_table(plan, stop)
    left = round(stop.placement.start * PPI)
    # Above the letters in the middle of the cut, below those at its far side.
    part = (slice(60, 160), slice(40, 600))
    assert unlike(piece[:, left : left + table.shape[1]][part], table[part]) < OUTLINES


def test_turned_panels_of_a_print_with_a_half_turn_alone_look_as_before_and_do_not_mirror():
    # A half-turn never gives a mirrored pair, a common mistake: the picture must show that it does not.
    cloth = replace(STUFF, print=Print(DOWN))
    bay = Window("Bay", Panels.PAIR, F(80), cuts_per_panel=F(1))
    plan = plan_job(Job("Mill", Unit.INCH, cloth, (bay,), Allowances(F(4), F(8), F(2), F(0), F(1))))
    mistaken = plan.with_job(replace(plan.job, cloth=replace(cloth, print=Print(half_turn=True))))
    left, right = (flat_pixels(mistaken, panel) for panel in hung_panels(mistaken, "Bay"))
    assert {placed.cut.way for placed in plan.placements if placed.cut.hand is Hand.RIGHT} == {Way.TURNED}
    assert unlike(left, right[:, ::-1]) > 2 * OUTLINES
