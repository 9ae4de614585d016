"""An entry taken out of a YAML text, with the line or the comma that belongs to it."""

from __future__ import annotations

import yaml

from jobs.io.node_places import Key, Node, end_of, line_end, line_start, start_of


def removed(text: str, parent: Node, key: Key) -> str:
    """The text without one of several entries of ``parent``. Raises LookupError or ValueError where that cannot be."""
    if isinstance(parent, yaml.MappingNode):
        number = [name.value for name, _ in parent.value].index(str(key))
        spans = [(start_of(name), max(end_of(name), end_of(value))) for name, value in parent.value]
    elif isinstance(parent, yaml.SequenceNode) and isinstance(key, int):
        number = key
        spans = [(start_of(item), end_of(item)) for item in parent.value]
    else:
        raise LookupError(key)
    start, end = spans[number]
    following = spans[number + 1][0] if number + 1 < len(spans) else None
    if parent.flow_style:
        if following is not None:
            return text[:start] + text[following:]
        return text[: spans[number - 1][1]] + text[end:]
    begin = line_start(text, start)
    before = text[begin:start]
    if before.strip() and not (isinstance(parent, yaml.SequenceNode) and before.strip() == "-"):
        # The first key of a list item stands behind the dash: the next one moves up to it.
        if following is None or isinstance(parent, yaml.SequenceNode):
            raise ValueError("nothing is left behind the dash")
        return text[:start] + text[following:]
    stop = line_end(text, end)
    stop += 2 if text[stop : stop + 2] == "\r\n" else 1
    if stop > len(text):
        # The last line ends without a line break: the one before it goes.
        return text[: line_end(text, begin)] if begin else ""
    return text[:begin] + text[stop:]
