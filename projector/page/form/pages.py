"""The pages of the form in the order a person measures, and the fields they show for what the file says."""

from __future__ import annotations

from collections.abc import Iterator

from jobs.model.problems import Path
from jobs.model.records import dataclass
from projector.page.form.field import Field, Group, Item, Section
from projector.page.form.layout import PAGES
from projector.page.form.values import Values


@dataclass(frozen=True)
class Block:
    """A group as it is shown: its heading, where it stands in the file, its items, and its number in a list."""

    group: Group
    path: Path
    heading: str
    items: tuple[Item, ...]
    number: int | None = None
    depth: int = 0

    def path_of(self, field: Field) -> Path:
        """Where the field's value stands in the file."""
        return (*self.path, *field.key)


@dataclass(frozen=True)
class Adding:
    """The place where one more item of a list can be added."""

    group: Group
    path: Path
    depth: int = 0


def shown(section: Section, values: Values) -> list[Block | Adding]:
    """What the page shows, from top to bottom."""
    return [part for group in section.groups for part in _group(group, group.path, values, 0)]


def parts_shown(values: Values) -> list[Block | Adding]:
    """What all pages show."""
    return [part for section in PAGES for part in shown(section, values)]


def _group(group: Group, path: Path, values: Values, depth: int) -> Iterator[Block | Adding]:
    if not group.when(values, path):
        return
    if not group.many:
        yield Block(group, path, group.title, _items(group, path, values), depth=depth)
        return
    for number in range(values.count(path)):
        inner = (*path, number)
        yield Block(group, inner, f"{group.title} {number + 1}", _items(group, inner, values), number, depth)
        for within in group.within:
            yield from _group(within, (*inner, *within.path), values, depth + 1)
    yield Adding(group, path, depth)


def _items(group: Group, path: Path, values: Values) -> tuple[Item, ...]:
    return tuple(item for item in group.items if item.when(values, path))


def fields_shown(values: Values) -> dict[Path, tuple[Section, Field]]:
    """Every field that is shown on any page, by where its value stands."""
    return {
        part.path_of(item): (section, item)
        for section in PAGES
        for part in shown(section, values)
        if isinstance(part, Block)
        for item in part.items
        if isinstance(item, Field)
    }
