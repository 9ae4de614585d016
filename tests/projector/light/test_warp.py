"""Scenes from table inches to pixels."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from calibration.table import Table
from projector.light.labels import fills_of, outlines_in
from projector.light.letters import outline_of
from projector.light.raster.canvas import Canvas
from projector.light.styles import STYLES, Style
from projector.light.view import view_of
from projector.light.warp import draw, lines_of
from projector.scene.marks import Hatch, Kind, Mark, Scene, Stroke, Text
from tests.projector.light.meter import column_centres, light_of
from tests.projector.light.tables import ASKEW, MIRRORED, SQUARE, STEEP, pixel, with_lens
from tests.projector.pictures import lit_pixels

WHITE = {kind: replace(style, colour=0xFFFFFF) for kind, style in STYLES.items()}
ON_TABLE_PX = 0.005  # the bar for a line's centre


def lit(marks: Sequence[Mark], table: Table, **options: object) -> np.ndarray:
    canvas = Canvas(table.width_px, table.height_px)
    draw(Scene(tuple(marks)), table, canvas, **{"styles": WHITE, **options})
    return canvas.frame.copy()


def test_a_cut_line_is_lit_where_the_map_sends_it() -> None:
    styles = {**WHITE, Kind.CUT: Style(0.14)}
    total, centre = column_centres(light_of(lit([Stroke(Kind.CUT, ((-5, 11.3), (60, 12.1)))], ASKEW, styles=styles)))
    start, end = pixel(ASKEW, -5, 11.3), pixel(ASKEW, 60, 12.1)
    columns = np.arange(100, 860)
    slope = (end[1] - start[1]) / (end[0] - start[0])
    error = centre[columns] - (start[1] + slope * (columns + 0.5 - start[0]))
    assert np.sqrt(np.mean(error**2)) < ON_TABLE_PX
    assert total[columns].min() > 1.5


def test_widths_are_inches_on_the_table() -> None:
    styles = {**WHITE, Kind.CUT: Style(0.15)}
    for stroke in (((3, 2), (45, 2)), ((3, 24), (45, 25)), ((5, 1), (6, 26)), ((40, 1), (30, 26))):
        lines = lines_of(Scene((Stroke(Kind.CUT, stroke),)), view_of(ASKEW), styles)
        a, b = np.array(stroke, float)
        normal = np.array([-(b - a)[1], (b - a)[0]]) / np.hypot(*(b - a)) * 0.075
        along = (lines.ends - lines.starts)[0] / np.hypot(*(lines.ends - lines.starts)[0])
        for end, point in enumerate((a, b)):
            # The two edges of the strip, mapped: their distance square to the line.
            apart = pixel(ASKEW, *(point + normal)) - pixel(ASKEW, *(point - normal))
            expected = abs(apart[0] * along[1] - apart[1] * along[0])
            assert lines.widths[0, end] == pytest.approx(expected, abs=0.001)


def test_the_width_factor_scales_lines_and_none_is_thinner_than_a_pixel() -> None:
    scene = Scene((Stroke(Kind.CUT, ((3, 2), (45, 2))),))
    view = view_of(SQUARE)
    assert lines_of(scene, view).widths == pytest.approx(20 * 3 / 32)
    assert lines_of(scene, view, width_factor=2.0).widths == pytest.approx(40 * 3 / 32)
    assert lines_of(scene, view, width_factor=0.1).widths == pytest.approx(1.0)


def test_every_outline_point_of_a_letter_goes_through_the_map() -> None:
    text = Text(Kind.TOP, "TOP", (20.0, 12.0), 3.0, 25.0)
    (fill,) = fills_of([text], view_of(ASKEW), 0xFFFFFF)
    inches = outlines_in([text])
    assert fill.points == pytest.approx(np.array([pixel(ASKEW, x, y) for x, y in inches]), abs=1e-6)
    # The first corner by hand: T spans from half the text's width left of the middle, turned by 25 degrees.
    outlines = outline_of("TOP")
    x, y = (outlines.points[0] - [outlines.width / 2, 0.5]) * 3.0
    turn = np.radians(25)
    by_hand = (20 + x * np.cos(turn) - y * np.sin(turn), 12 + x * np.sin(turn) + y * np.cos(turn))
    assert inches[0] == pytest.approx(by_hand)


@pytest.mark.parametrize("turn_deg", [0.0, 40.0, 90.0, 180.0])
@pytest.mark.parametrize("table", [SQUARE, ASKEW, MIRRORED], ids=["square", "askew", "mirrored"])
def test_letters_on_the_table_read_the_same_whatever_the_rig(table: Table, turn_deg: float) -> None:
    text = Text(Kind.LETTER, "Foot 7", (24.0, 13.0), 3.0, turn_deg)
    light = light_of(lit([text], table))
    # Looked at from the person's place: sample the light over the table, near edge at the foot of the picture.
    x, y = np.meshgrid(np.arange(10, 38, 0.05), np.arange(23, 3, -0.05))
    u, v, w = np.tensordot(table.matrix, np.stack([x, y, np.ones_like(x)]), 1)
    seen = light[(v / w).astype(int), (u / w).astype(int)]
    upright = light_of(lit([text], SQUARE))[(540 - 20 * y).astype(int), (20 * x).astype(int)]
    share = np.minimum(seen, upright).sum() / np.maximum(seen, upright).sum()
    assert share > 0.85  # edges are a pixel of each frame wide
    assert np.minimum(seen[:, ::-1], upright).sum() / np.maximum(seen[:, ::-1], upright).sum() < 0.75


def test_top_is_upright_for_the_person() -> None:
    frame = lit([Text(Kind.TOP, "TOP", (24.0, 13.5), 4.0)], SQUARE)
    rows, columns = np.nonzero(lit_pixels(frame))
    # Cap height 4 in is 80 px about row 540 - 270; T stands at the left with its bar away from the person.
    assert rows.min() == pytest.approx(540 - 310, abs=3)
    assert rows.max() == pytest.approx(540 - 230, abs=3)
    left = columns < columns.min() + 60
    assert (rows[left] < 250).sum() > 2 * (rows[left] > 290).sum()


def test_a_stroke_clipped_by_the_frame_keeps_its_dots_in_place() -> None:
    long = lit([Stroke(Kind.COLUMN, ((-300.0, 10.0), (300.0, 10.0)))], SQUARE)
    period = sum(STYLES[Kind.COLUMN].dashes_in)
    near = -300.0 + period * np.ceil(300.0 / period)  # the first repeat of the pattern on the table
    short = lit([Stroke(Kind.COLUMN, ((near, 10.0), (48.0, 10.0)))], SQUARE)
    first = int(np.ceil(20 * near)) + 2
    assert np.abs(light_of(long) - light_of(short))[:, first:950].max() < 0.02  # the clip rounds inches to 1e-13


def test_what_crosses_the_horizon_is_cut_before_it_is_mapped() -> None:
    beyond = [Stroke(Kind.CUT, ((24.0, -2000.0), (24.0, 2000.0))), Stroke(Kind.CUT, ((-9e5, 9.0), (9e5, 9.1)))]
    # The table's 0 to 27 in shrink 8.4-fold, so the denominator is zero 27 / 7.43 = 3.63 in before the near edge.
    beyond.append(Stroke(Kind.CUT, ((10.0, -50.0), (30.0, -90.0))))
    lines = lines_of(Scene(tuple(beyond)), view_of(STEEP), WHITE)
    assert len(lines) == 2
    assert np.isfinite(lines.starts).all()
    assert np.abs(np.concatenate([lines.starts, lines.ends])).max() < 1200
    light = light_of(lit(beyond, STEEP))
    assert light[300:, 479:481].sum(axis=1).min() > 0.9
    row = pixel(STEEP, 24, 9.05)[1]
    assert light[int(row) - 3 : int(row) + 4, 100].sum() > 0.9
    # Nothing of the line behind the horizon is thrown to the wrong side.
    light[:, 470:490] = 0
    light[int(row) - 8 : int(row) + 9] = 0
    assert light.max() == 0


def test_letters_beyond_the_horizon_are_left_out_and_the_rest_is_lit() -> None:
    assert not lit([Text(Kind.TOP, "TOP", (24.0, 4000.0), 3.0)], STEEP).any()
    assert not lit([Text(Kind.TOP, "TOP", (-9000.0, 13.0), 3.0)], ASKEW).any()
    # A letter 26 in tall whose foot lies 5 in before the near edge, 1.4 in beyond the horizon of the map.
    assert not lit([Text(Kind.TOP, "I", (24.0, 8.0), 26.0)], STEEP).any()
    assert lit([Text(Kind.TOP, "I", (24.0, 13.0), 26.0)], STEEP).any()
    half = lit([Text(Kind.TOP, "TOP", (0.0, 13.0), 6.0)], SQUARE)
    whole = lit([Text(Kind.TOP, "TOP", (20.0, 13.0), 6.0)], SQUARE)
    assert np.array_equal(half[:, :200], whole[:, 400:600])


def test_every_kind_of_mark_lights_something_and_hatching_stays_in_its_outline() -> None:
    for kind in Kind:
        assert lit_pixels(lit([Stroke(kind, ((5, 5), (15, 9)))], ASKEW), 40).any()
    frame = lit([Hatch(Kind.DONE, ((10, 5), (20, 5), (20, 15), (10, 15)))], SQUARE)
    rows, columns = np.nonzero(frame)
    assert 197 <= columns.min() < 230
    assert 370 < columns.max() <= 402
    assert rows.min() >= 237
    assert rows.max() <= 442


def test_a_lens_bends_lines_and_the_pieces_stay_within_a_tenth_of_a_pixel() -> None:
    table = with_lens(ASKEW, -0.08)
    lines = lines_of(Scene((Stroke(Kind.CUT, ((1, 1), (47, 2))),)), view_of(table), WHITE)
    assert len(lines) > 4
    assert lines.joined[1:, 0].all()
    assert not lines.joined[0, 0]
    inches = np.column_stack([np.linspace(1, 47, 4001), np.linspace(1, 2, 4001)])
    curve = table.to_frame(inches)
    for start, end in zip(lines.starts, lines.ends, strict=True):
        between = curve[(curve[:, 0] > start[0]) & (curve[:, 0] < end[0])]
        off = (between - start) @ np.array([-(end - start)[1], (end - start)[0]]) / np.hypot(*(end - start))
        assert np.abs(off).max() < 0.1
    frame = lit([Stroke(Kind.CUT, ((1, 1), (47, 2))), Text(Kind.TOP, "TOP", (24, 13), 3.0)], table)
    for x, y in table.to_frame([(1.5, 1 + 0.5 / 46), (24, 1.5), (46.5, 2 - 0.5 / 46)]):
        assert lit_pixels(frame)[int(y), int(x)]


def test_a_strong_lens_never_maps_what_its_term_does_not_describe() -> None:
    table = with_lens(SQUARE, -0.9)  # folds back 0.61 of the frame's width from the centre
    marks = [Stroke(Kind.CUT, ((-500, 13), (500, 14))), Stroke(Kind.ROW, ((-90, -90), (90, 90)))]
    assert lit([*marks, Text(Kind.TOP, "TOP", (70, 13), 3.0)], table).any()


def test_drawing_again_gives_the_same_frame_and_leaves_nothing_of_the_last() -> None:
    canvas = Canvas(960, 540)
    first, second = Scene((Stroke(Kind.CUT, ((5, 5), (40, 6))),)), Scene((Text(Kind.TOP, "TOP", (20, 15), 3.0),))
    draw(first, ASKEW, canvas)
    once = canvas.frame.copy()
    draw(second, ASKEW, canvas)
    draw(first, ASKEW, canvas)
    assert np.array_equal(once, canvas.frame)
    draw(Scene(), ASKEW, canvas)
    assert not canvas.frame.any()


def test_a_canvas_of_another_size_than_the_calibration_is_refused() -> None:
    with pytest.raises(ValueError, match="the canvas has 100 x 80 pixels, the calibration 960 x 540"):
        draw(Scene(), ASKEW, Canvas(100, 80))


def test_a_dash_that_rounding_leaves_without_length_is_not_lit() -> None:
    # 77 whole periods of 3/8 in: the next dash would begin where the line ends, but for rounding just before it.
    line = Stroke(Kind.ROW, ((8.532879504153566, 5.0), (37.40787950415357, 5.0)))
    assert len(lines_of(Scene((line,)), view_of(ASKEW))) == 77
