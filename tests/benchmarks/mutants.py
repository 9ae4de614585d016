"""Would the tests notice a slip? Small faults are put into the program, one at a time, and its tests are run.

A fault is a flipped comparison, a number off by one, a lost sign, ``and`` for ``or``, a condition turned, plus for
minus. Lines are drawn by a seed from the packages named below, only those that a test runs. For each fault only the
tests that run its line are tried; the fault is killed by the first that fails.

Run: python -m tests.benchmarks.mutants [how many, 60] [seed, 1] [package ...]
With a package named (``calibration``), faults are put into it alone and only the tests of that folder are asked.
Needs the package ``coverage``. The first run notes which test runs which line (some ten minutes for all) in
``.mutants.json``; delete that file when lines have moved.
"""

from __future__ import annotations

import ast
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
PACKAGES = ("jobs", "calibration", "projector/light", "projector/session")
MOST_TESTS = 150
"""So many tests are tried on one fault."""
SECONDS = 300
"""A test run that takes longer than this is taken as failed: the fault made it hang."""

_OTHER: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult, ast.And: ast.Or,
    ast.Or: ast.And,
}  # fmt: skip


@dataclass(frozen=True)
class Fault:
    """A fault by the file, the line and the number of the place in it (all places of a file in the order of a walk)."""

    file: str
    line: int
    number: int
    what: str


class _Places(ast.NodeTransformer):
    """Counts the places where a fault may be, and makes the one whose number is asked for."""

    def __init__(self, wanted: int = -1) -> None:
        self.wanted = wanted
        self.found: list[tuple[int, str]] = []

    def _here(self, node: ast.AST, what: str) -> bool:
        self.found.append((getattr(node, "lineno", 0), what))
        return len(self.found) - 1 == self.wanted

    def visit_Compare(self, node: ast.Compare) -> ast.AST:
        self.generic_visit(node)
        for at, operator in enumerate(node.ops):
            other = _OTHER.get(type(operator))
            if other is not None and self._here(node, f"{type(operator).__name__} to {other.__name__}"):
                node.ops[at] = other()  # type: ignore[call-overload]
        return node

    def visit_BinOp(self, node: ast.BinOp) -> ast.AST:
        self.generic_visit(node)
        text = any(isinstance(side, ast.Constant) and isinstance(side.value, str) for side in (node.left, node.right))
        other = _OTHER.get(type(node.op))
        if other is not None and not text and self._here(node, f"{type(node.op).__name__} to {other.__name__}"):
            node.op = other()  # type: ignore[assignment]
        return node

    def visit_BoolOp(self, node: ast.BoolOp) -> ast.AST:
        self.generic_visit(node)
        other = _OTHER[type(node.op)]
        if self._here(node, f"{type(node.op).__name__} to {other.__name__}"):
            node.op = other()  # type: ignore[assignment]
        return node

    def visit_UnaryOp(self, node: ast.UnaryOp) -> ast.AST:
        self.generic_visit(node)
        if isinstance(node.op, ast.USub | ast.Not) and self._here(node, f"{type(node.op).__name__} lost"):
            return node.operand
        return node

    def visit_Constant(self, node: ast.Constant) -> ast.AST:
        whole = isinstance(node.value, int) and not isinstance(node.value, bool)
        if whole and self._here(node, f"{node.value} to {node.value + 1}"):
            return ast.copy_location(ast.Constant(node.value + 1), node)
        return node

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AST:
        # Types are no behaviour.
        if node.value is not None:
            node.value = self.visit(node.value)
        return node

    def visit_arguments(self, node: ast.arguments) -> ast.AST:
        node.defaults = [self.visit(one) for one in node.defaults]
        return node


def places(source: str) -> list[tuple[int, str]]:
    """Line and kind of every place of a text where a fault may be."""
    walk = _Places()
    walk.visit(ast.parse(source))
    return walk.found


def with_fault(source: str, number: int) -> str:
    """The text with the fault of this number in it; comments and layout are lost."""
    return ast.unparse(ast.fix_missing_locations(_Places(number).visit(ast.parse(source))))


def who_runs_what(folders: Sequence[str]) -> dict[str, dict[str, list[str]]]:
    """For each file and line the tests of these folders (of none: all tests) that run it, noted once."""
    kept = ROOT / f".mutants{'-'.join(['', *folders]).replace('/', '-')}.json"
    if kept.exists():
        return json.loads(kept.read_text())
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder) / "coverage"
        run = [sys.executable, "-m", "coverage", "run", "--source=jobs,calibration,projector", f"--data-file={data}"]
        tests = [f"tests/{folder}" for folder in folders]
        pytest = ["-m", "pytest", "-p", "tests.benchmarks.mutants", "-n", "0", "-q", "-p", "no:cacheprovider", *tests]
        subprocess.run([*run, *pytest], cwd=ROOT, check=False)
        from coverage import CoverageData

        noted = CoverageData(str(data))
        noted.read()
        found: dict[str, dict[str, list[str]]] = {}
        for file in noted.measured_files():
            lines = noted.contexts_by_lineno(file)
            name = str(Path(file).relative_to(ROOT))
            found[name] = {str(line): sorted(one for one in tests if one) for line, tests in lines.items()}
    kept.write_text(json.dumps(found))
    return found


def pytest_runtest_setup(item: Any) -> None:
    """This module is a plugin of pytest while it is noted who runs what: each test is a context of its own."""
    from coverage import Coverage

    measuring = Coverage.current()
    if measuring is not None:
        measuring.switch_context(item.nodeid.partition("[")[0])


def drawn(noted: dict[str, dict[str, list[str]]], packages: Sequence[str], count: int, seed: int) -> list[Fault]:
    """Faults in lines of the packages that some test runs, drawn by the seed."""
    every = []
    for file in sorted(noted):
        if file.startswith(tuple(packages)) and file.endswith(".py"):
            run = {int(line) for line, tests in noted[file].items() if tests}
            source = (ROOT / file).read_text()
            every += [Fault(file, line, n, what) for n, (line, what) in enumerate(places(source)) if line in run]
    return random.Random(seed).sample(every, count)


def survives(fault: Fault, tests: list[str]) -> bool:
    """Whether every test that runs the line passes with the fault in place."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "copy"
        shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(".git", ".venv", ".*_cache", "__pycache__"))
        spoilt = copy / fault.file
        spoilt.write_text(with_fault(spoilt.read_text(), fault.number))
        command = [sys.executable, "-m", "pytest", "-x", "-q", "-n", "0", "-p", "no:cacheprovider"]
        environment = {**os.environ, "PYTHONPATH": str(copy), "PYTHONDONTWRITEBYTECODE": "1"}
        try:
            ended = subprocess.run(
                [*command, *tests[:MOST_TESTS]], cwd=copy, env=environment, capture_output=True, timeout=SECONDS
            )
        except subprocess.TimeoutExpired:
            return False
        return ended.returncode in (0, 5)


def main(count: int, seed: int, packages: Sequence[str]) -> None:
    """Print each fault with whether the tests noticed it, and how many survived."""
    noted = who_runs_what(packages)
    alive = []
    for number, fault in enumerate(drawn(noted, packages or PACKAGES, count, seed), 1):
        lived = survives(fault, noted[fault.file][str(fault.line)])
        alive += [fault] if lived else []
        print(f"{number:3} {'SURVIVED' if lived else 'killed'}  {fault.file}:{fault.line}  {fault.what}", flush=True)
    print(f"{len(alive)} of {count} survived")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 60, int(sys.argv[2]) if len(sys.argv) > 2 else 1, sys.argv[3:])
