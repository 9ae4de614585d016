"""A job of several cloths, cloth by cloth: what is cut from each, and where it stands in the file; the arithmetic is
beside each figure."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.cutting.cloths import jobs_of_cloths, unused_cloths
from jobs.cutting.resolve import resolve
from jobs.model.allowances import OwnAllowances
from jobs.model.choices import Hang, Panels, Part
from jobs.model.cloth import Cloth
from jobs.model.job import Job
from jobs.model.print import Repeat
from jobs.model.problems import Code
from jobs.model.trimmings import Lining
from jobs.model.window import Made, Window
from jobs.ordering import order
from tests.jobs.made import MIRROR_DOWN, cloth, job, window
from tests.jobs.refused import refused

FACE = cloth(name="Kites", repeat=Repeat(Fraction(25), Fraction(26)), print=MIRROR_DOWN)
SATEEN = Cloth("Sateen", Fraction(54), Fraction(1, 2))
DOMETTE = Cloth("Domette", Fraction(60))
BAY = replace(
    window("East bay", 84, cuts=1),
    cuts_per_panel=None,
    rod=Fraction(72),
    returns=Fraction(7, 2),
    overlap=Fraction(4),
    room="Parlour",
)


def lined(*windows: Window, cloths: tuple[Cloth, ...] = (SATEEN, DOMETTE)) -> Job:
    allowances = {"heading": 4, "hem": 8, "side_hem": 3, "seam": "1/2", "squaring": 1}
    return replace(job(FACE, *windows, **allowances), cloths=cloths)


def test_a_job_of_one_cloth_stays_as_it_is() -> None:
    one = job(FACE, window("Bay", 84), heading=4)
    (alone,) = jobs_of_cloths(one)
    assert alone.job == one
    assert (alone.number, alone.of, alone.ending) == (0, 1, "")


def test_a_lining_is_as_wide_and_as_long_as_the_face_less_what_it_is_told() -> None:
    """Common practice for the turnings, no source; the arithmetic by hand.

    Rod 72 + overlap 4 + two returns of 3 1/2 = 83; x 2 = 166, 83 to a panel. 2 narrower: 81, with two side hems of
    1 1/2: 84 to a panel. Sateen prints nothing: 54 - 2 x 1/2 = 53 between the selvedges, two joined lose a seam of 1/2
    at each edge: 53 + 53 - 1 = 105, 1 1/2 give 78 1/2, so 2 cuts a panel and 4 for the pair. Length 84 - 1 = 83 + 4
    heading (the face's) + 4 hem = 91. 4 x 91 + 1 squaring = 365, sold by 1/4 yd: 41 x 9 = 369.
    """
    layer = Lining("Sateen", narrower=Fraction(2), hem=Fraction(4), side_hem=Fraction(3, 2))
    face, lining = jobs_of_cloths(lined(replace(BAY, lining=layer), cloths=(SATEEN,)))
    (panel,) = lining.job.windows
    assert panel.name == "East bay lining"
    assert panel.made == Made(Part.LINING, "East bay")
    assert panel.flat == 81
    assert panel.finished_length == 83
    assert panel.allowances == OwnAllowances(Fraction(4), Fraction(4), Fraction(3, 2))
    assert (panel.panels, panel.hang, panel.room) == (Panels.PAIR, Hang.SAME, "Parlour")
    resolved = resolve(lining.job).sound()
    assert [cut.length for cut in resolved.cuts] == [91] * 4
    assert resolved.windows[0].count == 2
    assert {cut.leading_side.hem for cut in resolved.cuts if cut.number == 1} == {Fraction(3, 2)}
    assert order(resolved).buy == 369
    assert face.job.windows == (BAY,)


def test_a_lining_without_turnings_of_its_own_takes_those_of_the_face() -> None:
    own = replace(BAY, allowances=OwnAllowances(hem=Fraction(5)), lining=Lining("sateen", shorter=Fraction(0)))
    _, lining = jobs_of_cloths(lined(own, cloths=(SATEEN,)))
    assert lining.job.windows[0].allowances == OwnAllowances(Fraction(4), Fraction(5), Fraction(3))
    # 84 finished + 4 heading + 5 hem
    assert {cut.length for cut in resolve(lining.job).sound().cuts} == {93}


def test_turnings_of_its_own_change_the_cuts_of_a_window_and_of_no_other() -> None:
    """Heading 4 and hem 8 of the job: 84 + 12 = 96. With a heading of 2 and a side hem of 1: 84 + 10 = 94."""
    own = replace(window("Loft", 84), allowances=OwnAllowances(heading=Fraction(2), side_hem=Fraction(1)))
    resolved = resolve(lined(window("Bay", 84), own, cloths=())).sound()
    lengths = {cut.window: cut.length for cut in resolved.cuts}
    assert lengths == {"Bay": 96, "Loft": 94}
    sides = {cut.window: (cut.heading, cut.leading_side.hem) for cut in resolved.cuts}
    assert sides == {"Bay": (4, 3), "Loft": (2, 1)}


def test_interlining_and_lining_of_one_cloth_are_two_windows_of_it() -> None:
    both = replace(BAY, lining=Lining("Sateen"), interlining=Lining("Sateen", shorter=Fraction(0)))
    _, sateen = jobs_of_cloths(lined(both, cloths=(SATEEN,)))
    assert [one.name for one in sateen.job.windows] == ["East bay lining", "East bay interlining"]
    assert sateen.frame.in_file(("windows", 1, "hang")) == ("windows", 0, "interlining", "hang")
    assert sateen.frame.of_file(("windows", 0, "lining", "hem")) == ("windows", 0, "hem")
    assert sateen.frame.of_file(("windows", 0, "finished_length")) is None


def test_a_face_may_line_itself() -> None:
    (alone,) = jobs_of_cloths(lined(replace(BAY, lining=Lining("Kites")), cloths=()))
    assert [one.name for one in alone.job.windows] == ["East bay", "East bay lining"]
    # The lining hangs the same way in both panels, a row of its print at its top: 4 in of heading above it.
    cuts = [cut for cut in resolve(alone.job).sound().cuts if cut.window == "East bay lining"]
    assert {cut.way.value for cut in cuts} == {"upright"}
    assert {cut.row for cut in cuts} == {4}


def test_where_the_cuts_are_told_a_lining_as_wide_has_as_many() -> None:
    told = window("Stairs", 60, Panels.LEFT, 2)
    same = replace(told, lining=Lining("Sateen"))
    _, lining = jobs_of_cloths(lined(same, cloths=(SATEEN,)))
    assert lining.job.windows[0].cuts_per_panel == 2
    other = replace(told, lining=Lining("Domette"))
    with refused(Code.LINING_CUTS_NOT_KNOWN) as problems:
        jobs_of_cloths(lined(other))
    assert problems[0].path == ("windows", 0, "lining")
    said = replace(told, lining=Lining("Domette", cuts_per_panel=Fraction(3, 2)))
    _, domette = jobs_of_cloths(lined(said))
    assert domette.job.windows[0].cuts_per_panel == Fraction(3, 2)


@pytest.mark.parametrize(
    ("layer", "code", "path"),
    [
        (Lining("Satin"), Code.NO_SUCH_CLOTH, ("windows", 0, "lining", "cloth")),
        (Lining("Sateen", shorter=Fraction(84)), Code.LINING_TOO_SHORT, ("windows", 0, "lining", "shorter")),
        # 83 flat to a panel
        (Lining("Sateen", narrower=Fraction(83)), Code.LINING_TOO_NARROW, ("windows", 0, "lining", "narrower")),
    ],
)
def test_what_cannot_be_made_is_said_where_it_is_asked(layer: Lining, code: Code, path: tuple[str | int, ...]) -> None:
    with refused(code) as problems:
        jobs_of_cloths(lined(replace(BAY, lining=layer)))
    assert [one.path for one in problems] == [path]


def test_windows_go_to_the_cloth_they_name_and_nothing_to_one_that_nobody_names() -> None:
    other = replace(window("Loft", 50), cloth="SATEEN")
    whole = lined(window("Bay", 84), other, window("Stairs", 70))
    face, sateen = jobs_of_cloths(whole)
    assert [one.name for one in face.job.windows] == ["Bay", "Stairs"]
    assert [one.name for one in sateen.job.windows] == ["Loft"]
    assert face.frame.in_file(("windows", 1, "row")) == ("windows", 2, "row")
    assert sateen.frame.in_file(("cloth", "pieces", 0)) == ("cloths", 0, "pieces", 0)
    assert unused_cloths(whole) == ("Domette",)


def test_a_job_of_several_cloths_is_not_worked_out_as_if_it_were_of_one() -> None:
    with pytest.raises(ValueError, match="one by one"):
        resolve(lined(BAY))


def test_files_of_further_cloths_have_short_names_of_their_own() -> None:
    names = ("Kites", "Sateen / cream", "sateen cream", "x" * 120, "x" * 119 + "y")
    cloths = tuple(replace(SATEEN, name=name) for name in names[1:])
    windows = tuple(replace(window(name, 50), cloth=name) for name in names)
    endings = [one.ending for one in jobs_of_cloths(lined(*windows, cloths=cloths))]
    assert endings[0] == ""
    assert len(set(endings)) == len(names)
    assert all(len(ending) <= 60 and "/" not in ending and " " not in ending for ending in endings)
