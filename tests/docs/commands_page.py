"""The page of commands, made from the commands themselves: python -m tests.docs.commands_page > docs/commands.md"""

from __future__ import annotations

from tests.projector.commands.running import run

HEAD = """# Commands

Each section is what the command says of itself with `--help`; a test keeps the two the same.

Exit codes: 0 done; 1 the input is at fault (one line a problem on standard error); 2 wrong usage; 3 a fault of the
program (with how to report it); 130 interrupted. `--json` prints lengths in inches as numbers,
positions counted from the first end of the piece.
"""


def page() -> str:
    """The whole page."""
    from projector.commands.main import COMMANDS

    parts = [HEAD, "\n", _section("lightchalk", run("--help").out)]
    parts += [_section(f"lightchalk {name}", run(name, "--help").out) for name in COMMANDS]
    return "".join(parts).rstrip() + "\n"


def _section(title: str, said: str) -> str:
    return f"## {title}\n\n```\n{said.rstrip()}\n```\n\n"


if __name__ == "__main__":
    print(page(), end="")
