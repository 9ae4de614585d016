"""The pictures of the documents, made by the program: python -m tests.docs.pictures"""

from __future__ import annotations

import tempfile
from pathlib import Path

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


if __name__ == "__main__":
    make()
