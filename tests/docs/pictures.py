"""The pictures of the documents, made by the program: python -m tests.docs.pictures"""

from __future__ import annotations

import tempfile
from dataclasses import replace
from pathlib import Path

import numpy as np
from PIL import Image

from calibration.photographs.detecting import judge
from calibration.photographs.pattern import Pattern
from calibration.photographs.settling import settled
from calibration.photographs.straightening import Seen
from calibration.table import fit_table, frame_grid
from projector.commands.shared.pictures import write_drawing
from projector.demo.practice import TABLE_IN, practice
from projector.demo.setup import EXACT
from projector.demo.virtual_camera import LitTable, Taking, VirtualCamera, backed_off, from_around, photograph
from projector.demo.virtual_projector import Hung, marks_of, projector_over
from projector.light.pattern import pattern_frame
from projector.papers.settled_picture import settled_picture
from projector.words.findings import describe_settled
from tests.calibration.photographs.printed import printed_cloth
from tests.docs.reading import DOCS
from tests.jobs.prints.photographs import desk_lamp
from tests.projector.commands.running import EXAMPLES, READING_ROOM, run

HERE = DOCS / "pictures"
TAPE = ("--tape", "156,1859", "1359,1782", "--tick", "1/8")
"""Where the tape lies in the photograph that the page on the print shows."""


def make() -> None:
    """Write every picture into docs/pictures."""
    with tempfile.TemporaryDirectory() as folder:
        photo = Path(folder) / "page.jpg"
        desk_lamp.write_photo(photo)
        for words in (
            ("measure", photo, *TAPE, "--picture", HERE / "measured.png"),
            ("picture", READING_ROOM, "--of", "table", "--stop", 1, "--out", HERE / "first-stop.png"),
            ("picture", READING_ROOM, "--of", "table", "--stop", 4, "--out", HERE / "turned-stop.png"),
            ("picture", EXAMPLES / "ferry_lane.yaml", "--of", "hung", "--out", HERE / "house.png"),
        ):
            ran = run(*words)
            assert ran.code == 0, ran.err
    lit_table(HERE / "lit-table.png")
    moved(HERE / "moved.png")


def lit_table(out: Path) -> None:
    """Three photographs of the lit pattern, as the virtual camera takes them from around; the last one on cloth."""
    pattern = Pattern(1920, 1080)
    lit = projector_over(104, 60, Hung(tilt_deg=10, towards_deg=65, k1=0.01))
    table = LitTable(replace(lit, focal_px=1.2 * lit.focal_px), pattern_frame(pattern), None, (104, 60))
    like = VirtualCamera((0.0, 0.0, 70.0), (52.0, 30.0), 760.0, 1008, 756, k1=0.04)
    row = Image.new("RGB", (1260, 300), "white")
    for number, camera in enumerate(from_around((104, 60), like, 3, np.random.default_rng(8))):
        cloth = printed_cloth(np.random.default_rng(5), (104, 60), "blots") if number == 2 else None
        taken = photograph(camera, replace(table, laid=cloth), Taking(blur_px=0.5, seed=number))
        row.paste(Image.fromarray(taken).resize((400, 300), Image.Resampling.LANCZOS), (430 * number, 0))
    row.save(out, optimize=True)


def moved(out: Path) -> None:
    """How far the light has moved over the simulated table, its projector knocked, by two photographs of it."""
    hung, hit = practice(), practice(knocked=True)
    frame = pattern_frame(Pattern(hung.projector.width_px, hung.projector.height_px))
    table = fit_table(
        marks_of(hung.projector, hung.projector.to_table(frame_grid(1920, 1080, 3, 3, 0.06))), 1920, 1080, EXACT
    )
    like, seen = VirtualCamera((40.0, -10.0, 66.0), (48.0, 30.0), 1500.0, 2016, 1512, k1=0.04), []
    for number, one in enumerate((hung, hit)):
        camera = backed_off(replace(like, lens_at=(40.0 + 6 * number, -10.0, 66.0)), TABLE_IN)
        taking = Taking(blur_px=0.6, noise=3.0, seed=number)
        picture = photograph(camera, LitTable(one.projector, frame, None, TABLE_IN), taking)
        grey = np.asarray(Image.fromarray(picture).convert("L"))
        seen.append(Seen(grey, judge(grey, Pattern(1920, 1080)).sighting))
    found = settled(table, *seen)
    said = describe_settled(found, table.lit_area(), "in")
    write_drawing(settled_picture(found, table, said), out)


if __name__ == "__main__":
    make()
