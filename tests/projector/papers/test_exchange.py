"""Files for other programs, read back with libraries that know nothing of this one."""

import csv
import io
import xml.etree.ElementTree as ElementTree
from fractions import Fraction

import ezdxf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from svgelements import SVG
from svgelements import Polygon as SvgPolygon
from svgelements import SimpleLine as SvgLine

from jobs.io.reader import read_job
from jobs.planning.planner import plan_job
from projector.demo.setup import demo_setup
from projector.papers.drawing import INK, Drawing, Path
from projector.papers.exchange import number, plan_csv, words
from projector.papers.hung_panel import hung_panels
from projector.papers.svg import svg_text
from projector.scene.marks import Hatch, Kind, Stroke, Text
from projector.scene.stop_scene import scene_of_stop
from tests.projector.commands.running import EXAMPLES, READING_ROOM, run

THOUSANDTH_IN = 0.001


@given(st.fractions(min_value=-2000, max_value=2000, max_denominator=5000))
def test_a_number_of_the_csv_comes_back_exactly(value):
    assert Fraction(number(value)) == value


@pytest.mark.parametrize("name", ["=1+1", "+44", "-left", "@bay", "\t=1"])
def test_a_name_that_a_spreadsheet_would_reckon_with_is_made_harmless(name):
    assert words(name) == f"'{name}"
    assert words(f"Bay {name}") == f"Bay {name}"


@pytest.mark.parametrize("name", ["reading_room", "attic_studio", "potting_shed", "lock_cottage"])
def test_the_csv_of_a_plan_comes_back_exactly(name):
    plan = plan_job(read_job(EXAMPLES / f"{name}.yaml"))
    rows = list(csv.DictReader(io.StringIO(plan_csv(plan), newline="")))
    assert len(rows) == len(plan.placements)
    for row, placed in zip(rows, plan.placements, strict=True):
        cut = placed.cut
        assert (row["id"], row["window"], row["hand"], row["way"]) == (cut.id, cut.window, cut.hand, cut.way)
        assert (Fraction(row["start_in"]), Fraction(row["end_in"])) == (placed.start, placed.end)
        assert (Fraction(row["top_in"]), Fraction(row["foot_in"])) == (placed.top, placed.foot)
        assert Fraction(row["length_in"]) == cut.length
        assert (Fraction(row["row_in"]) if row["row_in"] else None) == cut.row
        assert (int(row["piece"]), int(row["number"]), int(row["of"])) == (placed.piece, cut.number, cut.of)


def test_the_dxf_of_every_stop_has_the_lines_of_the_scene(tmp_path):
    plan = plan_job(read_job(READING_ROOM))
    for stop in plan.stops:
        out = tmp_path / "stop.dxf"
        ran = run("export", READING_ROOM, "--as", "dxf", "--stop", stop.number, "--out", out)
        assert ran.code == 0, ran.err
        document = ezdxf.readfile(out)
        assert document.units == ezdxf.units.IN
        assert not document.audit().has_errors
        scene = scene_of_stop(plan, stop)
        lines = [mark for mark in scene.marks if isinstance(mark, Stroke | Hatch)]
        read = list(document.modelspace().query("LWPOLYLINE"))
        assert len(read) == len(lines)
        for line, entity in zip(lines, read, strict=True):
            assert entity.dxf.layer == line.kind.value
            points = line.outline if isinstance(line, Hatch) else line.points
            for given_point, (x, y) in zip(points, entity.get_points("xy"), strict=True):
                assert (x, y) == pytest.approx(given_point, abs=THOUSANDTH_IN)
        texts = [entity.dxf.text for entity in document.modelspace().query("TEXT")]
        assert texts == [mark.text for mark in scene.marks if isinstance(mark, Text)]


def test_lengths_in_an_svg_agree_with_the_drawing():
    drawing = Drawing(9, 5, (Path(((1 / 3, 1), (7.12345, 1)), "#000000"), Path(((2, 2), (5, 4.00049)), "#000000")))
    root = ElementTree.fromstring(svg_text(drawing))
    found = [
        [tuple(map(float, pair.split(","))) for pair in node.get("points").split()]
        for node in root.iter("{http://www.w3.org/2000/svg}polyline")
    ]
    for read, path in zip(found, drawing.shapes, strict=True):
        for one, other in zip(read, path.points, strict=True):
            assert one == pytest.approx(other, abs=THOUSANDTH_IN)


def test_the_svg_of_a_frame_has_true_lines_at_the_length_of_the_cut(tmp_path):
    plan = plan_job(read_job(READING_ROOM))
    table, out = demo_setup(plan.job).table, tmp_path / "frame.svg"
    assert run("picture", READING_ROOM, "--of", "frame", "--out", out).code == 0
    lines = [line for line in SVG.parse(out).elements() if isinstance(line, SvgLine)]
    ends = table.to_table([p for line in lines for p in ((line.x1, line.y1), (line.x2, line.y2))])
    lit = [mark for mark in scene_of_stop(plan, plan.stops[0]).of(Kind.CUT) if isinstance(mark, Stroke)]
    points = [point for mark in lit for point in mark.points]
    # the frame ends where the light does, so each end of a line that lies inside it is there to a thousandth
    inside = [point for point in points if table.contains([point]).all()]
    assert inside
    for point in inside:
        assert min(abs(ends - point).max(axis=1)) < THOUSANDTH_IN
    assert "<image" not in out.read_text()


@pytest.mark.parametrize("name", ["reading_room", "lock_cottage"])
def test_the_svg_of_the_cloth_and_of_what_hangs_has_true_lengths(name, tmp_path):
    plan = plan_job(read_job(EXAMPLES / f"{name}.yaml"))
    panels = [panel for window in plan.job.windows for panel in hung_panels(plan, window.name)]
    wanted = {
        "cloth": {(p.cut.length, cloth_width(p, plan)) for p in plan.placements},
        "hung": {(panel.width, panel.length) for panel in panels},
    }
    for what, sizes in wanted.items():
        out = tmp_path / f"{what}.svg"
        assert run("picture", EXAMPLES / f"{name}.yaml", "--of", what, "--out", out).code == 0
        boxes = [shape.bbox() for shape in SVG.parse(out).elements() if is_outline(shape)]
        assert len(boxes) == (len(plan.placements) if what == "cloth" else len(panels))
        read = [(right - left, lower - upper) for left, upper, right, lower in boxes]
        # the picture's scale from its longest shape; then every other length to a thousandth of an inch of cloth
        scale = max(wide for wide, _ in read) / float(max(wide for wide, _ in sizes))
        for wide, high in read:
            assert any(
                abs(wide / scale - a) < THOUSANDTH_IN and abs(high / scale - b) < THOUSANDTH_IN for a, b in sizes
            )


def cloth_width(placed, plan):
    near, far = placed.cut.across or (0, plan.job.cloth.width)
    return far - near


def is_outline(shape) -> bool:
    return isinstance(shape, SvgPolygon) and shape.stroke == INK


def test_an_export_asks_for_the_right_ending_and_a_stop_there_is(tmp_path):
    assert run("export", READING_ROOM, "--as", "csv", "--out", tmp_path / "a.dxf").code == 1
    assert (
        "give one of 1 to 4" in run("export", READING_ROOM, "--as", "dxf", "--stop", 9, "--out", tmp_path / "a.dxf").err
    )
    assert list(tmp_path.iterdir()) == []
    assert run("export", READING_ROOM, "--as", "csv", "--out", tmp_path / "a.csv").code == 0
    assert (tmp_path / "a.csv").read_bytes().count(b"\n") == 3
