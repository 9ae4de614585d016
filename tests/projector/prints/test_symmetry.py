"""The drawn print has the symmetry that the job states and no other, for every plane group in every setting."""

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from jobs.model.choices import End, Run, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.print import Print, Repeat
from projector.prints.face import Face, face_of
from projector.prints.symmetry import lattice_of, operations_of
from tests.jobs.cutting.test_plane_groups import NAMES, SETTINGS, cloth_of, tiling_of
from tests.jobs.cutting.tilings import Array, side_to_side, top_to_bottom, turn

F = Fraction
INKS = {"colour": "#000000", "motif_colours": ("#ffffff", "#ff0000")}
of_each = pytest.mark.parametrize("setting", SETTINGS, ids=NAMES)
OUTLINES = 0.12
"""Share of the places near motifs that an outline may pass through, drawn 24 pixels to an inch."""


def dressed(setting, towards: End = End.FIRST, **more: object) -> Cloth:
    cloth = replace(cloth_of(setting), **INKS, **more)
    return replace(cloth, print=replace(cloth.print, top_towards=towards))


def places(setting) -> Array:
    """Places (N, 2) along and across from a motif point, over some repeats."""
    return np.random.default_rng(8).uniform(-1, 1, (6000, 2)) * (2 * setting.lattice.along, 2 * setting.lattice.across)


def looks(face: Face, at: Array) -> Array:
    """Colours (N, 3) at places from the motif point in the middle of the face."""
    return face.colours_at(at[:, 0], at[:, 1] + face.column).astype(float) / 255


def unlike(one: Array, other: Array) -> float:
    """The share of the places that show a motif in either, where the two differ."""
    motif = (one.max(axis=1) > 0.5) | (other.max(axis=1) > 0.5)
    assert motif.sum() > 60
    return float((np.abs(one - other).max(axis=1) > 0.5)[motif].mean())


def moved(at: Array, step) -> Array:
    return at @ np.reshape(step.matrix, (2, 2)).T + np.array(step.shift)


@of_each
def test_every_operation_of_the_group_leaves_the_drawn_print_as_it_was(setting):
    # The operations come from the group's generators as the tests write them, not from the program.
    face, at = face_of(dressed(setting)), places(setting)
    here = looks(face, at)
    operations = tiling_of(setting).operations
    assert len(operations) == len(operations_of(dressed(setting), lattice_of(dressed(setting))))
    for step in operations:
        assert unlike(here, looks(face, moved(at, step))) < OUTLINES


@of_each
def test_the_drawn_print_comes_again_after_a_repeat_and_dropped_in_the_next_column(setting):
    face, at, lattice = face_of(dressed(setting)), places(setting), setting.lattice
    here = looks(face, at)
    for step in ((lattice.along, 0.0), (lattice.drop * lattice.along, lattice.across)):
        assert unlike(here, looks(face, at + step)) < OUTLINES


@of_each
def test_the_drawn_print_has_no_mirror_slide_or_half_turn_that_is_not_stated(setting):
    face, at, lattice = face_of(dressed(setting)), places(setting), setting.lattice
    here = looks(face, at)
    stated = set(tiling_of(setting).operations)
    has_down, has_side, has_turn = (
        any(np.allclose(step.matrix, kind) for step in stated)
        for kind in ((-1, 0, 0, 1), (1, 0, 0, -1), (-1, 0, 0, -1))
    )
    tried = np.arange(24) / 48  # mirror lines come twice a repeat
    # Half a repeat level with itself: twice as far across where columns lie half-dropped.
    level = lattice.across * F(lattice.drop).limit_denominator(6).denominator
    if not has_down:
        for slide in (0.0, level / 2):
            best = min(unlike(here, looks(face, moved(at, top_to_bottom(t * lattice.along, slide)))) for t in tried)
            assert best > 2 * OUTLINES
    if not has_side:
        for slide in (0.0, lattice.along / 2):
            best = min(unlike(here, looks(face, moved(at, side_to_side(t * lattice.across, slide)))) for t in tried)
            assert best > 2 * OUTLINES
    if not has_turn:
        turned = (np.add(moved(at, turn(180)), (2 * a * lattice.along, 2 * b * lattice.across))
                  for a in tried[::3] for b in tried[::3])  # fmt: skip
        assert min(unlike(here, looks(face, there)) for there in turned) > 2 * OUTLINES


