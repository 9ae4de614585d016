"""What the first hour's maker types and sees, made by the program: python -m tests.docs.first_hour"""

from __future__ import annotations

import io
import sys
from pathlib import Path

from tests.projector.commands.running import run

HERE = Path(__file__).parents[2] / "docs" / "first-hour"

# The talk of the document: each answer in order, an empty one is Enter.
TYPED = (
    "in", "Aunt's parlour", "Herrings on sand", "54", "1/2", "yes", "18", "13 1/4", "0", "yes", "0", "no", "no",
    "0", "sand", "1/4 yd", "no", "4", "8", "2", "1/2", "1",
    "Garden window", "pair", "mirrored", "92", "84", "cuts", "1", "foot", "3", "no", "yes", "72", "60", "",
)  # fmt: skip
PICTURES = (("hung.png", "hung", ("--folds",)), ("cloth.png", "cloth", ()), ("table.png", "table", ("--stop", 1)))


def talk(path: Path) -> str:
    """The job by questions, written to ``path``; what the terminal showed."""
    before, sys.stdin = sys.stdin, io.StringIO("".join(f"{line}\n" for line in TYPED))
    try:
        ran = run("new", path)
    finally:
        sys.stdin = before
    assert ran.code == 0, ran.err
    return ran.out


def make() -> None:
    """Write the job and its pictures into docs/first-hour."""
    job = HERE / "parlour.yaml"
    job.unlink(missing_ok=True)
    talk(job)
    for name, what, more in PICTURES:
        ran = run("picture", job, "--of", what, *more, "--out", HERE / name)
        assert ran.code == 0, ran.err


if __name__ == "__main__":
    make()
