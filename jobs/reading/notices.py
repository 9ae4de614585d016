"""What was left out of a file and what was taken instead, in words for the person."""

from __future__ import annotations


class Notices:
    """Collects notices; the same notice about several things is said once, with their names before it."""

    def __init__(self) -> None:
        self._names: dict[str, list[str]] = {}

    def add(self, text: str, name: str = "") -> None:
        """Note ``text``, about the thing of this name when it is about one of several."""
        names = self._names.setdefault(text, [])
        if name:
            names.append(name)

    def all(self) -> tuple[str, ...]:
        """Every notice once, in the order in which they were first added."""
        return tuple(f"{', '.join(names)}: {text}" if names else text for text, names in self._names.items())
