"""The key ``print``: the symmetry of the print, stated, named as a plane group, or inferred where that is certain."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from jobs.job import ZERO, End, Print, PrintKey, Symmetry, Unit
from jobs.numbers import quoted
from jobs.reading import values
from jobs.reading.fields import Fields
from jobs.reading.groups import GROUPS, Setting, group_name, settings_that_fit
from jobs.reading.nodes import Node
from jobs.reading.notices import Notices
from jobs.reading.problems import Log

NONE, MIRROR = Symmetry.NONE, Symmetry.MIRROR
THIRD = "two of top_to_bottom, side_to_side and half_turn always bring the third with them"


@dataclass(frozen=True)
class _Stated:
    """What the file says of the symmetry; None where it says nothing."""

    top_to_bottom: Symmetry | None
    side_to_side: Symmetry | None
    half_turn: bool | None


NOT_SAID = frozenset((PrintKey.TOP_TO_BOTTOM, PrintKey.SIDE_TO_SIDE, PrintKey.ONE_WAY))
"""What is not known of a print where the file says nothing of it."""


def read_print(unit: Unit, notices: Notices) -> values.Reader[tuple[Print, frozenset[PrintKey]]]:
    """A reader of the mapping under ``print``; beside the print, the keys that neither stand there nor follow."""

    def read(node: Node, where: str, log: Log) -> tuple[Print, frozenset[PrintKey]]:
        fields = Fields(node, where, log)
        group = fields.take("group", _group, None)
        symmetry = values.choice(Symmetry)
        stated = _Stated(
            fields.take("top_to_bottom", symmetry, None),
            fields.take("side_to_side", symmetry, None),
            fields.take("half_turn", values.yes_no, None),
        )
        offset = fields.take("mirror_offset", values.length(unit), ZERO)
        offset_across = fields.take("mirror_offset_across", values.length(unit), None)
        one_way = fields.take("one_way", values.yes_no, False)
        top_towards = fields.take("top_towards", values.choice(End), End.FIRST)
        fields.close()
        setting = Setting(NONE, NONE, False)
        if fields.sound("group", "top_to_bottom", "side_to_side", "half_turn"):
            setting = _of_group(fields, group, stated) if group else _inferred(fields, stated, one_way)
            _check_offset(fields, offset, setting)
            if group is None and stated.side_to_side is None and setting.side_to_side is MIRROR:
                notices.add(
                    "The print is taken to mirror from side to side too, as its other mirror and half-turn say."
                )
        down, across, half = setting.top_to_bottom, setting.side_to_side, setting.half_turn
        sheet = Print(down, across, half, offset, one_way, top_towards, group, offset_across)
        not_known = frozenset() if group else _mirrors_not_known(stated, setting)
        return fields.whole((sheet, not_known if fields.has("one_way") else not_known | {PrintKey.ONE_WAY}))

    return read


def _mirrors_not_known(stated: _Stated, setting: Setting) -> frozenset[PrintKey]:
    """The mirrors that are left out and do not follow from the other one and the half-turn."""
    down, across, half = stated.top_to_bottom, stated.side_to_side, stated.half_turn
    if None not in (down, across) or NONE not in (setting.top_to_bottom, setting.side_to_side):
        return frozenset()
    one = down if across is None else across
    if one is not None and half is (one is NONE):
        # A half-turn without this mirror has none the other way either; this mirror without a half-turn is alone.
        return frozenset()
    left_out = ((PrintKey.TOP_TO_BOTTOM, down), (PrintKey.SIDE_TO_SIDE, across))
    return frozenset(key for key, said in left_out if said is None)


def _group(node: Node, where: str, log: Log) -> str | None:
    value = values.written(node, where, log, "the name of a plane group")
    name = group_name(value)
    if name is None:
        advice = f"write one of {', '.join(GROUPS)}, or say top_to_bottom, side_to_side and half_turn instead"
        raise log.refuse(node.place, where, f"{quoted(value)} is not a plane group", advice)
    return name


def _of_group(fields: Fields, group: str, stated: _Stated) -> Setting:
    fitting = settings_that_fit(group, stated.top_to_bottom, stated.side_to_side, stated.half_turn)
    if len(fitting) == 1:
        return fitting[0]
    if fitting:
        one, other = (setting.top_to_bottom.value for setting in fitting)
        what = f"{group} can lie on the cloth in two ways"
        fields.refuse("group", what, f"add top_to_bottom: {one} or top_to_bottom: {other}, as the cloth shows")
    else:
        ways = " or ".join(_described(setting) for setting in GROUPS[group])
        fields.refuse("group", f"{group} contradicts the other keys of the print", f"{group} means {ways}")
    return GROUPS[group][0]


def _described(setting: Setting) -> str:
    half_turn = "yes" if setting.half_turn else "no"
    return (
        f"top_to_bottom: {setting.top_to_bottom.value}, side_to_side: {setting.side_to_side.value}, "
        f"half_turn: {half_turn}"
    )


def _inferred(fields: Fields, stated: _Stated, one_way: bool) -> Setting:
    down, across, half = stated.top_to_bottom, stated.side_to_side, stated.half_turn
    has_down, has_across = down not in (None, NONE), across not in (None, NONE)
    if has_down and has_across:
        if half is False:
            fields.refuse("half_turn", f"half_turn: no contradicts the mirrors ({THIRD})", "write half_turn: yes")
        return Setting(down or NONE, across or NONE, True)
    if half and (has_down or has_across):
        key, partner = ("side_to_side", down) if has_down else ("top_to_bottom", across)
        if fields.has(key):
            fields.refuse(key, f"{key}: none contradicts the other two ({THIRD})", "write mirror or glide")
        elif has_across or partner is not MIRROR or one_way:
            # Mirror or glide decides how a pair is cut, and both go with what is stated: the cloth must be looked at.
            what = f"{key} is left out, and it can be mirror or glide ({THIRD})"
            fields.refuse("half_turn", what, f"look at the cloth and add {key}: mirror or {key}: glide")
        else:
            # Nothing is cut by it here: a pair is made by turning, whichever of the two it is.
            across = MIRROR
    return Setting(down or NONE, across or NONE, bool(half))


def _check_offset(fields: Fields, offset: Fraction, setting: Setting) -> None:
    if offset and setting.top_to_bottom is NONE and fields.sound("mirror_offset"):
        what = "there is no top-to-bottom mirror line to be offset from"
        fields.refuse("mirror_offset", what, "leave it out, or say top_to_bottom: mirror")
