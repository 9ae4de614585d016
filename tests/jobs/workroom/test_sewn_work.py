"""The other five of the ten jobs of a workroom, by hand: borders, bands, linings, puddles, shades and cushions."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from importlib import resources

import pytest

from jobs.model.cuts import Edge, Way
from jobs.model.problems import Code
from tests.jobs.refused import refused
from tests.jobs.whole_jobs.shortest import lanes_of, worst
from tests.jobs.workroom.worked import worked

F = Fraction


def test_shades_a_valance_and_cushions_from_one_cloth() -> None:
    """The example of an orangery, 55 in wide with three columns 18 apart: at 9 1/2, 27 1/2 and 45 1/2.

    Door: one cut of 80 + 12 = 92. Shades 48 + 2 + 5 = 55 long, 28 + 3 = 31 wide about 27 1/2: 12 to 43; the second one
    hangs 14 + 8 + 14 = 36 further, two columns, so it has a column in its middle too. Its row 10 above the foot is
    48 - 10 + 2 = 40 below the edge, 15 modulo 25. Valance 14 + 4 = 18 long, 40 + 2 = 42 wide: 6 1/2 to 48 1/2; its row
    7 + 2 = 9. Cushions 16 + 1 = 17 each way, the middle 8 1/2 below the edge; their backs begin on a row, 1/2 below.

    Three fronts lie in one length, two backs in another; a front, whose row lies 8 lower, with two backs in a third,
    8 + 17 = 25 long. Handbook cuts: 92 is 100, 2 x 55 are 2 x 75, 18 is 25, 17, 17 and 25 are 25 each: 100 + 150 + 25 +
    75 = 350, + 25 = 375. Together they are 92 + 110 + 18 + 17 + 17 + 25 = 279; 28 1/2 are waited for rows at worst, the
    least of all orders: 307 1/2, + 1 = 308 1/2; 35 quarters are 315, 8 3/4 yd.
    """
    text = (resources.files("jobs.examples") / "orangery.yaml").read_text(encoding="utf-8")
    orangery = worked(text)
    lemons = "Lemons on white"
    fronts, backs = ({f"{name} {n}" for n in range(1, 5)} for name in ("Cushion", "Cushion back"))
    things = {("Garden door", 92): 1, ("Left shade", 55): 1, ("Right shade", 55): 1, ("Valance", 18): 1}
    assert orangery.cut(lemons) == Counter(things | dict.fromkeys(((name, 17) for name in fronts | backs), 1))
    plan = orangery.plans[lemons]
    cuts = {cut.window: cut for cut in plan.cuts}
    assert cuts["Left shade"].across == cuts["Right shade"].across == (12, 43)
    assert cuts["Valance"].across == (F(13, 2), F(97, 2))
    rows = {name: cut.row for name, cut in cuts.items()}
    assert (rows["Left shade"], rows["Right shade"], rows["Valance"]) == (15, 15, 9)
    assert {rows[name] for name in fronts} == {F(17, 2)}
    assert {rows[name] for name in backs} == {F(1, 2)}
    assert {(sum(cuts[name].across) / 2 - F(19, 2)) % 18 for name in fronts} == {0}
    assert orangery.orders[lemons].handbook == 375
    assert orangery.orders[lemons].guaranteed == worst(lanes_of(plan), F(25)) == F(615, 2)
    assert orangery.yards(lemons) == F(35, 4)
    assert [thing.name for thing in plan.wanted] == ["Door wedge"] * 2


BORDER = """
job: A border that leads
cloth: {name: Sage with a band, width: 54, selvedge: 1/2, border: far, print: {one_way: no}}
allowances: {heading: 4, hem: 8, side_hem: 2, squaring: 1}
windows: [{name: Study, panels: pair, finished_length: 84, rod: 44, fullness: 2}]
"""


def test_a_border_leads_in_both_panels_where_one_is_turned() -> None:
    """44 x 2 / 2 = 44 to a panel, 48 with two side hems of 2, within 53: one cut of 84 + 12 = 96 each. The left one
    upright leads with the far selvedge, where the border is; the right one does so turned.
    2 x 96 + 1 = 193; 22 quarters are 198, 5 1/2 yd.
    """
    study = worked(BORDER)
    assert study.cut("Sage with a band") == Counter({("Study", 96): 2})
    plan = study.plans["Sage with a band"]
    assert [(cut.hand.value, cut.way, cut.leading_edge) for cut in plan.cuts] == [
        ("left", Way.UPRIGHT, Edge.FAR),
        ("right", Way.TURNED, Edge.FAR),
    ]
    assert plan.used == 193
    assert study.yards("Sage with a band") == F(11, 2)


def test_a_border_on_one_way_cloth_leads_in_one_panel_alone() -> None:
    """Upright both, the left panel leads with the far selvedge and the right one with the near."""
    one_way = BORDER.replace("one_way: no", "one_way: yes")
    with refused(Code.BORDER_CANNOT_LEAD):
        worked(one_way)
    study = worked(one_way.replace("border: far", "border: far, border_leads: one"))
    leads = {cut.hand.value: cut.leading_edge for cut in study.plans["Sage with a band"].cuts}
    assert leads == {"left": Edge.FAR, "right": Edge.NEAR}


BANDS = """
job: Contrast bands
cloth: {name: Oatmeal, width: 54, selvedge: 1/2, print: {one_way: no}}
cloths: [{name: Red linen, width: 56, selvedge: 3/8, print: {one_way: no}}]
allowances: {heading: 4, hem: 8, side_hem: 2, seam: 1/2, squaring: 1}
windows:
  - name: Parlour
    panels: pair
    finished_length: 84
    rod: 60
    fullness: 2
    bands: [{edge: leading, width: 3, cloth: Red linen}, {edge: foot, width: 6, cloth: Red linen, cut: across}]
