"""A length that several cuts share is cut off from selvedge to selvedge first: on papers, page and in the light."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from jobs.model.choices import Panels
from jobs.model.piece import Piece
from jobs.planning.planner import plan_job
from projector.papers.cloth_picture import cloth_picture
from projector.papers.drawing import Path
from projector.papers.sheet.flow import PaperSize
from projector.papers.sheet.pages import sheet_pages, tag_pages
from projector.scene.marks import Text
from projector.session.cutting.journal import not_kept
from projector.session.cutting.mode import Cutting
from projector.session.cutting.scene import lit as layers
from projector.words.shared_length import SELVEDGE_FIRST
from tests.jobs.made import cloth, job, window
from tests.projector.session.sessions import at_work, setup

F = Fraction
SHARED = [
    replace(window(name, tall, Panels.LEFT), cuts_per_panel=None, rod=F(26), fullness=F(1))
    for name, tall in (("Hall", 60), ("Nook", 50))
]
PLAN = plan_job(job(cloth(pieces=(Piece(F(300)),)), *SHARED, window("Door", 70, Panels.LEFT)))
"""Hall and Nook lie side by side in one length of 60, Door takes one of 70 for itself."""


def page_words(pages) -> list[str]:
    return [words.text for page in pages for words in page.words]


def test_the_sheet_says_it_once_at_the_first_cut_of_the_length() -> None:
    said = " ".join(page_words(sheet_pages(PLAN, PaperSize.LETTER, "2026-11-25")))
    first = next(placed for placed in PLAN.placements if placed.cut.beside)
    start, end = first.crosscuts
    assert end - start == 60
    words = f"Cut off from selvedge to selvedge first, at {start} in and {end} in; then slit: 2 cuts lie side by side"
    assert said.count(words) == said.count("Cut off from selvedge") == 1


def test_one_tag_of_the_length_says_it() -> None:
    tags = page_words(tag_pages(PLAN, PaperSize.LETTER, 3.5, 2.5))
    assert tags.count(SELVEDGE_FIRST) == 1
    assert tags.index("Hall") < tags.index(SELVEDGE_FIRST) < max(tags.index("Nook"), tags.index("Door"))


def test_the_picture_shows_where_it_is_cut_off_beyond_both_selvedges() -> None:
    picture = cloth_picture(PLAN)
    tall = max(abs(shape.points[0][1] - shape.points[-1][1]) for shape in picture.shapes if isinstance(shape, Path))
    lines = {
        s.points[0][0]
        for s in picture.shapes
        if isinstance(s, Path) and len(s.points) == 2 and abs(s.points[0][1] - s.points[1][1]) == tall
    }
    assert len(lines) == 2
    assert any("cut off there first, then slit" in words.text.lower() for words in picture.words)
    alone = plan_job(job(cloth(pieces=(Piece(F(300)),)), window("Door", 70, Panels.LEFT)))
    assert not any("then slit" in words.text for words in cloth_picture(alone).words)


def test_light_and_page_say_it_until_the_first_of_them_is_cut() -> None:
    bench = setup(PLAN)
    shared = [number for number, stop in enumerate(bench.plan.stops) if stop.placement.cut.beside]
    alone = next(number for number, stop in enumerate(bench.plan.stops) if not stop.placement.cut.beside)
    for at, is_said in ((shared[0], True), (shared[-1], True), (alone, False)):
        check_said(replace(at_work(plan=bench), at=at), is_said)
    first = bench.plan.stops[shared[0]].placement.cut.id
    check_said(replace(at_work(done=(first,), plan=bench), at=shared[-1]), is_said=False)


def check_said(session, is_said: bool) -> None:
    state = Cutting(session, not_kept).publish()
    assert state["cut"]["cut_off_first"].startswith("Cut off from selvedge to selvedge first, at ") is is_said
    lit = [mark.text for scene in layers(session) for mark in scene.marks if isinstance(mark, Text)]
    assert (lit.count(SELVEDGE_FIRST) == 1) is is_said
