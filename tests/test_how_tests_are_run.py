"""Tests about the tests: none opens a window on the person's screen, none fails by chance."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import settings

from tests.conftest import SCREENS

TESTS = Path(__file__).parent
TIMED = {"sleep", "perf_counter", "monotonic", "process_time", "time_ns"}
HELD_AGAINST = {"timeout", "deadline", "derandomize"}
MAY_WAIT = {"waiting.py", "test_how_tests_are_run.py"}
"""The one place that waits; benchmarks, which are no tests, are not looked at."""
OLD_WINDOW = TESTS / "projector" / "desk"
"""Its hands rest after the last key, as a person's do; what they wait for has no time set."""


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


@pytest.mark.skipif(sys.platform != "linux", reason="only here can a screen be taken away by a variable")
def test_the_program_without_a_command_ends_at_once_where_there_is_no_screen() -> None:
    command = [sys.executable, "-m", "projector.commands.main"]
    done = subprocess.run(command, capture_output=True, text=True, cwd=TESTS.parent)
    assert done.returncode == 2
    assert "Usage: lightchalk" in done.stdout


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
            keywords = {keyword.arg for keyword in call.keywords}
            untimed = OLD_WINDOW in source.parents or source.name == "window_pictures.py"
            if (keywords & HELD_AGAINST and source != TESTS / "conftest.py") or (name in TIMED and not untimed):
                found.append(f"{source.relative_to(TESTS)}, line {call.lineno}: {name}")
    assert not found
