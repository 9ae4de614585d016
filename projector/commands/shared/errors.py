"""The one error boundary: failures become words on standard error and an exit code.

0 done; 1 the input is at fault; 2 wrong usage; 3 a fault of the program; 130 interrupted.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable

import click

DONE, INPUT_AT_FAULT, WRONG_USAGE, PROGRAM_AT_FAULT, INTERRUPTED = 0, 1, 2, 3, 130


class InputAtFault(Exception):  # noqa: N818 - says whose fault it is
    """The person's input cannot be used; ``lines`` say what is wrong and what to do instead, one line a problem."""

    def __init__(self, *lines: str) -> None:
        super().__init__("\n".join(lines))
        self.lines = lines


def report(command: Callable[[], object]) -> int:
    """Run ``command`` and return the exit code; print what went wrong on standard error."""
    try:
        result = command()
    except InputAtFault as fault:
        for line in fault.lines:
            _say(line)
        return INPUT_AT_FAULT
    except click.ClickException as usage:
        import io

        from projector.commands.shared.terminal import printable

        shown = io.StringIO()
        usage.show(file=shown)
        print(printable(shown.getvalue()), end="", file=sys.stderr)
        return WRONG_USAGE
    except click.exceptions.Exit as leave:
        return leave.exit_code
    except (KeyboardInterrupt, click.Abort, EOFError):
        _say("Interrupted.")
        return INTERRUPTED
    except BrokenPipeError:
        # The reader of a pipe went away: nothing is wrong. Keep the interpreter from complaining at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except Exception as fault:
        from projector.files.write import CannotWrite

        if isinstance(fault, CannotWrite):
            _say(str(fault))
            return INPUT_AT_FAULT
        for line in fault_lines(fault):
            _say(line)
        return PROGRAM_AT_FAULT
    return result if isinstance(result, int) else DONE


def fault_lines(fault: BaseException) -> tuple[str, str]:
    """What is said of a fault of the program, and how to report it; its traceback goes into a file of its own."""
    return (
        f"lightchalk itself went wrong ({type(fault).__name__}: {fault}). Cuts already ticked are kept.",
        f"Please report it with the file {_write_trace(fault)} and what you were doing.",
    )


def _say(line: str) -> None:
    from projector.commands.shared.terminal import printable, refusal

    print(refusal(printable(line)), file=sys.stderr)


def _write_trace(fault: BaseException) -> str:
    """Write the traceback of the exception to a file of its own and return its path."""
    import tempfile  # a command that goes well needs neither
    import traceback

    try:
        handle, path = tempfile.mkstemp(prefix="lightchalk-fault-", suffix=".txt")
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write("".join(traceback.format_exception(fault)))
    except OSError:
        return "(which could not be written)"
    return path
