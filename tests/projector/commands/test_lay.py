"""``lay`` as a person and as another program uses it."""

from __future__ import annotations

import json
import math

import pytest

from calibration.registration.fit import PrintFit
from jobs.io.reader import read_job
from projector.scene.print_marks import lattice_of
from tests.projector.commands.running import EXAMPLES, READING_ROOM, run

CONTRACT = {
    "along_in", "across_in", "turn_deg", "skew_pct", "bow_pct", "rms_in", "worst_in", "accepted", "matrix",
}  # fmt: skip
ROW_AND_ONE = [(1, 0), (1, 2), (1, 3), (6, 1)]


def cloth(**shape):
    """A fit of the reading room's cloth."""
    job = read_job(READING_ROOM)
    return PrintFit(lattice_of(job.cloth, job.cloth.pieces[0]), **shape)


def points_file(path, fit, motifs=ROW_AND_ONE, wrong=()):
    """A points file of these motifs as the cloth lies; ``wrong`` maps motifs to what was written instead."""
    lines = ["units: in", "points:"]
    for motif in motifs:
        (row, column), (x, y) = dict(wrong).get(motif, motif), fit.expected(motif)
        lines.append(f"  - {{row: {row}, column: {column}, table: [{x!r}, {y!r}]}}")
    path.write_text("\n".join(lines) + "\n")
    return path


def said(*words):
    ran = run("lay", *words, "--json")
    assert (ran.code, ran.err) == (0, "")
    return json.loads(ran.out)


def test_what_is_measured_of_a_known_cloth(tmp_path):
    true = cloth(shift=(-3.0, 0.4), turn_deg=0.6, stretch_along=1.01, stretch_across=0.995, skew_in=0.8, bow_in=-0.6)
    found = said(READING_ROOM, "--points", points_file(tmp_path / "points.yaml", true))
    assert set(found) >= CONTRACT
    assert found["along_in"] == pytest.approx(12.375 * 1.01)
    assert found["across_in"] == pytest.approx(13.25 * 0.995)
    assert found["turn_deg"] == pytest.approx(0.6)
    assert found["skew_pct"] == pytest.approx(100 * 0.8 / (54 * 0.995))
    assert found["bow_pct"] == pytest.approx(100 * -0.6 / (54 * 0.995))
    assert found["rms_in"] == pytest.approx(0, abs=1e-9)
    assert found["accepted"] is True
    assert found["doubts"] == []


def test_the_matrix_takes_piece_inches_to_table_inches(tmp_path):
    true = cloth(shift=(-3.0, 0.4), turn_deg=2.0, skew_in=0.5)
    found = said(READING_ROOM, "--points", points_file(tmp_path / "points.yaml", true))
    (a, b, c), (d, e, f) = found["matrix"]
    # Row 2 of column 1 lies at 4 3/4 + 2 x 12 3/8 along; four columns of 13 1/4 lie centred on 54 in, so at
    # 27 - 1 1/2 x 13 1/4 + 13 1/4 across.
    along, across = 4.75 + 2 * 12.375, 27 - 13.25 / 2
    x, y = true.expected((2, 1))
    assert (a * along + b * across + c, d * along + e * across + f) == pytest.approx((x, y))
    assert math.degrees(math.atan2(d, a)) == pytest.approx(2.0)


def test_cloth_over_the_limit_of_the_job_is_not_accepted(tmp_path):
    points = points_file(tmp_path / "points.yaml", cloth(skew_in=0.8))  # 0.8 in 54 are 1.48 %
    assert said(READING_ROOM, "--points", points)["accepted"] is True
    strict = tmp_path / "strict.yaml"
    strict.write_text(READING_ROOM.read_text() + "\nlimits: {bow: 1 %, skew: 1 %}\n")
    assert said(strict, "--points", points)["accepted"] is False
    ran = run("lay", strict, "--points", points)
    assert ran.code == 0
    assert "1.48 %" in ran.out
    assert "OVER the limit of 1 %" in ran.out
    assert "not accepted" in ran.out


