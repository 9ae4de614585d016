"""What stands in the documents: pages, commands, what they are said to print, blocks of text."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PAGES = sorted([ROOT / "README.md", ROOT / "DEVELOPERS.md", *DOCS.rglob("*.md")])


def text_of(name: str) -> str:
    """A page of ``docs``."""
    return (DOCS / name).read_text(encoding="utf-8")


def yaml_blocks(text: str) -> list[str]:
    """The blocks of YAML of a page, in their order."""
    return re.findall(r"^```yaml\n(.*?)^```", text, re.M | re.S)


def commands_in(text: str) -> list[tuple[str, list[str]]]:
    """Each command on a line of its own in a block, and the lines it is said to print.

    With a ``$`` before it what follows is what it prints; without, it prints nothing that is shown. A line ``...``
    stands for lines left out.
    """
    found = []
    for block in re.findall(r"^```[a-z]*\n(.*?)^```", text, re.M | re.S):
        for line in block.splitlines():
            if line.startswith(("$ lightchalk ", "lightchalk ")):
                found.append((line.removeprefix("$ "), []))
            elif found and block.startswith("$ ") and line.strip() not in ("...", ""):
                found[-1][1].append(line.rstrip())
    return found


def commands_within(text: str) -> list[str]:
    """Commands within a sentence, those that name a command and something to do it with."""
    return re.findall(r"`(lightchalk [a-z]+ [^`\n|]+)`", text)
