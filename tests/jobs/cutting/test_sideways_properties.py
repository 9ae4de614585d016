"""Jobs of cloth run sideways made up at random: what is not refused fits, hangs as asked and is lit to its end."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jobs.cutting.columns import columns_across
from jobs.cutting.resolve import resolve
from jobs.model.allowances import Allowances
from jobs.model.choices import Hang, Panels, Run, Symmetry, Unit
from jobs.model.cloth import Cloth
from jobs.model.cuts import Edge, Hand, Way
from jobs.model.job import Job
from jobs.model.piece import Flaw, Piece
from jobs.model.print import Print, Repeat
from jobs.model.resolved import Pairing
from jobs.model.window import RowRule, Window
from jobs.planning.planner import plan_job
from tests.jobs.made import cut_list, ordered

F = Fraction
QUARTERS = st.integers(0, 40).map(lambda n: F(n, 4))


@st.composite
def sideways_jobs(draw: st.DrawFn) -> Job:
    patterned = draw(st.booleans())
    drop = draw(st.sampled_from([F(0), F(0), F(1, 2), F(1, 3)]))
    across = draw(st.integers(4, 60).map(lambda n: F(n, 2)))
    down, side = draw(st.sampled_from(Symmetry)), draw(st.sampled_from(Symmetry))
    sheet = Print(
        down, side, one_way=draw(st.booleans()), mirror_offset=draw(QUARTERS) if down is not Symmetry.NONE else F(0)
    )
    cloth = Cloth(
        "Any", F(110), draw(st.sampled_from([F(0), F(3, 4)])),
        Repeat(draw(st.integers(3, 30).map(F)), across) if patterned else None,
        drop if patterned else F(0), sheet if patterned else Print(),
        faces_alike=draw(st.booleans()), shrinkage=draw(st.sampled_from([F(0), F(1, 40)])), run=Run.SIDEWAYS,
        first_column=draw(st.none() | st.just(across / 3)) if patterned else None,
        shrinkage_across=draw(st.sampled_from([F(0), F(1, 50)])),
        pieces=draw(st.just(()) | st.just((Piece(F(900), F(2), (Flaw(F(50), F(52), (F(30), F(31))),)),))),
    )  # fmt: skip
    windows = []
    for name in ("One", "Two")[: draw(st.integers(1, 2))]:
        rule = draw(st.none() | QUARTERS.map(lambda q: RowRule(below_top=q)) | QUARTERS.map(lambda q: RowRule(None, q)))
        windows.append(
            Window(
                name, draw(st.sampled_from(Panels)), draw(st.integers(20, 95).map(F)), draw(st.sampled_from(Hang)),
                cuts_per_panel=None, rod=draw(st.integers(20, 90).map(F)), row=rule if patterned else None,
            )
        )  # fmt: skip
    allowed = Allowances(draw(QUARTERS), draw(QUARTERS), draw(st.sampled_from([F(0), F(2)])), F(0), F(1))
    return Job("Any", Unit.INCH, cloth, tuple(windows), allowed)


def is_taken(job: Job) -> bool:
    """Whether its cuts can be worked out; hypothesis gives up where too few can."""
    return not resolve(job).problems


@settings(max_examples=600)
@given(sideways_jobs())
def test_every_panel_lies_between_the_selvedge_strips_and_shows_its_rows_where_they_were_asked_for(job: Job) -> None:
    assume(is_taken(job))
    cloth, given_ = job.cloth, job.allowances
    windows = {window.name: window for window in job.windows}
    pairings = {one.window.name: one.choice.pairing for one in resolve(job).windows}
    for cut in cut_list(job):
        window = windows[cut.window]
        near, far = cut.across
        assert cloth.selvedge <= near < far <= cloth.width - cloth.selvedge
        assert (far - near) * (1 - cloth.shrinkage_across) == window.finished_length + given_.heading + given_.hem
        if cloth.repeat is None or cloth.repeat.across is None:
            assert cut.row is None
            continue
        assert cut.row is not None
        if cut.top_edge is Edge.FAR and cut.way is Way.UPRIGHT:
            assert (far - cut.row - columns_across(cloth)[0]) % cloth.repeat.across == 0
        rule = window.row
        if rule is not None:
            below = rule.below_top if rule.below_top is not None else window.finished_length - (rule.above_foot or 0)
            wanted = (given_.heading + below) / (1 - cloth.shrinkage_across)
            # Made with a slide, the image of a row hangs there in the right panel; its rows lie half a repeat away.
            is_slid = pairings[cut.window] is Pairing.OWN_SLID and cut.hand is Hand.RIGHT
            assert (cut.row - wanted - (cloth.repeat.across / 2 if is_slid else 0)) % cloth.repeat.across == 0


@settings(max_examples=60)
@given(sideways_jobs(), st.sampled_from([40, 70, 130]))
def test_what_is_laid_begins_on_its_row_lies_apart_and_is_lit_to_its_last_edge(job: Job, table: int) -> None:
    assume(is_taken(job))
    plan = plan_job(job, F(table))
    if plan.short:
        assert not plan.placements
        return
    assert plan.used >= plan.bound
    placed = sorted(plan.placements, key=lambda one: one.start)
    for before, after in pairwise(placed):
        if before.cut.beside and before.cut.beside == after.cut.beside:
            assert (before.start, before.end) == (after.start, after.end)
            (low, high), (next_low, next_high) = before.cut.across, after.cut.across
            assert high <= next_low or next_high <= low
        else:
            assert before.end <= after.start
    for one in placed:
        piece = plan.pieces[one.piece - 1].piece
        if job.cloth.repeat is not None:
            assert (one.start - piece.first_row - one.cut.phase) % job.cloth.repeat.along == 0
        own = [stop for stop in plan.stops if stop.placement is one]
        assert {edge for stop in own for edge in stop.shows} == {"top", "foot", "leading", "return"}
        assert any(stop.shows_last_edge for stop in own)


@settings(max_examples=60)
@given(sideways_jobs())
def test_the_order_of_the_windows_changes_nothing(job: Job) -> None:
    assume(is_taken(job))
    assert ordered(replace(job, windows=job.windows[::-1])).buy == ordered(job).buy
