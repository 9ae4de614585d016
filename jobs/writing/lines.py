"""Lines of a job file: a key, its value and, at one column, a remark that says what it is."""

from __future__ import annotations

REMARK_COLUMN = 40


def line(indent: int, key: str, value: str = "", remark: str = "") -> str:
    """``key: value  # remark``, indented by ``indent`` blanks."""
    start = " " * indent + f"{key}:" + (f" {value}" if value else "")
    return f"{start:<{REMARK_COLUMN - 1}} # {remark}" if remark else start


def item(indent: int, lines: list[str]) -> list[str]:
    """These lines, indented by ``indent + 2``, as one item of a list: a dash before the first."""
    first = lines[0]
    return [" " * indent + "- " + first[indent + 2 :], *lines[1:]]


def flow(entries: list[tuple[str, str]]) -> str:
    """A mapping on one line: ``{from: 96, to: 98 1/2}``."""
    return "{" + ", ".join(f"{key}: {value}" for key, value in entries) + "}"
