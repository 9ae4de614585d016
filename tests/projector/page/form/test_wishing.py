"""A cut placed on the cloth is a wish in the text of the job: put in, moved, taken out, undone."""

from fractions import Fraction

import pytest

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.reader import parse_job
from jobs.model.cuts import Hand
from jobs.model.piece import Place
from jobs.ordering import assumed
from jobs.planning.planner import plan_cuts
from projector.page.form.blank import examples
from projector.page.form.document import Document
from projector.page.form.open_job import OpenJob, Refused

MILL = examples()["Mill-race reading room"]
LEFT = {"do": "wish", "path": "windows/0", "panel": "left", "cut": 1, "piece": 1}


@pytest.fixture
def job():
    return OpenJob("abcd", Document(MILL))


def places(job: OpenJob) -> tuple[Place, ...]:
    return parse_job(job.document.text, "job").windows[0].places


def test_a_cut_is_placed_moved_and_let_go_each_a_step_that_is_undone(job):
    job.take("p", {**LEFT, "near": "130 3/8"})
    first = (Place(Hand.LEFT, Fraction(1043, 8)),)
    assert places(job) == first
    job.take("p", {**LEFT, "near": "20"})
    job.take("p", {**LEFT, "panel": "right", "near": "150"})
    assert places(job) == (Place(Hand.LEFT, Fraction(20)), Place(Hand.RIGHT, Fraction(150)))
    job.take("p", {"do": "let go", "path": "windows/0", "panel": "left", "cut": 1})
    assert places(job) == (Place(Hand.RIGHT, Fraction(150)),)
    job.take("p", {"do": "let go", "path": "windows/0", "panel": "right", "cut": 1})
    assert job.document.text == MILL
    for _ in range(4):
        job.take("p", {"do": "undo"})
    assert places(job) == first
    job.take("p", {"do": "undo"})
    assert job.document.text == MILL


def test_a_copied_window_does_not_want_the_places_of_the_first(job):
    job.take("p", {**LEFT, "near": "20"})
    job.take("p", {"do": "copy", "path": "windows/0"})
    found = parse_job(job.document.text, "job").windows
    assert [len(window.places) for window in found] == [1, 0]


@pytest.mark.parametrize(
    "wrong",
    [{"near": "x"}, {"near": "-3"}, {"panel": "middle"}, {"path": "windows/7"}, {"cut": "one"}, {"piece": None}],
)
def test_what_is_no_place_is_refused_and_nothing_changes(job, wrong):
    with pytest.raises(Refused):
        job.take("p", {**LEFT, "near": "20", **wrong})
    assert job.document.text == MILL


def test_nothing_is_placed_while_something_is_to_be_mended(job):
    job.take("p", {"do": "type", "path": "cloth/width", "value": "x"})
    with pytest.raises(Refused, match="Mend"):
        job.take("p", {**LEFT, "near": "20"})


BAY = examples()["Bay over the weir"]
LINED = {"do": "wish", "path": "windows/1/lining", "panel": "right", "cut": 1, "piece": 1}


def test_a_lining_is_placed_on_its_own_cloth_and_let_go() -> None:
    bay = OpenJob("abcd", Document(BAY))
    bay.take("p", {**LINED, "near": "195"})
    placed = parse_job(bay.document.text, "job")
    assert placed.windows[1].lining.places == (Place(Hand.RIGHT, Fraction(195)),)
    assert placed.windows[1].places == ()
    sateen = next(one.job for one in jobs_of_cloths(placed) if one.name == "Cream sateen")
    plan = plan_cuts(assumed(sateen).resolved)
    assert plan.unmet == ()
    assert 195 in [one.start for one in plan.placements if one.cut.panel == "Middle light lining, right"]
    bay.take("p", {"do": "copy", "path": "windows/1"})
    assert parse_job(bay.document.text, "job").windows[3].lining.places == ()
    bay.take("p", {"do": "let go", **{key: LINED[key] for key in ("path", "panel", "cut")}})
    assert not [one for one in parse_job(bay.document.text, "job").windows if one.lining.places]
    for path in ("windows/1/interlining", "windows/1/bands/9", "windows/1/lining/cloth", "allowances", "windows"):
        with pytest.raises(Refused):
            bay.take("p", {**LINED, "path": path, "near": "150"})


