"""Starting the program again as a process of its own."""

from __future__ import annotations

import os
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


def program(module: str, *words: str) -> tuple[list[str], dict[str, str]]:
    """The command that runs this module with this Python, and the environment that finds it from any folder."""
    paths = [str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])]
    return [sys.executable, "-m", module, *words], {**os.environ, "PYTHONPATH": os.pathsep.join(paths)}
