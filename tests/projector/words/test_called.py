"""What problems call windows and things."""

from dataclasses import replace

from jobs.model.choices import Part
from jobs.model.window import Made
from projector.words.wording import called, where
from tests.jobs.made import window


def test_a_window_is_not_called_window_twice():
    names = ("Stairs", "Window 1", "Garden window", "Windowless")
    windows = [window(name, 60) for name in names]
    cushion = replace(window("Cushion", 18), made=Made(Part.SMALL_THING, "Cushion"))
    assert called([*windows, cushion]) == [
        "window Stairs",
        "Window 1",
        "Garden window",
        "window Windowless",
        "Cushion",
    ]
    assert where(("windows", 1, "row"), called(windows)) == "Window 1, row"
