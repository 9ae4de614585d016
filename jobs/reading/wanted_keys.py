"""The key ``wanted``: small things to be cut from what is left."""

from __future__ import annotations

from fractions import Fraction

from jobs.job import Motif, Unit, Wanted
from jobs.reading import values
from jobs.reading.fields import Fields
from jobs.reading.nodes import Node
from jobs.reading.problems import Log

MOST = 200


def read_wanted(unit: Unit, patterned: bool | None) -> values.Reader[Wanted]:
    """A reader of one small thing; ``patterned`` tells whether the cloth has motifs (None: its repeat was refused)."""

    def read(node: Node, where: str, log: Log) -> Wanted:
        fields = Fields(node, where, log)
        size = values.pair_of(values.length(unit, above_zero=True))
        along, across = fields.need("size", size, (Fraction(1), Fraction(1)))
        thing = Wanted(
            name=fields.need("name", values.text, ""),
            along=along,
            across=across,
            count=fields.take("count", _count, 1),
            motif=fields.take("row", values.choice(Motif), Motif.ANYWHERE),
        )
        fields.close()
        if patterned is False and thing.motif is Motif.CENTRED:
            fields.refuse("row", "plain cloth has no motif to centre", "leave row out")
        return fields.whole(thing)

    return read


def _count(node: Node, where: str, log: Log) -> int:
    value = values.whole(node, where, log)
    if not 1 <= value <= MOST:
        raise log.refuse(node.place, where, f"{value} of a thing cannot be cut", f"write a number from 1 to {MOST}")
    return value
