"""Small things wanted: what of them is cut from where, and what found no room."""

from __future__ import annotations

from collections.abc import Iterator

from jobs.model.choices import Motif
from jobs.plan import PlacedThing, Plan
from projector.papers.sheet.flow import Block, heading, paragraph
from projector.papers.sheet.say import Say


def wanted_blocks(plan: Plan, say: Say, room: float) -> Iterator[Block]:
    """Each thing with its place on a piece; nothing where the job wants none."""
    if not plan.wanted and not plan.unplaced:
        return
    yield heading("Small things, from what is left")
    for thing in plan.wanted:
        yield paragraph(_words(thing, say), room)
    for missing in plan.unplaced:
        yield paragraph(f"No room for {missing.count} of {missing.name}.", room)


def _words(thing: PlacedThing, say: Say) -> str:
    number = f", {thing.number} of {thing.count}" if thing.count > 1 else ""
    middle = ""
    if thing.motif is Motif.CENTRED:
        along, across = (thing.start + thing.end) / 2, (thing.near + thing.far) / 2
        middle = f"; a motif in its middle, at {say(along)} along and {say(across)} across"
    return (
        f"{thing.name}{number}: piece {thing.piece}, from {say(thing.start)} to {say(thing.end)} along, "
        f"{say(thing.near)} to {say(thing.far)} across{middle}."
    )