BOATS = Cloth("Boats", F(54), F(1, 2), Repeat(F(12), F(9)), **INKS)


def seed_and_leaf(face: Face, row_after: float) -> tuple[float, float]:
    """How far the middle of all that is lit about a motif point lies along and across from it, inches."""
    at = np.stack(np.meshgrid(np.linspace(-4, 4, 161), np.linspace(-4, 4, 161), indexing="ij"), -1).reshape(-1, 2)
    lit = looks(face, np.add(at, (row_after, 0.0))).max(axis=1) > 0.5
    along, across = at[lit].mean(axis=0)
    return float(along), float(across)


@pytest.mark.parametrize(
    ("cloth", "up", "right"),
    [
        (BOATS, (-1, 0), (0, 1)),
        (replace(BOATS, print=Print(top_towards=End.LAST)), (1, 0), (0, -1)),
        (replace(BOATS, run=Run.SIDEWAYS), (0, 1), (1, 0)),
    ],
)
def test_the_leaf_grows_up_and_to_the_right_as_the_cloth_hangs(cloth, up, right):
    # Tops towards the first end: the near selvedge hangs at the left. Run sideways, tops lie at the far selvedge.
    off = seed_and_leaf(face_of(cloth), 0.0)
    assert np.dot(off, up) > 0.7
    assert np.dot(off, right) > 0.3


@pytest.mark.parametrize(("towards", "sense"), [(End.FIRST, 1), (End.LAST, -1)])
def test_a_mirror_beside_the_row_lies_below_it_as_the_cloth_hangs_whichever_end_the_tops_point_to(towards, sense):
    sheet = Print(Symmetry.MIRROR, mirror_offset=F(2), top_towards=towards)
    face = face_of(replace(BOATS, print=sheet))
    at = np.random.default_rng(2).uniform(-6, 6, (6000, 2))
    mirrored = at * (-1, 1) + (sense * 4.0, 0.0)
    other_side = at * (-1, 1) - (sense * 4.0, 0.0)
    assert unlike(looks(face, at), looks(face, mirrored)) < OUTLINES
    assert unlike(looks(face, at), looks(face, other_side)) > 2 * OUTLINES
    # The motif on the row itself stands with its leaf up: it is its image below the line that hangs upside down.
    assert seed_and_leaf(face, 0.0)[0] * sense < 0 or seed_and_leaf(face, sense * 4.0)[0] * sense > 0


@pytest.mark.parametrize(
    ("sheet", "drop"),
    [
        (Print(), F(0)),
        (Print(group="p4"), F(0)),  # a quarter-turn cannot be on a repeat of 12 by 9
        (Print(Symmetry.MIRROR), F(1, 3)),  # nor a mirror where every column drops by a third
    ],
)
def test_what_is_not_stated_or_cannot_be_is_drawn_without_symmetry(sheet, drop):
    cloth = replace(BOATS, drop=drop, print=sheet)
    assert len(operations_of(cloth, lattice_of(cloth))) == 1


def test_measured_lengths_that_are_nearly_square_or_six_sided_have_their_turns_exactly():
    square = replace(BOATS, repeat=Repeat(F("12.01"), F("11.97")), print=Print(half_turn=True, group="p4"))
    six = replace(square, repeat=Repeat(F("12.02"), F("10.4")), drop=F(1, 2), print=Print(half_turn=True, group="p6"))
    assert len(operations_of(square, lattice_of(square))) == 4
    assert len(operations_of(six, lattice_of(six))) == 6


def test_shapes_and_pixels_of_a_face_are_of_one_size():
    face = face_of(BOATS)
    assert face.pixels.shape == (288, 216, 3)
    assert {shape.colour for shape in face.shapes or ()} == {"#ffffff", "#ff0000"}
    plain = face_of(replace(BOATS, repeat=None, colour="#204060"))
    assert plain.shapes == ()
    assert plain.colours_at(np.array([3.0, 90.0]), np.array([5.0, 50.0])).tolist() == [[0x20, 0x40, 0x60]] * 2
