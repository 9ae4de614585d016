"""Tests about the tests: none opens a window on the person's screen, none fails by chance."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path

from hypothesis import settings

from tests.conftest import SCREENS

TESTS = Path(__file__).parent
TIMED = {"sleep", "perf_counter", "monotonic", "process_time", "time_ns"}
HELD_AGAINST = {"timeout", "deadline", "derandomize"}
MAY_WAIT = {"waiting.py", "test_how_tests_are_run.py"}
"""The one place that waits; benchmarks, which are no tests, are not looked at."""


def sources() -> list[Path]:
    places = (path for path in TESTS.rglob("*.py") if "benchmarks" not in path.parts)
    return [path for path in places if path.name not in MAY_WAIT]


def calls_in(source: Path) -> list[ast.Call]:
    return [node for node in ast.walk(ast.parse(source.read_text(encoding="utf-8"))) if isinstance(node, ast.Call)]


def test_no_test_and_no_program_that_a_test_starts_knows_the_screen_of_the_person() -> None:
    assert not set(SCREENS) & set(os.environ)
    assert os.environ["SDL_VIDEODRIVER"] == "dummy"
    show = f"import os; print(sorted(set(os.environ) & {set(SCREENS)!r}))"
    assert subprocess.run([sys.executable, "-c", show], capture_output=True, text=True).stdout == "[]\n"


def test_properties_are_tried_on_the_same_examples_each_time_and_never_against_the_clock() -> None:
    steady, chance = settings.get_profile("steady"), settings.get_profile("random")
    assert steady.derandomize
    assert not chance.derandomize
    assert steady.deadline is None
    assert chance.deadline is None


def test_no_test_asks_for_an_answer_within_a_time() -> None:
    found = []
    for source in sources():
        for call in calls_in(source):
            name = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
            # A guard against what hangs is no deadline.
            keywords = {one.arg for one in call.keywords if "HUNG_S" not in ast.unparse(one.value)}
            if (keywords & HELD_AGAINST and source != TESTS / "conftest.py") or name in TIMED:
                found.append(f"{source.relative_to(TESTS)}, line {call.lineno}: {name}")
    assert not found
