"""The keys ``pins``, ``stiffener``, ``doubled`` and ``light``: what is marked for sewing, and by what light."""

from __future__ import annotations

from fractions import Fraction

from jobs.job import Allowances, Pins, RoomLight, TurnedOver, Unit
from jobs.lengths import show_length
from jobs.reading import values
from jobs.reading.fields import Fields
from jobs.reading.nodes import Node
from jobs.reading.problems import Log

NARROWEST = Fraction(1, 2)
BRIGHTEST_LX = 100_000
"""Full sun."""


def read_pins(unit: Unit) -> values.Reader[Pins | None]:
    """A reader of ``{spacing: 4, from_side: 1}``."""

    def read(node: Node, where: str, log: Log) -> Pins | None:
        fields = Fields(node, where, log)
        spacing = fields.need("spacing", values.length(unit, above_zero=True), Fraction(4))
        from_side = fields.take("from_side", values.length(unit), Pins.from_side)
        if fields.sound("spacing") and spacing < NARROWEST:
            what = f"pins closer than {show_length(NARROWEST, unit)} cannot be set"
            fields.refuse("spacing", what, "write how far apart they may be")
        fields.close()
        return fields.whole(Pins(spacing, from_side))

    return read


def read_light(node: Node, where: str, log: Log) -> RoomLight:
    """A reader of ``{room: 300, projector: 2000}``, numbers of lux."""
    fields = Fields(node, where, log)
    room = fields.take("room", values.within(values.fraction, 0, BRIGHTEST_LX), RoomLight.room)
    projector = fields.take("projector", values.within(values.fraction, 1, BRIGHTEST_LX), RoomLight.projector)
    fields.close()
    return fields.whole(RoomLight(room, projector))


def check(
    fields: Fields, allowances: Allowances, stiffener: Fraction | None, doubled: tuple[TurnedOver, ...], unit: Unit
) -> None:
    """Note a stiffener that would not lie inside the heading, and a hem turned twice for which nothing is allowed."""
    if not fields.sound("allowances"):
        return
    if stiffener is not None and fields.sound("stiffener") and stiffener >= allowances.heading:
        what = f"the heading allowance is {show_length(allowances.heading, unit)}: the stiffener would lie below it"
        fields.refuse("stiffener", what, "write how far below the cut edge it is laid, less than the heading")
    allowed = {TurnedOver.HEM: allowances.hem, TurnedOver.SIDE_HEM: allowances.side_hem}
    for turned in doubled if fields.sound("doubled") else ():
        if turned not in allowed:
            fields.refuse("doubled", "a heading is not marked as turned twice here", "write hem or side hem")
        elif not allowed[turned]:
            fields.refuse("doubled", f"nothing is allowed for a {turned}", "add it to the allowances")
