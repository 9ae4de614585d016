"""A scanned repeat lies in pictures as the print lies on the cloth: its way up, at its row, dropped as it drops."""

import io
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from PIL import Image
from svgelements import SVG
from svgelements import Image as SvgImage

from jobs.io.reader import read_job
from jobs.model.allowances import Allowances
from jobs.model.choices import End, Panels, Run, Symmetry, Unit
from jobs.model.cloth import Cloth
from jobs.model.job import Job
from jobs.model.print import Print, Repeat
from jobs.model.window import Window
from jobs.planning.planner import plan_job
from projector.papers.cloth_picture import cloth_picture
from projector.papers.drawing import Raster
from projector.papers.hung_drawing import HungStyle, gathered, panel_pixels
from projector.papers.hung_panel import hung_panels
from projector.papers.hung_picture import hung_picture
from projector.prints.face import face_of, photographed
from tests.projector.commands.running import EXAMPLES, READING_ROOM, run

F = Fraction
PPI = 6.0
# upper left, upper right, lower left, lower right quarter of the tile
QUARTERS = ((250, 0, 0), (0, 250, 0), (0, 0, 250), (250, 250, 0))


def quarters() -> np.ndarray:
    """A tile of 64 x 48 pixels whose quarters have colours of their own."""
    pixels = np.zeros((64, 48, 3), np.uint8)
    pixels[:32, :24], pixels[:32, 24:], pixels[32:, :24], pixels[32:, 24:] = QUARTERS
    return pixels


def worn(folder, cloth, pixels=None):
    """The face of the cloth from a picture file of these pixels."""
    return photographed(saved(folder / "worn.png", quarters() if pixels is None else pixels), cloth)


def quarter_of(right: int, up: int) -> tuple[int, int, int]:
    return QUARTERS[(0 if up > 0 else 2) + (1 if right > 0 else 0)]


def plan_with(sheet: Print, drop: Fraction, **cloth: object):
    stuff = Cloth("Boats", F(54), F(1, 2), Repeat(F(12), F(9)), drop, sheet, **cloth)
    bay = Window("Mill door", Panels.PAIR, F(40), cuts_per_panel=F(2))
    return plan_job(Job("Cider house", Unit.INCH, stuff, (bay,), Allowances(F(4), F(8), F(2), F(1, 2), F(1))))


@pytest.mark.parametrize(
    ("sheet", "drop", "more"),
    [
        (Print(top_to_bottom=Symmetry.MIRROR), F(0), {}),
        (Print(top_to_bottom=Symmetry.MIRROR), F(1, 2), {}),
        (Print(), F(1, 3), {"faces_alike": True, "shrinkage": F(1, 20)}),
        (Print(top_to_bottom=Symmetry.MIRROR, top_towards=End.LAST), F(1, 2), {}),
        (Print(side_to_side=Symmetry.MIRROR, mirror_offset_across=F(0)), F(1, 2), {}),
        (Print(), F(1, 2), {"faces_alike": True}),
    ],
)
def test_each_motif_of_a_hung_panel_has_the_quarters_of_the_tile_about_it(sheet, drop, more, tmp_path):
    plan = plan_with(sheet, drop, **more)
    face = worn(tmp_path, plan.job.cloth)
    seen = set()
    for panel in hung_panels(plan, "Mill door"):
        pixels = panel_pixels(plan, panel, gathered(float(panel.width), 1.0), face, PPI)
        high, wide = pixels.shape[:2]
        seams = [float(seam) for seam in panel.seams]
        for motif in panel.motifs:
            for right in (-1, 1):
                for up in (-1, 1):
                    # two inches from the motif point into a quarter, clear of its borders
                    x = float(motif.from_left) + 2 * right * motif.right
                    y = float(motif.below_top) - 2 * up * motif.up
                    if not (0 < x < float(panel.width) and 0 < y < float(panel.length)):
                        continue
                    if any(min(x, float(motif.from_left)) <= s <= max(x, float(motif.from_left)) for s in seams):
                        continue
                    at = int(y * high / float(panel.length)), int(x * wide / float(panel.width))
                    found = tuple(pixels[at])
                    assert found == quarter_of(right, up), (motif, right, up)
                    seen.add((panel.hand, right, up))
    assert len(seen) == 8


