"""The pictures of the documents, made by the program: python -m tests.docs.pictures"""

from __future__ import annotations

import tempfile
from dataclasses import replace
from pathlib import Path

import numpy as np
from PIL import Image

from calibration.photographs.pattern import Pattern
from projector.demo.virtual_camera import LitTable, Taking, VirtualCamera, from_around, photograph
from projector.demo.virtual_projector import Hung, projector_over
from projector.light.pattern import pattern_frame
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


def lit_table(out: Path) -> None:
    """Three photographs of the lit pattern, as the virtual camera takes them from around its table."""
    pattern = Pattern(1920, 1080)
    lit = projector_over(104, 60, Hung(tilt_deg=10, towards_deg=65, k1=0.01))
    table = LitTable(replace(lit, focal_px=1.2 * lit.focal_px), pattern_frame(pattern), None, (104, 60))
    like = VirtualCamera((0.0, 0.0, 70.0), (52.0, 30.0), 760.0, 1008, 756, k1=0.04)
    row = Image.new("RGB", (1260, 300), "white")
    for number, camera in enumerate(from_around((104, 60), like, 3, np.random.default_rng(8))):
        taken = photograph(camera, table, Taking(blur_px=0.5, seed=number))
        row.paste(Image.fromarray(taken).resize((400, 300), Image.Resampling.LANCZOS), (430 * number, 0))
    row.save(out, optimize=True)


if __name__ == "__main__":
    make()
