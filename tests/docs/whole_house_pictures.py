"""The pictures of the whole house, made by the program: python -m tests.docs.whole_house_pictures"""

from __future__ import annotations

from pathlib import Path

from tests.projector.commands.running import EXAMPLES, run

HERE = Path(__file__).parents[2] / "docs" / "whole-house"


def make() -> None:
    """Write every picture into docs/whole-house."""
    for what in ("hung", "cloth"):
        assert run("picture", EXAMPLES / "ferry_lane.yaml", "--of", what, "--out", HERE / f"{what}.png").code == 0


if __name__ == "__main__":
    make()
