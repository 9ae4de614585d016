"""A written job reads back as the same job, whatever its unit, names and fractions."""

from dataclasses import fields, replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.io import scalars
from jobs.io.reader import parse_job, read_job
from jobs.io.writer import job_text
from jobs.model.allowances import Allowances, OwnAllowances
from jobs.model.choices import (
    BandEdge,
    Border,
    BorderLeads,
    CutAlong,
    End,
    Facing,
    Follow,
    HalfAt,
    Hang,
    HeadingKind,
    HemKind,
    Middle,
    Motif,
    OrderBy,
    Panels,
    PrintKey,
    ReturnsAdded,
    Run,
    Symmetry,
    TurnedOver,
    Unit,
)
from jobs.model.cloth import Cloth
from jobs.model.cuts import Hand
from jobs.model.goods import FlatPanel, Wanted
from jobs.model.job import CuttingTable, Job, Limits, Pins, RoomLight
from jobs.model.piece import Flaw, Piece, Place
from jobs.model.print import Print, Repeat
from jobs.model.schema import EachSide
from jobs.model.trimmings import Band, Lining, TieBacks
from jobs.model.window import RowRule, Window

EXAMPLES = sorted((Path(__file__).parents[3] / "jobs" / "examples").glob("*.yaml"))


def sizes(low, high):
    """Lengths a tape gives in either unit, in inches: sixteenths, and tenths of a millimetre."""
    inches = st.integers(16 * low, 16 * high).map(lambda n: Fraction(n, 16))
    metric = st.integers(254 * low, 254 * high).map(lambda n: Fraction(n, 254))
    return inches | metric


ONE = Fraction(1)
THINGS = (
    Wanted("Cushion", (Fraction(18), Fraction(17)), 2, Motif.CENTRED),
    Wanted(
        "Bolster", (Fraction(30), Fraction(9)), 1, Motif.CENTRED, Fraction(1, 2), True, True, "", (ONE, Fraction(2))
    ),
)
SHADES = (
    FlatPanel("Stair shade", Fraction(24), Fraction(60), 2, "", OwnAllowances(hem=Fraction(6)), Middle.GAP),
    FlatPanel(
        "Landing shade",
        Fraction(30),
        Fraction(60),
        row=RowRule(above_foot=Fraction(8)),
        top_height=Fraction(90),
        beside="Stair shade",
        apart=Fraction(2),
        room="Stairs",
    ),
)
NAMES = st.sampled_from(["No", "12", "Bay: east", "# 3", "-", "null", 'the "long" one', "Küche, links", "1:30", "{a}"])


@st.composite
def prints(draw):
    kinds = st.sampled_from(Symmetry)
    down, across = draw(kinds), draw(kinds)
    both = Symmetry.NONE not in (down, across)
    one = (down is Symmetry.NONE) != (across is Symmetry.NONE)
    return Print(
        top_to_bottom=down,
        side_to_side=across,
        half_turn=both or (not one and draw(st.booleans())),
        mirror_offset=Fraction(0) if down is Symmetry.NONE else draw(sizes(0, 2)),
        one_way=draw(st.booleans()),
        top_towards=draw(st.sampled_from(End)),
        mirror_offset_across=None if across is Symmetry.NONE else draw(st.none() | sizes(0, 4)),
    )


def unanswered(cloth: Cloth, keys: frozenset[PrintKey]) -> Cloth:
    """The cloth as a file without these keys is read: what does not stand there has its stand-in."""
    sheet = cloth.print
    if keys & {PrintKey.TOP_TO_BOTTOM, PrintKey.SIDE_TO_SIDE}:
        sheet = replace(sheet, half_turn=False)
    if PrintKey.TOP_TO_BOTTOM in keys:
        sheet = replace(sheet, top_to_bottom=Symmetry.NONE, mirror_offset=Fraction(0))
    if PrintKey.SIDE_TO_SIDE in keys:
        sheet = replace(sheet, side_to_side=Symmetry.NONE, mirror_offset_across=None)
    if PrintKey.ONE_WAY in keys:
        sheet = replace(sheet, one_way=False)
    return replace(
        cloth, print=sheet, drop=Fraction(0) if PrintKey.DROP in keys else cloth.drop, not_known=frozenset(keys)
    )


