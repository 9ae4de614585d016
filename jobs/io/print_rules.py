"""The symmetry of a print: stated, named as a plane group, or inferred where that is certain."""

from __future__ import annotations

from dataclasses import replace

from jobs.io.sheet import Sheet
from jobs.model.choices import PrintKey, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.groups import GROUPS, Setting, settings_that_fit
from jobs.model.print import Print
from jobs.model.problems import Code, Path
from jobs.model.records import dataclass

NONE, MIRROR = Symmetry.NONE, Symmetry.MIRROR
PRINT: Path = ("cloth", "print")


@dataclass(frozen=True)
class _Stated:
    """What the file says of the symmetry; None where it says nothing."""

    top_to_bottom: Symmetry | None
    side_to_side: Symmetry | None
    half_turn: bool | None


def print_settled(cloth: Cloth, sheet: Sheet) -> Cloth:
    """The cloth with what follows of the symmetry of its print filled in; contradictions go to the sheet."""
    given = cloth.print
    keys = ("group", "top_to_bottom", "side_to_side", "half_turn")
    if not sheet.sound(*((*PRINT, key) for key in keys)):
        return cloth
    stated = _Stated(
        given.top_to_bottom if sheet.has(*PRINT, "top_to_bottom") else None,
        given.side_to_side if sheet.has(*PRINT, "side_to_side") else None,
        given.half_turn if sheet.has(*PRINT, "half_turn") else None,
    )
    setting = _of_group(given.group, stated, sheet) if given.group else _inferred(given, stated, sheet)
    offset: Path = (*PRINT, "mirror_offset")
    if given.mirror_offset and setting.top_to_bottom is NONE and sheet.sound(offset):
        sheet.refuse(offset, Code.OFFSET_WITHOUT_MIRROR, mirror="top_to_bottom")
    down, across, half = setting.top_to_bottom, setting.side_to_side, setting.half_turn
    settled = replace(given, top_to_bottom=down, side_to_side=across, half_turn=half)
    return replace(cloth, print=settled, not_known=_not_known(given, stated, setting, sheet))


def _not_known(given: Print, stated: _Stated, setting: Setting, sheet: Sheet) -> frozenset[PrintKey]:
    """What the file leaves open of a print and does not follow from the rest; plain cloth has nothing to ask."""
    if not sheet.has("cloth", "repeat"):
        return frozenset()
    asked = ((PrintKey.ONE_WAY, (*PRINT, "one_way")), (PrintKey.DROP, ("cloth", "drop")))
    left_out = {key for key, path in asked if not sheet.has(*path)}
    return frozenset(left_out if given.group else left_out | _mirrors_not_known(stated, setting))


def _mirrors_not_known(stated: _Stated, setting: Setting) -> set[PrintKey]:
    """The mirrors that are left out and do not follow from the other one and the half-turn."""
    down, across, half = stated.top_to_bottom, stated.side_to_side, stated.half_turn
    if None not in (down, across) or NONE not in (setting.top_to_bottom, setting.side_to_side):
        return set()
    one = down if across is None else across
    if one is not None and half is (one is NONE):
        # A half-turn without this mirror has none the other way either; this mirror without a half-turn is alone.
        return set()
    left_out = ((PrintKey.TOP_TO_BOTTOM, down), (PrintKey.SIDE_TO_SIDE, across))
    return {key for key, said in left_out if said is None}


def _of_group(group: str, stated: _Stated, sheet: Sheet) -> Setting:
    fitting = settings_that_fit(group, stated.top_to_bottom, stated.side_to_side, stated.half_turn)
    if len(fitting) > 1:
        ways = tuple(setting.top_to_bottom.value for setting in fitting)
        sheet.refuse((*PRINT, "group"), Code.GROUP_LIES_TWO_WAYS, group=group, ways=ways)
    elif not fitting:
        sheet.refuse((*PRINT, "group"), Code.GROUP_CONTRADICTS, group=group)
    return fitting[0] if fitting else GROUPS[group][0]


def _inferred(given: Print, stated: _Stated, sheet: Sheet) -> Setting:
    down, across, half = stated.top_to_bottom, stated.side_to_side, stated.half_turn
    has_down, has_across = down not in (None, NONE), across not in (None, NONE)
    if has_down and has_across:
        if half is False:
            sheet.refuse((*PRINT, "half_turn"), Code.HALF_TURN_CONTRADICTS)
        return Setting(down or NONE, across or NONE, True)
    if half and (has_down or has_across):
        key, partner = ("side_to_side", down) if has_down else ("top_to_bottom", across)
        if sheet.has(*PRINT, key):
            sheet.refuse((*PRINT, key), Code.THIRD_CONTRADICTS)
        elif has_across or partner is not MIRROR or given.one_way:
            # Mirror or glide decides how a pair is cut, and both go with what is stated: the cloth must be looked at.
            sheet.refuse((*PRINT, "half_turn"), Code.THIRD_NOT_KNOWN, key=key)
        else:
            # Nothing is cut by it here: a pair is made by turning, whichever of the two it is.
            across = MIRROR
            sheet.mirror_follows = True
    return Setting(down or NONE, across or NONE, bool(half))
