"""Commands of the program run for the page as processes of their own, and what came of them."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Mapping, Sequence
from pathlib import Path

from jobs.model.records import dataclass
from projector.page.processes import program

MAIN, BOUNDED = "projector.commands.main", "projector.page.work.bounded"
PATIENCE_S = 180.0


@dataclass(frozen=True)
class Outcome:
    """How a command ended: its exit code and what it printed, on standard output and on standard error."""

    code: int
    out: str
    err: str

    @property
    def well(self) -> bool:
        """Whether all went well."""
        return self.code == 0

    def lines(self, hidden: Mapping[Path, str] | None = None) -> list[str]:
        """What it told, for a person; ``hidden`` files, named by no person, are called by their words."""
        found = [line for line in (*self.out.splitlines(), *self.err.splitlines()) if line.strip()]
        for path, word in (hidden or {}).items():
            found = [line.replace(f"{path}: ", "").replace(str(path), word) for line in found]
        return found


async def run_command(*words: str) -> Outcome:
    """Run a command of the program to its end."""
    return await _run(MAIN, words)


async def run_bounded(*words: str) -> Outcome:
    """Run what opens a stranger's picture, in a process that may use only so much memory."""
    return await _run(BOUNDED, words)


async def _run(module: str, words: Sequence[str]) -> Outcome:
    command, environment = program(module, *words)
    # Several threads on small matrices only wait for each other, most of all beside other work.
    environment.setdefault("OPENBLAS_NUM_THREADS", "1")
    environment["PYTHONIOENCODING"] = "utf-8"
    process = await asyncio.create_subprocess_exec(
        *command,
        stdin=asyncio.subprocess.DEVNULL,
        stdout=asyncio.subprocess.PIPE,
        stderr=asyncio.subprocess.PIPE,
        env=environment,
    )
    try:
        out, err = await asyncio.wait_for(process.communicate(), PATIENCE_S)
    except (TimeoutError, asyncio.CancelledError) as fault:
        with contextlib.suppress(ProcessLookupError):
            process.kill()
        await process.wait()
        if isinstance(fault, asyncio.CancelledError):
            raise
        return Outcome(1, "", "It took too long and was ended.")
    return Outcome(process.returncode or 0, *(text.decode("utf-8", "replace") for text in (out, err)))
