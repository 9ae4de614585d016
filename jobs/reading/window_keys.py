"""The key ``windows``: each window, and what the windows say of each other."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from jobs.job import ZERO, Hang, Panels, Place, RowRule, Run, Unit, Window
from jobs.reading import values
from jobs.reading.fields import Fields
from jobs.reading.nodes import Node
from jobs.reading.notices import Notices
from jobs.reading.problems import Log

ROD_KEYS = ("returns", "overlap", "fullness")
MOST_CUTS = 60
MOST_FULLNESS = 10
STAND_IN = Window("", Panels.WHOLE, Fraction(1))


@dataclass(frozen=True)
class Listed:
    """A window with the places of its name and of its row in the file."""

    window: Window
    name_place: Place
    row_place: Place


def read_window(unit: Unit, patterned: bool | None, notices: Notices, run: Run = Run.UP) -> values.Reader[Listed]:
    """A reader of one window; ``patterned`` tells whether the cloth has rows (None: its repeat was refused)."""

    def read(node: Node, where: str, log: Log) -> Listed:
        fields = Fields(node, where, log)
        length = values.length(unit)
        name = fields.need("name", values.text, "")
        cuts = fields.take("cuts_per_panel", _cuts, None)
        rod = fields.take("rod", values.length(unit, above_zero=True), None)
        window = Window(
            name=name,
            panels=fields.need("panels", values.choice(Panels), STAND_IN.panels),
            finished_length=fields.need("finished_length", values.length(unit, above_zero=True), Fraction(1)),
            hang=fields.take("hang", values.choice(Hang), Hang.MIRRORED),
            top_height=fields.take("top_height", length, None),
            cuts_per_panel=Fraction(1) if cuts is None and rod is None else cuts,
            rod=rod,
            returns=fields.take("returns", length, ZERO),
            overlap=fields.take("overlap", length, ZERO),
            fullness=fields.take("fullness", values.within(values.fraction, 1, MOST_FULLNESS), Fraction(2)),
            row=fields.take("row", _row(unit), None),
            side_by_side=fields.take("side_by_side", values.yes_no, True),
            room=fields.take("room", values.text, ""),
            place=node.place,
        )
        fields.close()
        _check_panels(fields, window)
        _check_width(fields, window, notices)
        window = _with_row(fields, window, patterned, notices, run)
        return Listed(window, fields.place_of("name"), fields.place_of("row"))

    return read


def _cuts(node: Node, where: str, log: Log) -> Fraction:
    value = values.within(values.fraction, Fraction(1, 2), MOST_CUTS)(node, where, log)
    if (2 * value).denominator != 1:
        raise log.refuse(node.place, where, "only whole and half cuts are joined", "write 1, 1 1/2, 2 and so on")
    return value


def _row(unit: Unit) -> values.Reader[RowRule]:
    def read(node: Node, where: str, log: Log) -> RowRule:
        fields = Fields(node, where, log)
        rule = RowRule(
            below_top=fields.take("below_top", values.length(unit), None),
            above_foot=fields.take("above_foot", values.length(unit), None),
            level_with=fields.take("level_with", values.text, None),
        )
        fields.close()
        given = [key for key in ("below_top", "above_foot", "level_with") if fields.has(key)]
        if len(given) > 1:
            places = (f"{key} (line {fields.place_of(key).line})" for key in given)
            what = f"{' and '.join(places)} fix the row twice"
            raise log.refuse(fields.place_of(given[1]), where, what, "keep one of them")
        if not given:
            raise log.refuse(node.place, where, "nothing fixes the row", "write {below_top: 5}, for instance")
        return fields.whole(rule)

    return read


def _check_panels(fields: Fields, window: Window) -> None:
    if fields.has("hang") and fields.sound("panels") and window.panels is not Panels.PAIR:
        fields.refuse("hang", "only a pair hangs mirrored or same", "leave hang out, or write panels: pair")


def _check_width(fields: Fields, window: Window, notices: Notices) -> None:
    if fields.has("cuts_per_panel") and fields.has("rod"):
        fields.refuse("rod", "cuts_per_panel is given as well", "keep one: with rod the cuts are worked out")
    elif not fields.has("rod"):
        for key in ROD_KEYS:
            if fields.has(key):
                fields.refuse(key, f"{key} is of use only together with rod", "add rod, or leave it out")
        if not fields.has("cuts_per_panel"):
            notices.add("neither cuts_per_panel nor rod is given; one cut per panel is taken.", window.name)
    elif not fields.has("fullness"):
        notices.add("no fullness is given; 2 is taken.", window.name)


def _with_row(fields: Fields, window: Window, patterned: bool | None, notices: Notices, run: Run) -> Window:
    if not fields.has("row"):
        if not patterned:
            return window
        if run is Run.SIDEWAYS:
            notices.add("no row is given; the print is taken as it lies across the cloth.", window.name)
            return window
        notices.add("no row is given; a row is put at the finished top (below_top 0).", window.name)
        return replace(window, row=RowRule(below_top=ZERO))
    if patterned is False:
        fields.refuse("row", "plain cloth has no rows", "give the cloth its repeat, or leave row out")
    rule = window.row
    distance = None if rule is None else rule.below_top if rule.below_top is not None else rule.above_foot
    if distance is not None and fields.sound("row", "finished_length") and distance > window.finished_length:
        fields.refuse("row", "the row lies outside the finished panel", "write less than the finished length")
    return window
