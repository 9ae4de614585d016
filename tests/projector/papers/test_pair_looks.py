"""The middle of a pair looking either way, by its pixels."""

from __future__ import annotations

import io
from fractions import Fraction

import numpy as np
from PIL import Image

from jobs.model.choices import Facing
from jobs.model.job import Job
from jobs.model.print import Repeat
from projector.papers.pair_looks import pair_looks
from projector.papers.png import png_bytes
from tests.jobs.made import MIRROR_DOWN, below_top, cloth, job, window


def of(**more: object) -> Job:
    sheet = cloth(print=MIRROR_DOWN, repeat=Repeat(Fraction(12), Fraction(13)), colour="#5a6672", **more)
    return job(sheet, window("Bay", 84, row=below_top(6)), heading=4, hem=8, side_hem=2)


def pixels(made: Job) -> dict[Facing, np.ndarray]:
    found = {}
    for facing, drawing in pair_looks(made, 0).items():
        found[facing] = np.asarray(Image.open(io.BytesIO(png_bytes(drawing))).convert("RGB")).astype(int)
    return found


def test_each_picture_mirrors_in_itself_and_neither_is_the_other() -> None:
    looks = pixels(of())
    for shown in looks.values():
        off = np.abs(shown - shown[:, ::-1]).max(axis=2)
        assert (off > 40).mean() < 0.01, "the pair does not mirror"
    left, right = looks[Facing.LEFT], looks[Facing.RIGHT]
    assert left.shape == right.shape
    assert (np.abs(left - right).max(axis=2) > 40).mean() > 0.02, "both pictures look alike"


def test_it_shows_no_more_than_tells_which_way_the_motifs_look() -> None:
    (drawing, _) = pair_looks(of(), 0).values()
    # Two repeats of 13 in from either leading edge and 2 in between are 54 in in 2.3 drawing inches; 30 in down.
    assert drawing.width == 2.3
    assert abs(drawing.height - (30 * 2.3 / 54 + 0.08)) < 1e-9
