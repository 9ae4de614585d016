"""What the eye sees: light on the table, mixed in light."""

import numpy as np
import pytest

from projector.demo.brightness import linear_of, screen_of
from projector.demo.cloth import LaidCloth
from projector.demo.view import AMBIENT, BLACK, LAMP, WOOD, Outlook, View, picture_of
from projector.demo.virtual_projector import Hung, projector_over

TABLE = (96.0, 60.0)


def frame_of(projector):
    return np.zeros((projector.height_px, projector.width_px), np.uint32)


def pixel_at(outlook, x, y):
    """Row and column of the picture where a table place lies, y upwards."""
    return (
        int(outlook.height_px - (y - outlook.near) * outlook.px_per_in),
        int((x - outlook.left) * outlook.px_per_in),
    )


@pytest.mark.parametrize(("value", "light"), [(1, 0.00030353), (10, 0.00303527), (128, 0.21586), (188, 0.502886)])
def test_screen_values_mean_the_published_light(value, light):
    # IEC 61966-2-1 (sRGB)
    assert float(linear_of(np.array(value, np.uint8))) == pytest.approx(light, rel=3e-5)


def test_screen_values_survive_a_round_trip_through_light():
    values = np.arange(256, dtype=np.uint8)
    assert (screen_of(linear_of(values)) == values).all()


def test_a_lit_pixel_is_seen_where_the_true_map_puts_it():
    projector = projector_over(*TABLE, Hung(tilt_deg=20, towards_deg=250))
    frame, outlook = frame_of(projector), Outlook.over(*TABLE, 960, 600)
    dark = View(projector, None, outlook, TABLE).seen(frame)
    u, v = (int(n) for n in projector.to_frame([(70.0, 12.0)])[0])
    frame[v - 4 : v + 5, u - 4 : u + 5] = 0xFFFFFF
    lit = View(projector, None, outlook, TABLE).seen(frame)
    rows, columns = np.nonzero((lit != dark).any(axis=-1))
    expected = pixel_at(outlook, 70.0, 12.0)
    assert abs(rows.mean() - expected[0]) < 1.5  # half a picture pixel, and the block's own middle
    assert abs(columns.mean() - expected[1]) < 1.5


def test_seen_light_is_reflectance_times_ambient_and_decoded_lamp():
    projector = projector_over(*TABLE)
    frame = frame_of(projector)
    frame[:] = 0x800000
    paper = LaidCloth(96, 60, 96, 60, selvedge=60.0)
    outlook = Outlook.over(*TABLE, 480, 300)
    seen = View(projector, paper, outlook, TABLE).seen(frame)[150, 240]
    reflects = linear_of(np.frombuffer(bytes.fromhex("aeb4b8"), np.uint8))
    on, off = BLACK + (1 - BLACK) * (128 / 255) ** 2.2, BLACK
    expected = screen_of((reflects * (AMBIENT + LAMP * np.array([on, off, off]))).astype(np.float32))
    assert seen == pytest.approx(expected, abs=1)


def test_light_on_the_far_side_is_seen_at_the_top_and_left_stays_left():
    projector = projector_over(*TABLE)
    frame, outlook = frame_of(projector), Outlook.over(*TABLE, 480, 300)
    frame[:300, :400] = 0xFFFFFF
    view = View(projector, None, outlook, TABLE)
    brighter = view.seen(frame).astype(int).sum(axis=-1) - view.seen(frame_of(projector)).astype(int).sum(axis=-1)
    rows, columns = np.nonzero(brighter)
    assert rows.max() < 150
    assert columns.max() < 240


def test_the_quick_view_equals_every_place_worked_out_one_by_one():
    projector = projector_over(*TABLE, Hung(tilt_deg=12, towards_deg=30))
    rng = np.random.default_rng(7)
    frame = frame_of(projector)
    frame[rng.integers(0, 1080, 4000), rng.integers(0, 1920, 4000)] = rng.integers(1, 1 << 24, 4000)
    outlook = Outlook.over(*TABLE, 240, 160)
    seen = View(projector, None, outlook, TABLE).seen(frame)
    for row, column in [(40, 50), (80, 120), (100, 200), (121, 33)]:
        x = outlook.left + (column + 0.5) / outlook.px_per_in
        y = outlook.near + (160 - row - 0.5) / outlook.px_per_in
        u, v = projector.to_frame([(x, y)])[0] - 0.5
        left, top = int(u), int(v)
        light = np.zeros(3)
        for dv, share_v in ((0, 1 - (v - top)), (1, v - top)):
            for du, share_u in ((0, 1 - (u - left)), (1, u - left)):
                value = int(frame[top + dv, left + du])
                channels = np.array([value >> 16 & 255, value >> 8 & 255, value & 255]) / 255
                light += share_u * share_v * LAMP * (BLACK + (1 - BLACK) * channels**2.2)
        grain = 1 + 0.05 * np.sin(y * 2.1 + 0.6 * np.sin(x / 17)) + 0.03 * np.sin(y * 7.3 + np.sin(x / 9) + 1)
        wood = linear_of(np.frombuffer(bytes.fromhex(WOOD[1:]), np.uint8)) * grain
        assert seen[row, column] == pytest.approx(screen_of((wood * (AMBIENT + light)).astype(np.float32)), abs=1)


def test_a_frame_of_another_size_is_refused():
    projector = projector_over(*TABLE)
    with pytest.raises(ValueError, match="1920 by 1080"):
        View(projector, None, Outlook.over(*TABLE, 240, 160), TABLE).seen(np.zeros((720, 1280), np.uint32))


def test_a_picture_for_a_file_has_the_size_asked_for():
    projector = projector_over(*TABLE)
    assert picture_of(projector, None, frame_of(projector), 200, 120, TABLE).shape == (120, 200, 3)


def test_an_eye_grows_used_to_a_table_that_is_lit_all_over_so_that_motif_and_dark_marks_are_seen():
    projector = projector_over(*TABLE)
    frame, outlook = frame_of(projector), Outlook.over(*TABLE, 480, 300)
    frame[:] = 0xFFFFFF
    frame[500:560, 900:960] = 0
    paper = LaidCloth(96, 60, 96, 60, selvedge=60.0)
    view = View(projector, paper, outlook, TABLE)
    seen = linear_of(view.seen(frame))
    lit, dark = seen[40, 240], seen[151, 232]
    assert lit.max() > 0.9
    # Twice as bright and more: the dark mark keeps its share of the light, whatever the eye is used to.
    assert (lit / dark).min() == pytest.approx((AMBIENT + LAMP) / (AMBIENT + LAMP * BLACK), rel=0.05)


def test_a_few_bright_marks_do_not_dim_the_table():
    projector = projector_over(*TABLE)
    frame, outlook = frame_of(projector), Outlook.over(*TABLE, 480, 300)
    view = View(projector, None, outlook, TABLE)
    unlit = view.seen(frame)
    frame[:200] = 0xFFFFFF
    assert (view.seen(frame)[200:] == unlit[200:]).all()