def test_cloth_run_sideways_shows_the_tile_upright_and_turned_upside_down_where_its_panel_is(tmp_path):
    sheet = Print(side_to_side=Symmetry.MIRROR, mirror_offset_across=F(0))
    cloth = Cloth("Gulls", F(118), F(1, 2), Repeat(F(18), F(13)), F(0), sheet, run=Run.SIDEWAYS)
    landing = Window("Landing", Panels.PAIR, F(90), rod=F(80), cuts_per_panel=None)
    plan = plan_job(Job("Mill", Unit.INCH, cloth, (landing,), Allowances(F(4), F(8), F(2), F(0), F(1))))
    face = worn(tmp_path, cloth)
    for panel, way in zip(hung_panels(plan, "Landing"), (1, -1), strict=True):
        pixels = panel_pixels(plan, panel, gathered(float(panel.width), 1.0), face, PPI)
        seen = 0
        for motif in panel.motifs:
            for right, up in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
                x, y = float(motif.from_left) + 2 * right, float(motif.below_top) - 2 * up
                if 0 < x < float(panel.width) and 0 < y < float(panel.length):
                    at = int(y * pixels.shape[0] / float(panel.length)), int(x * pixels.shape[1] / float(panel.width))
                    assert tuple(pixels[at]) == quarter_of(right * way, up * way)
                    seen += 1
        assert seen > 20


def test_a_place_one_repeat_on_has_the_same_colour_and_one_column_on_is_dropped(tmp_path):
    cloth = plan_with(Print(), F(1, 3), faces_alike=True).job.cloth
    pixels = np.random.default_rng(1).integers(0, 255, (72, 54, 3)).astype(np.uint8)
    face = worn(tmp_path, cloth, pixels)
    along, across = np.array([3.1, 7.7]), np.array([20.2, 33.3])
    here = face.colours_at(along, across)
    assert (face.colours_at(along + 12, across) == here).all()
    assert (face.colours_at(along + 4, across + 9) == here).all()
    assert not (face.colours_at(along, across + 9) == here).all()


def test_between_two_dropped_columns_colours_are_blended_with_what_lies_beside_them(tmp_path):
    # Lines of one colour each, so that beside a line lies, across the border, the line a third of a repeat earlier.
    cloth = plan_with(Print(), F(1, 3), faces_alike=True).job.cloth
    pixels = np.repeat(np.arange(36, dtype=np.uint8)[:, None, None] * 7, 36, axis=1).repeat(3, axis=2)
    face = worn(tmp_path, cloth, pixels)
    border = face.column + 4.5
    along = np.full(3, 5.0 + 1 / 6)  # the middle of a line of pixels: line (5 1/6 + 6) x 3 = 33
    left, at, right = face.colours_at(along, border + np.array([-1 / 3, 0.0, 1 / 3]))[:, 0].tolist()
    assert (left, right) == (33 * 7, (33 - 12) * 7)
    assert at == pytest.approx((left + right) / 2, abs=1)


def saved(path, pixels):
    Image.fromarray(pixels).save(path)
    return path


def test_the_tile_is_shown_on_the_cloth_and_on_every_panel_in_both_kinds_of_file(tmp_path):
    tile = saved(tmp_path / "tile.png", np.kron(quarters(), np.ones((4, 4, 1), np.uint8)))
    for what, kind in (("cloth", "svg"), ("hung", "svg"), ("hung", "png")):
        ran = run("picture", READING_ROOM, "--of", what, "--tile", tile, "--out", tmp_path / f"{what}.{kind}")
        assert ran.code == 0, ran.err
    for what in ("cloth", "hung"):
        images = [shape for shape in SVG.parse(tmp_path / f"{what}.svg").elements() if isinstance(shape, SvgImage)]
        assert len(images) == 2
        for image in images:
            image.load()
            assert image.image.size[0] > 100
    colours = {colour for _, colour in Image.open(tmp_path / "hung.png").getcolors(1 << 24)}
    assert set(QUARTERS) <= colours
    assert "is stretched" in ran.err  # 0.75 as wide as high; the repeat is 13 1/4 by 12 3/8


