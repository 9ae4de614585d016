"""The page of commands, made from the commands themselves: python -m tests.docs.commands_page writes it."""

from __future__ import annotations

from pathlib import Path

from projector.commands.main import COMMANDS, lightchalk

PAGE = Path(__file__).parents[2] / "docs" / "commands.md"
WIDTH = 98
"""What click leaves of a terminal 100 letters wide, the most that the commands use."""
HEAD = """# Commands

Each section is what the command says of itself with `--help`; the page is made from the commands by
`python -m tests.docs.commands_page`.

Exit codes: 0 done; 1 the input is at fault (one line a problem on standard error); 2 wrong usage; 3 a fault of the
program (with how to report it); 130 interrupted. `--json` prints lengths in inches as numbers, positions counted from
the first end of the piece. Headings are coloured, what to buy and what is next bold, refusals red in a terminal; set
`NO_COLOR=1` for neither. In a pipe or a file there is never any colour.

Commands, options and the names of job files are completed with the Tab key once your shell knows how. Add one line to
its start-up file and open a new terminal; `lightchalk` must be found by that shell: activate its environment first.

| shell | file | line |
| --- | --- | --- |
| bash (4.4 or later) | `~/.bashrc` | `eval "$(_LIGHTCHALK_COMPLETE=bash_source lightchalk)"` |
| zsh | `~/.zshrc` | `eval "$(_LIGHTCHALK_COMPLETE=zsh_source lightchalk)"` (after `compinit`) |
| fish | `~/.config/fish/config.fish` | `_LIGHTCHALK_COMPLETE=fish_source lightchalk \\| source` |
"""


def page() -> str:
    """The whole page."""
    top = lightchalk.make_context("lightchalk", [], resilient_parsing=True, terminal_width=WIDTH)
    parts = [HEAD, _section("lightchalk", top.get_help())]
    for name in COMMANDS:
        command = lightchalk.get_command(top, name)
        assert command is not None
        own = command.make_context(name, [], top, resilient_parsing=True)
        parts.append(_section(f"lightchalk {name}", own.get_help()))
    return "\n".join(parts)


def _section(title: str, said: str) -> str:
    return f"## {title}\n\n```\n{said.rstrip()}\n```\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
