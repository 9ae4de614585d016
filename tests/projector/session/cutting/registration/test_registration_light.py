"""Laying as light and words: the live scene, the ghost of the first panel, what to pull, what a new plan says."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest

from calibration.registration.fit import PrintFit
from jobs.model.choices import Follow
from projector.commands.shared.planned import load_plan
from projector.scene.marks import Kind, Scene, Stroke, Text
from projector.scene.print_marks import lattice_of
from projector.session.actions import Action
from projector.session.cutting.pages import Page
from projector.session.cutting.registering import compare, with_repeat
from projector.session.cutting.registration.marking import Registered
from projector.session.cutting.registration.scene import first_of_pair, ghost, rows_below_top
from projector.session.cutting.registration.text import registration_text, still_off
from projector.session.cutting.state import Session, Setup, setup_of
from projector.session.cutting.text import pull_text
from projector.session.keys import DEFAULT_KEYS
from tests.projector.commands.running import EXAMPLES
from tests.projector.session.cutting.registration.test_marking import confirm, laid, laid_again
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import after, at_work, lit, seen
from tests.projector.session.tables import table_of


def bench(pulls: int = 1) -> Setup:
    return setup_of(plan_of(3, pulls), table_of(1280, 720))


def said(scene: Scene) -> str:
    return " ".join(mark.text for mark in scene.marks if isinstance(mark, Text))


def test_the_page_shows_the_cross_and_says_which_motif_it_is() -> None:
    session, _ = after(at_work(3, 1), Action.LAY)
    scene = lit(replace(session, setup=bench()))
    assert session.marking is not None
    row, column = session.marking.proposed
    assert f"Row {row}, column {column}" in said(scene)
    assert len(scene.of(Kind.TARGET)) == 4


def test_cut_lines_follow_the_print_once_it_is_laid() -> None:
    session, _ = laid(at_work(3, 1))
    cut = lit(replace(session, setup=bench())).of(Kind.CUT, Kind.CUT_DOUBTFUL)
    assert cut
    rows = lit(replace(session, setup=bench())).of(Kind.ROW)
    assert max(len(stroke.points) for stroke in rows) > 2, "a bowed row is bent"


def test_what_is_measured_is_said_with_the_verdict() -> None:
    session = confirm(after(at_work(3, 1), Action.LAY)[0], 4)
    assert session.page is Page.REGISTRATION
    words = said(lit(replace(session, setup=bench())))
    # Planned repeat 16 in, 1 % long: 16.160; skew 0.6 in and bow 0.4 in of 50: 1.20 % and 0.80 %, placed to 1/128 in.
    assert "Repeat along 16 5/32 in, planned 16 in, give or take 1/64 in" in words
    assert "Skew 1." in words
    assert "within the limit of 2 %" in words


def test_cutting_square_states_the_mismatch_beforehand() -> None:
    session = confirm(after(at_work(3, 1), Action.LAY)[0], 4)
    job = plan_of().job
    square = replace(job, cloth=replace(job.cloth, follow=Follow.SELVEDGE))
    assert session.marking is not None
    lines = [text for text, _ in registration_text(session.marking, square, DEFAULT_KEYS)]
    # Skew 0.6 in over 50 in; the seams lie 1 in inside each selvedge: 48/50 of it, 0.576, to the nearest 1/32.
    assert any("miss by 9/16 in at a seam" in text or "miss by 19/32 in at a seam" in text for text in lines)


@pytest.mark.parametrize("pulls", [1, 2])
def test_the_rows_of_the_first_panel_lie_where_the_print_of_the_second_has_its_own(pulls: int) -> None:
    session, _ = laid(at_work(2, pulls))
    session = next_cut(session)
    session, _ = laid_again(session)
    placements = plan_of(2, pulls).placements
    first = first_of_pair(session.placement, session.registered, placements)
    assert first is not None
    one = rows_below_top(*first, Follow.PRINT, 0.0)
    # The print carries both cuts alike: a row is where the plan has it, stretched as measured.
    cut = first[1].cut
    below = [float(at) * first[0].fit.stretch_along for at in (plan_rows(first[1]))]
    assert one == pytest.approx(below, abs=1e-9)
    assert cut.id == "cut-1"


def plan_rows(placed: object) -> list[Fraction]:
    """Rows of the plan below the top of the first cut: the piece begins with a row at 5, then every 16, to 80."""
    return [Fraction(5 + 16 * k) for k in range(5)]


def next_cut(session: Session) -> Session:
    while session.placement.cut.id == "cut-1":
        session, _ = after(session, Action.NEXT_STOP)
    return session


def test_the_ghost_is_lit_at_the_edge_of_the_second_panel_only() -> None:
    session, _ = laid(at_work(plan=setup_of(plan_of(2, 1), table_of(1280, 720))))
    assert not lit(session).of(Kind.GUIDE)
    session, _ = after(seen(next_cut(session)), Action.PULLED)
    assert session.placement.cut.id == "cut-2"
    ghosts = [mark.points[0] for mark in lit(session).of(Kind.GUIDE) if isinstance(mark, Stroke)]
    # Carried by the same fit, the second panel's own rows are where the first was cut: each bar ends on a motif row.
    assert session.fit is not None
    places = session.fit.to_piece(ghosts)
    assert set(np.round(places[:, 1], 6)) == {0.0, 50.0}
    top, rows = float(session.placement.top), 5 + 16 * np.arange(5)
    assert {round(float(at), 4) for at in places[:, 0]} <= {round(float(top - row), 4) for row in rows}
    assert len(ghosts) >= 4


@pytest.mark.parametrize("offset", ["0", "2", "3 1/2", "11"])
@pytest.mark.parametrize("towards", ["first end", "last end"])
def test_the_rows_of_the_first_panel_meet_those_of_a_turned_one_wherever_the_mirror_line_lies(
    tmp_path: Path, offset: str, towards: str
) -> None:
    text = (EXAMPLES / "reading_room.yaml").read_text()
    text = text.replace("mirror_offset: 0 ", f"mirror_offset: {offset} ").replace(
        "top_towards: first end", f"top_towards: {towards}"
    )
    (tmp_path / "job.yaml").write_text(text)
    plan = load_plan(tmp_path / "job.yaml")
    first, second = plan.placements
    assert first.cut.top_edge is not second.cut.top_edge
    fit = PrintFit.plain(lattice_of(plan.job.cloth, plan.pieces[0].piece), 0.0)
    was = Registered(1, first.cut.id, Fraction(0), fit, ())
    bars = ghost((was, first), second, fit, plan.job.cloth)
    ends = fit.to_piece([bar.points[0] for bar in bars.marks if isinstance(bar, Stroke)])
    rows = (ends[:, 0] - fit.lattice.first_row_in) / fit.lattice.along_in
    assert len(ends) >= 8
    assert rows == pytest.approx(np.round(rows), abs=1e-6)
    assert float(second.start) <= ends[:, 0].min()
    assert ends[:, 0].max() <= float(second.end)


def test_a_pull_is_lit_as_words_and_an_arrow_until_the_person_says_it_is_done_or_moves_on() -> None:
    session, _ = after(at_work(3, 2), Action.NEXT_STOP)
    scene = lit(replace(session, setup=bench(2)))
    # From 0 to 38 along the piece: not a whole number of repeats of 16 in this small plan.
    assert "Pull the cloth 38 in to the left" in " ".join(said(scene).split())
    assert len(scene.of(Kind.TARGET)) == 2
    for keys in (
        (Action.DARK, Action.ANY_OTHER),
        (Action.HELP, Action.ANY_OTHER),
        (Action.LIGHT_LEFT, Action.LIGHT_BACK),
        (Action.WIDER, Action.COLOURS, Action.REPLAN),
        (Action.LEAVE, Action.ANY_OTHER),
    ):
        session, _ = after(session, *keys)
        assert "Pull the cloth 38 in to the left" in " ".join(said(lit(replace(session, setup=bench(2)))).split()), keys
    done, _ = after(session, Action.PULLED)
    assert not lit(replace(done, setup=bench(2))).of(Kind.TARGET)
    # Moved on to the next cut and back again: the cloth was pulled, so nothing is to be pulled any more.
    back, _ = after(session, Action.NEXT_CUT, Action.PREVIOUS_STOP)
    assert back.at == session.at
    assert not lit(replace(back, setup=bench(2))).of(Kind.TARGET)


def test_between_two_cuts_the_pull_is_told_from_the_edge_that_was_lit() -> None:
    session, _ = after(at_work(3, 1), Action.CUT_DONE)
    session = seen(session)
    assert session.at == 1
    # The light begins 2 in before the second cut, so 78 = 4 x 16 + 14 in; that begins where the first one ends.
    assert pull_text(session) == (
        "Pull the cloth 78 in to the left: 4 repeats and 14 in",
        "Measure it at the edge lit last; it is the next one too",
    )
    lit_words = " ".join(said(lit(replace(session, setup=bench(1)))).split())
    assert "78 in to the left: 4 repeats and 14 in" in lit_words
    # Back at the cut that is done nothing is pulled; forward again it still is.
    again, _ = after(session, Action.PREVIOUS_STOP)
    assert pull_text(again) == ()
    again, _ = after(again, Action.NEXT_STOP, Action.NEXT_STOP)
    assert pull_text(seen(again))[0].startswith("Pull the cloth 78 in")


def test_going_back_within_a_cut_pulls_the_other_way() -> None:
    session, _ = after(at_work(3, 2), Action.NEXT_STOP, Action.PULLED, Action.PREVIOUS_STOP)
    assert pull_text(session) == ("Pull the cloth 38 in to the right: 2 repeats and 6 in",)


def test_a_session_that_goes_on_says_where_the_cut_end_lies_for_nobody_knows_whether_it_was_pulled() -> None:
    session = seen(at_work(3, 1, done=("cut-1",)))
    assert pull_text(session) == ("Lay piece 1 with its cut end 2 in inside the left end of the light",)


def test_moving_the_cloth_to_the_light_says_how_far_it_is_still_off() -> None:
    session, _ = after(at_work(3, 1), Action.LAY, Action.MATCH_MARKS)
    assert lit(replace(session, setup=bench())).of(Kind.GUIDE), "targets are lit"
    assert session.marking is not None
    aimed = session.marking.aimed
    x, y = session.marking.plain.expected(aimed)
    moved, _ = after(session, *[Action.LIGHT_FAR_RIGHT] * 2, Action.LIGHT_AWAY)
    moved, _ = after(moved, Action.CUT_DONE)
    assert moved.marking is not None
    last = moved.marking.points[-1]
    assert last.table_in == pytest.approx((x + 1, y + 1 / 16), abs=1 / 64)
    assert still_off(moved.marking, plan_of().job.unit) == "Slide the cloth: 1 in left, 1/16 in nearer"


def test_a_turn_is_advised_only_when_the_points_tell_it_from_skew() -> None:
    session, _ = after(at_work(3, 1), Action.LAY, Action.MATCH_MARKS)
    said_after = []
    for _ in range(4):
        session = confirm(session)
        assert session.marking is not None
        said_after.append(still_off(session.marking, plan_of().job.unit))
    assert "turn it" not in said_after[0]
    # The cloth lies 0.4 degrees counter-clockwise, that is to the left: it is to be turned to the right.
    turn = [word for word in said_after[-1].split() if word.startswith("0.")]
    assert said_after[-1].endswith("degrees right")
    assert float(turn[-1]) == pytest.approx(0.4, abs=0.05)


def test_cloth_that_has_become_too_short_is_said() -> None:
    from pathlib import Path

    from jobs.planning.planner import plan_job
    from projector.commands.shared.loading import load_job

    job = load_job(Path("jobs/examples/reading_room.yaml"))
    plan = plan_job(job)
    assert job.cloth.repeat is not None
    assert compare(plan, with_repeat(job, float(job.cloth.repeat.along))) == ""
    tight = replace(job.cloth.pieces[0], length=plan.used + Fraction(1, 4))
    shorter = replace(job, cloth=replace(job.cloth, pieces=(tight,)))
    longer = compare(plan_job(shorter), with_repeat(shorter, float(job.cloth.repeat.along) * 1.01))
    assert "TOO SHORT" in longer
