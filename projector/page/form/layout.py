"""The pages of the form: which keys stand where."""

from __future__ import annotations

from dataclasses import replace

from projector.page.form.conditions import alone, alone_and_patterned, patterned
from projector.page.form.field import Group, Section, always
from projector.page.form.key_fields import group_of
from projector.page.form.switches import INTERLINED, LINED, OWN, PATTERNED, ROWS, STRIPS, TIED_BACK, WIDTH

FLAWS = replace(
    group_of("Flaw", ("cloth", "pieces", "flaws"), "from", "to", "across", "note"),
    path=("flaws",),
    many=True,
    thing="flaw",
    new=(("from", '""'), ("to", '""')),
)
PIECES = group_of(
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
    group_of("Place", ("windows", "places"), "panel", "cut", "piece", "near"),
    path=("places",),
    many=True,
    thing="place for a cut",
    new=(("panel", "left"), ("near", '""')),
)


def _places_of(key: str, made: str, panel: str = "left") -> Group:
    """The places for cuts of what a window has made of a further cloth."""
    group = group_of(f"Place of the {made}", ("windows", key, "places"), "panel", "cut", "piece", "near", many=True)
    return replace(
        group,
        path=(key, "places"),
        thing=f"place for a cut of the {made}",
        new=(("panel", panel), ("near", '""')),
        when=lambda values, group: values.has(group[:-1]),
    )


_PLACES_OF_THINGS = replace(PLACES, new=(("panel", "whole"), ("near", '""')))
_BANDS = replace(
    group_of("Contrast band", ("windows", "bands"), "edge", "width", "cloth", "cut", "seam"),
    path=("bands",),
    many=True,
    thing="contrast band",
    new=(("edge", "leading"), ("width", '""')),
    within=(replace(PLACES, title="Place of the band", thing="place for a cut of the band"),),
)
WINDOWS = group_of(
    "Window",
    ("windows",),
    *("name", "panels", "hang", "top_height", "finished_length", WIDTH, "cuts_per_panel", "rod", "returns", "overlap"),
    *(
        "fullness",
        ROWS,
        "row",
        "room",
        "facing",
        "half_at",
        "side_by_side",
        "cloth",
        OWN,
        "allowances",
        LINED,
        "lining",
    ),
    *(INTERLINED, "interlining", TIED_BACK, "tie_backs"),
    many=True,
    thing="window",
    new=(("name", ""), ("panels", "pair"), ("finished_length", '""'), ("cuts_per_panel", "1")),
    within=(
        _BANDS,
        PLACES,
        _places_of("lining", "lining"),
        _places_of("interlining", "interlining"),
        _places_of("tie_backs", "tie-backs", "whole"),
    ),
    least=1,
)
_CLOTHS = group_of(
    "Another cloth",
    ("cloths",),
    *("name", "width", STRIPS, "selvedge", PATTERNED, "shrinkage", "sold_by", "colour", "faces_alike", "run"),
    *("shrinkage_across", "longest_piece", "side_by_side", "thickness", "layers", "picture", "motif_colours"),
    *("border", "border_leads"),
    many=True,
    thing="cloth",
    new=(("name", '""'), ("width", '""'), ("selvedge", "0"), ("print", "{one_way: no}")),
    within=(
        replace(
            group_of(
                "Its repeat",
                ("cloths",),
                *("repeat", "drop", "first_column", "follow", "repeat_tolerance", "order_by"),
                when=patterned,
            ),
            path=(),
        ),
        replace(
            group_of(
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
_FLAT_PANELS = group_of(
    "Flat panel",
    ("flat_panels",),
    *("name", "width", "finished_length", "count", "cloth", OWN, "allowances", "middle", ROWS, "row", "top_height"),
    *("beside", "apart", "room"),
    many=True,
    thing="flat panel",
    new=(("name", '""'), ("width", '""'), ("finished_length", '""')),
    within=(_PLACES_OF_THINGS,),
)
_WANTED = group_of(
    "Small thing",
    ("wanted",),
    *("name", "size", "seam", "count", "backs", "order", "cloth", "row", "point"),
    many=True,
    thing="small thing",
    new=(("name", '""'), ("size", '["", ""]')),
    within=(replace(_PLACES_OF_THINGS, when=lambda values, group: values.text((*group[:-1], "order")) == "yes"),),
)
PAGES = (
    Section(
        "cloth",
        "Cloth",
        "Lay the cloth flat and measure it; do not trust the ticket.",
        (
            group_of("The job", (), "job", "units"),
            group_of(
                "The cloth",
                ("cloth",),
                *("name", "width", STRIPS, "selvedge", PATTERNED, "shrinkage", "sold_by", "colour", "faces_alike"),
                when=alone,
            ),
        ),
    ),
    Section(
        "print",
        "Print",
        "Choose one point of the motif that you find again at once: a row is the line across through it.",
        (
            group_of(
                "The repeat", ("cloth",), "repeat", "drop", "repeat_tolerance", "order_by", when=alone_and_patterned
            ),
            group_of(
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
            group_of(
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
        (group_of("The cutting table", ("table",), "length", "width"),),
    ),
    Section(
        "more",
        "More",
        "What few jobs need. All of it may stay empty.",
        (
            group_of("Lit for sewing", (), "pins", "stiffener", "doubled", "returns_added"),
            group_of("Flaws that do no harm", (), "flaws_may_lie_in"),
            group_of(
                "The cloth on the table",
                ("cloth",),
                *("run", "shrinkage_across", "longest_piece", "side_by_side", "thickness", "layers"),
                *("border", "border_leads"),
                when=alone,
            ),
            group_of(
                "More of the print",
                ("cloth",),
                *("picture", "motif_colours", "first_column", "follow", "print.group"),
                when=alone,
            ),
            group_of("The light", (), "light", "tolerance"),
            group_of("Agreed with the supplier", ("limits",), "bow", "skew", when=patterned),
        ),
    ),
)
