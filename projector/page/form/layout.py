"""The pages of the form: which keys stand where. What a key is called and means is declared with the job itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from jobs.model import schema
from jobs.model.job import Job
from jobs.model.problems import Path
from jobs.model.schema import Key, key_at, key_named, keys_of
from projector.page.form.conditions import (
    HOW,
    RULE,
    WHEN,
    alone,
    alone_and_patterned,
    has,
    how,
    patterned,
    rule,
    uneven,
)
from projector.page.form.field import Choice, Field, Group, Item, Kind, Section, Switch, always
from projector.page.form.values import Values

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


def _group(title: str, path: tuple[str, ...], *names: str | Switch, **more: object) -> Group:
    key = key_at(Job, path)
    model = key.kind.of if key is not None and isinstance(key.kind, schema.Group | schema.Groups) else Job
    items = _items(model, names)
    if key is not None and isinstance(key.kind, schema.Group):
        items = tuple(_optional(one, key) if isinstance(one, Field) else one for one in items)
    return replace(Group(title, path, items), **more)  # type: ignore[arg-type]


def _is_patterned(values: Values, group: Path) -> str:
    return "yes" if values.is_patterned(group) else "no"


STRIPS = Switch(
    "strips",
    "The two selvedges",
    "Embroidered cloth often has a wider one; the near side is the one before you, the first end at your left.",
    (Choice("alike", "as wide as each other"), Choice("unlike", "one is wider")),
    lambda values, group: "unlike" if uneven(values, group, "selvedge") else "alike",
    {"alike": ((("selvedge",), '""'),), "unlike": ((("selvedge", "near"), '""'), (("selvedge", "far"), '""'))},
)
_PATTERNED = Switch(
    "patterned",
    "Must the print meet from panel to panel?",
    "No for plain cloth, and for a print so small or wild that nothing needs to meet.",
    (Choice("yes", "yes, it is patterned"), Choice("no", "no, it is plain")),
    _is_patterned,
    {"yes": ((("repeat", "along"), '""'),), "no": ()},
)
_HOW = Switch(
    HOW,
    "Its width",
    "One length of cloth from selvedge to selvedge is a cut.",
    (Choice("cuts", "I say how many cuts"), Choice("rod", "worked out from the rod")),
    how,
    {
        "cuts": ((("cuts_per_panel",), "1"),),
        "rod": ((("rod",), '""'), (("returns",), "0"), (("overlap",), "0"), (("fullness",), "2")),
    },
)
_RULE = Switch(
    RULE,
    "A row of the print stands",
    "A whole motif at the foot shows most; rows level from window to window show in a room with several.",
    (
        Choice("below_top", "below the top"),
        Choice("above_foot", "above the foot"),
        Choice("level_with", "level with another window"),
    ),
    rule,
    {
        "below_top": ((("row", "below_top"), "0"),),
        "above_foot": ((("row", "above_foot"), "0"),),
        "level_with": ((("row", "level_with"), '""'),),
    },
    when=patterned,
)
_OWN = Switch(
    "own allowances",
    "Are its turnings others than in the rest of the job?",
    "Its heading, hem or side hem.",
    YES_NO,
    has("allowances"),
    {"yes": ((("allowances", "hem"), '""'),), "no": ()},
)
_LINED = Switch(
    "lined",
    "Is it lined?",
    "From a cloth of its own, which stands under More cloths, or from the same.",
    YES_NO,
    has("lining"),
    {"yes": ((("lining", "cloth"), '""'),), "no": ()},
)
_INTERLINED = Switch(
    "interlined",
    "Is it interlined?",
    "What lies between face and lining.",
    YES_NO,
    has("interlining"),
    {"yes": ((("interlining", "cloth"), '""'),), "no": ()},
)
FLAWS = replace(
    _group("Flaw", ("cloth", "pieces", "flaws"), "from", "to", "across", "note"),
    path=("flaws",),
    many=True,
    thing="flaw",
    new=(("from", '""'), ("to", '""')),
)
PIECES = _group(
    "Piece",
    ("cloth", "pieces"),
    *("length", "first_row", "dye_lot"),
    many=True,
    thing="piece",
    new=(("length", '""'),),
    within=(FLAWS,),
    when=alone,
)
PLACES = replace(
    _group("Place", ("windows", "places"), "panel", "cut", "piece", "near"),
    path=("places",),
    many=True,
    thing="place for a cut",
    new=(("panel", "left"), ("near", '""')),
)


def _places_of(made: str) -> Group:
    """The places for cuts of what a window has made of a further cloth."""
    group = _group(f"Place of the {made}", ("windows", made, "places"), "panel", "cut", "piece", "near", many=True)
    return replace(
        group,
        path=(made, "places"),
        thing=f"place for a cut of the {made}",
        new=(("panel", "left"), ("near", '""')),
        when=lambda values, group: values.has(group[:-1]),
    )


_TIED_BACK = Switch(
    "tied back",
    "Has it tie-backs?",
    "One for each panel, from any of the cloths.",
    YES_NO,
    has("tie_backs"),
    {"yes": ((("tie_backs", "length"), '""'), (("tie_backs", "width"), '""')), "no": ()},
)
_BANDS = replace(
    _group("Contrast band", ("windows", "bands"), "edge", "width", "cloth", "cut", "seam"),
    path=("bands",),
    many=True,
    thing="contrast band",
    new=(("edge", "leading"), ("width", '""')),
)
WINDOWS = _group(
    "Window",
    ("windows",),
    *("name", "panels", "hang", "top_height", "finished_length", _HOW, "cuts_per_panel", "rod", "returns", "overlap"),
    *(
        "fullness",
        _RULE,
        "row",
        "room",
        "facing",
        "half_at",
        "side_by_side",
        "cloth",
        _OWN,
        "allowances",
        _LINED,
        "lining",
    ),
    *(_INTERLINED, "interlining", _TIED_BACK, "tie_backs"),
    many=True,
    thing="window",
    new=(("name", ""), ("panels", "pair"), ("finished_length", '""'), ("cuts_per_panel", "1")),
    within=(_BANDS, PLACES, _places_of("lining"), _places_of("interlining")),
    least=1,
)
_CLOTHS = _group(
    "Another cloth",
    ("cloths",),
    *("name", "width", STRIPS, "selvedge", _PATTERNED, "shrinkage", "sold_by", "colour", "faces_alike", "run"),
    *("shrinkage_across", "longest_piece", "side_by_side", "thickness", "layers", "picture", "motif_colours"),
    *("border", "border_leads"),
    many=True,
    thing="cloth",
    new=(("name", '""'), ("width", '""'), ("selvedge", "0"), ("print", "{one_way: no}")),
    within=(
        replace(
            _group(
                "Its repeat",
                ("cloths",),
                *("repeat", "drop", "first_column", "follow", "repeat_tolerance", "order_by"),
                when=patterned,
            ),
            path=(),
        ),
        replace(
            _group(
                "How it mirrors",
                ("cloths", "print"),
                *("top_to_bottom", "mirror_offset", "side_to_side", "mirror_offset_across", "half_turn", "one_way"),
                *("top_towards", "group"),
            ),
            path=("print",),
        ),
        replace(PIECES, path=("pieces",), when=always),
    ),
)
_FLAT_PANELS = _group(
    "Flat panel",
    ("flat_panels",),
    *("name", "width", "finished_length", "count", "cloth", _OWN, "allowances", "middle", _RULE, "row", "top_height"),
    *("beside", "apart", "room"),
    many=True,
    thing="flat panel",
    new=(("name", '""'), ("width", '""'), ("finished_length", '""')),
)
_WANTED = _group(
    "Small thing",
    ("wanted",),
    *("name", "size", "seam", "count", "backs", "order", "cloth", "row", "point"),
    many=True,
    thing="small thing",
    new=(("name", '""'), ("size", '["", ""]')),
)
PAGES = (
    Section(
        "cloth",
        "Cloth",
        "Lay the cloth flat and measure it; do not trust the ticket.",
        (
            _group("The job", (), "job", "units"),
            _group(
                "The cloth",
                ("cloth",),
                *("name", "width", STRIPS, "selvedge", _PATTERNED, "shrinkage", "sold_by", "colour", "faces_alike"),
                when=alone,
            ),
        ),
    ),
    Section(
        "print",
        "Print",
        "Choose one point of the motif that you find again at once: a row is the line across through it.",
        (
            _group(
                "The repeat", ("cloth",), "repeat", "drop", "repeat_tolerance", "order_by", when=alone_and_patterned
            ),
            _group(
                "How it mirrors",
                ("cloth", "print"),
                *("top_to_bottom", "mirror_offset", "side_to_side", "mirror_offset_across", "half_turn", "one_way"),
                "top_towards",
                when=alone,
            ),
        ),
    ),
    Section(
        "allowances",
        "Allowances",
        "What is added to the finished sizes.",
        (
            _group(
                "Turned over or lost",
                ("allowances",),
                *("heading_kind", "heading", "hem_kind", "hem", "side_hem", "seam", "least_seam", "squaring"),
            ),
        ),
    ),
    Section("windows", "Windows", "All windows that are cut from this cloth belong in one job.", (WINDOWS,)),
    Section(
        "flat",
        "Shades and cushions",
        "Shades, flat valances, cushions and other small things. Leave this page empty where there are none.",
        (_FLAT_PANELS, _WANTED),
    ),
    Section(
        "pieces",
        "Pieces",
        "The cloth as delivered. Leave this page empty while you only order: the program says how much to buy.",
        (PIECES,),
    ),
    Section(
        "cloths",
        "More cloths",
        "Linings, and whatever else is cut: each is ordered and cut for itself. Leave this page empty where one cloth "
        "is all.",
        (_CLOTHS,),
    ),
    Section(
        "table",
        "Table",
        "Long cuts are moved along a short table in several pulls. A calibrated projector knows its own lit area; "
        "this size serves before there is one.",
        (_group("The cutting table", ("table",), "length", "width"),),
    ),
    Section(
        "more",
        "More",
        "What few jobs need. All of it may stay empty.",
        (
            _group("Lit for sewing", (), "pins", "stiffener", "doubled", "returns_added"),
            _group("Flaws that do no harm", (), "flaws_may_lie_in"),
            _group(
                "The cloth on the table",
                ("cloth",),
                *("run", "shrinkage_across", "longest_piece", "side_by_side", "thickness", "layers"),
                *("border", "border_leads"),
                when=alone,
            ),
            _group(
                "More of the print",
                ("cloth",),
                *("picture", "motif_colours", "first_column", "follow", "print.group"),
                when=alone,
            ),
            _group("The light", (), "light", "tolerance"),
            _group("Agreed with the supplier", ("limits",), "bow", "skew", when=patterned),
        ),
    ),
)
