"""Where the values of a YAML text stand in it: the character each begins and ends at."""

from __future__ import annotations

from typing import Any, TypeAlias

import yaml

from jobs.io.log import Log
from jobs.io.nodes import parse

Node: TypeAlias = yaml.MappingNode | yaml.SequenceNode | yaml.ScalarNode
Key: TypeAlias = str | int
Path: TypeAlias = tuple[Key, ...]

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def composed(text: str, file: str) -> Node:
    """The root node of a text that keeps within the bounds of a job file. Raises Problems for one that does not."""
    log = Log(file)
    parse(text, log)  # refuses references, depth and size before anything is built
    log.raise_if_any()
    root = yaml.compose(text, Loader=_LOADER)
    assert isinstance(root, yaml.MappingNode | yaml.SequenceNode | yaml.ScalarNode)
    return root


def plain(node: Node) -> Any:
    """What the node says, without its places: pairs, lists and texts with whether they are bare of quotes."""
    if isinstance(node, yaml.MappingNode):
        return {"pairs": [[plain(key), plain(value)] for key, value in node.value]}
    if isinstance(node, yaml.SequenceNode):
        return [plain(item) for item in node.value]
    return node.value, not node.style


def child(node: Node, key: Key) -> Node | None:
    """The value of a key, or the item of a number (from 0); None where there is none."""
    if isinstance(node, yaml.MappingNode):
        return next((value for name, value in node.value if name.value == key), None)
    if isinstance(node, yaml.SequenceNode) and isinstance(key, int):
        return node.value[key] if 0 <= key < len(node.value) else None
    return None


def start_of(node: Node) -> int:
    """The character the node begins at."""
    return int(node.start_mark.index)


def end_of(node: Node) -> int:
    """The character after the last one of the node; the marks of indented collections reach over what follows them."""
    if isinstance(node, yaml.MappingNode) and not node.flow_style and node.value:
        return max(end_of(node.value[-1][0]), end_of(node.value[-1][1]))
    if isinstance(node, yaml.SequenceNode) and not node.flow_style and node.value:
        return end_of(node.value[-1])
    return int(node.end_mark.index)


def line_start(text: str, index: int) -> int:
    """The first character of the line that ``index`` lies in."""
    return max(text.rfind("\n", 0, index), text.rfind("\r", 0, index)) + 1


def line_end(text: str, index: int) -> int:
    """The line break (or the end of the text) at or after ``index``; just before it where ``index`` begins a line that
    follows a text of several lines."""
    if 0 < index <= len(text) and text[index - 1] in "\r\n":
        return index - (2 if text[index - 2 : index] == "\r\n" else 1)
    ends = [at for at in (text.find("\n", index), text.find("\r", index)) if at >= 0]
    return min(ends, default=len(text))
