"""The pictures of the first job, made by the program: python -m tests.docs.first_job_pictures"""

from __future__ import annotations

from pathlib import Path

from tests.projector.commands.running import READING_ROOM, run

HERE = Path(__file__).parents[2] / "docs" / "first-job"


def make() -> None:
    """Write every picture into docs/first-job."""
    table = HERE / "table.yaml"
    assert run("calibrate", table, "--marks", HERE / "marks.yaml").code == 0
    for what in ("cloth", "hung"):
        assert run("picture", READING_ROOM, "--of", what, "--out", HERE / f"{what}.png").code == 0
    for what, stop in (("frame", 1), ("table", 1), ("table", 2), ("table", 4)):
        out = HERE / f"{what}-{stop}.png"
        ran = run("picture", READING_ROOM, "--of", what, "--table", table, "--stop", stop, "--out", out)
        assert ran.code == 0, ran.err
    table.unlink()


if __name__ == "__main__":
    make()
