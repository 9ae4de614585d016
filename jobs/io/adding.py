"""A new key or list item put into a YAML text."""

from __future__ import annotations

import yaml

from jobs.io.node_places import Key, Node, end_of, line_end, line_start, start_of


def added(text: str, parent: Node, key: Key, value: str, after: tuple[str, ...]) -> str:
    """The text with ``key: value`` (or an item ``value``) put into ``parent``, after the first of ``after`` that is
    there, else at the end. Raises LookupError or ValueError where there is no place for it."""
    if isinstance(parent, yaml.MappingNode):
        names = [name.value for name, _ in parent.value]
        at = next((names.index(one) for one in after if one in names), len(names) - 1)
        last = parent.value[at] if names else None
        new = f"{key}:{value}" if value[:1] in ("\n", "\r") else f"{key}: {value}"
        if parent.flow_style:
            return _in_brackets(text, parent, last[1] if last else None, last[0] if last else None, new)
        assert last is not None
        column = parent.value[0][0].start_mark.column
        return _on_a_line(text, max(end_of(last[0]), end_of(last[1])), new, column, column)
    if not isinstance(parent, yaml.SequenceNode) or key != len(parent.value):
        raise LookupError(key)
    if parent.flow_style:
        return _in_brackets(text, parent, parent.value[-1] if parent.value else None, None, value)
    first = start_of(parent.value[0])
    column = text.rindex("-", line_start(text, first), first + 1) - line_start(text, first)
    return _on_a_line(text, end_of(parent.value[-1]), f"- {value}", column, column + 2)


def _in_brackets(text: str, parent: Node, last: Node | None, key: Node | None, new: str) -> str:
    if text[start_of(parent)] not in "{[":
        raise ValueError("an entry without brackets of its own")
    if last is None:
        at = start_of(parent) + 1
        return f"{text[:at]}{new}{text[at:]}"
    at = max(end_of(last), end_of(key) if key is not None else 0)
    return f"{text[:at]}, {new}{text[at:]}"


def _on_a_line(text: str, end: int, new: str, column: int, deeper: int) -> str:
    """A line of its own after the one that ``end`` lies in; further lines of ``new`` are indented to ``deeper``."""
    at = line_end(text, end)
    feed = "\r\n" if "\r\n" in text else "\n"
    lines = new.splitlines()
    body = feed.join([" " * column + lines[0], *(" " * deeper + line if line else line for line in lines[1:])])
    return f"{text[:at]}{feed}{body}{text[at:]}"