"""


def test_contrast_bands_at_the_leading_edge_and_across_the_foot() -> None:
    """Face: 60 x 2 / 2 = 60, 64 with hems: 1 1/2 cuts, 26 1/2 + 53 = 79 1/2; 84 + 12 = 96 long, the halves share:
    3 x 96 + 1 = 289; 33 quarters are 297, 8 1/4 yd.

    Bands: at the leading edges two of 96 by 3 + 1 = 4. At the foot 64 each, 7 wide, cut across: 56 - 3/4 = 55 1/4 are
    too little for 64, two lengths of (64 + 1) / 2 = 32 1/2 do. One of those four lies beside the two long ones (8 +
    32 1/2 of 55 1/4), no two beside each other (65): 96 + 3 x 7 = 117, + 1 = 118; 14 quarters are 126, 3 1/2 yd.
    """
    parlour = worked(BANDS)
    assert parlour.cut("Oatmeal") == Counter({("Parlour", 96): 4})
    assert parlour.plans["Oatmeal"].used == 289
    assert parlour.yards("Oatmeal") == F(33, 4)
    foot = {(f"Parlour foot band {number}", F(7)): 1 for number in range(1, 5)}
    assert parlour.cut("Red linen") == Counter({("Parlour leading band", F(96)): 2} | foot)
    wide = {(cut.window[:12], cut.across[1] - cut.across[0]) for cut in parlour.plans["Red linen"].cuts}
    assert wide == {("Parlour lead", 4), ("Parlour foot", F(65, 2))}
    assert parlour.plans["Red linen"].used == 118
    assert parlour.yards("Red linen") == F(7, 2)


PUDDLED = """
job: A puddled pair with returns and overlap
cloth: {name: Peonies, width: 55, selvedge: 1/2, repeat: {along: 25, across: 27}, drop: 0, first_column: 14,
  print: {top_to_bottom: none, side_to_side: mirror, mirror_offset_across: 0, one_way: yes}}
allowances: {heading_kind: goblet pleats, hem_kind: puddled, side_hem: 3, seam: 1/2, squaring: 1}
windows:
  - {name: Ballroom, panels: pair, finished_length: 99, rod: 72, returns: 3 1/2, overlap: 4, fullness: 2,
     row: {above_foot: 9}}