GOODS = """\
job: Goods
cloth: {width: 54, selvedge: 1/2, pieces: [{length: 600}]}
windows:
  - name: Bay
    panels: pair
    finished_length: 80
    rod: 40
    fullness: 2
    returns: 0
    overlap: 0
    bands: [{edge: leading, width: 3}]
    tie_backs: {length: 22, width: 4}
flat_panels:
  - {name: Stair shade, width: 30, finished_length: 40, count: 2}
wanted:
  - {name: Cushion, size: [18, 18], count: 2, order: yes}
allowances: {heading: 4, hem: 8, side_hem: 2, seam: 1/2, squaring: 2, least_seam: 3/8}
"""


@pytest.mark.parametrize(
    ("path", "panel", "cut", "called", "places_of"),
    [
        ("windows/0/bands/0", "right", 1, "Bay leading band, right", lambda job: job.windows[0].bands[0].places),
        ("windows/0/tie_backs", "whole", 3, "Bay tie-back 3, whole", lambda job: job.windows[0].tie_backs.places),
        ("flat_panels/0", "whole", 2, "Stair shade 2, whole", lambda job: job.flat_panels[0].places),
        ("wanted/0", "whole", 1, "Cushion 1, whole", lambda job: job.wanted[0].places),
    ],
)
def test_bands_tie_backs_shades_and_goods_are_placed_and_let_go(path, panel, cut, called, places_of) -> None:
    """At 480 in nothing lies of all that takes less than 400 in: there it lies as it is wished."""
    goods = OpenJob("abcd", Document(GOODS))
    goods.take("p", {"do": "wish", "path": path, "panel": panel, "cut": cut, "piece": 1, "near": "480"})
    placed = parse_job(goods.document.text, "job")
    assert places_of(placed) == (Place(Hand(panel), Fraction(480), cut),)
    plan = plan_cuts(assumed(jobs_of_cloths(placed)[0].job).resolved)
    assert plan.unmet == ()
    assert [one.start for one in plan.placements if one.cut.panel == called] == [480]
    goods.take("p", {"do": "let go", "path": path, "panel": panel, "cut": cut})
    assert goods.document.text == GOODS


def test_a_copied_window_does_not_want_the_places_of_the_first_bands_and_tie_backs() -> None:
    goods = OpenJob("abcd", Document(GOODS))
    for path, panel in (("windows/0/bands/0", "left"), ("windows/0/tie_backs", "whole")):
        goods.take("p", {"do": "wish", "path": path, "panel": panel, "cut": 1, "piece": 1, "near": "480"})
    goods.take("p", {"do": "copy", "path": "windows/0"})
    first, second = parse_job(goods.document.text, "job").windows
    assert (len(first.bands[0].places), len(first.tie_backs.places)) == (1, 1)
    assert (second.bands[0].places, second.tie_backs.places) == ((), ())


@pytest.mark.parametrize(
    ("path", "panel"),
    [
        ("windows/0/places", "left"),
        ("windows/0/tie_backs/places", "whole"),
        ("flat_panels/0/places", "whole"),
        ("wanted/0/places", "whole"),
    ],
)
def test_a_place_is_added_in_the_form_for_the_panel_there_is(path, panel) -> None:
    goods = OpenJob("abcd", Document(GOODS))
    goods.take("p", {"do": "add", "path": path})
    assert goods.values.text((*goods_path(path), 0, "panel")) == panel


def goods_path(path: str) -> tuple[str | int, ...]:
    return tuple(int(part) if part.isdigit() else part for part in path.split("/"))
