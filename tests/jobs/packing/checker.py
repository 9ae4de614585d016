"""A plan held against its job with the plainest arithmetic, knowing nothing of how it was found."""

from __future__ import annotations

from collections import Counter, defaultdict
from fractions import Fraction
from itertools import combinations, pairwise

from jobs.model.choices import End, TurnedOver
from jobs.model.cuts import Cut, Edge, Placement, Way
from jobs.model.job import Job
from jobs.model.piece import Flaw
from jobs.model.plan import Plan
from tests.jobs.packing.seam_checker import seam_faults


def faults_of(plan: Plan, fixed: tuple[Placement, ...] = ()) -> list[str]:
    """Everything that is wrong with a plan, in words; what is fixed may lie on a flaw and off its row."""
    if plan.short:
        return [] if plan.placements == fixed else ["a plan that is short has placements of its own"]
    return [
        *_each_once(plan),
        *_apart(plan),
        *(fault for placement in plan.placements if placement not in fixed for fault in _placed(placement, plan)),
        *_together(plan),
        *_sums(plan),
        *seam_faults(plan.job, [cut for cut in plan.cuts if cut.panel not in {placed.cut.panel for placed in fixed}]),
    ]


def _each_once(plan: Plan) -> list[str]:
    laid = Counter(placement.cut.id for placement in plan.placements)
    return [f"{cut.id} lies {laid[cut.id]} times" for cut in plan.cuts if laid[cut.id] != 1]


def _apart(plan: Plan) -> list[str]:
    """Crosscut first: what shares a length is clear of each other across, and nothing else lies along it."""
    lengths: dict[tuple[int, str], list[Placement]] = defaultdict(list)
    for one in plan.placements:
        lengths[one.piece, one.cut.beside or f"alone {one.cut.id}"].append(one)
    hulls = []
    found = []
    for (piece, _), lane in lengths.items():
        start, end = min(one.start for one in lane), max(one.end for one in lane)
        hulls.append((piece, start, end, lane[0].cut.id))
        if any((one.start - one.cut.before, one.end + one.cut.after) != (start, end) for one in lane):
            found.append(f"the length of {lane[0].cut.id} is told wrong")
        for one, other in combinations(lane, 2):
            (near, far), (low, high) = one.cut.parted, other.cut.parted
            if near < high and low < far:
                found.append(f"{one.cut.id} and {other.cut.id} overlap")
    for one, other in pairwise(sorted(hulls)):
        if one[0] == other[0] and other[1] < one[2]:
            found.append(f"{one[3]} and {other[3]} overlap along the piece")
    return found


def seen_of(cut: Cut, job: Job) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    """What of a cut a flaw must not lie in, from its first edge along and from the near selvedge across: all but the
    turnings that may hide one, and what is trimmed away."""
    hidden = job.flaws_may_lie_in
    inside = dict.fromkeys(Edge, Fraction(0))
    inside[cut.top_edge] = cut.heading if TurnedOver.HEADING in hidden else Fraction(0)
    inside[cut.top_edge.opposite] = cut.hem if TurnedOver.HEM in hidden else Fraction(0)
    for edge, side in ((cut.leading_edge, cut.leading_side), (cut.leading_edge.opposite, cut.return_side)):
        if not side.joined:
            inside[edge] = side.line if TurnedOver.SIDE_HEM in hidden else side.trim
    near, far = cut.across[0] + inside[Edge.NEAR], cut.across[1] - inside[Edge.FAR]
    return inside[Edge.FIRST], cut.length - inside[Edge.LAST], near, far


def _spoilt_by(one: Placement, flaw: Flaw, job: Job) -> bool:
    low, high, near, far = seen_of(one.cut, job)
    across = flaw.across is None or (flaw.across[0] < far and near < flaw.across[1])
    return across and flaw.start < one.start + high and one.start + low < flaw.end


def _placed(one: Placement, plan: Plan) -> list[str]:
    job, piece, cut = plan.job, plan.pieces[one.piece - 1].piece, one.cut
    found = []
    if one.start < job.allowances.squaring or one.end > piece.length:
        found.append(f"{cut.id} reaches beyond its piece")
    found += [f"{cut.id} lies on the flaw at {flaw.start}" for flaw in piece.flaws if _spoilt_by(one, flaw, job)]
    repeat = job.cloth.repeat
    if repeat is not None and cut.row is not None and cut.top_edge.is_end:
        row = one.start + cut.row if cut.top_edge is Edge.FIRST else one.end - cut.row
        # The mirror line lies below its row, away from where tops point, and a turned row as far below that again.
        below = 1 if job.cloth.print.top_towards is End.FIRST else -1
        lands = piece.first_row + (2 * below * job.cloth.print.mirror_offset if cut.way is Way.TURNED else 0)
        if (row - lands) % repeat.along:
            found.append(f"{cut.id} is off its row")
    return found


def _together(plan: Plan) -> list[str]:
    """Windows from one piece, else from one lot and said; rooms from one lot, else said."""
    lots = [use.piece.dye_lot or f"piece {use.number}" for use in plan.pieces]
    pieces: dict[str, set[int]] = defaultdict(set)
    for one in plan.placements:
        pieces[one.cut.window].add(one.piece)
    found = [f"{window} is spread unsaid" for window, on in pieces.items() if (len(on) > 1) != (window in plan.spread)]
    for window, on in pieces.items():
        if len({lots[piece - 1] for piece in on}) > 1:
            found.append(f"{window} comes from two dye lots")
    rooms: dict[str, set[str]] = defaultdict(set)
    for window in plan.job.windows:
        if window.room and plan.job.cloth.pieces:
            rooms[window.room] |= {lots[piece - 1] for piece in pieces[window.name]}
    return found + [
        f"the room {room} is mixed unsaid" for room, of in rooms.items() if (len(of) > 1) != (room in plan.mixed_rooms)
    ]


def _sums(plan: Plan) -> list[str]:
    ends = [max((one.end for one in plan.placements if one.piece == use.number), default=0) for use in plan.pieces]
    found = [] if ends == [use.used for use in plan.pieces] else ["what a piece is used up to is wrong"]
    found += [] if sum(ends) == plan.used else ["what is used is wrong"]
    return found + ([] if plan.bound <= plan.used else ["the bound is beyond what is used"])
