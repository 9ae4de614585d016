"""What a mirrored pair asks of its two panels beyond their way: rows moved, edges trimmed.

Let the print have a side-to-side mirror line at ``x`` across. Two upright panels of which one leads with the near and
one with the far selvedge mirror when their leading edges, at ``a`` and ``b`` across, lie on mirrored columns:
``a + b = 2 x + k W`` for a whole ``k`` (``W`` the repeat across). With a drop ``d`` the mirror image then lies
``k d`` repeats along, with a slide half a repeat more. A turned panel made by a mirror with a slide leads with the same
selvedge, half a repeat across further in.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field, replace
from fractions import Fraction

from jobs.cutting.columns import columns_across, middle_of_print
from jobs.model.choices import End, Facing, Hang, Panels, Run
from jobs.model.cloth import Cloth
from jobs.model.cuts import Edge, Hand, Way, leading_edge
from jobs.model.job import Job
from jobs.model.problems import Code, JobRefused, Path, Problem, problem
from jobs.model.records import dataclass
from jobs.model.resolved import Pairing, Trims, WayChoice
from jobs.model.schema import ZERO
from jobs.model.window import Window
from jobs.prints.pairs import second_panel

HANDS = {
    Panels.PAIR: (Hand.LEFT, Hand.RIGHT),
    Panels.LEFT: (Hand.LEFT,),
    Panels.RIGHT: (Hand.RIGHT,),
    Panels.WHOLE: (Hand.WHOLE,),
}


@dataclass(frozen=True)
class PairFit:
    """How the panels of a pair at full width are made to mirror.

    ``row_shift`` is added to the row of the right panel; ``lost`` is the width both panels lose by trimming.
    """

    row_shift: Fraction = ZERO
    lost: Fraction = ZERO
    trims: Mapping[Hand, Trims] = field(default_factory=dict)


def way_choice(window: Window, job: Job, path: Path = ()) -> WayChoice:
    """How the right panel of this window lies; as the left one where there is no pair.

    Raises JobRefused where no such pair can be cut. ``path`` is that of the window: what is wrong stands where it asks
    for a mirrored pair, as hung the same way the print will do.
    """
    if window.panels is not Panels.PAIR:
        return WayChoice()
    try:
        choice = second_panel(job.cloth, window.hang)
    except JobRefused as refused:
        raise JobRefused(Problem((*path, "hang"), one.code, one.values) for one in refused.problems) from None
    if window.facing is Facing.LEFT or choice.pairing is Pairing.SAME:
        return choice
    if choice.pairing not in (Pairing.TURNED, Pairing.FACE_DOWN):
        raise JobRefused([problem((*path, "facing"), Code.FACING_IS_FIXED)])
    if job.cloth.run is Run.SIDEWAYS:
        # A row lies at the leading edge, which would be the other end of a panel that is cut already.
        raise JobRefused([problem((*path, "facing"), Code.FACING_OF_SIDEWAYS)])
    return replace(choice, first=choice.pairing.way)


def looks_either_way(window: Window, cloth: Cloth) -> bool:
    """Whether a pair of this cloth may look the one way or the other: one of its panels is turned or used face down,
    and no border says which."""
    if window.panels is not Panels.PAIR or window.hang is Hang.SAME or cloth.run is Run.SIDEWAYS:
        return False
    if cloth.repeat is None or cloth.border is not None or cloth.not_known:
        return False
    try:
        return second_panel(cloth, window.hang).pairing in (Pairing.TURNED, Pairing.FACE_DOWN)
    except JobRefused:
        return False


def top_edge(way: Way, cloth: Cloth) -> Edge:
    """Where the top of a cut lies: towards the end that the tops of the motifs point to, or, where the cloth is run
    sideways, at the far selvedge; a turned one lies the other way about."""
    upright = Edge.FIRST if cloth.print.top_towards is End.FIRST else Edge.LAST
    upright = Edge.FAR if cloth.run is Run.SIDEWAYS else upright
    return upright.opposite if way is Way.TURNED else upright


def mirror_line(cloth: Cloth) -> Fraction:
    """A side-to-side mirror or glide line, from the near selvedge; taken on a column where it was not measured."""
    return columns_across(cloth)[0] + (cloth.print.mirror_offset_across or ZERO)


def pair_fit(cloth: Cloth, pairing: Pairing) -> PairFit:
    """The fit of a pair cut at the full width of cloth run up."""
    if cloth.repeat is None or pairing in (Pairing.SAME, Pairing.TURNED, Pairing.FACE_DOWN):
        return PairFit()
    across = cloth.repeat.across
    if pairing is Pairing.TURNED_SLID and across is not None:
        return PairFit(ZERO, across / 2, {Hand.LEFT: Trims(returning=across / 2), Hand.RIGHT: Trims(across / 2)})
    slide = cloth.repeat.along / 2 if pairing is Pairing.OWN_SLID else ZERO
    if across is None:
        return PairFit(slide)
    over = 2 * (middle_of_print(cloth) - mirror_line(cloth))
    from_far = over % across
    from_near = -over % across
    trimmed = Edge.FAR if from_far <= from_near else Edge.NEAR
    lost = min(from_far, from_near)
    steps = (over - lost if trimmed is Edge.FAR else over + lost) / across
    left_leads = leading_edge(Hand.LEFT, top_edge(Way.UPRIGHT, cloth), Way.UPRIGHT)
    first, second = (Hand.LEFT, Hand.RIGHT) if left_leads is trimmed else (Hand.RIGHT, Hand.LEFT)
    trims = {first: Trims(leading=lost), second: Trims(returning=lost)} if lost else {}
    return PairFit((steps * cloth.drop * cloth.repeat.along + slide) % cloth.repeat.along, lost, trims)
