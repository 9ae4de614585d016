"""What makes a field appear: each condition of the schema asked of what the file says."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from jobs.model.problems import Path
from jobs.model.schema import SIDES, When
from projector.page.form.field import When as Asked
from projector.page.form.field import always
from projector.page.form.implied import told_or_implied
from projector.page.form.values import Values

HOW, RULE = "how", "rule"
RULES = ("below_top", "above_foot", "level_with")


def patterned(values: Values, group: Path) -> bool:
    """Whether the cloth has a print that must meet."""
    return values.is_patterned(group)


def alone(values: Values, group: Path) -> bool:
    """Whether the first cloth stands by itself, and not at the head of the list of all."""
    return values.first_cloth == ("cloth",)


def alone_and_patterned(values: Values, group: Path) -> bool:
    """Whether the first cloth stands by itself and is patterned."""
    return alone(values, group) and patterned(values, group)


def has(name: str) -> Callable[[Values, Path], str]:
    """Whether the group has this key: ``yes`` or ``no``."""
    return lambda values, group: "yes" if values.has((*group, name)) else "no"


def uneven(values: Values, group: Path, name: str) -> bool:
    """Whether the file has a length of its own for either side."""
    return any(values.has((*group, name, side)) for side in SIDES)


def how(values: Values, group: Path) -> str:
    """Whether the width of a window is worked out from its ``rod`` or told in ``cuts``."""
    return "rod" if values.has((*group, "rod")) else "cuts"


def rule(values: Values, group: Path) -> str:
    """From where the row of a window is counted."""
    return next((one for one in RULES if values.has((*group, "row", one))), RULES[0])


def _mirrors(values: Values, group: Path, key: str) -> bool:
    sheet = (*values.cloth_of(group), "print")
    return values.is_patterned(group) and told_or_implied(values, (*sheet, key)) in ("mirror", "glide")


def _looks_either_way(values: Values, group: Path) -> bool:
    """Whether one panel of a mirrored pair is turned or used face down, and no border says which; or the file says so.

    As ``jobs.cutting.mirroring.looks_either_way`` has it, of a job that may not be whole yet.
    """
    if values.has((*group, "facing")):
        return True
    cloth = values.cloth_of(group)
    pair = values.text((*group, "panels")) == "pair" and values.text((*group, "hang")) != "same"
    upright = values.text((*cloth, "run")) != "sideways" and not values.has((*cloth, "border"))
    if not (pair and upright and values.is_patterned(group)):
        return False
    half_or_none = values.text((*cloth, "drop")).strip() in ("", "0", "1/2", "0.5")
    down, across = (
        half_or_none and told_or_implied(values, (*cloth, "print", key)) == "mirror"
        for key in ("top_to_bottom", "side_to_side")
    )
    if down and values.text((*cloth, "print", "one_way")) == "no":
        return True
    return not across and values.text((*cloth, "faces_alike")) == "yes"


def _narrow(values: Values, group: Path) -> bool:
    """Whether there may be half cuts or narrow panels, or a question about them was answered already."""
    told = any(values.has((*group, key)) for key in ("side_by_side", "half_at"))
    return told or how(values, group) == "rod" or "1/2" in values.text((*group, "cuts_per_panel"))


def _any_rod(values: Values, group: Path) -> bool:
    return any(values.has(("windows", number, "rod")) for number in range(values.count(("windows",))))


def _on(wanted: str) -> Asked:
    return lambda values, group: values.is_patterned(group) and rule(values, group) == wanted


WHEN: Mapping[When, Asked] = {
    When.ALWAYS: always,
    When.PATTERNED: patterned,
    When.MIRRORS_DOWN: lambda values, group: _mirrors(values, group, "top_to_bottom"),
    When.MIRRORS_ACROSS: lambda values, group: _mirrors(values, group, "side_to_side"),
    When.SIDEWAYS: lambda values, group: values.text((*values.cloth_of(group), "run")) == "sideways",
    When.PAIR_OF_PRINT: lambda values, group: values.is_patterned(group) and values.text((*group, "panels")) == "pair",
    When.LOOKS_EITHER_WAY: _looks_either_way,
    When.BY_ROD: lambda values, group: how(values, group) == "rod",
    When.BY_CUTS: lambda values, group: how(values, group) == "cuts",
    When.NARROW: _narrow,
    When.SEVERAL_WINDOWS: lambda values, group: values.count(("windows",)) > 1 or values.has((*group, "room")),
    When.SEVERAL_CLOTHS: lambda values, group: len(values.cloths) > 1 or values.has((*group, "cloth")),
    When.LINED: lambda values, group: values.has((*group, "lining")),
    When.INTERLINED: lambda values, group: values.has((*group, "interlining")),
    When.BORDERED: lambda values, group: values.has((*values.cloth_of(group), "border")),
    When.TIED_BACK: lambda values, group: values.has((*group, "tie_backs")),
    When.OWN_ALLOWANCES: lambda values, group: values.has((*group, "allowances")),
    When.PINS: lambda values, group: values.has(("pins",)),
    When.ANY_ROD: _any_rod,
    When.BELOW_TOP: _on("below_top"),
    When.ABOVE_FOOT: _on("above_foot"),
    When.LEVEL_WITH: _on("level_with"),
}
"""What the file says and the path of the group (one window, one piece) -> whether the field is shown."""
