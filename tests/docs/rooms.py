"""Which room imports which, and which packages, read from the imports themselves."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from tests.docs.reading import ROOT

TOP = ("calibration", "jobs", "projector")


def room_of(module: str) -> str:
    """The room of a module: its first two names, where the second is a folder; else its first."""
    first, *rest = module.split(".")
    return f"{first}/{rest[0]}" if rest and (ROOT / first / rest[0]).is_dir() else first


def modules_in(room: str) -> Iterator[Path]:
    """The modules of a room; those of the rooms within it are their own."""
    for path in sorted((ROOT / room).rglob("*.py")):
        if room_of(".".join(path.relative_to(ROOT).with_suffix("").parts)) == room:
            yield path


def rooms() -> list[str]:
    """Every room that holds code, as a path from the top."""
    within = [path for top in TOP for path in (ROOT / top, *(ROOT / top).iterdir()) if path.is_dir()]
    named = [path.relative_to(ROOT).as_posix() for path in within]
    return [room for room in named if any(path.name != "__init__.py" for path in modules_in(room))]


def imported(room: str) -> tuple[set[str], set[str]]:
    """The other rooms that its modules import, and the packages from outside the project."""
    names = {name for path in modules_in(room) for name in imports_of(path)}
    ours = {room_of(name) for name in names if name.split(".")[0] in TOP}
    packages = {name.split(".")[0] for name in names} - set(TOP) - sys.stdlib_module_names
    return ours - {room}, packages


@cache
def imports_of(path: Path) -> frozenset[str]:
    """The full names that a module imports, wherever in it."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return frozenset(found)
