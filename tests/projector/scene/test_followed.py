"""A scene brought to where the cloth really lies."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from calibration.registration.fit import PrintFit
from jobs.model.choices import Follow
from jobs.model.print import Repeat
from projector.scene.lit_stop import lit_stop
from projector.scene.marks import Hatch, Kind, Scene, Stroke, Text
from projector.scene.moved import STRAY_IN, fit_to_follow, followed
from projector.scene.print_marks import NoLattice, lattice, lattice_of
from projector.scene.stop_scene import scene_of_stop
from tests.projector.scene.plans import F, Wish, plan_of

PLAN = plan_of()
STOP = PLAN.stops[0]
AT_LEFT = float(STOP.cloth_at_left)
SCENE = scene_of_stop(PLAN, STOP)
PLAIN = PrintFit.plain(lattice_of(PLAN.job.cloth, PLAN.job.cloth.pieces[0]), AT_LEFT)
BENT = replace(PLAIN, shift=(-AT_LEFT + 0.4, -0.3), turn_deg=1.2, stretch_along=1.01, skew_in=0.8, bow_in=1.6)


def cut_edges(scene):
    """The long cut lines, as points (N, 2) each."""
    lines = (np.array(mark.points) for mark in scene.of(Kind.CUT))
    return [points for points in lines if np.hypot(*(points[-1] - points[0])) > 20]


def test_cloth_that_lies_as_planned_leaves_the_scene_where_it_was():
    moved = followed(SCENE, PLAIN, AT_LEFT)
    assert len(moved.marks) == len(SCENE.marks)
    for before, after in zip(SCENE.marks, moved.marks, strict=True):
        if isinstance(before, Stroke):
            assert np.array(after.points) == pytest.approx(np.array(before.points), abs=1e-9)
        elif isinstance(before, Text):
            assert after.at == pytest.approx(before.at, abs=1e-9)


def test_rows_and_columns_of_the_fit_are_those_that_are_lit():
    lit = lattice(lit_stop(PLAN, STOP))
    for x, y in lit.crossings:
        row, column = PLAIN.nearest_motif((x, y))
        assert PLAIN.expected((row, column)) == pytest.approx((x, y), abs=1e-9)


def test_rows_of_a_drop_too_are_those_that_are_lit():
    plan = plan_of(Wish(drop=F(1, 2)))
    stop = plan.stops[0]
    fit = PrintFit.plain(lattice_of(plan.job.cloth, plan.job.cloth.pieces[0]), float(stop.cloth_at_left))
    crossings = lattice(lit_stop(plan, stop)).crossings
    assert len({round(x, 6) for x, _ in crossings}) > 8
    for place in crossings:
        assert fit.expected(fit.nearest_motif(place)) == pytest.approx(place, abs=1e-9)


def test_cut_lines_follow_the_bow_within_a_thirty_second():
    edges = cut_edges(followed(SCENE, BENT, AT_LEFT))
    assert len(edges) == 2
    for points, straight in zip(edges, cut_edges(SCENE), strict=True):
        x = straight[0, 0]
        for start, end in pairwise(points):
            share = np.linspace(0, 1, 9)[:, None]
            lit = BENT.to_piece(start + (end - start) * share)
            off = np.abs(lit[:, 0] - (x + AT_LEFT)) * BENT.stretch_along
            assert off.max() <= STRAY_IN + 1e-9 < 1 / 32


def test_a_straight_cloth_gets_lines_of_two_points():
    edges = cut_edges(followed(SCENE, replace(BENT, bow_in=0.0), AT_LEFT))
    assert [len(points) for points in edges] == [2, 2]


def test_letters_turn_with_the_cloth_and_keep_their_size():
    text = Text(Kind.LETTER, "left", (10.0, 27.0), 0.6)
    (lit,) = followed(Scene((text,)), BENT, AT_LEFT).marks
    assert (lit.height, lit.turn_deg) == (0.6, pytest.approx(1.2))
    assert lit.at == pytest.approx(BENT.to_table([(10 + AT_LEFT, 27)])[0].tolist())


def test_hatched_outlines_are_bent_and_stay_closed_once():
    square = Hatch(Kind.DONE, ((0.0, 0.0), (20.0, 0.0), (20.0, 54.0), (0.0, 54.0)))
    (lit,) = followed(Scene((square,)), BENT, AT_LEFT).marks
    parts = math.ceil(math.sqrt(1.6 / STRAY_IN))
    assert len(lit.outline) == 2 + 2 * parts
    assert lit.outline[0] != lit.outline[-1]


def test_square_cut_lines_stand_at_right_angles_to_the_selvedge():
    square = fit_to_follow(BENT, Follow.SELVEDGE)
    for points in cut_edges(followed(SCENE, square, AT_LEFT)):
        across = points[-1] - points[0]
        assert math.degrees(math.atan2(across[1], across[0])) == pytest.approx(90 + 1.2, abs=1e-9)
    assert fit_to_follow(BENT, Follow.PRINT) is BENT


def test_plain_cloth_and_cloth_of_unknown_columns_have_no_lattice():
    cloth = PLAN.job.cloth
    with pytest.raises(NoLattice) as plain:
        lattice_of(replace(cloth, repeat=None))
    assert plain.value.plain
    with pytest.raises(NoLattice) as narrow:
        lattice_of(replace(cloth, repeat=Repeat(F(12))))
    assert not narrow.value.plain