def test_the_print_lies_between_the_selvedges_of_the_drawn_piece(tmp_path):
    plan = plan_job(read_job(READING_ROOM))
    rasters = [s for s in cloth_picture(plan, worn(tmp_path, plan.job.cloth)).shapes if isinstance(s, Raster)]
    # 53 of 54 in of width between selvedges of 1/2 in, on strips of one scale
    ratio = {round(raster.height * 54 / 53, 6) for raster in rasters}
    assert len(rasters) == 2
    assert len(ratio) == 1


def test_pictures_of_a_tile_are_the_size_of_the_panel_they_fill(tmp_path):
    plan = plan_job(read_job(READING_ROOM))
    drawing = hung_picture(plan, HungStyle(face=worn(tmp_path, plan.job.cloth)))
    for raster in (shape for shape in drawing.shapes if isinstance(shape, Raster)):
        assert raster.width / raster.height == pytest.approx(49 / 81)
        wide, high = Image.open(io.BytesIO(raster.png)).size
        assert wide / high == pytest.approx(49 / 81, rel=0.01)


def test_files_that_are_no_tile_are_refused_in_words(tmp_path):
    text, small = tmp_path / "note.png", saved(tmp_path / "small.png", np.zeros((8, 8, 3), np.uint8))
    text.write_text("not a picture")
    bomb = tmp_path / "bomb.png"
    Image.new("1", (20_000, 20_000)).save(bomb)
    for tile, words in (
        (text, "not a picture"), (small, "too small"), (bomb, "more than 100 million pixels"),
        (tmp_path / "none.png", "none.png"), (tmp_path, "folder"),
    ):  # fmt: skip
        ran = run("picture", READING_ROOM, "--of", "hung", "--tile", tile, "--out", tmp_path / "out.png")
        assert ran.code == 1
        assert words in ran.err
        assert not (tmp_path / "out.png").exists()


def test_plain_cloth_has_no_tile_and_other_pictures_take_none(tmp_path):
    tile, out = saved(tmp_path / "tile.png", quarters()), tmp_path / "out.png"
    ran = run("picture", EXAMPLES / "potting_shed.yaml", "--of", "hung", "--tile", tile, "--out", out)
    assert (ran.code, "the cloth of this job is plain" in ran.err) == (1, True)
    assert run("picture", READING_ROOM, "--of", "frame", "--tile", tile, "--out", out).code == 2
    assert run("picture", READING_ROOM, "--of", "cloth", "--folds", "--out", out).code == 2
    assert not out.exists()


def test_without_a_repeat_across_the_tile_keeps_its_shape(tmp_path):
    cloth = replace(read_job(READING_ROOM).cloth, repeat=Repeat(F(12)))
    assert worn(tmp_path, cloth).across == pytest.approx(9.0)
    assert face_of(cloth).across == 12.0  # drawn, it comes again across as it does along


def test_a_picture_that_is_missing_is_said_and_a_sign_is_drawn_on_the_table_too(tmp_path):
    text = READING_ROOM.read_text().replace("  drop: 0\n", "  drop: 0\n  picture: nowhere.png\n")
    (tmp_path / "job.yaml").write_text(text)
    for what in ("table", "hung"):
        ran = run("picture", tmp_path / "job.yaml", "--of", what, "--out", tmp_path / f"{what}.png")
        assert ran.code == 0
        assert "nowhere.png" in ran.err
        assert "a plain sign is drawn" in ran.err
