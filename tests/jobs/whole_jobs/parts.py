"""What a job asks to be cut, part by part, worked out from its keys alone as the documents tell it.

A part is a face, a lining, a strip of a band, a tie-back, a flat panel or a small thing: a rectangle, or the panels of
a window, each so long between its turnings and at least so wide.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from math import ceil

from jobs.model.choices import BandEdge, CutAlong, HalfAt, Hang, Middle, Motif, Panels, ReturnsAdded, Run
from jobs.model.cloth import Cloth
from jobs.model.goods import FlatPanel
from jobs.model.job import Job
from jobs.model.records import dataclass
from jobs.model.trimmings import Band, Lining
from jobs.model.window import Window

ZERO = Fraction(0)
RETURNS = {Panels.PAIR: 2, Panels.WHOLE: 2, Panels.LEFT: 1, Panels.RIGHT: 1}


@dataclass(frozen=True)
class Turnings:
    """What is turned over or sewn at the edges of a part; ``least_seam`` stays outside a seam of a print."""

    heading: Fraction
    hem: Fraction
    side: Fraction
    seam: Fraction
    least_seam: Fraction


@dataclass(frozen=True)
class Part:
    """``flat`` is the width of one panel between its finished sides, ``cuts`` how many it has; one of them is None.

    ``exact``: it is cut to just that width, with ``middle`` how far beyond a column its middle lies (None: anywhere).
    ``depth`` is from the finished top to a row as it hangs; None where the print is taken as it lies.
    """

    cloth: str
    name: str
    panels: Panels
    finished: Fraction
    turnings: Turnings
    flat: Fraction | None = None
    cuts: Fraction | None = None
    exact: bool = False
    middle: Fraction | None = None
    depth: Fraction | None = ZERO
    mirrored: bool = False
    half_at: HalfAt = HalfAt.RETURN
    right_as_it_lies: bool = False


def turnings_of(job: Job, of: Window | FlatPanel) -> Turnings:
    """Its own where it has them, else those of the job."""
    names = ("heading", "hem", "side_hem", "seam", "least_seam")
    own = [getattr(of.allowances, name, None) if of.allowances is not None else None for name in names]
    return Turnings(
        *(getattr(job.allowances, name) if mine is None else mine for name, mine in zip(names, own, strict=True))
    )


def flat_of_panel(job: Job, window: Window) -> Fraction | None:
    """(rod + overlap + returns) x fullness, the returns before or after it, shared by the panels."""
    if window.rod is None:
        return None
    returns = RETURNS[window.panels] * window.returns
    if job.returns_added is ReturnsAdded.BEFORE:
        flat = (window.rod + window.overlap + returns) * window.fullness
    else:
        flat = (window.rod + window.overlap) * window.fullness + returns
    return flat / (2 if window.panels is Panels.PAIR else 1)


def parts_of(job: Job) -> Iterator[Part]:
    """Everything for which cloth is bought."""
    for window in job.windows:
        yield from _parts_of_window(job, window)
    yield from _flat_panels(job)
    yield from _things(job)


def _things(job: Job) -> Iterator[Part]:
    """The small things that are ordered, backs after their fronts."""
    for thing in job.wanted:
        cloth, (down, aside) = _cloth(job, thing.cloth), thing.point or (ZERO, ZERO)
        for front in (True, False) if thing.backs else (True,):
            name = thing.name if front else f"{thing.name} back"
            one = _strip(cloth, name, thing.size, Turnings(thing.seam, thing.seam, thing.seam, ZERO, ZERO))
            one = replace(one, depth=ZERO)
            if front and thing.motif is Motif.CENTRED:
                sideways = cloth.run is Run.SIDEWAYS
                # From its top down to the row, or where it runs sideways to the column, whose point is in its middle.
                depth = one.finished / 2 + (aside if sideways else -down)
                one = replace(one, middle=down if sideways else aside, depth=depth)
            if thing.ordered:
                yield from _numbered(thing.count, one)


def _strip(cloth: Cloth, name: str, size: tuple[Fraction, Fraction], sewn: Turnings) -> Part:
    """A rectangle so long along the cloth and so wide across it; run sideways its height lies across."""
    along, across = size
    if cloth.run is Run.UP:
        return Part(cloth.name, name, Panels.WHOLE, along, sewn, across, exact=True)
    all_round = Turnings(sewn.side, sewn.side, sewn.side, ZERO, ZERO)
    flat = along + sewn.heading + sewn.hem - 2 * sewn.side
    return Part(cloth.name, name, Panels.WHOLE, across, all_round, flat, exact=True, depth=None)


def _cloth(job: Job, name: str) -> Cloth:
    every = (job.cloth, *job.cloths)
    return next(one for one in every if not name or one.name.casefold() == name.casefold())


def _numbered(count: int, part: Part) -> Iterator[Part]:
    for number in range(1, count + 1):
        yield part if count == 1 else replace(part, name=f"{part.name} {number}")


def _parts_of_window(job: Job, window: Window) -> Iterator[Part]:
    cloth, own, flat = _cloth(job, window.cloth), turnings_of(job, window), flat_of_panel(job, window)
    yield Part(
        cloth.name,
        window.name,
        window.panels,
        window.finished_length,
        own,
        flat,
        window.cuts_per_panel if flat is None else None,
        depth=_depth(job, window, cloth),
        mirrored=window.hang is Hang.MIRRORED,
        half_at=window.half_at,
        right_as_it_lies=window.facing.value.startswith("right"),
    )
    for word, layer in (("lining", window.lining), ("interlining", window.interlining)):
        if layer is not None:
            yield _lining(job, window, layer, word)
    for band in window.bands:
        yield from _band(job, window, band)
    if window.tie_backs is not None:
        ties, panels = window.tie_backs, 2 if window.panels is Panels.PAIR else 1
        seam = own.seam if ties.seam is None else ties.seam
        sewn, cloth = Turnings(seam, seam, seam, ZERO, ZERO), _cloth(job, ties.cloth)
        one = _strip(cloth, f"{window.name} tie-back", (ties.length, ties.width), sewn)
        yield from _numbered(ties.pieces * panels, one)


def _depth(job: Job, of: Window | FlatPanel, cloth: Cloth) -> Fraction | None:
    """From the finished top to a row: as told, or so that it hangs as high as that of another window."""
    rule = of.row
    if rule is not None and rule.level_with is not None:
        others = (*job.windows, *job.flat_panels)
        other = next(one for one in others if one.name.casefold() == rule.level_with.casefold())
        lower = _depth(job, other, cloth)
        assert of.top_height is not None
        assert other.top_height is not None
        return None if lower is None else of.top_height - (other.top_height - lower)
    if rule is None:
        return None if cloth.run is Run.SIDEWAYS and isinstance(of, Window) else ZERO
    return of.finished_length - rule.above_foot if rule.above_foot is not None else rule.below_top


def _lining(job: Job, window: Window, layer: Lining, word: str) -> Part:
    cloth, face, flat = _cloth(job, layer.cloth), turnings_of(job, window), flat_of_panel(job, window)
    sewn = Turnings(
        face.heading if layer.heading is None else layer.heading,
        face.hem if layer.hem is None else layer.hem,
        face.side if layer.side_hem is None else layer.side_hem,
        job.allowances.seam,
        job.allowances.least_seam,
    )
    return Part(
        cloth.name,
        f"{window.name} {word}",
        window.panels,
        window.finished_length - layer.shorter,
        sewn,
        None if flat is None else flat - layer.narrower,
        None if flat is not None else layer.cuts_per_panel or window.cuts_per_panel,
        depth=None if cloth.run is Run.SIDEWAYS else ZERO,
    )


def _band(job: Job, window: Window, band: Band) -> Iterator[Part]:
    """Strips ``width`` wide between two seams; across the cloth in as few lengths as it is wide enough for."""
    cloth, face, flat = _cloth(job, band.cloth), turnings_of(job, window), flat_of_panel(job, window)
    seam = face.seam if band.seam is None else band.seam
    name, panels = f"{window.name} {band.edge.value} band", 2 if window.panels is Panels.PAIR else 1
    leading = band.edge is BandEdge.LEADING
    ends = (face.heading, face.hem) if leading else (face.side, face.side)
    between = window.finished_length if leading else flat
    assert between is not None
    if band.cut is CutAlong.ALONG:
        one = _strip(cloth, name, (between, band.width), Turnings(ends[0], ends[1], seam, ZERO, ZERO))
        if leading:
            yield replace(one, panels=window.panels)
        else:
            yield from _numbered(panels, one)
        return
    raw, printed = between + sum(ends), cloth.width - cloth.near_selvedge - cloth.far_selvedge
    count = max(1, ceil((raw - 2 * seam) / (printed - 2 * seam)))
    each = (raw + (count - 1) * 2 * seam) / count
    sewn = Turnings(seam, seam, seam, ZERO, ZERO)
    yield from _numbered(count * panels, _strip(cloth, name, (band.width, each - 2 * seam), sewn))


def _flat_panels(job: Job) -> Iterator[Part]:
    """Shades and valances; the middle of one that goes on from another lies as far beyond that one's as it hangs."""
    middles: dict[str, tuple[Fraction, Fraction]] = {}
    for panel in job.flat_panels:
        cloth = _cloth(job, panel.cloth)
        middle = _middle(panel, cloth)
        if panel.beside and middle is not None and panel.beside.casefold() in middles:
            before, width = middles[panel.beside.casefold()]
            # Seen from the front the far selvedge hangs at the right where tops point to the first end.
            right = -1 if cloth.print.top_towards.value == "last end" and cloth.run is Run.UP else 1
            middle = before + right * (width / 2 + panel.apart + panel.width / 2)
        if middle is not None:
            middles.setdefault(panel.name.casefold(), (middle, panel.width))
        one = Part(
            cloth.name,
            panel.name,
            Panels.WHOLE,
            panel.finished_length,
            turnings_of(job, panel),
            panel.width,
            exact=True,
            middle=middle,
            depth=_depth(job, panel, cloth),
        )
        yield from _numbered(panel.count, one)


def _middle(panel: FlatPanel, cloth: Cloth) -> Fraction | None:
    if cloth.repeat is None or panel.middle is Middle.ANYTHING:
        return None
    apart = cloth.repeat.along if cloth.run is Run.SIDEWAYS else cloth.repeat.across
    if apart is None:
        # One column, taken to lie in the middle of the print; where the next one lies nobody knows.
        return ZERO if panel.middle is Middle.MOTIF and not panel.beside else None
    return ZERO if panel.middle is Middle.MOTIF else apart / 2
