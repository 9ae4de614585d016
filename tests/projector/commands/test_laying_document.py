"""The document on laying shows what the program says."""

import re
from pathlib import Path

from tests.projector.commands.running import READING_ROOM, run

DOCUMENT = (Path(__file__).parents[3] / "docs" / "laying.md").read_text(encoding="utf-8")


def test_the_points_of_the_document_give_the_answer_of_the_document(tmp_path):
    (written,) = re.findall(r"```yaml\n(.*?)```", DOCUMENT, re.S)
    points = tmp_path / "points.yaml"
    points.write_text(written)
    (said,) = re.findall(r"^\$ lightchalk lay [^\n]*\n(.*?)^```", DOCUMENT, re.S | re.M)
    ran = run("lay", READING_ROOM, "--points", points)
    assert (ran.code, ran.err) == (0, "")
    assert ran.out == said


def test_the_percentage_of_an_inch_is_right():
    assert f"1 in is\n  {100 * 1 / 54:.2f} %" in DOCUMENT
