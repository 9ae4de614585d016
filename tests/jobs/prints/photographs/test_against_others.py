"""The same pictures measured by means that share nothing with ours, and pictures that were never made up.

Registration: scikit-image, phase_cross_correlation (M. Guizar-Sicairos, S. T. Thurman, J. R. Fienup, Optics Letters 33,
2008). Autocorrelation: scipy.signal. Photographs: bricks, grass and gravel as the package scikit-image carries them.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter
from scipy.signal import fftconvolve
from skimage import data
from skimage.registration import phase_cross_correlation

from jobs.prints.photographs.measuring import measure
from jobs.prints.photographs.opening import Photo
from jobs.prints.photographs.problems import NoPrint
from tests.jobs.cutting.tilings import settings
from tests.jobs.prints.photographs.pictures import photograph

SIZE = (330, 400)
REGISTERED_PX = 0.25
"""A twentieth of a pixel that the registration is asked for, and what noise and the edges of the two parts add."""
PEAK_PX = 1.0
"""A peak of whole pixels."""
LIGHT_PX = 60
"""What changes over more than this is taken as light."""


def straight(number):
    picture, _ = photograph(settings()[number], 77, turn_deg=0.0, slant=0.0, size=SIZE)
    return picture, measure(Photo(picture, SIZE[::-1])).lattice


def without_light(picture):
    grey = picture.mean(2)
    grey = grey / gaussian_filter(grey, LIGHT_PX)
    return grey - grey.mean()


@pytest.mark.parametrize("number", [0, 4, 10])
def test_a_picture_moved_by_one_repeat_registers_on_itself(number):
    picture, lattice = straight(number)
    grey, step = without_light(picture), round(lattice.along)
    window = np.outer(np.hanning(SIZE[0] - step), np.hanning(SIZE[1]))
    shift, _, _ = phase_cross_correlation(
        grey[:-step] * window, grey[step:] * window, upsample_factor=20, normalization=None
    )
    assert step - shift[0] == pytest.approx(lattice.along, abs=REGISTERED_PX)


@pytest.mark.parametrize("number", [0, 4, 10])
def test_the_autocorrelation_has_its_peak_at_the_repeat(number):
    picture, lattice = straight(number)
    grey, ones = without_light(picture), np.ones(SIZE)
    likeness = fftconvolve(grey, grey[::-1, ::-1]) / np.maximum(fftconvolve(ones, ones), 1)
    middle = np.array(likeness.shape) // 2
    down = likeness[middle[0] :, middle[1]]
    near = slice(int(0.7 * lattice.along), int(1.3 * lattice.along))
    assert near.start + int(down[near].argmax()) == pytest.approx(lattice.along, abs=PEAK_PX)


@pytest.mark.parametrize("name", ["grass", "gravel"])
def test_what_has_no_repeat_is_refused_or_hardly_believed(name):
    grey = getattr(data, name)().astype(np.float32) / 255
    picture = np.repeat(grey[..., None], 3, 2)
    try:
        found = measure(Photo(picture, picture.shape[1::-1]))
    except NoPrint:
        return
    assert found.confidence < 0.4


def test_bricks_come_again_by_the_courses_that_are_seen():
    grey = data.brick().astype(np.float32) / 255
    picture = np.repeat(grey[..., None], 3, 2)
    try:
        found = measure(Photo(picture, picture.shape[1::-1]))
    except NoPrint:
        return
    # Counted by eye on the picture of 512 pixels: about ten courses; the repeat is one or two of them.
    assert found.confidence < 0.7 or found.lattice.along == pytest.approx(51, rel=0.2) or found.lattice.along > 90
