"""Which motif points are asked for."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from calibration.registration.advice import where_next
from calibration.registration.fit import PrintFit
from calibration.registration.fitting import Term, terms_for
from calibration.registration.lattice import PrintLattice
from calibration.registration.registering import register
from tests.calibration.registration.clothes import LATTICE, PLAIN, marked

EDGES = np.array([(at, across) for at in (3.0, 96.0) for across in np.linspace(0, 54, 9)])


def asked(lattice, count, start=3.0, end=96.0, is_lit=None):
    motifs = []
    for _ in range(count):
        motif = where_next(lattice, start, end, motifs, is_lit)
        if motif is None:
            break
        motifs.append(motif)
    return motifs


def error_of(motifs):
    return register(marked(PLAIN, motifs), PLAIN).along_error_in(EDGES).max()


def test_four_points_asked_for_tell_everything():
    for lattice in (LATTICE, PrintLattice.centred(25, 13.5, 55, 0.5), PrintLattice.centred(6, 6.5, 48, drop=0.5)):
        motifs = asked(lattice, 4)
        assert len(set(motifs)) == 4
        assert set(terms_for(motifs, lattice)) == set(Term)


def test_no_four_of_many_random_choices_are_better():
    rng = np.random.default_rng(5)
    motifs = [(row, column) for row in LATTICE.rows_between(3, 96) for column in range(4)]
    best = error_of(asked(LATTICE, 4))
    for _ in range(300):
        four = [motifs[index] for index in rng.choice(len(motifs), 4, replace=False)]
        if set(terms_for(four, LATTICE)) == set(Term):
            # 5 %: of seven rows only four are tried
            assert error_of(four) > 0.95 * best


def test_every_further_point_makes_the_light_better():
    errors = [error_of(asked(LATTICE, count)) for count in (4, 5, 6, 8, 10)]
    assert all(later < earlier for earlier, later in pairwise(errors))


def test_no_other_fifth_or_sixth_point_is_better():
    # Four rows of four columns: every one of them is tried.
    lattice = PrintLattice.centred(30, 13.25, 54, 0.5)
    plain = PrintFit.plain(lattice)
    edges = lattice.edges(3.0, 96.0, 16)

    def error(motifs):
        return register(marked(plain, motifs), plain).along_error_in(edges).max()

    motifs = asked(lattice, 4)
    for _ in range(2):
        others = [(row, column) for row in lattice.rows_between(3, 96) for column in range(4)]
        best = min(error([*motifs, other]) for other in others if other not in motifs)
        motifs.append(where_next(lattice, 3.0, 96.0, motifs))
        assert error(motifs) == pytest.approx(best, rel=1e-3)  # cloth is taken to be near its plan


def test_only_lit_points_are_asked_for():
    assert all(column < 3 for _, column in asked(LATTICE, 6, is_lit=lambda motif: motif[1] < 3))


def test_when_all_are_marked_nothing_is_asked_for():
    lattice = PrintLattice.centred(30, 40, 54)
    assert asked(lattice, 9, 0, 40) == [(0, 0), (1, 0)]
    assert where_next(lattice, 1, 20) is None