"""


def test_a_puddled_pair_with_returns_and_overlap() -> None:
    """72 + 4 + 2 x 3 1/2 = 83, twice 166, 83 to a panel, 89 with two side hems of 3. Two columns, 54, between seams:
    1 1/2 cuts reach 27 + 54 = 81, 2 reach 108. 96 to the floor and 3 on it are 99; goblets take 5 1/2 and a hem that
    lies on the floor 2 where none is told (common practice, no source): 106 1/2 to cut, 5 repeats of 25.

    The columns at 14 and 41 are the mirror lines; 14 + 41 = 55, the leading edges of the two hands are mirror images of
    each other and nothing is trimmed. A row 9 above the foot: 99 - 9 + 5 1/2 = 95 1/2 below the edge, 20 1/2.
    Four equal upright cuts: 25 + 3 x 125 + 106 1/2 = 506 1/2, + 1 = 507 1/2; 57 quarters are 513, 14 1/4 yd.
    Handbook: 4 x 125 + 25 = 525.
    """
    ballroom = worked(PUDDLED)
    assert ballroom.cut("Peonies") == Counter({("Ballroom", F(213, 2)): 4})
    plan = ballroom.plans["Peonies"]
    assert {(cut.way, cut.row) for cut in plan.cuts} == {(Way.UPRIGHT, F(41, 2))}
    assert {cut.leading_side.trim for cut in plan.cuts if cut.number == 1} == {0}
    assert (ballroom.orders["Peonies"].guaranteed, ballroom.orders["Peonies"].handbook) == (F(1013, 2), 525)
    assert ballroom.yards("Peonies") == F(57, 4)


LINED = """
job: A lined and interlined pair
cloth: {name: Finches, width: 54, selvedge: 1/2, repeat: {along: 24, across: 26 1/2}, drop: 0, order_by: handbook,
  print: {top_to_bottom: mirror, side_to_side: none, one_way: no}}
cloths:
  - {name: Sateen, width: 54, selvedge: 1/2, print: {one_way: no}}
  - {name: Bump, width: 60, print: {one_way: no}}
allowances: {heading: 4, hem: 8, side_hem: 3, seam: 1/2, squaring: 1}
windows:
  - name: Bedroom
    panels: pair
    finished_length: 90
    rod: 48
    fullness: 2 1/4
    row: {above_foot: 6}
    lining: {cloth: Sateen, shorter: 1, narrower: 1, hem: 4, side_hem: 1 1/2}
    interlining: {cloth: Bump, shorter: 0, heading: 0, hem: 0, side_hem: 0}
"""


@pytest.mark.parametrize(
    ("cloth", "each", "cuts", "lengths", "yards"),
    [
        # 48 x 2 1/4 / 2 = 54 to a panel, 60 with two hems of 3: 1 1/2 cuts, 26 1/2 + 53 = 79 1/2. 90 + 12 = 102 to cut.
        # One hand is turned, its half is joined at the same selvedge as that of the other: 4 lengths. 5 repeats of 24:
        # 4 x 120 + 24 = 504, + 1 = 505; 57 quarters are 513, 14 1/4 yd.
        ("Finches", 102, 4, 4, F(57, 4)),
        # 54 - 1 = 53, 56 with two hems of 1 1/2: 1 1/2 cuts. 90 - 1 + 4 + 4 = 97, the halves share: 3 x 97 = 291, + 1 =
        # 292; 33 quarters are 297, 8 1/4 yd.
        ("Sateen", 97, 4, 3, F(33, 4)),
        # 54 wide without hems on 60: one cut. 2 x 90 = 180, + 1 = 181; 21 quarters are 189, 5 1/4 yd.
        ("Bump", 90, 2, 2, F(21, 4)),
    ],
)
def test_a_lined_and_interlined_pair(cloth: str, each: int, cuts: int, lengths: int, yards: Fraction) -> None:
    bedroom = worked(LINED)
    assert {length for _, length in bedroom.cut(cloth)} == {each}
    plan = bedroom.plans[cloth]
    assert len(plan.cuts) == cuts
    assert len({cut.beside or cut.id for cut in plan.cuts}) == lengths
    assert bedroom.yards(cloth) == yards
