"""A panel as it hangs, in its own finished inches: where each motif comes, and which way it looks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from jobs.cutting.sideways.sizes import side_hem_of
from jobs.job import Cloth
from jobs.plan import Cut, Hand, Placement, Plan, Selvedge, Way
from projector.scene.lit_stop import steps_within
from projector.scene.motif import images_of
from projector.scene.rows import columns_across

ZERO = Fraction(0)


@dataclass(frozen=True)
class HungMotif:
    """A motif point: from the panel's left edge and below its finished top, inches as finished.

    ``right`` and ``up`` are +1 where the motif looks as printed and -1 where it is reversed in that direction. It
    ``is_row`` where it stands on a row of the job, not where it is the image of such a one.
    """

    from_left: Fraction
    below_top: Fraction
    right: int
    up: int
    is_row: bool = True


@dataclass(frozen=True)
class HungCut:
    """A cut as it hangs, inches: from ``left`` to ``right`` of its panel; ``off`` of its left side is turned in or cut
    away."""

    placement: Placement
    left: Fraction
    right: Fraction
    off: Fraction


@dataclass(frozen=True)
class HungPanel:
    """One finished panel seen from inside the room; cuts stand side by side from left to right.

    Panels are equal when they look the same, wherever in the cloth their ``cuts`` lie.
    """

    hand: Hand
    width: Fraction
    length: Fraction
    motifs: tuple[HungMotif, ...]
    seams: tuple[Fraction, ...]
    cuts: tuple[HungCut, ...] = field(default=(), compare=False)

    @property
    def rows_below_top(self) -> tuple[Fraction, ...]:
        """Distances of the rows below the finished top, each once."""
        return tuple(sorted({m.below_top for m in self.motifs if m.is_row and 0 <= m.below_top <= self.length}))


def hung_panels(plan: Plan, window: str) -> tuple[HungPanel, ...]:
    """The panels of a window, the left one first, flat and at their finished size."""
    placed = [p for p in plan.placements if p.cut.window == window]
    order = (Hand.LEFT, Hand.WHOLE, Hand.RIGHT)
    hands = sorted({p.cut.hand for p in placed}, key=order.index)
    return tuple(_panel(plan, hand, [p for p in placed if p.cut.hand is hand]) for hand in hands)


def _panel(plan: Plan, hand: Hand, placed: list[Placement]) -> HungPanel:
    if placed[0].cut.is_sideways:
        return _sideways(plan, hand, placed[0])
    ordered = sorted(placed, key=lambda p: p.cut.number, reverse=not _leads_left(placed[0].cut))
    at = ZERO
    motifs: list[HungMotif] = []
    seams: list[Fraction] = []
    cuts: list[HungCut] = []
    for number, placement in enumerate(ordered):
        trimmed = _trimmed(plan, placement.cut, first=number == 0, last=number == len(ordered) - 1)
        motifs += _motifs(plan, placement, at, trimmed)
        after = at + plan.job.cloth.width - sum(trimmed)
        cuts.append(HungCut(placement, at, after, trimmed[0]))
        at = after
        seams.append(at)
    return HungPanel(hand, at, finished_length(placed[0].cut, plan), tuple(motifs), tuple(seams[:-1]), tuple(cuts))


def _sideways(plan: Plan, hand: Hand, placed: Placement) -> HungPanel:
    """A panel whose height lies across the cloth, shrunk as the cloth will: its print a quarter turn round."""
    hem = side_hem_of(plan.job)
    width = (placed.cut.length - 2 * hem) * (1 - plan.job.cloth.shrinkage)
    motifs = tuple(_sideways_motifs(plan, placed, hem))
    cut = HungCut(placed, ZERO, width, hem)
    return HungPanel(hand, width, finished_length(placed.cut, plan), motifs, (), (cut,))


def _sideways_motifs(plan: Plan, placed: Placement, hem: Fraction) -> Iterator[HungMotif]:
    """Across the cloth counts from the top down, along it from the left side: as it lies, or turned or reversed."""
    cut, cloth = placed.cut, plan.job.cloth
    if cloth.repeat is None:
        return
    piece = next(use.piece for use in plan.pieces if use.number == placed.piece)
    right, up = 1 if cut.way is Way.UPRIGHT else -1, -1 if cut.way is Way.TURNED else 1
    for column, across in _columns(cloth):
        first, reach = piece.first_row + column * cloth.drop * cloth.repeat.along, cloth.repeat.along
        for row in steps_within(first, reach, placed.start - 2 * reach, placed.end + 2 * reach):
            for image in images_of(cloth):
                along, height = row + image.along, across + image.across
                in_from_left = along - placed.start if first_end_hangs_left(cut) else placed.end - along
                down = placed.top - height if cut.top_at is Selvedge.FAR else height - placed.top
                yield HungMotif(
                    (in_from_left - hem) * (1 - cloth.shrinkage),
                    (down - cut.heading) * (1 - cloth.shrinkage_across),
                    right=right * image.up,
                    up=up * image.right,
                    is_row=image.along == image.across == 0,
                )


def first_end_hangs_left(cut: Cut) -> bool:
    """Whether of a sideways cut the edge towards the first end hangs at the left: it lies as it hangs, if upright."""
    return cut.way is Way.UPRIGHT


def finished_length(cut: Cut, plan: Plan) -> Fraction:
    """What hangs of a cut: heading and hem folded away, shrunk as the cloth will."""
    if cut.across is not None and cut.is_sideways:
        return (cut.across[1] - cut.across[0] - cut.heading - cut.hem) * (1 - plan.job.cloth.shrinkage_across)
    return (cut.length - cut.heading - cut.hem) * (1 - plan.job.cloth.shrinkage)


def _leads_left(cut: Cut) -> bool:
    return near_hangs_left(cut) is (cut.leading_selvedge is Selvedge.NEAR)


def near_hangs_left(cut: Cut) -> bool:
    """Whether the near selvedge comes to hang at the left, seen from the room."""
    return cut.top_first is not (cut.way is Way.FACE_DOWN)


def _trimmed(plan: Plan, cut: Cut, *, first: bool, last: bool) -> tuple[Fraction, Fraction]:
    """What is turned in, seamed off or cut away at the left and the right side of a cut, from the selvedges."""
    job = plan.job
    if cut.near_side is not None and cut.far_side is not None:
        near, far = cut.near_side.line, job.cloth.width - cut.far_side.line
        return (near, far) if near_hangs_left(cut) else (far, near)
    return (
        job.cloth.selvedge + (job.allowances.side_hem if first else job.allowances.seam),
        job.cloth.selvedge + (job.allowances.side_hem if last else job.allowances.seam),
    )


def _motifs(plan: Plan, placed: Placement, at: Fraction, trimmed: tuple[Fraction, Fraction]) -> Iterator[HungMotif]:
    cut, cloth = placed.cut, plan.job.cloth
    if cloth.repeat is None:
        return
    piece = next(use.piece for use in plan.pieces if use.number == placed.piece)
    grown = 1 - cloth.shrinkage
    for column, across in _columns(cloth):
        first = piece.first_row + column * cloth.drop * cloth.repeat.along
        reach = cloth.repeat.along
        for row in steps_within(first, reach, placed.start - 2 * reach, placed.end + 2 * reach):
            for image in images_of(cloth):
                place, at_across = row + image.along, across + image.across
                shown = at_across if near_hangs_left(cut) else cloth.width - at_across
                down = place - placed.start if cut.top_first else placed.end - place
                yield HungMotif(
                    at + shown - trimmed[0],
                    (down - cut.heading) * grown,
                    right=image.right if cut.way is Way.UPRIGHT else -image.right,
                    up=-image.up if cut.way is Way.TURNED else image.up,
                    is_row=image.along == image.across == 0,
                )


def _columns(cloth: Cloth) -> list[tuple[int, Fraction]]:
    """The columns with their numbers; where motifs have images, one more on the near side, whose images may be seen."""
    columns = list(enumerate(columns_across(cloth)))
    if len(images_of(cloth)) > 1 and cloth.repeat is not None and cloth.repeat.across:
        columns.insert(0, (-1, columns[0][1] - cloth.repeat.across))
        columns.insert(0, (-2, columns[0][1] - cloth.repeat.across))
    return columns
