"""Sessions killed at chosen calls to the disk, a few times; 160 are run by hand (tests.benchmarks.session_kills)."""

import re
import subprocess
import sys
from pathlib import Path


def test_no_kept_tick_is_lost_or_invented_though_the_job_changes_and_every_resume_is_right() -> None:
    # In a process of its own: it forks, which a test run with threads must not.
    root = Path(__file__).parents[5]
    ran = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks.session_kills", "10"],
        capture_output=True,
        text=True,
        cwd=root,
    )
    said = re.search(
        r"^10 kills, 5 errors of the disk, (\d+) ticks and undos kept, 0 lost, 0 invented, 0 wrong resumes, "
        r"0 of 15 strange files touched$",
        ran.stdout,
        re.MULTILINE,
    )
    assert said, ran.stdout + ran.stderr
    assert int(said[1]) > 0
    assert ran.returncode == 0
