"""The pages of the form about the allowances, the windows and the table."""

from __future__ import annotations

from jobs.writing.node_places import Path
from projector.desk.form.about_cloth import YES_NO, patterned
from projector.desk.form.field import Choice, Field, Group, Kind, Section, Switch, When
from projector.desk.form.terms import term
from projector.desk.form.values import Values

RULES = ("below_top", "above_foot", "level_with")


def _how(values: Values, group: Path) -> str:
    return "rod" if values.has((*group, "rod")) else "cuts"


def _rule(values: Values, group: Path) -> str:
    return next((rule for rule in RULES if values.has((*group, "row", rule))), "below_top")


def _pair(values: Values, group: Path) -> bool:
    return values.text((*group, "panels")) == "pair"


def _by_rod(values: Values, group: Path) -> bool:
    return _how(values, group) == "rod"


def _by_cuts(values: Values, group: Path) -> bool:
    return _how(values, group) == "cuts"


def _narrow(values: Values, group: Path) -> bool:
    """Whether there may be half cuts or narrow panels, or the question was answered already."""
    key = (*group, "side_by_side")
    return _by_rod(values, group) or "1/2" in values.text((*group, "cuts_per_panel")) or values.has(key)


def _several(values: Values, group: Path) -> bool:
    return values.count(("windows",)) > 1 or values.has((*group, "room"))


def _on_rule(rule: str) -> When:
    return lambda values, group: values.patterned and _rule(values, group) == rule


ALLOWANCES_PAGE = Section(
    "allowances",
    "Allowances",
    "What is added to the finished sizes.",
    (
        Group(
            "Turned over or lost",
            ("allowances",),
            (
                Field(("heading",), "Heading", term("allowances", "heading"), usual="0"),
                Field(("hem",), "Hem", term("allowances", "hem"), usual="0"),
                Field(("side_hem",), "Side hem", term("allowances", "side_hem"), usual="0"),
                Field(("seam",), "Seam", term("allowances", "seam"), usual="0"),
                Field(("squaring",), "Squaring", term("allowances", "squaring"), usual="0"),
            ),
        ),
    ),
)
WINDOWS = Group(
    "Window",
    ("windows",),
    (
        Field(("name",), "Name", term("window", "name"), Kind.NAME, needed=True),
        Field(
            ("panels",),
            "What hangs there",
            "Two panels that meet, one at a side as seen from inside the room, or one for all of it.",
            Kind.CHOICE,
            needed=True,
            choices=(
                Choice("pair", "a pair"),
                Choice("left", "one, left"),
                Choice("right", "one, right"),
                Choice("whole", "one for all"),
            ),
        ),
        Field(
            ("hang",),
            "The two panels",
            "Whether a mirrored pair can be cut depends on the print; you are told at once.",
            Kind.CHOICE,
            choices=(Choice("mirrored", "mirror each other"), Choice("same", "hang the same")),
            usual="mirrored",
            when=lambda values, group: _pair(values, group) and values.patterned,
        ),
        Field(
            ("top_height",),
            "Top above the floor",
            "From the floor to the finished top. Needed only where rows hang level from window to window.",
            usual="not known",
        ),
        Field(("finished_length",), "Finished length", term("window", "finished_length"), needed=True),
        Switch(
            "how",
            "Its width",
            "One length of cloth from selvedge to selvedge is a cut.",
            (Choice("cuts", "I say how many cuts"), Choice("rod", "worked out from the rod")),
            _how,
            {
                "cuts": ((("cuts_per_panel",), "1"),),
                "rod": ((("rod",), '""'), (("returns",), "0"), (("overlap",), "0"), (("fullness",), "2")),
            },
        ),
        Field(
            ("cuts_per_panel",),
            "Cuts in each panel",
            term("window", "cuts_per_panel"),
            Kind.NUMBER,
            usual="1",
            when=_by_cuts,
        ),
        Field(("rod",), "Rod", term("window", "rod"), needed=True, when=_by_rod),
        Field(("returns",), "One return", term("window", "returns"), usual="0", when=_by_rod),
        Field(("overlap",), "Overlap", term("window", "overlap"), usual="0", when=_by_rod),
        Field(("fullness",), "Fullness", term("window", "fullness"), Kind.NUMBER, usual="2", when=_by_rod),
        Switch(
            "rule",
            "A row of the print stands",
            "A whole motif at the foot shows most; rows level from window to window show in a room with several.",
            (
                Choice("below_top", "below the top"),
                Choice("above_foot", "above the foot"),
                Choice("level_with", "level with another window"),
            ),
            _rule,
            {
                "below_top": ((("row", "below_top"), "0"),),
                "above_foot": ((("row", "above_foot"), "0"),),
                "level_with": ((("row", "level_with"), '""'),),
            },
            when=patterned,
        ),
        Field(
            ("row", "below_top"),
            "From the top to the row",
            term("window", "distance"),
            usual="0",
            when=_on_rule("below_top"),
        ),
        Field(
            ("row", "above_foot"),
            "From the foot to the row",
            term("window", "distance"),
            needed=True,
            when=_on_rule("above_foot"),
        ),
        Field(
            ("row", "level_with"),
            "Level with",
            "Both windows need their top above the floor.",
            Kind.WINDOW,
            needed=True,
            when=_on_rule("level_with"),
        ),
        Field(
            ("room",),
            "Room",
            "Windows of one room are cut from one dye lot wherever one holds them.",
            Kind.NAME,
            usual="a room of its own",
            when=_several,
        ),
        Field(
            ("side_by_side",),
            "May its narrow cuts lie beside others?",
            "No: its half cuts and narrow panels get lengths of their own.",
            Kind.CHOICE,
            choices=YES_NO,
            usual="yes",
            when=_narrow,
        ),
    ),
    many=True,
    thing="window",
    new=(("name", ""), ("panels", "pair"), ("finished_length", '""'), ("cuts_per_panel", "1")),
    least=1,
)
WINDOWS_PAGE = Section("windows", "Windows", "All windows that are cut from this cloth belong in one job.", (WINDOWS,))
TABLE_PAGE = Section(
    "table",
    "Table",
    "Long cuts are moved along a short table in several pulls. A calibrated projector knows its own lit area; "
    "this size serves before there is one.",
    (
        Group(
            "The cutting table",
            ("table",),
            (
                Field(("length",), "Length", term("table", "table_length"), usual="not known"),
                Field(("width",), "Width", term("table", "table_width"), usual="not known"),
            ),
        ),
    ),
)
