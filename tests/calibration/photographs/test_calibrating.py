"""Photographs and one length give the table; what cannot is refused with what to do next."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from calibration.photographs.bundle import bundle
from calibration.photographs.calibrating import AGREES, calibrate, heights_in
from calibration.photographs.model import Model
from calibration.photographs.pattern import Pattern
from calibration.photographs.sighting import Sighting
from calibration.photographs.taping import Taped, table_of
from calibration.problems import Code, PhotographRefused
from calibration.uncertainty import Uncertainty
from projector.demo.virtual_camera import from_around
from projector.files.table_file import Stored, read_stored, write_stored
from tests.benchmarks.calibration_photographs import TABLE_IN, rig
from tests.calibration.photographs.lit_lines import lit_lines_off_in
from tests.calibration.photographs.rigs import (
    PATTERN,
    around,
    crosses_in,
    judged,
    length_in,
    off_in,
    projector,
    sighted,
)

LIT = projector()
FIVE = [sighted(camera, LIT, seed) for seed, camera in enumerate(around(5))]
BUNDLE = bundle(PATTERN, FIVE)


def codes(refused: pytest.ExceptionInfo[PhotographRefused]) -> list[Code]:
    return [one.code for one in refused.value.problems]


def test_the_slopes_are_those_of_differences() -> None:
    model = Model(PATTERN, FIVE[:2])
    values = np.concatenate([BUNDLE.values[:13], BUNDLE.values[13 : 13 + 14]])
    slopes = model(values, 1.0)[1]
    corners = 2 * sum(len(one.numbers) for one in FIVE[:2])
    for number in range(len(values)):
        step = np.zeros(len(values))
        step[number] = 1e-6
        differences = (model(values + step, 1.0)[0] - model(values - step, 1.0)[0]) / 2e-6
        np.testing.assert_allclose(slopes[:corners, number], differences[:corners], atol=1e-4)


def test_five_photographs_and_a_true_length_know_the_light_to_a_thirty_second() -> None:
    table = table_of(BUNDLE, PATTERN, Taped((length_in(LIT),)))
    assert BUNDLE.sigma_px == pytest.approx(0.25, rel=0.05)  # the noise that was put in, wrong corners left out
    assert off_in(table, LIT) < 1 / 32
    assert off_in(table, LIT) < Uncertainty(table).everywhere_in() < 3 / 32
    assert table.marks[0].table == (0.0, 0.0)
    assert (table.to_table(PATTERN.corners_px)[:, 1] > -12).all()


@pytest.mark.parametrize("mirrored", [False, True])
def test_lines_lit_by_it_are_found_where_they_are_meant(mirrored: bool) -> None:
    lit = projector(mirrored=mirrored)
    five = [sighted(camera, lit, seed) for seed, camera in enumerate(around(5))]
    table = table_of(bundle(PATTERN, five), PATTERN, Taped((length_in(lit),)))
    # On the rendered frame, which knows nothing of the fit: the drawing of a line adds a hundredth of an inch.
    off = lit_lines_off_in(table, lit, crosses_in(lit))
    assert 0 < off < off_in(table, lit) + 1 / 64
    assert off < 1 / 32
    # A wrong length shows in them, as a share of how far they are from zero.
    wrong = table_of(bundle(PATTERN, five), PATTERN, Taped((length_in(lit) * 1.001,)))
    assert lit_lines_off_in(wrong, lit, crosses_in(lit)) > 1 / 24


def test_a_tape_that_is_wrong_by_a_share_makes_all_wrong_by_it() -> None:
    true, wrong = (table_of(BUNDLE, PATTERN, Taped((length_in(LIT) * much,))) for much in (1, 1.01))
    np.testing.assert_allclose(wrong.to_table([(700, 300)]), 1.01 * true.to_table([(700, 300)]), rtol=1e-9)


def test_a_mirror_in_the_path_of_the_light_is_seen_and_zero_stays_at_the_left() -> None:
    lit = projector(mirrored=True)
    five = [sighted(camera, lit, seed) for seed, camera in enumerate(around(5))]
    table = table_of(bundle(PATTERN, five), PATTERN, Taped((length_in(lit),)))
    assert off_in(table, lit) < 1 / 24
    assert table.marks[0].pixel == tuple(PATTERN.crosses_px[1].tolist())


def test_two_cameras_go_together() -> None:
    wide = replace(around(1)[0], focal_px=1300.0, width_px=2000, height_px=1500, k1=-0.03, principal_px=(0.0, 0.0))
    first, second = around(6, seed=4)[:3], around(6, seed=5, like=wide)[:3]
    six = [sighted(camera, LIT, seed) for seed, camera in enumerate(first)]
    six += [sighted(camera, LIT, 10 + seed, noise_px=0.12, name="b") for seed, camera in enumerate(second)]
    assert off_in(table_of(bundle(PATTERN, six), PATTERN, Taped((length_in(LIT),))), LIT) < 1 / 24


def test_a_calibration_from_photographs_comes_back_from_its_file_bit_for_bit(tmp_path: Path) -> None:
    table = table_of(BUNDLE, PATTERN, Taped((72.0, 72.03125)))
    write_stored(tmp_path / "table.yaml", Stored(table))
    read = read_stored(tmp_path / "table.yaml").table
    assert read == table
    assert Uncertainty(read).everywhere_in() == Uncertainty(table).everywhere_in()


def test_two_photographs_are_refused_and_one_given_twice_counts_once() -> None:
    with pytest.raises(PhotographRefused) as refused:
        calibrate(PATTERN, judged([FIVE[0], FIVE[1], FIVE[0]]), Taped((72.0,)))
    assert codes(refused) == [Code.SAME_PHOTOGRAPH, Code.TOO_FEW_PHOTOGRAPHS]


def test_photographs_from_one_place_are_refused_with_where_to_stand_next() -> None:
    camera = around(5)[0]
    x, y, z = camera.lens_at
    alike = [replace(camera, lens_at=(x + step, y - step, z + step)) for step in (0.0, 1.0, 2.0)]
    with pytest.raises(PhotographRefused) as refused:
        calibrate(PATTERN, judged([sighted(one, LIT, seed) for seed, one in enumerate(alike)]), Taped((72.0,)))
    assert codes(refused) == [Code.SHAPE_OPEN]
    assert refused.value.problems[0].value("side") in range(8)


@pytest.mark.parametrize("at", [0, 2, 4])
def test_a_photograph_of_another_light_is_named(at: int) -> None:
    other = sighted(around(5)[at], replace(LIT, lens_at=(66.0, 10.0, 96.0)), 2)
    with pytest.raises(PhotographRefused) as refused:
        calibrate(PATTERN, judged([*FIVE[:at], other, *FIVE[at + 1 :]]), Taped((72.0,)))
    assert [one.path for one in refused.value.problems] == [("photographs", at)]
    assert codes(refused) == [Code.OTHER_LIGHT]


def test_a_light_that_moved_between_the_photographs_is_told() -> None:
    # Shifted or turned on the table it has the same shape, as if cameras had stood elsewhere: that is no harm. Tilted:
    moved = replace(LIT, lens_at=(LIT.lens_at[0] + 2.0, *LIT.lens_at[1:]))
    then = [sighted(camera, moved, seed) for seed, camera in enumerate(around(5))]
    with pytest.raises(PhotographRefused) as refused:
        calibrate(PATTERN, judged([*FIVE[:3], *then[3:]]), Taped((72.0,)))
    assert set(codes(refused)) == {Code.OTHER_LIGHT}


def test_a_photograph_of_another_light_to_which_the_others_bend_is_named() -> None:
    # Rig 5092 of the benchmark of traps: half of its corners agreed with the four others, and all of them but roughly.
    pattern, rng = Pattern(1920, 1080), np.random.default_rng(5092)
    (lit, like), (other, _) = rig(rng, 1344), rig(rng, 1344)
    lights = [lit, lit, lit, lit, replace(other, mirrored=lit.mirrored)]
    seen = []
    for number, (camera, light) in enumerate(zip(from_around(TABLE_IN, like, 5, rng), lights, strict=True)):
        pixels = camera.to_picture(light.to_table(pattern.corners_px))
        pixels += np.random.default_rng(number).normal(0, 0.14, pixels.shape)
        inside = np.flatnonzero(((pixels > 0) & (pixels < (camera.width_px, camera.height_px))).all(axis=1))
        seen.append(Sighting(inside, pixels[inside], camera.width_px, camera.height_px, "a"))
    assert bundle(pattern, seen).kept_shares.min() > AGREES
    with pytest.raises(PhotographRefused) as refused:
        calibrate(pattern, judged(seen), Taped((90.0, 90.0)))
    assert [(one.path, one.code) for one in refused.value.problems] == [(("photographs", 4), Code.OTHER_LIGHT)]


def test_a_light_that_moved_a_little_is_doubted() -> None:
    moved = replace(LIT, lens_at=(LIT.lens_at[0] + 0.2, *LIT.lens_at[1:]))
    one = sighted(around(5)[2], moved, 2)
    made = calibrate(PATTERN, judged([*FIVE[:2], one, *FIVE[3:]]), Taped((length_in(LIT),) * 2))
    assert [doubt.code for doubt in made.doubts] == [Code.HARDLY_TOGETHER]
    # A part of a photograph that agrees with nothing, as if the table's far end had been lifted.
    x = (FIVE[4].pixels - FIVE[4].middle_px) / FIVE[4].long_px
    off = np.where(x[:, :1] < 0, 0.0, 2 * np.column_stack([np.sin(9 * x[:, 1]), np.cos(7 * x[:, 0])]))
    made = calibrate(
        PATTERN, judged([*FIVE[:4], replace(FIVE[4], pixels=FIVE[4].pixels + off)]), Taped((length_in(LIT),) * 2)
    )
    assert [doubt.code for doubt in made.doubts] == [Code.HARDLY_TOGETHER]


def test_what_nothing_tests_is_said() -> None:
    true = length_in(LIT)
    few = calibrate(PATTERN, judged(FIVE[:4]), Taped((true,)))
    assert [one.code for one in few.doubts] == [Code.UNTESTED, Code.READ_ONCE]
    assert calibrate(PATTERN, judged(FIVE), Taped((true, true + 1 / 32))).doubts == ()


def test_a_length_typed_wrong_is_doubted_where_it_can_be() -> None:
    true = length_in(LIT)
    with pytest.raises(PhotographRefused) as refused:
        calibrate(PATTERN, judged(FIVE), Taped((true, true + 1)))
    assert codes(refused) == [Code.LENGTHS_DIFFER]
    # Centimetres for inches: the camera would have been 2.54 times as high, above 200 in.
    assert max(heights_in(BUNDLE, PATTERN, Taped((true * 2.54,)))) > 150
