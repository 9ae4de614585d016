"""The form of a job as it is shown: each block of fields with its values, readings, problems and small drawings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from jobs.cutting.slugs import slug
from jobs.model.choices import Unit
from jobs.model.lengths import LengthError, parse_length, show_length
from jobs.model.problems import Path
from jobs.model.records import dataclass
from projector.page.form.field import Choice, Field, Group, Kind, Switch
from projector.page.form.implied import told_or_implied
from projector.page.form.open_job import OpenJob, path_text
from projector.page.form.pages import PAGES, Adding, Block, shown
from projector.page.form.values import Values
from projector.page.places.small_drawings import choice_drawing, field_drawing, switch_drawing

UNIT_NAMES = {"in": "inches", "cm": "centimetres", "mm": "millimetres"}
MOST_OPEN = 3
"""So many windows, pieces or flaws stand open below one another; of more, each is a line to be opened."""
MOST_RADIOS = 4


@dataclass(frozen=True)
class Option:
    """One answer to a choice, with the small drawing of it where it has one."""

    word: str
    label: str
    drawing: str = ""
    chosen: bool = False


@dataclass(frozen=True)
class Row:
    """A field or a question as it is shown. ``look`` is how: text, radios, list, several or colour."""

    id: str
    path: str
    name: str
    label: str
    term: str
    look: str
    value: str = ""
    unit: str = ""
    reading: str = ""
    usual: str = ""
    needed: bool = False
    wrong: str = ""
    doubt: str = ""
    options: tuple[Option, ...] = ()
    drawing: str = ""
    switch: str = ""
    asking: str = ""
    """Another unit that was chosen, while it is asked what becomes of the numbers."""
    numeric: bool = False


@dataclass(frozen=True)
class Part:
    """A block of rows, or the place where one more item is added."""

    id: str
    path: str
    heading: str
    rows: tuple[Row, ...] = ()
    thing: str = ""
    number: int | None = None
    many: bool = False
    """One of a list too long to stand open."""
    depth: int = 0
    wrong: int = 0
    said: str = ""
    may_go: bool = False
    adds: bool = False


@dataclass(frozen=True)
class FormSection:
    """A section of the form with its parts, and how much in it is to be mended or doubted."""

    key: str
    title: str
    intro: str
    parts: tuple[Part, ...]
    wrong: int
    doubts: int
    patterned: bool


def sections(job: OpenJob) -> tuple[FormSection, ...]:
    """The whole form, from top to bottom."""
    return tuple(_section(number, job) for number in range(len(PAGES)))


def _section(number: int, job: OpenJob) -> FormSection:
    section, values = PAGES[number], job.values
    parts = [_part(part, job) for part in shown(section, values)]
    rows = [row for part in parts for row in part.rows]
    wrong, doubts = sum(bool(row.wrong) for row in rows), sum(bool(row.doubt) for row in rows)
    return FormSection(section.key, section.title, section.intro, tuple(parts), wrong, doubts, values.patterned)


def _part(part: Block | Adding, job: OpenJob) -> Part:
    path = path_text(part.path)
    if isinstance(part, Adding):
        return Part(f"a-{_id(part.path)}", path, "", thing=part.group.thing, depth=part.depth, adds=True)
    values = job.values
    rows = tuple(
        _row(item, part, job) if isinstance(item, Field) else _question(item, part, values) for item in part.items
    )
    count = values.count(part.path[:-1]) if part.number is not None else 0
    name = _id(part.path) if part.number is not None else f"{_id(part.path)}-{slug(part.heading)}"
    return Part(
        f"b-{name}",
        path,
        part.heading,
        rows,
        part.group.thing,
        part.number,
        count > MOST_OPEN,
        part.depth,
        sum(bool(row.wrong) for row in rows),
        _said(part.group, part.path, values),
        part.number is not None and count > part.group.least,
    )


def _said(group: Group, path: Path, values: Values) -> str:
    """What a list item is called in one line."""
    keys = {"piece": ("length",), "flaw": ("from", "to")}.get(group.thing, ("name",))
    return " to ".join(filter(None, (values.text((*path, key)).strip() for key in keys)))


def _row(field: Field, block: Block, job: OpenJob) -> Row:
    values, path = job.values, block.path_of(field)
    value = told_or_implied(values, path)
    agreed = job.doubts.get(path)
    asking = job.asking_unit if path == ("units",) else ""
    options = _options(field, block, values, asking or value)
    if path[2:] == ("facing",):
        options = _looked_at(options, job.looks.get(int(path[1]), {}))
    return Row(
        f"f-{_id(path)}",
        path_text(path),
        f"n-{_id(path)}",
        field.label,
        field.term,
        _look(field),
        value,
        values.unit.value if field.kind is Kind.LENGTH else "",
        reading(value, values.unit) if field.kind is Kind.LENGTH else "",
        field.usual,
        field.needed,
        job.complaints.beside.get(path, ""),
        agreed[0] if agreed else "",
        options,
        field_drawing(field, block.path, values) if not any(one.drawing for one in options) else "",
        asking=asking,
        numeric=field.kind in (Kind.LENGTH, Kind.NUMBER, Kind.SHARE),
    )


def _look(field: Field) -> str:
    match field.kind:
        case Kind.CHOICE:
            return "radios" if len(field.choices) <= MOST_RADIOS else "list"
        case Kind.WINDOW | Kind.CLOTH:
            return "list"
        case Kind.SEVERAL:
            return "several"
        case Kind.COLOUR:
            return "colour"
    return "text"


def _options(field: Field, block: Block, values: Values, value: str) -> tuple[Option, ...]:
    if field.kind is Kind.WINDOW:
        own = values.text((*block.path, "name"))
        names = [name for name in values.names_of_windows() if name != own]
        listed = [Choice(name, name) for name in dict.fromkeys([*names, *filter(None, [value])])]
    elif field.kind is Kind.CLOTH:
        listed = [Choice(name, name) for name in values.names_of_cloths()]
    else:
        listed = list(field.choices)
    known = {choice.word for choice in listed}
    if value and field.kind in (Kind.CHOICE, Kind.WINDOW, Kind.CLOTH) and value not in known:
        listed.append(Choice(value, f"{value} (as the file says)"))
    several = [one.strip() for one in value.split(",")] if field.kind is Kind.SEVERAL else [value]
    return tuple(
        Option(one.word, one.label, choice_drawing(field, one.word, block.path, values), one.word in several)
        for one in listed
    )


def _looked_at(options: tuple[Option, ...], looks: Mapping[str, str]) -> tuple[Option, ...]:
    """The two answers with the pair as it hangs with either; the first one is chosen where nothing is said."""
    chosen = any(one.chosen for one in options)
    return tuple(
        replace(
            one,
            drawing=f'<span class="look" aria-hidden="true">{looks[one.word].partition("?>")[2]}</span>'
            if one.word in looks
            else one.drawing,
            chosen=one.chosen if chosen else not at,
        )
        for at, one in enumerate(options)
    )


def _question(switch: Switch, block: Block, values: Values) -> Row:
    now = switch.now(values, block.path)
    options = tuple(
        Option(one.word, one.label, switch_drawing(switch.name, one.word), one.word == now) for one in switch.choices
    )
    at = f"{_id(block.path)}-{switch.name}" if block.path else switch.name
    return Row(
        f"q-{at}",
        path_text(block.path),
        f"n-{at}",
        switch.label,
        switch.term,
        "radios",
        now,
        options=options,
        switch=switch.name,
    )


def reading(typed: str, unit: Unit) -> str:
    """How a typed length is read, in the unit of the job; empty where it says just that, or is no length."""
    try:
        length = parse_length(typed, unit, signed=True)
    except (LengthError, ValueError):
        return ""
    shown = show_length(length, unit)
    plain = " ".join(typed.split())
    return "" if shown in (plain, f"{plain} {unit.value}") or not plain else shown


def _id(path: Path) -> str:
    return "-".join(map(str, path)) or "job"
