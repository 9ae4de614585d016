"""The window toolkit stays at the rim: one folder imports it, nothing else."""

from __future__ import annotations

import ast
from pathlib import Path

ROOT = Path(__file__).parents[2]
ROOMS = ("calibration", "jobs", "projector")


def imports_pygame(path: Path) -> bool:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            names = [node.module or ""]
        if any(name.split(".")[0] == "pygame" for name in names):
            return True
    return False


def test_only_windows_import_the_window_toolkit() -> None:
    found = {path.relative_to(ROOT) for room in ROOMS for path in (ROOT / room).rglob("*.py") if imports_pygame(path)}
    home = Path("projector/session/windows")
    assert home / "panes.py" in found
    assert {path for path in found if path.parent != home} == set()
