"""Words written for people with a job file before them, said for those who see the form: labels in place of keys."""

from __future__ import annotations

import re
from collections.abc import Iterator

from projector.desk.form.field import Field, Group
from projector.desk.form.pages import PAGES

_QUOTED = re.compile(r"(write )?`([a-z_]+)(?:: ([a-z]+(?: (?:end|fullness))?))?`")
_BARE = re.compile(r"(write )?\b([a-z]+(?:_[a-z]+)+)\b(?:: ([a-z]+(?: (?:end|fullness))?))?")


def in_form_words(said: str) -> str:
    """The sentence with keys of the job file named as the form names them; a key without a field stays as it is."""
    return _BARE.sub(_named, _QUOTED.sub(_named, said))


def _named(match: re.Match[str]) -> str:
    write, key, word = match.groups()
    field = _FIELDS.get(key)
    if field is None:
        return match.group()
    if word is None:
        return f"{write or ''}\u201c{field.label}\u201d"
    label = next((choice.label for choice in field.choices if choice.word == word), None)
    if label is None:
        return f"{write or ''}\u201c{field.label}\u201d: {word}"
    end = "" if field.label.endswith("?") else ":"
    return f"{'choose ' if write else ''}\u201c{field.label}{end} {label}\u201d"


def _fields(group: Group) -> Iterator[Field]:
    yield from (item for item in group.items if isinstance(item, Field))
    for within in group.within:
        yield from _fields(within)


_FIELDS: dict[str, Field] = {}
for _field in (field for page in PAGES for group in page.groups for field in _fields(group)):
    _FIELDS.setdefault(next(key for key in reversed(_field.key) if isinstance(key, str)), _field)
