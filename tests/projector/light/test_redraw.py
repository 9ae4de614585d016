"""A frame redrawn over the last one is the frame drawn anew, whatever was lit before."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from projector.light.raster import canvas as canvas_module
from projector.light.raster.canvas import Canvas
from projector.light.raster.frame import BLOCK
from projector.light.styles import STYLES, recoloured
from projector.light.warp import draw
from projector.scene.marks import Kind, Scene, Stroke, Text
from projector.scene.moved import MovedScene
from tests.projector.light.tables import table_at

WIDTH, HEIGHT = 320, 180
TABLE = table_at(((0, HEIGHT), (WIDTH, HEIGHT), (WIDTH - 20, 0), (12, 0)), WIDTH, HEIGHT)

along, across = st.floats(-4, 52), st.floats(-3, 30)
places = st.tuples(along, across)
lines = st.builds(Stroke, st.sampled_from([Kind.CUT, Kind.ROW, Kind.TRIM, Kind.GUIDE]), st.tuples(places, places))
words = st.builds(
    Text, st.just(Kind.LETTER), st.sampled_from(["TOP", "1 of 2"]), places, st.floats(0.3, 2), st.floats(-90, 90)
)
scenes = st.builds(Scene, st.lists(st.one_of(lines, words), max_size=5).map(tuple))


def anew(scene: Scene) -> np.ndarray:
    canvas = Canvas(WIDTH, HEIGHT)
    draw(scene, TABLE, canvas)
    return canvas.frame.copy()


@given(st.lists(scenes, min_size=2, max_size=5))
@settings(max_examples=40)
def test_any_sequence_of_scenes_leaves_the_frame_of_its_last_one(sequence):
    canvas, pixels = Canvas(WIDTH, HEIGHT), np.full((HEIGHT, WIDTH), 0x123456, np.uint32)
    for scene in sequence:
        draw(scene, TABLE, canvas)
        canvas.into(pixels)
        assert (pixels == anew(scene)).all()


LINE = Scene((Stroke(Kind.CUT, ((5, 5), (40, 20))),))
OTHER = Scene((Stroke(Kind.CUT, ((6, 5), (41, 20))), Text(Kind.LETTER, "TOP", (20.0, 8.0), 1.0)))


def shown(canvas: Canvas, scene: Scene, pixels: np.ndarray) -> None:
    draw(scene, TABLE, canvas)
    canvas.into(pixels)


def test_only_what_was_or_is_lit_is_written_the_second_time():
    canvas, pixels = Canvas(WIDTH, HEIGHT), np.zeros((HEIGHT, WIDTH), np.uint32)
    shown(canvas, LINE, pixels)
    pixels[:10, :10] = 7  # far from both scenes: proof that the rest is left alone
    shown(canvas, OTHER, pixels)
    assert (pixels[:10, :10] == 7).all()
    pixels[:10, :10] = 0
    assert (pixels == anew(OTHER)).all()


@pytest.mark.parametrize("spoil", [0, 0x00FF00])
def test_pixels_that_lost_the_last_frame_are_written_whole(spoil):
    canvas, pixels = Canvas(WIDTH, HEIGHT), np.zeros((HEIGHT, WIDTH), np.uint32)
    shown(canvas, LINE, pixels)
    pixels[:] = spoil
    shown(canvas, OTHER, pixels)
    assert (pixels == anew(OTHER)).all()


def test_after_a_dark_frame_everything_is_written():
    canvas, pixels = Canvas(WIDTH, HEIGHT), np.zeros((HEIGHT, WIDTH), np.uint32)
    shown(canvas, Scene(), pixels)
    pixels[:] = 9
    shown(canvas, LINE, pixels)
    assert (pixels == anew(LINE)).all()


def test_another_array_is_written_whole():
    canvas = Canvas(WIDTH, HEIGHT)
    first, second = np.full((2, HEIGHT, WIDTH), 5, np.uint32)
    shown(canvas, LINE, first)
    shown(canvas, LINE, second)
    assert (first == second).all()


FULL = Scene(tuple(Stroke(Kind.CUT, ((-9, y), (60, y + 2))) for y in range(-4, 30)))


def test_a_frame_drawn_all_over_is_had_as_often_as_it_is_asked_for():
    canvas, first, second = Canvas(WIDTH, HEIGHT), *np.full((2, HEIGHT, WIDTH), 5, np.uint32)
    letters = Scene((*FULL.marks, *OTHER.marks))
    for _ in range(3):  # the letters are new, then worked out as what stays, then stay
        shown(canvas, letters, first)
        canvas.into(second)
        assert (first == anew(letters)).all()
        assert (first == second).all()
        assert (first == canvas.frame).all()


def test_nothing_is_left_of_a_frame_drawn_all_over_inside_or_beside_what_is_shown():
    canvas, pixels = Canvas(WIDTH, HEIGHT), np.zeros((HEIGHT, WIDTH), np.uint32)
    shown(canvas, FULL, pixels)
    shown(canvas, LINE, pixels)
    assert (pixels == anew(LINE)).all()
    shown(canvas, Scene(), pixels)
    assert not canvas._padded.any()


@pytest.mark.parametrize("width", [1366, 1920 + BLOCK // 2])
def test_widths_that_are_no_whole_number_of_blocks_are_right_too(width):
    table = table_at(((0, HEIGHT), (width, HEIGHT), (width, 0), (0, 0)), width, HEIGHT)
    canvas, pixels = Canvas(width, HEIGHT), np.zeros((HEIGHT, width), np.uint32)
    for scene in (LINE, OTHER):
        draw(scene, table, canvas)
        canvas.into(pixels)
    fresh = Canvas(width, HEIGHT)
    draw(OTHER, table, fresh)
    assert (pixels == fresh.frame).all()


def test_pixels_with_gaps_between_their_rows_are_right_too():
    canvas, around = Canvas(WIDTH, HEIGHT), np.zeros((HEIGHT, WIDTH + 8), np.uint32)
    pixels = around[:, :WIDTH]
    for scene in (LINE, OTHER):
        shown(canvas, scene, pixels)
    assert (pixels == anew(OTHER)).all()
    assert (around[:, WIDTH:] == 0).all()


WORDS = (Text(Kind.LETTER, "TOP", (20.0, 8.0), 2.0), Text(Kind.LEFTOVER, "1 of 2", (30.0, 15.0), 1.0, 30.0))
steps = st.tuples(
    st.sets(st.sampled_from(WORDS)),
    st.sampled_from([None, None, ((1.0, 0.0, 0.25), (0.0, 1.0, 0.0))]),
    st.sampled_from([STYLES, STYLES, recoloured(STYLES, {Kind.LETTER: 0x56B4E9})]),
)


@given(st.lists(steps, min_size=3, max_size=9))
@settings(max_examples=40)
def test_letters_are_lit_as_those_drawn_anew_whatever_was_lit_before(sequence):
    canvas = Canvas(WIDTH, HEIGHT)
    for words_lit, motion, styles in sequence:
        scene = Scene((*LINE.marks, *sorted(words_lit, key=str)))
        fresh = Canvas(WIDTH, HEIGHT)
        for one in (fresh, canvas):
            draw(Scene(), TABLE, one, styles=styles, under=MovedScene(scene, motion))
        assert (canvas.frame == fresh.frame).all()


staying = st.lists(words, min_size=1, max_size=3, unique=True)


@given(staying, st.lists(st.tuples(scenes, st.booleans(), st.booleans()), min_size=3, max_size=6))
@settings(max_examples=60)
def test_letters_that_stay_are_lit_as_if_they_were_new_over_whatever_changes(letters, sequence):
    canvas, pixels = Canvas(WIDTH, HEIGHT), np.zeros((HEIGHT, WIDTH), np.uint32)
    for others, stay, red in sequence:
        scene = Scene((*others.marks, *letters)) if stay else others
        styles = recoloured(STYLES, {Kind.LETTER: 0xFF0000}) if red else STYLES
        draw(scene, TABLE, canvas, styles=styles)
        canvas.into(pixels)
        fresh = Canvas(WIDTH, HEIGHT)
        draw(scene, TABLE, fresh, styles=styles)
        assert (pixels == fresh.frame).all()


def test_letters_that_stay_are_worked_out_once(monkeypatch):
    canvas, drawn = Canvas(WIDTH, HEIGHT), []
    really = canvas_module.draw_fills
    monkeypatch.setattr(canvas_module, "draw_fills", lambda *given: (drawn.append(1), really(*given)))
    for shift in range(4):
        line = Stroke(Kind.CUT, ((6 + shift, 5), (41, 20)))
        draw(Scene((line, Text(Kind.LETTER, "TOP", (20.0, 8.0), 1.0))), TABLE, canvas)
    # Once as new, once as what stays.
    assert len(drawn) == 2


def test_letters_seen_through_another_calibration_are_other_letters():
    canvas = Canvas(WIDTH, HEIGHT)
    other = table_at(((0, HEIGHT), (WIDTH, HEIGHT), (WIDTH - 40, 0), (30, 0)), WIDTH, HEIGHT)
    for table in (TABLE, TABLE, TABLE, other, other, other, TABLE):
        draw(OTHER, table, canvas)
        fresh = Canvas(WIDTH, HEIGHT)
        draw(OTHER, table, fresh)
        assert (canvas.frame == fresh.frame).all()
