"""What ``lightchalk --help`` costs, against a Python that imports click and nothing else.

Run: python -m tests.benchmarks.help_time. Prints both in processor time of fresh processes (medians of many, taken in
turn, so that whatever else the machine does falls on both) and their ratio.
"""

from __future__ import annotations

import resource
import statistics
import subprocess
import sys

ROUNDS = 30
HELP = "import sys; sys.argv = ['lightchalk', '--help']; from projector.commands.main import run; run()"


def seconds(program: str) -> float:
    """Processor time of a fresh interpreter that runs this."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", program], check=True, stdout=subprocess.DEVNULL)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    pairs = [(seconds("import click"), seconds(HELP)) for _ in range(ROUNDS)]
    click_s, help_s = (statistics.median(times) for times in zip(*pairs, strict=True))
    print(
        f"import click {click_s * 1000:.1f} ms, lightchalk --help {help_s * 1000:.1f} ms, ratio {help_s / click_s:.2f}"
    )


if __name__ == "__main__":
    main()