def test_a_point_on_the_wrong_motif_is_named_and_not_accepted(tmp_path):
    motifs = [*ROW_AND_ONE, (4, 3)]
    points = points_file(tmp_path / "points.yaml", cloth(turn_deg=0.5), motifs, {(4, 3): (5, 3)})
    found = said(READING_ROOM, "--points", points)
    assert found["accepted"] is False
    (doubt,) = found["doubts"]
    assert (doubt["point"], doubt["row"], doubt["proposed"]) == (5, 5, [4, 3])
    assert found["along_in"] == pytest.approx(12.375)
    assert "by that it lies on row 4, column 3" in run("lay", READING_ROOM, "--points", points).out


def test_two_points_say_what_they_cannot_tell(tmp_path):
    points = points_file(tmp_path / "points.yaml", cloth(turn_deg=0.5), [(0, 0), (0, 3)])
    found = said(READING_ROOM, "--points", points)
    assert "bow" not in found["measured"]
    assert (found["bow_pct"], found["along_uncertainty_in"]) == (0, None)
    out = run("lay", READING_ROOM, "--points", points).out
    assert "Not measured, taken as planned: stretch along, stretch across, skew, bow" in out
    assert "one more point: row" in out


def test_square_cutting_states_its_mismatch(tmp_path):
    square = tmp_path / "square.yaml"
    square.write_text(READING_ROOM.read_text().replace("  drop: 0\n", "  drop: 0\n  follow: selvedge\n"))
    points = points_file(tmp_path / "points.yaml", cloth(skew_in=0.9))
    # Seams lie 1/2 + 1/2 in inside each edge: 0.9 x 52/54 = 0.867, shown as 7/8 (28/32 against 27.7).
    out = run("lay", square, "--points", points).out
    assert "stand square to the selvedge: the print will miss by 7/8 in at a seam" in out


def test_a_metric_job_is_answered_in_centimetres(tmp_path):
    metric = EXAMPLES / "attic_studio.yaml"
    job = read_job(metric)
    fit = PrintFit(lattice_of(job.cloth), stretch_along=1.01)
    points = points_file(tmp_path / "points.yaml", fit, [(0, 0), (0, 2), (2, 1), (4, 0), (4, 2)])
    out = run("lay", metric, "--points", points).out
    assert "Repeat along: 32.32 cm, planned 32.00 cm" in out


@pytest.mark.parametrize(
    ("job", "instead", "words"),
    [
        (EXAMPLES / "potting_shed.yaml", "", "plain cloth has no print"),
        (READING_ROOM, "{along: 12 3/8}", "the repeat across is not given"),
    ],
)
def test_cloth_without_columns_is_refused_in_words(tmp_path, job, instead, words):
    points = points_file(tmp_path / "points.yaml", cloth())
    given = tmp_path / "job.yaml"
    given.write_text(job.read_text().replace("{along: 12 3/8, across: 13 1/4}", instead or "-"))
    ran = run("lay", given, "--points", points, "--json")
    assert (ran.code, ran.out) == (1, "")
    assert words in ran.err


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("units: in\npoints: [{row: 0, column: 0, table: [1, 2]}]\n", "at least 2"),
        ("units: in\npoints: [{row: 0, column: 0, table: [1, 2]}, {row: 0, column: 0, table: [1, 2]}]\n", "one motif"),
        ("units: in\npoints: [{row: 0, column: x, table: [1, 2]}, {row: 1, column: 0, table: [1, 2]}]\n", "column"),
    ],
)
def test_points_that_carry_no_laying_are_refused_in_words(tmp_path, text, words):
    points = tmp_path / "points.yaml"
    points.write_text(text)
    ran = run("lay", READING_ROOM, "--points", points)
    assert (ran.code, ran.out) == (1, "")
    assert words in ran.err
    assert str(points) in ran.err


def test_a_piece_that_the_job_does_not_have_is_refused(tmp_path):
    points = points_file(tmp_path / "points.yaml", cloth())
    ran = run("lay", READING_ROOM, "--points", points, "--piece", 2)
    assert ran.code == 1
    assert "--piece 1" in ran.err


def test_points_in_a_mirror_are_refused(tmp_path):
    points = tmp_path / "points.yaml"
    swapped = points_file(points, cloth()).read_text()
    for motif in ROW_AND_ONE:
        x, y = cloth().expected(motif)
        swapped = swapped.replace(f"[{x!r}, {y!r}]", f"[{y!r}, {x!r}]")
    points.write_text(swapped)
    ran = run("lay", READING_ROOM, "--points", points)
    assert ran.code == 1
    assert "mirror" in ran.err
