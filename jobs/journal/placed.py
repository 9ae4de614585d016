"""A made cut with its place and its piece, as plain values of a record: where it lies is known without the job.

The words of the record are older than those of the program: ``top_first``, ``leading`` and ``top_at`` together tell
which way a cut lies, ``near`` and ``far`` where its sides are sewn, from the near selvedge. The whole width of the
cloth, and the sides of a cut whose top lies at a selvedge, are left to the job.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any, TypeAlias

from jobs.cutting.columns import seams, selvedge_at
from jobs.cutting.rows import phase_of
from jobs.journal.exact import exact, plain_json
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Edge, Hand, Interval, Placement, Side, Way, leading_edge
from jobs.model.job import Job
from jobs.model.piece import Flaw, Piece
from jobs.model.plan import Plan
from jobs.model.records import dataclass
from jobs.model.schema import ZERO

LONGEST_TEXT = 1000
MOST_CUTS = 100_000
MOST_FLAWS = 10_000

Sewn: TypeAlias = tuple[Fraction, bool, Fraction | None]
"""Where a side is folded or seamed, whether it is seamed, where it is trimmed: from the near selvedge."""


@dataclass(frozen=True)
class Recorded:
    """What a record tells of a made cut; ``across`` is None for the whole width, ``near``, ``far`` for usual sides."""

    id: str
    window: str
    hand: Hand
    panel: str
    number: int
    of: int
    piece: int
    start: Fraction
    length: Fraction
    across: Interval | None
    top_edge: Edge
    leading_edge: Edge
    way: Way
    handbook: Fraction
    row: Fraction | None
    phase: Fraction | None
    heading: Fraction
    hem: Fraction
    near: Sewn | None
    far: Sewn | None
    beside: str
    before: Fraction = ZERO
    after: Fraction = ZERO

    @property
    def end(self) -> Fraction:
        return self.start + self.length

    def placement(self, job: Job) -> Placement:
        """The cut with its place on the cloth of the job."""
        across, phase = self.across or (ZERO, job.cloth.width), self.phase
        if phase is None:
            phase = phase_of(self.row, self.length, self.top_edge, self.way, job.cloth)
        cut = Cut(
            id=self.id,
            window=self.window,
            hand=self.hand,
            panel=self.panel,
            number=self.number,
            of=self.of,
            length=self.length,
            across=across,
            parted=across if self.top_edge.is_end else (ZERO, job.cloth.width),
            top_edge=self.top_edge,
            leading_edge=self.leading_edge,
            way=self.way,
            handbook=self.handbook,
            row=self.row,
            phase=phase,
            heading=self.heading,
            hem=self.hem,
            leading_side=self._side(self.leading_edge, across, job),
            return_side=self._side(self.leading_edge.opposite, across, job),
            beside=self.beside,
            before=self.before,
            after=self.after,
        )
        return Placement(cut, self.piece, self.start)

    def _side(self, edge: Edge, across: Interval, job: Job) -> Side:
        """A side as the record has it; one of which it does not tell is hemmed, or seamed to the next of its panel."""
        given = job.allowed_at(self.window)
        hem = given.side_hem
        sewn = {Edge.NEAR: self.near, Edge.FAR: self.far}.get(edge)
        if edge.is_end:
            hem /= 1 - job.cloth.shrinkage
            return Side(hem, hem)
        if sewn is not None:
            line, joined, trim = sewn
            at = edge.at(across, across)
            return Side(abs(line - at), ZERO if joined else hem, joined, abs(trim - at) if trim is not None else ZERO)
        if self.number != (1 if edge is self.leading_edge else self.of):
            return Side(seams(job.cloth, given).inset(edge), joined=True)
        return Side(selvedge_at(edge, job.cloth) + hem, hem)


def recorded(placement: Placement, cloth: Cloth) -> Recorded:
    """A placed cut as a record keeps it."""
    cut = placement.cut
    upright = cut.top_edge.is_end
    return Recorded(
        id=cut.id,
        window=cut.window,
        hand=cut.hand,
        panel=cut.panel,
        number=cut.number,
        of=cut.of,
        piece=placement.piece,
        start=placement.start,
        length=cut.length,
        across=None if upright and cut.across == (ZERO, cloth.width) else cut.across,
        top_edge=cut.top_edge,
        leading_edge=cut.leading_edge,
        way=cut.way,
        handbook=cut.handbook,
        row=cut.row,
        phase=None if upright or cut.row is None else cut.phase,
        heading=cut.heading,
        hem=cut.hem,
        near=_sewn(placement, Edge.NEAR),
        far=_sewn(placement, Edge.FAR),
        beside=cut.beside,
        before=cut.before,
        after=cut.after,
    )


def _sewn(placement: Placement, edge: Edge) -> Sewn | None:
    side = placement.cut.side_at(edge)
    if side is None:
        return None
    return placement.at(edge, side.line), side.joined, placement.at(edge, side.trim) if side.trim else None


def placed_values(one: Recorded, piece: Piece) -> dict[str, Any]:
    """What a record keeps of a made cut and its piece; lengths in inches as exact text."""
    upright = one.top_edge.is_end
    return {
        "piece": one.piece,
        "start": str(one.start),
        "end": str(one.end),
        "window": one.window,
        "hand": one.hand.value,
        "panel": one.panel,
        "number": one.number,
        "of": one.of,
        "length": str(one.length),
        "handbook": str(one.handbook),
        "row": _text(one.row),
        "way": one.way.value,
        "top_first": one.top_edge is Edge.FIRST,
        "leading": one.leading_edge.value if upright else None,
        "heading": str(one.heading),
        "hem": str(one.hem),
        "across": _pair_values(one.across),
        "beside": one.beside,
        **({"before": str(one.before), "after": str(one.after)} if one.before or one.after else {}),
        "near": _side_values(one.near),
        "far": _side_values(one.far),
        "top_at": None if upright else one.top_edge.value,
        "after_row": _text(one.phase),
        "from": piece_values(piece),
    }


def placed_in(values: object, name: str) -> tuple[Recorded, Piece]:
    """The made cut, called ``name``, and its piece. Raises ValueError for values that cannot be such."""
    got = _mapping(values)
    hand, way, top_at = Hand(_word(got, "hand")), Way(_word(got, "way")), _selvedge(got, "top_at")
    top = top_at or (Edge.FIRST if got.get("top_first") is True else Edge.LAST)
    one = Recorded(
        id=name,
        window=_word(got, "window"),
        hand=hand,
        panel=_word(got, "panel"),
        number=_count(got, "number"),
        of=_count(got, "of"),
        piece=_count(got, "piece"),
        start=_length(got, "start"),
        length=_length(got, "length"),
        across=_pair(got.get("across")),
        top_edge=top,
        leading_edge=_selvedge(got, "leading") or leading_edge(hand, top, way),
        way=way,
        handbook=_length(got, "handbook"),
        row=_length_or_none(got, "row"),
        phase=_length_or_none(got, "after_row"),
        heading=_length(got, "heading"),
        hem=_length(got, "hem"),
        near=_side(got.get("near")),
        far=_side(got.get("far")),
        beside=_word(got, "beside"),
        before=_length_or_none(got, "before") or ZERO,
        after=_length_or_none(got, "after") or ZERO,
    )
    if one.length <= 0 or (top_at is not None and one.across is None) or one.leading_edge.is_end is top.is_end:
        raise ValueError("it is no cut")
    return one, piece_in(got.get("from"))


def fingerprint(plan: Plan) -> str:
    """Sixteen figures that change with anything that moves or alters a cut of the plan."""
    return fingerprint_of(plan.placements)


def fingerprint_of(placements: Iterable[Placement]) -> str:
    """The fingerprint of a plan with these placements, in its order."""
    text = plain_json([[str(part) for part in _parts(placement)] for placement in placements])
    return hashlib.sha256(text).hexdigest()[:16]


def _parts(placement: Placement) -> Iterable[object]:
    """What tells a placement from another, in the words of the record."""
    cut = placement.cut
    upright = cut.top_edge.is_end
    yield from (cut.id, cut.window, cut.hand, cut.way, cut.length, cut.row, cut.top_edge is Edge.FIRST)
    yield from (cut.leading_edge if upright else None, placement.piece, placement.start)
    yield from () if upright else (cut.top_edge, *cut.across)


def piece_values(piece: Piece) -> dict[str, Any]:
    """What a record keeps of a piece of cloth."""
    return {
        "length": str(piece.length),
        "first_row": str(piece.first_row),
        "dye_lot": piece.dye_lot,
        "flaws": [[str(flaw.start), str(flaw.end), _pair_values(flaw.across), flaw.note] for flaw in piece.flaws],
    }


def piece_in(values: object) -> Piece:
    """The piece of cloth. Raises ValueError for values that cannot be one."""
    got = _mapping(values)
    flaws = got.get("flaws")
    if not isinstance(flaws, list) or len(flaws) > MOST_FLAWS:
        raise ValueError("it has no list of flaws")
    return Piece(_length(got, "length"), _length(got, "first_row"), tuple(map(_flaw, flaws)), _word(got, "dye_lot"))


def _flaw(values: object) -> Flaw:
    if not isinstance(values, list) or len(values) != 4 or not isinstance(values[3], str):
        raise ValueError("it is no flaw")
    return Flaw(exact(values[0]), exact(values[1]), _pair(values[2]), values[3])


def _text(length: Fraction | None) -> str | None:
    return None if length is None else str(length)


def _pair_values(pair: tuple[Fraction, Fraction] | None) -> list[str] | None:
    return None if pair is None else [str(pair[0]), str(pair[1])]


def _side_values(side: Sewn | None) -> list[Any] | None:
    return None if side is None else [str(side[0]), side[1], _text(side[2])]


def _mapping(values: object) -> Mapping[str, Any]:
    if not isinstance(values, dict):
        raise ValueError("it is no list of values by name")
    return values


def _word(got: Mapping[str, Any], name: str) -> str:
    word = got.get(name)
    if not isinstance(word, str) or len(word) > LONGEST_TEXT:
        raise ValueError(f"{name} is no word")
    return word


def _count(got: Mapping[str, Any], name: str) -> int:
    count = got.get(name)
    if type(count) is not int or not 1 <= count <= MOST_CUTS:
        raise ValueError(f"{name} is no count")
    return count


def _length(got: Mapping[str, Any], name: str) -> Fraction:
    return exact(got.get(name), least=Fraction(0))


def _length_or_none(got: Mapping[str, Any], name: str) -> Fraction | None:
    return None if got.get(name) is None else _length(got, name)


def _selvedge(got: Mapping[str, Any], name: str) -> Edge | None:
    if got.get(name) is None:
        return None
    edge = Edge(_word(got, name))
    if edge.is_end:
        raise ValueError(f"{name} is no selvedge")
    return edge


def _pair(values: object) -> tuple[Fraction, Fraction] | None:
    if values is None:
        return None
    if not isinstance(values, list) or len(values) != 2:
        raise ValueError("it is no pair of lengths")
    return exact(values[0]), exact(values[1])


def _side(values: object) -> Sewn | None:
    if values is None:
        return None
    if not isinstance(values, list) or len(values) != 3:
        raise ValueError("it is no side of a cut")
    return exact(values[0]), values[1] is True, None if values[2] is None else exact(values[2])
