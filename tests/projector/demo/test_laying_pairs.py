"""Pairs cut by a light fitted to the print: their edges match over the whole cloth width."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from calibration.registration.advice import where_next
from calibration.registration.fit import PrintFit
from calibration.registration.registering import register
from jobs.io.reader import read_job
from jobs.planning.planner import plan_job
from projector.demo.cloth import LaidCloth
from projector.demo.setup import cloth_at
from projector.scene.marks import Kind
from projector.scene.moved import followed
from projector.scene.print_marks import lattice_of
from projector.scene.stop_scene import scene_of_stop
from tests.projector.commands.running import READING_ROOM
from tests.projector.demo import laying_trials as trials

TRIALS = 200


@pytest.mark.parametrize("turned", [True, False], ids=["turned pair", "upright pair"])
def test_edges_match_within_a_sixteenth_in_95_of_100_pairs(turned):
    rng = np.random.default_rng(20)
    bolt = trials.Bolt(turned=turned)
    missed = np.array([trials.mismatch(bolt, rng, trials.NEAREST) for _ in range(TRIALS)])
    assert (missed <= 1 / 16).mean() >= 0.95


def test_without_laying_pairs_miss_by_inches():
    rng = np.random.default_rng(21)
    missed = np.array([trials.mismatch_unlaid(trials.Bolt(), rng) for _ in range(TRIALS)])
    assert (missed <= 1 / 16).mean() < 0.01
    assert np.median(missed) > 1.5


def test_points_marked_exactly_make_pairs_that_match_exactly():
    rng = np.random.default_rng(22)
    bolt = trials.Bolt()
    cloth = trials.laid(trials.cloth_of(bolt, rng), 10.0, rng)
    motifs = trials.advised(bolt, bolt.spans[0], 4)
    found = cloth.motif_points(motifs).tolist()
    points = [trials.PrintPoint(*motif, tuple(place)) for motif, place in zip(motifs, found, strict=True)]
    fit = register(points, PrintFit.plain(bolt.lattice, 10.0)).fit
    assert np.abs(trials.off_print(bolt, 0, cloth, fit)).max() < 1e-8


def test_the_cuts_of_a_turned_pair_show_the_same_rows():
    # Tops stand equally far above the next row, measured down the panel.
    bolt = trials.Bolt()
    (start, _), (_, end) = bolt.spans
    down_first = (bolt.first_row - start) % bolt.along
    down_second = (end - bolt.first_row) % bolt.along
    assert down_first == pytest.approx(down_second)


def test_stretched_cloth_lies_longer_and_is_found_again():
    cloth = LaidCloth(200, 54, 12, 13, at_left=30, shift=(0.4, -0.2), turn_deg=1.5, stretch_along=1.01)
    cloth = replace(cloth, stretch_across=0.98)
    ends = cloth.to_table([(30, 0), (130, 0), (30, 54)])
    assert np.hypot(*(ends[1] - ends[0])) == pytest.approx(101)
    assert np.hypot(*(ends[2] - ends[0])) == pytest.approx(54 * 0.98)
    places = np.array([(30.0, 0.0), (100.0, 54.0), (63.0, 20.0)])
    assert cloth.to_piece(cloth.to_table(places)) == pytest.approx(places, abs=1e-10)


def test_motif_points_of_one_row_lie_at_one_place_of_the_print():
    cloth = LaidCloth(200, 54, 12, 13, first_row=5, skew=1.0, bow=0.75, stretch_along=1.01, turn_deg=2)
    rows = cloth.to_print(cloth.motif_points([(2, 0), (2, 1), (2, 3)]))[:, 0]
    assert rows == pytest.approx([29, 29, 29])


@pytest.mark.parametrize("stop", [0, 1])
def test_the_lit_cut_lines_of_a_job_lie_on_the_print_within_a_thirty_second(stop):
    plan = plan_job(read_job(READING_ROOM))
    at = plan.stops[stop]
    at_left = float(at.cloth_at_left)
    cloth = replace(
        cloth_at(plan, at), shift=(0.4, -0.3), turn_deg=0.9, stretch_along=1.01, stretch_across=0.995, skew=1, bow=-0.9
    )
    lattice = lattice_of(plan.job.cloth, plan.pieces[0].piece)
    motifs = []
    for _ in range(4):
        motifs.append(where_next(lattice, float(at.lit_from), float(at.lit_to), motifs))
    points = [
        trials.PrintPoint(*motif, tuple(place))
        for motif, place in zip(motifs, cloth.motif_points(motifs).tolist(), strict=True)
    ]
    scene = scene_of_stop(plan, at)
    fit = register(points, PrintFit.plain(lattice, at_left)).fit
    lines = [np.array(mark.points) for mark in followed(scene, fit, at_left).of(Kind.CUT)]
    planned = [np.array(mark.points) for mark in scene.of(Kind.CUT)]
    edges = [(bent, straight) for bent, straight in zip(lines, planned, strict=True) if np.ptp(straight[:, 1]) > 20]
    assert len(edges) == len(at.shows)
    for bent, straight in edges:
        for start, end in pairwise(bent):
            lit = cloth.to_print(start + (end - start) * np.linspace(0, 1, 5)[:, None])
            assert np.abs(lit[:, 0] - (straight[0, 0] + at_left)).max() < 1 / 32
