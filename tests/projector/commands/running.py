"""Running the command as a person does, in this process."""

from __future__ import annotations

import io
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

from projector.commands.main import lightchalk
from projector.commands.shared.errors import report

EXAMPLES = Path(__file__).parents[3] / "jobs" / "examples"
READING_ROOM = EXAMPLES / "reading_room.yaml"


@dataclass(frozen=True)
class Ran:
    """What a command did: its exit code and what it said."""

    code: int
    out: str
    err: str


def run(*words: object) -> Ran:
    """Run ``lightchalk`` with these words through its own error boundary."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = report(lambda: lightchalk([str(word) for word in words], prog_name="lightchalk", standalone_mode=False))
    return Ran(code, out.getvalue(), err.getvalue())


def modules_after(statement: str) -> set[str]:
    """The modules a fresh interpreter has loaded after a statement."""
    import subprocess

    program = f"import sys\n{statement}\nprint('\\n'.join(sys.modules), file=sys.__stdout__)"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    return set(done.stdout.split())
