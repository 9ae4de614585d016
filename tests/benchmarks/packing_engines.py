"""What each engine of packing buys, alone and with the others, on 200 random houses of 10 to 70 cuts.

python -m tests.benchmarks.packing_engines [every how manieth house, 1 unless given] [from which on, 0 unless given]

Printed for each choice of engines: cloth used above the bound in the middle of the houses in which every choice found
room, houses in which it found none, inches missing there, and processor time for a house.
"""

from __future__ import annotations

import random
import sys
import time
from dataclasses import dataclass

from jobs.packing.instance import Instance
from jobs.packing.solve import AT_ONCE, MOST, Effort, Solved, solve
from jobs.packing.watch import Watch
from tests.jobs.packing.instances import random_instance

CHOICES = {
    "first fit": AT_ONCE,
    "exact, else first fit": Effort(steps=0, fills=False),
    "filled": Effort(work=0, steps=0),
    "first fit annealed": Effort(work=0, fills=False),
    "filled, annealed": Effort(work=0),
    "exact, else filled, annealed": MOST,
}
UNIT = 16
"""Units of an inch in these instances."""


@dataclass(frozen=True)
class Run:
    """What a choice of engines found for a house, and the seconds of processor time it took."""

    found: Solved
    seconds: float


def houses(every: int = 1, first: int = 0) -> list[Instance]:
    """Some of the 200 houses; the cloth of a third of them hardly suffices, or does not."""
    dice = random.Random(20)
    made = []
    for seed in range(200):
        cuts = dice.randrange(10, 71)
        choice = {
            "cuts": cuts,
            "pieces": dice.randrange(2, 3 + cuts // 15),
            "repeat": dice.choice([0, 12, 18, 25]),
            "kind": dice.choice(["whole", "same", "mirrored"]),
            "level": dice.random() < 0.5,
            "flaws": dice.choice([0, 1, 4]),
            "slack": dice.choice([1.0, 1.06, 1.2]),
        }
        if seed % every == first:
            made.append(random_instance(seed, **choice))
    return made


def main(every: int, first: int) -> None:
    """Run all choices on the houses and print the table."""
    chosen = houses(every, first)
    runs = {name: [_timed(instance, effort) for instance in chosen] for name, effort in CHOICES.items()}
    bounds = [
        max(run[number].found.bound for run in runs.values() if not run[number].found.layout.over)
        if any(not run[number].found.layout.over for run in runs.values())
        else 0
        for number in range(len(chosen))
    ]
    fair = [n for n in range(len(chosen)) if all(not run[n].found.layout.over for run in runs.values())]
    print(f"{len(chosen)} houses, {len(fair)} in which every choice found room")
    for name, of in runs.items():
        above = sum(of[n].found.layout.used / bounds[n] - 1 for n in fair) / max(1, len(fair))
        missing = [run.found.layout.over / UNIT for run in of if run.found.layout.over]
        proved = sum(run.found.bound == run.found.layout.used and not run.found.layout.over for run in of)
        print(
            f"  {name:30} {above:7.3%} above the bound   {proved:3} proved   {len(missing):3} without room, "
            f"{sum(missing):6.0f} in missing   {sum(run.seconds for run in of) / len(of):5.2f} s",
            flush=True,
        )


def _timed(instance: Instance, effort: Effort) -> Run:
    start = time.process_time()
    found = solve(instance, Watch(), effort)
    return Run(found, time.process_time() - start)


if __name__ == "__main__":
    main(*(int(word) for word in [*sys.argv[1:3], *("1", "0")[len(sys.argv[1:3]) :]]))
