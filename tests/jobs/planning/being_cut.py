"""A job that is cut in sessions one after another, its file changed in between."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

from jobs.io.reader import parse_job
from jobs.journal import JournalFile, fingerprint, history_of, read_journal
from jobs.journal.history import tick_values
from jobs.model.cuts import Placement
from jobs.model.job import Job
from jobs.planning.going_on import GoneOn, go_on, note_plan

HOUSE = """\
job: Signal box
units: in
cloth:
  name: Kites on grey
  width: 55
  selvedge: 3/4
  repeat: {along: 18 3/4, across: 13 1/2}
  drop: 0
  print: {top_to_bottom: mirror, side_to_side: none, one_way: no}
  pieces:
    - {length: 15 yd, first_row: 7 1/4, dye_lot: A}
    - {length: 9 yd, first_row: 2, dye_lot: A}
allowances: {heading: 4, hem: 8, side_hem: 3, seam: 1/2, squaring: 1}
windows:
  - {name: East bay, panels: pair, finished_length: 84, row: {below_top: 5}}
  - {name: West bay, panels: pair, finished_length: 70, row: {below_top: 5}}
  - {name: Porch, panels: whole, finished_length: 50, row: {below_top: 5}}
table: {length: 120, width: 60}
"""


class Table:
    """A job being cut: sessions one after another, the job file changed in between."""

    def __init__(self, path: Path, text: str = HOUSE) -> None:
        self.path, self.text = path, text

    @property
    def job(self) -> Job:
        return parse_job(self.text, "house.yaml")

    def change(self, *changes: tuple[str, str]) -> None:
        for old, new in changes:
            assert old in self.text, old
            self.text = self.text.replace(old, new)

    def begun(self) -> GoneOn:
        return go_on(self.job, history_of(read_journal(self.path).events))

    def tick(self, choose: Callable[[Placement], bool] = lambda _: True, count: int = 1) -> list[Placement]:
        """A session in which so many cuts are ticked; where they lie."""
        with JournalFile(self.path) as journal:
            begun = go_on(self.job, history_of(journal.events))
            note_plan(journal, begun)
            cut = [one for one in begun.plan.placements if one.cut.id not in begun.done and choose(one)][:count]
            for one in cut:
                journal.append("done", one.cut.id, fingerprint(begun.plan), **tick_values(begun.plan, one.cut.id))
        return cut

    def append(self, event: str, cut: str) -> None:
        with JournalFile(self.path) as journal:
            begun = go_on(self.job, history_of(journal.events))
            note_plan(journal, begun)
            journal.append(event, cut, fingerprint(begun.plan))


def of(window: str) -> Callable[[Placement], bool]:
    return lambda one: one.cut.window == window


def where(placed: Placement) -> tuple[int, Fraction, Fraction]:
    return placed.piece, placed.start, placed.end


def is_sound(begun: GoneOn) -> None:
    """All is laid, no two cuts share cloth, and what is to do has its rows in place and lies clear of every flaw."""
    plan = begun.plan
    assert plan.short == 0
    assert {one.cut.id for one in plan.placements} >= {cut.id for cut in plan.cuts}
    assert {stop.placement.cut.id for stop in plan.stops} == {cut.id for cut in plan.cuts}
    assert [stop.number for stop in plan.stops] == list(range(1, len(plan.stops) + 1))
    for one in plan.placements:
        piece = plan.pieces[one.piece - 1].piece
        assert one.end <= piece.length
        for other in plan.placements:
            if other is not one and other.piece == one.piece:
                assert one.end <= other.start or other.end <= one.start
        if one.cut.id in {cut.id for cut in plan.cuts} - set(begun.done):
            assert plan.job.cloth.repeat is not None
            off = one.start - piece.first_row - one.cut.phase
            assert off % plan.job.cloth.repeat.along == 0
            assert all(one.end <= flaw.start or flaw.end <= one.start for flaw in piece.flaws)
