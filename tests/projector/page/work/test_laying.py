"""A photograph of the cloth under the lit pattern, taken on the simulated table and read as the page has it read."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from calibration.registration.fit import PrintFit
from calibration.registration.record import registration_of
from jobs.io.reader import parse_job
from projector.demo.cloth import AsItLies, LaidCloth
from projector.demo.setup import cloth_at, demo_setup
from projector.page.form.blank import examples
from projector.page.work.laying import laid
from projector.page.work.taking import cloth_taken
from projector.scene.lit_stretch import plan_on_table
from projector.session.cutting.mode import Cutting
from projector.session.cutting.photographed import lit_on_white
from projector.session.cutting.state import setup_of
from tests.projector.session.sessions import cutting_of, key

NEAR_IN = 1 / 32


@pytest.fixture(scope="module")
def lit(tmp_path_factory: pytest.TempPathFactory) -> tuple[Cutting, LaidCloth, Path]:
    """A session that lights the pattern, the cloth as it really lies, a folder with two photographs of it."""
    folder = tmp_path_factory.mktemp("lit")
    job = parse_job(examples()["Mill-race reading room"], "the job")
    demo = demo_setup(job)
    plan = plan_on_table(job, demo.table.lit_area())
    cutting = cutting_of(setup_of(plan, demo.table))
    key(cutting, "Space")
    key(cutting, "V")
    frame = np.zeros(cutting.size_px[::-1], np.uint32)
    cutting.paint(frame)
    Image.fromarray((frame & 255).astype(np.uint8)).save(folder / "frame.png")
    for number in range(2):
        asked = {"lay": cutting.publish()["lay"], "as_it_lies": True, "number": number}
        (folder / "asked.json").write_text(json.dumps(asked))
        cloth_taken(folder / "frame.png", folder / "asked.json", folder / f"photo{number}.jpg")
    return cutting, cloth_at(plan, cutting.state.stop, AsItLies()), folder


def read(cutting: Cutting, folder: Path, photo: str, **more: Any) -> dict[str, Any]:
    """What the page is told of a photograph."""
    files = {name: str(folder / name) for name in ("small", "seen", "tapped", "tile")}
    asked = {"lay": cutting.publish()["lay"], "photo": str(folder / photo), "point": None, "simulated": True}
    (folder / "asked.json").write_text(json.dumps({**asked, **files, **more}))
    return laid(folder / "asked.json")


def fit_of(cutting: Cutting, told: dict[str, Any]) -> PrintFit:
    assert cutting.state.marking is not None
    return registration_of(told["record"], cutting.state.marking.carried.lattice).fit


def off_in(cloth: LaidCloth, fit: PrintFit) -> np.ndarray:
    """How far (N, 2) motif points of the light's part lie from where the fit has them."""
    motifs = [(row, column) for row in range(5) for column in range(fit.lattice.columns)]
    return np.asarray(cloth.motif_points(motifs) - fit.to_table(fit.lattice.places(motifs)))


def test_the_print_is_found_and_drawn_into_the_photograph(lit: tuple[Cutting, LaidCloth, Path]) -> None:
    cutting, cloth, folder = lit
    told = read(cutting, folder, "photo0.jpg")
    assert np.abs(off_in(cloth, fit_of(cutting, told))).max() < NEAR_IN
    assert "rows and columns were found" in told["says"][0]
    with Image.open(folder / "small") as small, Image.open(folder / "seen") as seen:
        assert small.size == seen.size
        assert np.abs(np.asarray(small, float) - np.asarray(seen, float)).max() > 100


def test_without_a_picture_a_tapped_motif_tells_and_what_it_told_is_kept(lit: tuple[Cutting, LaidCloth, Path]) -> None:
    cutting, cloth, folder = lit
    assert read(cutting, folder, "photo0.jpg", simulated=False) == {"wrong": [], "wants_point": True}
    # Where the person taps: a motif point of the cloth, as the photograph shows it, a little beside.
    motif = cloth.motif_points([(2, 1)])
    tapped = pixel_of(cutting, folder, motif[0] + 0.08)
    first = fit_of(cutting, read(cutting, folder, "photo0.jpg", simulated=False, point=tapped))
    beside = off_in(cloth, first)
    assert np.abs(beside).max() < 1 / 4
    # What was tapped is no answer before it is kept: the page does that once the cloth is laid by it.
    assert read(cutting, folder, "photo1.jpg", simulated=False)["wants_point"]
    (folder / "tapped").rename(folder / "tile")
    # The next photograph needs no tap, and counts from the very same point.
    second = fit_of(cutting, read(cutting, folder, "photo1.jpg", simulated=False))
    assert np.abs(off_in(cloth, second) - beside).max() < NEAR_IN


def pixel_of(cutting: Cutting, folder: Path, place: np.ndarray) -> list[float]:
    """Shares of the picture where a place of the table is seen: by where the pattern's map has it."""
    from calibration.laying.aligning import camera_of
    from calibration.laying.flattening import Lit
    from calibration.photographs.pattern import Pattern
    from projector.light.pattern import levels_of, pattern_frame

    table = cutting.state.setup.table
    pattern = Pattern(table.width_px, table.height_px)
    levels = levels_of(pattern_frame(pattern, on_white=lit_on_white(cutting.state)), table.gamma)
    with Image.open(folder / "photo0.jpg") as photo:
        rgb = np.asarray(photo.convert("RGB"))
    camera, _ = camera_of(rgb, replace(table, date=""), Lit(pattern, levels))
    return (camera.to_picture(place[None])[0] / rgb.shape[1::-1]).tolist()


def test_the_pattern_that_was_lit_is_the_one_that_is_divided_out(lit: tuple[Cutting, LaidCloth, Path]) -> None:
    cutting, _, folder = lit
    lay = cutting.publish()["lay"]
    assert lay["on_white"] is True
    right, wrong = (read(cutting, folder, "photo0.jpg", lay=lay | {"on_white": one}) for one in (True, False))
    assert "record" in right
    uneven = [json.loads(one["record"])["uneven_in"] if "record" in one else np.inf for one in (right, wrong)]
    assert uneven[0] < uneven[1]


def test_what_is_no_picture_or_shows_no_pattern_is_said(lit: tuple[Cutting, LaidCloth, Path]) -> None:
    cutting, _, folder = lit
    (folder / "torn.jpg").write_bytes(b"no picture")
    assert read(cutting, folder, "torn.jpg")["wrong"]
    Image.new("RGB", (1200, 900), "#555555").save(folder / "grey.jpg")
    (wrong,) = read(cutting, folder, "grey.jpg")["wrong"]
    assert wrong.endswith(".")
