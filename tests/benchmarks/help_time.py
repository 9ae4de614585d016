"""How long ``lightchalk --help`` takes, against a Python that imports click and nothing else.

Run: python tests/benchmarks/help_time.py. Prints both times (the best of many, taken in turn) and their ratio.
"""

from __future__ import annotations

import subprocess
import sys
import time

ROUNDS = 30
HELP = "import sys; sys.argv = ['lightchalk', '--help']; from projector.commands.main import run; run()"


def seconds(program: str) -> float:
    """Wall time of a fresh interpreter that runs this."""
    begun = time.perf_counter()
    subprocess.run([sys.executable, "-c", program], check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begun


def main() -> None:
    pairs = [(seconds("import click"), seconds(HELP)) for _ in range(ROUNDS)]
    click_s, help_s = (min(times) for times in zip(*pairs, strict=True))
    print(
        f"import click {click_s * 1000:.1f} ms, lightchalk --help {help_s * 1000:.1f} ms, ratio {help_s / click_s:.2f}"
    )


if __name__ == "__main__":
    main()
