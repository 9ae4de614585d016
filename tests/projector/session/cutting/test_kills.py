"""A session killed at random instants, a few times; five hundred are run by hand (tests.benchmarks.session_kills)."""

import re
import subprocess
import sys
from pathlib import Path


def test_no_kept_tick_is_lost_and_every_resume_is_right() -> None:
    # In a process of its own: it forks, which a test run with threads must not.
    root = Path(__file__).parents[4]
    ran = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks.session_kills", "8"],
        capture_output=True,
        text=True,
        cwd=root,
    )
    said = re.fullmatch(r"8 kills, (\d+) ticks, undos and answers kept, 0 lost, 0 wrong resumes\n", ran.stdout)
    assert said, ran.stdout + ran.stderr
    assert int(said[1]) > 0
    assert ran.returncode == 0
