import json

import numpy as np
import pytest
from PIL import Image

from tests.jobs.cutting.tilings import settings
from tests.jobs.photo.pictures import photograph
from tests.projector.commands.running import READING_ROOM, run

SIZE = (330, 400)
SHARE = 0.002
"""Of a repeat: how far off it may be."""


@pytest.fixture
def photo(tmp_path):
    setting = settings()[0]
    picture, per_inch = photograph(setting, 101, size=SIZE)
    path = tmp_path / "cloth.png"
    Image.fromarray(np.rint(np.clip(picture, 0, 1) * 255).astype(np.uint8)).save(path)
    return path, setting, per_inch


def test_a_photograph_gives_the_stable_keys_in_inches(photo):
    path, setting, per_inch = photo
    ran = run("measure", path, "--pixels-per-inch", per_inch, "--json")
    assert (ran.code, ran.err) == (0, "")
    told = json.loads(ran.out)
    assert set(told) >= {"along_in", "across_in", "drop", "angle_deg", "symmetry", "confidence"}
    assert told["along_in"] == pytest.approx(setting.lattice.along, rel=SHARE)
    assert told["across_in"] == pytest.approx(setting.lattice.across, rel=SHARE)
    assert told["symmetry"] == {
        "top_to_bottom": setting.top_to_bottom,
        "side_to_side": setting.side_to_side,
        "half_turn": setting.half_turn,
    }
    assert 0 <= told["confidence"] <= 1


def test_two_points_of_a_ruler_give_the_same_scale(photo):
    path, _, per_inch = photo
    by_ruler = run("measure", path, "--points", "10,10", f"{10 + 6 * per_inch},10", "--distance", "6", "--json")
    by_scale = run("measure", path, "--pixels-per-inch", per_inch, "--json")
    # The picture is taken at a slant of a degree, and the ruler lies at its edge, where the scale is another.
    assert json.loads(by_ruler.out)["along_in"] == pytest.approx(json.loads(by_scale.out)["along_in"], rel=0.01)
    assert "Repeat along" in run("measure", path, "--pixels-per-inch", per_inch).out


def test_without_a_scale_or_with_two_it_is_wrong_usage(photo):
    path = photo[0]
    assert run("measure", path).code == 2
    assert run("measure", path, "--points", "1,1", "9,9").code == 2
    assert run("measure", path, "--points", "1,1", "1,1", "--distance", "3").code == 2
    assert run("measure", path, "--pixels-per-inch", "30", "--points", "1,1", "9,9", "--distance", "3").code == 2


def test_what_is_no_picture_or_shows_no_print_is_refused(tmp_path):
    plain = tmp_path / "plain.png"
    Image.new("RGB", (300, 300), "#8899aa").save(plain)
    for path in (plain, READING_ROOM, tmp_path / "nowhere.jpg", tmp_path):
        ran = run("measure", path, "--pixels-per-inch", "30", "--json")
        assert (ran.code, ran.out) == (1, "")
        assert ran.err.startswith(f"{path}: ")
        assert len(ran.err.splitlines()) == 1
