"""What ``lightchalk order`` costs, against a Python that imports click and PyYAML and nothing else.

Run: python -m tests.benchmarks.order_time. Both in processor time of fresh processes, taken in turn, so that whatever
else the machine does falls on both: the least of many, which is what the work itself costs, and the median. Once with
the bytecode that an installation keeps, and once without any of the program's own, as Python works where it may write
none. The bar is 2.5, with the bytecode kept.
"""

from __future__ import annotations

import os
import resource
import shutil
import statistics
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

ROUNDS = 30
PEER = "import click, yaml"
TREE = Path(__file__).resolve().parents[2]
EXAMPLES = TREE / "jobs" / "examples"
PAIR = EXAMPLES / "reading_room.yaml"
"""One mirrored pair and nothing else: the smallest job among the examples whose print must match."""


def order(job: Path) -> str:
    """The program that orders the cloth of a job."""
    run = "from projector.commands.main import run; run()"
    return f"import sys; sys.argv = ['lightchalk', 'order', {str(job)!r}]; {run}"


def seconds(program: str, settings: dict[str, str]) -> float:
    """Processor time of a fresh interpreter that runs this."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", program], check=True, stdout=subprocess.DEVNULL, env=os.environ | settings)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def compare(words: str, job: Path, settings: dict[str, str]) -> None:
    """Prints both; the first run of each, which may write bytecode, is not counted."""
    seconds(PEER, settings)
    seconds(order(job), settings)
    peer, ours = zip(*[(seconds(PEER, settings), seconds(order(job), settings)) for _ in range(ROUNDS)], strict=True)
    least, middle = (take(ours) / take(peer) for take in (min, statistics.median))
    print(
        f"{job.stem}, {words}: import click, yaml {min(peer) * 1000:.1f} ms, order {min(ours) * 1000:.1f} ms, "
        f"ratio {least:.2f}; of the medians {middle:.2f}"
    )


def main() -> None:
    with TemporaryDirectory() as folder:
        kept = {"PYTHONPYCACHEPREFIX": folder, "PYTHONDONTWRITEBYTECODE": ""}
        for job in (PAIR, *sorted(set(EXAMPLES.glob("*.yaml")) - {PAIR})):
            compare("bytecode kept", job, kept)
        shutil.rmtree(Path(folder) / TREE.relative_to(TREE.anchor))
        compare("none of its own", PAIR, kept | {"PYTHONDONTWRITEBYTECODE": "1"})


if __name__ == "__main__":
    main()