@st.composite
def whole_jobs(draw):
    repeat = Repeat(draw(sizes(3, 30)), draw(sizes(5, 30)))
    flaw = Flaw(draw(sizes(0, 20)), draw(sizes(21, 30)), draw(st.none() | st.just((Fraction(3), Fraction(9)))), "slub")
    cloth = Cloth(
        name=draw(NAMES),
        width=draw(sizes(40, 60)),
        selvedge=draw(sizes(0, 2) | st.just(EachSide(Fraction(1, 2), Fraction(3, 4)))),
        repeat=repeat,
        drop=draw(st.sampled_from([Fraction(0), Fraction(1, 2), Fraction(1, 3)])),
        print=draw(prints()),
        faces_alike=draw(st.booleans()),
        shrinkage=Fraction(draw(st.integers(0, 20)), 200),
        motif_colours=draw(st.sampled_from([(), ("#112233", "#445566")])),
        sold_by=draw(st.none() | sizes(1, 36)),
        repeat_tolerance=Fraction(draw(st.integers(0, 9)), 200),
        order_by=draw(st.sampled_from(OrderBy)),
        pieces=(Piece(draw(sizes(90, 400)), draw(sizes(0, 2)), (flaw,), draw(NAMES)),),
        thickness=draw(st.none() | st.just(Fraction(1, 8))),
        layers=draw(st.integers(1, 2)),
        run=draw(st.sampled_from(Run)),
        first_column=draw(st.none() | sizes(0, 4)),
        side_by_side=draw(st.booleans()),
        longest_piece=draw(st.none() | sizes(500, 900)),
        picture=draw(st.sampled_from(["", "kites-repeat.png", "a, b/c.png"])),
        border=draw(st.none() | st.sampled_from(Border)),
        border_leads=draw(st.sampled_from(BorderLeads)),
    )
    if cloth.run is Run.SIDEWAYS:
        level = replace(cloth.print, top_towards=End.FIRST)
        cloth = replace(cloth, print=level, shrinkage_across=Fraction(draw(st.integers(0, 20)), 200))
    cloth = unanswered(cloth, draw(st.frozensets(st.sampled_from(PrintKey))))
    first = Window(draw(NAMES), Panels.PAIR, draw(sizes(20, 90)), draw(st.sampled_from(Hang)), draw(sizes(90, 99)))
    first = replace(
        first,
        row=RowRule(below_top=draw(sizes(0, 9))),
        side_by_side=draw(st.booleans()),
        room=draw(st.sampled_from(["", "Parlour"])),
        half_at=draw(st.sampled_from([HalfAt.RETURN, HalfAt.LEADING])),
        facing=draw(st.sampled_from(Facing)),
        places=draw(st.sampled_from([(), (Place(Hand.LEFT, Fraction(209, 2)), Place(Hand.RIGHT, Fraction(9), 2, 3))])),
    )
    second = Window(
        "Second",
        draw(st.sampled_from([Panels.LEFT, Panels.RIGHT, Panels.WHOLE])),
        draw(sizes(20, 90)),
        top_height=draw(sizes(90, 99)),
        cuts_per_panel=None,
        rod=draw(sizes(20, 90)),
        returns=draw(sizes(0, 4)),
        overlap=draw(sizes(0, 4)),
        fullness=draw(st.sampled_from([Fraction(1), Fraction(9, 4)])),
        row=draw(st.sampled_from([RowRule(level_with=first.name), RowRule(above_foot=Fraction(7, 2))])),
    )
    lined = draw(st.booleans())
    if lined:
        layer = Lining("Plain sateen", Fraction(3, 2), Fraction(2), Fraction(1), Fraction(4), Fraction(3, 4))
        own = OwnAllowances(hem=Fraction(5), seam=Fraction(1), heading=Fraction(3), heading_kind=HeadingKind.WAVE)
        bands = (
            Band(BandEdge.FOOT, Fraction(3)),
            Band(BandEdge.LEADING, Fraction(2), "Plain sateen", CutAlong.ACROSS, ONE),
        )
        ties = TieBacks(Fraction(20), Fraction(4), "Plain sateen", Fraction(1, 4), 1)
        first = replace(
            first, lining=replace(layer, cuts_per_panel=Fraction(3, 2)), bands=bands[1:], tie_backs=ties, rod=None
        )
        second = replace(
            second, bands=bands, interlining=layer, allowances=own, cloth=draw(st.sampled_from(["", cloth.name]))
        )
    sateen = Cloth("Plain sateen", Fraction(50), repeat=None, follow=Follow.SELVEDGE)
    return Job(
        title=draw(NAMES),
        unit=draw(st.sampled_from(Unit)),
        cloth=cloth,
        cloths=(sateen,) if lined else (),
        windows=(first, second),
        allowances=Allowances(
            *(draw(sizes(1, 9)) for _ in range(6)),
            draw(st.sampled_from([None, *HeadingKind])),
            draw(st.sampled_from([None, *HemKind])),
        ),
        table=draw(st.none() | st.just(CuttingTable(Fraction(120), Fraction(60)))),
        limits=draw(st.sampled_from([Limits(), Limits(Fraction(3, 100), Fraction(1, 40))])),
        tolerance=draw(st.sampled_from([Fraction(1, 16), Fraction(5, 127)])),
        returns_added=draw(st.sampled_from(ReturnsAdded)),
        flaws_may_lie_in=draw(st.sampled_from([(), tuple(TurnedOver)])),
        pins=draw(st.none() | st.just(Pins(Fraction(5), Fraction(3, 2)))),
        stiffener=draw(st.none() | st.just(Fraction(1, 2))),
        doubled=draw(st.sampled_from([(), (TurnedOver.HEM, TurnedOver.SIDE_HEM)])),
        light=draw(st.sampled_from([RoomLight(), RoomLight(Fraction(120), Fraction(900))])),
        wanted=draw(st.sampled_from([(), THINGS])),
        flat_panels=draw(st.sampled_from([(), SHADES])),
    )


