"""Fields of the form made from the keys of the job: what a key is called and means is declared with the job itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from jobs.model import schema
from jobs.model.job import Job
from jobs.model.problems import Path
from jobs.model.schema import Key, key_at, key_named, keys_of
from projector.page.form.conditions import WHEN, uneven
from projector.page.form.field import Choice, Field, Group, Item, Kind, Switch

YES_NO = (Choice("yes", "yes"), Choice("no", "no"))
_ASKED_FIRST = (
    schema.When.LINED,
    schema.When.INTERLINED,
    schema.When.OWN_ALLOWANCES,
    schema.When.TIED_BACK,
)
"""Groups of keys that a switch brings in and takes out."""
_KINDS: dict[type, Kind] = {
    schema.Length: Kind.LENGTH,
    schema.Two: Kind.LENGTH,
    schema.Share: Kind.SHARE,
    schema.Number: Kind.NUMBER,
    schema.Count: Kind.NUMBER,
    schema.PlaneGroup: Kind.NUMBER,
    schema.Colour: Kind.COLOUR,
    schema.Choice: Kind.CHOICE,
    schema.YesNo: Kind.CHOICE,
}


def fields(key: Key, below: Path = ()) -> Iterator[Field]:
    """The fields of a key: one, or one for each value of a pair, or those of the keys below it; a list has none.

    A key without a usual value must be filled in wherever it is shown, but not within a group that may be left out.
    """
    kind = key.kind
    if isinstance(kind, schema.Group):
        for inner in keys_of(kind.of):
            yield from (_within(one, key) for one in fields(inner, (*below, key.name)))
        return
    if isinstance(kind, schema.Groups):
        return
    at = (*below, key.name)
    needed = key.needed or (key.taken is None and not key.usual)
    whole = Field(at, key.label, key.meaning, _kind(key), needed, _choices(kind), key.usual, WHEN[key.when])
    if isinstance(kind, schema.Length) and kind.sides:
        yield replace(whole, when=lambda values, group: not uneven(values, group, key.name))
        for side in schema.SIDES:
            label = f"{key.label}: {side} side"
            yield replace(
                whole, key=(*at, side), label=label, when=lambda values, group: uneven(values, group, key.name)
            )
    elif isinstance(kind, schema.Two):
        yield from (replace(whole, key=(*at, number), label=label) for number, label in enumerate(kind.labels))
    else:
        yield whole


def _within(field: Field, group: Key) -> Field:
    """A field below a key that may be left out, shown where its own condition and that of the key hold."""
    if group.when not in _ASKED_FIRST:
        return _optional(field, group)
    both = (WHEN[group.when], field.when)
    return replace(
        field, label=f"{group.label}: {field.label}", when=lambda values, path: all(one(values, path) for one in both)
    )


def _optional(field: Field, group: Key) -> Field:
    always = schema.When.ALWAYS
    if group.needed or group.when is not always or field.when is not WHEN[always] or not field.needed:
        return field
    return replace(field, needed=False, usual=group.usual)


def _kind(key: Key) -> Kind:
    kind = key.kind
    if isinstance(kind, schema.Text):
        return {"window": Kind.WINDOW, "cloth": Kind.CLOTH, "file": Kind.FILE}.get(kind.of, Kind.NAME)
    if isinstance(kind, schema.Several):
        return Kind.COLOURS if isinstance(kind.of, schema.Colour) else Kind.SEVERAL
    return _KINDS[type(kind)]


def _choices(kind: schema.Kind) -> tuple[Choice, ...]:
    if isinstance(kind, schema.YesNo):
        return YES_NO
    if isinstance(kind, schema.Several):
        return _choices(kind.of)
    if isinstance(kind, schema.Choice):
        return tuple(Choice(word.value, label) for word, label in zip(kind.words, kind.labels, strict=True))
    return ()


def _items(model: type, names: tuple[str | Switch, ...]) -> tuple[Item, ...]:
    items: list[Item] = []
    for name in names:
        if isinstance(name, Switch):
            items.append(name)
            continue
        first, _, rest = name.partition(".")
        key = key_named(model, first)
        if key is None:
            raise KeyError(name)
        items += [one for one in fields(key) if not rest or one.key[-1] == rest]
    return tuple(items)


def group_of(title: str, path: tuple[str, ...], *names: str | Switch, **more: object) -> Group:
    """The group of keys at a path of the job: so titled, with the fields of the keys named and switches between them.

    A name with a dot is one key of a group below. Raises KeyError where there is no such key.
    """
    key = key_at(Job, path)
    model = key.kind.of if key is not None and isinstance(key.kind, schema.Group | schema.Groups) else Job
    items = _items(model, names)
    if key is not None and isinstance(key.kind, schema.Group):
        items = tuple(_optional(one, key) if isinstance(one, Field) else one for one in items)
    return replace(Group(title, path, items), **more)  # type: ignore[arg-type]