def without_notices(job):
    return replace(job, notices=())


@settings(max_examples=60)
@given(whole_jobs())
def test_a_job_written_and_read_is_the_same_job(job):
    assert without_notices(parse_job(job_text(job), "written")) == job


def test_no_key_that_a_job_may_have_is_left_unwritten():
    """A field that job_text does not know would be lost: each must differ from its default in some drawn job."""
    drawn = set()

    @settings(max_examples=80, database=None)
    @given(whole_jobs())
    def draw(job):
        for thing in (job, job.cloth, job.windows[0], job.windows[1], job.allowances, job.cloth.pieces[0]):
            drawn.update((type(thing), one.name) for one in fields(thing) if getattr(thing, one.name) != one.default)

    draw()
    known = {(kind, one.name) for kind in (Job, Cloth, Window, Allowances, Piece) for one in fields(kind)}
    unwritten = {(Job, "notices"), (Window, "place"), (Cloth, "colour"), (Cloth, "follow")}
    # How the file lists its cloths, and what is worked out from it.
    unwritten |= {(Job, "listed"), (Window, "made"), (Window, "flat")}
    assert known - drawn <= unwritten


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_written_and_read_is_the_same_job(path):
    job = read_job(path)
    assert without_notices(parse_job(job_text(job), "written")) == without_notices(job)


def test_plain_cloth_is_written_without_keys_that_have_no_meaning_there():
    text = "job: Loft\ncloth: {width: 54}\nwindows:\n  - {name: A, panels: whole, finished_length: 50}\n"
    job = parse_job(text, "loft.yaml")
    written = job_text(job)
    assert without_notices(parse_job(written, "written")) == without_notices(job)
    assert "repeat: {" not in written
    assert "row:" not in written


@pytest.mark.parametrize(
    ("inches", "unit", "written"),
    [
        (Fraction(45, 4), Unit.INCH, "11 1/4"),
        (Fraction(286, 10) * Fraction(50, 127), Unit.CENTIMETRE, "28.6"),  # 1 in = 2.54 cm exactly
        (Fraction(1, 16), Unit.CENTIMETRE, "0.15875"),  # 2.54 / 16
        (Fraction(1, 3), Unit.CENTIMETRE, "127/150"),  # 2.54 / 3: decimals that never end
        (Fraction(1), Unit.MILLIMETRE, "25.4"),
    ],
)
def test_a_length_is_written_exactly_and_as_a_person_would(inches, unit, written):
    assert scalars.length(inches, unit) == written


def test_a_fraction_that_no_file_may_hold_is_not_written():
    with pytest.raises(ValueError, match="too long"):
        scalars.length(Fraction(1, 7**80), Unit.INCH)


def test_quarter_yards_are_written_as_the_shop_says_them():
    assert scalars.as_sold(Fraction(9), Unit.INCH) == "1/4 yd"
    assert scalars.as_sold(Fraction(500, 127), Unit.CENTIMETRE) == "10"
