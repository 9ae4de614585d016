"""What is cut beside the faces of windows, each as a window of its cloth: linings, bands, tie-backs, flat panels and
small things that are ordered.

A window without fullness is a rectangle: so long along the cloth, so wide across it, with what is turned over at its
ends and sides. What is made so is cut, laid, lit and recorded as every panel is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import TypeAlias

from jobs.cutting.columns import columns_across, printed_width
from jobs.cutting.mirroring import top_edge
from jobs.cutting.widths import flat_width
from jobs.model.allowances import OwnAllowances
from jobs.model.choices import BandEdge, CutAlong, Hang, Middle, Motif, Panels, Part, Run
from jobs.model.cloth import Cloth
from jobs.model.cuts import Edge, Way
from jobs.model.goods import FlatPanel, Wanted
from jobs.model.job import Job, allowances_of
from jobs.model.piece import Place
from jobs.model.problems import Code, JobRefused, Path, problem
from jobs.model.schema import ZERO
from jobs.model.trimmings import Band, Lining, TieBacks
from jobs.model.window import Made, RowRule, Window

MadeAt: TypeAlias = tuple[Path, str, Window]
"""Where it stands in the file, the name of its cloth (empty: the first), and what is cut as a window of that."""
LAYERS = (("lining", Part.LINING), ("interlining", Part.INTERLINING))


def lining_of(window: Window, layer: Lining, part: Part, job: Job, path: Path) -> Window:
    """A lining as a window of its cloth: as wide as the face laid flat, and as long, less what it is told to be less.

    It is named after its window, hangs the same way in both panels and has a row of its print at its finished top.
    Raises JobRefused.
    """
    length = window.finished_length - layer.shorter
    if length <= 0:
        raise JobRefused([problem((*path, "shorter"), Code.LINING_TOO_SHORT, length=window.finished_length)])
    face = allowances_of(window, job.allowances)
    flat, cuts = _width_of_lining(window, layer, job, path)
    return Window(
        name=f"{window.name} {part}",
        panels=window.panels,
        finished_length=length,
        hang=Hang.SAME,
        top_height=window.top_height,
        cuts_per_panel=cuts,
        side_by_side=window.side_by_side,
        room=window.room,
        places=layer.places,
        allowances=OwnAllowances(
            face.heading if layer.heading is None else layer.heading,
            face.hem if layer.hem is None else layer.hem,
            face.side_hem if layer.side_hem is None else layer.side_hem,
        ),
        made=Made(part, window.name),
        flat=flat,
    )


def _width_of_lining(window: Window, layer: Lining, job: Job, path: Path) -> tuple[Fraction | None, Fraction | None]:
    """The flat width of one panel between its finished sides, or where the face is told in cuts, how many it has."""
    width = flat_width(window, job)
    if width is not None:
        flat = width.flat / width.panels - layer.narrower
        if flat <= 0:
            raise JobRefused([problem((*path, "narrower"), Code.LINING_TOO_NARROW, flat=width.flat / width.panels)])
        return flat, None
    if layer.cuts_per_panel is not None:
        return None, layer.cuts_per_panel
    cloth = job.cloth_named(layer.cloth)
    if cloth is not None and cloth.width != (job.cloth_named(window.cloth) or job.cloth).width:
        raise JobRefused([problem(path, Code.LINING_CUTS_NOT_KNOWN, cloth=layer.cloth)])
    return None, window.cuts_per_panel


def bands_of(window: Window, band: Band, job: Job, path: Path) -> tuple[Window, ...]:
    """The strips of a band, one for each panel, or as many lengths of each as its cloth is too narrow for.

    A band at the leading edge is as long as the face is cut, one at top or foot as wide as a panel with its side hems:
    its ends are turned over with the face. Raises JobRefused where that width is not known.
    """
    face = allowances_of(window, job.allowances)
    seam = face.seam if band.seam is None else band.seam
    panels = 2 if window.panels is Panels.PAIR else 1
    name = f"{window.name} {band.edge} band"
    if band.edge is BandEdge.LEADING:
        finished, ends = window.finished_length, (face.heading, face.hem)
    else:
        width = flat_width(window, job)
        if width is None:
            raise JobRefused([problem((*path, "edge"), Code.BAND_WIDTH_NOT_KNOWN, edge=band.edge.value)])
        finished, ends = width.flat / width.panels, (face.side_hem, face.side_hem)
    cloth = job.cloth_named(band.cloth) or job.cloth
    made = Made(Part.BAND, window.name, exact=True, seamed=True)
    if band.cut is CutAlong.ALONG:
        turned = OwnAllowances(ends[0], ends[1], seam)
        hands = window.panels if band.edge is BandEdge.LEADING else Panels.WHOLE
        one = _rectangle(name, (finished, band.width), turned, made, cloth)
        one = replace(one, panels=hands, room=window.room)
        if band.edge is BandEdge.LEADING:
            return (replace(one, places=band.places),)
        return _copies(one, panels, band.places)
    raw = finished + sum(ends)
    each = _lengths_across(raw, seam, cloth, path)
    turned = OwnAllowances(seam, seam, seam)
    one = replace(_rectangle(name, (band.width, each - 2 * seam), turned, made, cloth), room=window.room)
    return _copies(one, panels * _count_across(raw, seam, cloth), band.places)


def _count_across(raw: Fraction, seam: Fraction, cloth: Cloth) -> int:
    """How many lengths across the cloth give so much once they are joined."""
    printed = printed_width(cloth)
    return max(1, int(-((2 * seam - raw) // (printed - 2 * seam))))


def _lengths_across(raw: Fraction, seam: Fraction, cloth: Cloth, path: Path) -> Fraction:
    """How long each of these lengths is cut, all equally long."""
    if printed_width(cloth) <= 2 * seam:
        raise JobRefused([problem((*path, "seam"), Code.SEAMS_LEAVE_NOTHING)])
    count = _count_across(raw, seam, cloth)
    return (raw + (count - 1) * 2 * seam) / count


def tie_backs_of(window: Window, backs: TieBacks, job: Job) -> tuple[Window, ...]:
    """The cuts of the tie-backs of a window, their length along the cloth."""
    seam = allowances_of(window, job.allowances).seam if backs.seam is None else backs.seam
    made = Made(Part.TIE_BACK, window.name, exact=True, seamed=True)
    turned, cloth = OwnAllowances(seam, seam, seam), job.cloth_named(backs.cloth) or job.cloth
    one = _rectangle(f"{window.name} tie-back", (backs.length, backs.width), turned, made, cloth)
    one = replace(one, room=window.room)
    return _copies(one, backs.pieces * (2 if window.panels is Panels.PAIR else 1), backs.places)


def flat_panels_of(job: Job) -> Iterator[MadeAt]:
    """The shades and valances of a job, each copy by itself, those that go on from another with its print.

    Seen from inside the room, the print of a panel goes on to the right where it goes on towards the far selvedge, or
    towards the near one where the tops point to the last end.
    """
    middles: dict[str, tuple[Fraction, Fraction]] = {}
    for number, panel in enumerate(job.flat_panels):
        cloth = job.cloth_named(panel.cloth) or job.cloth
        middle = _middle(panel, cloth)
        before = middles.get(panel.beside.casefold()) if panel.beside else None
        if before is not None and middle is not None:
            right = -1 if top_edge(Way.UPRIGHT, cloth) is Edge.LAST else 1
            middle = before[0] + right * (before[1] / 2 + panel.apart + panel.width / 2)
        if middle is not None:
            middles.setdefault(panel.name.casefold(), (middle, panel.width))
        one = Window(
            name=panel.name,
            panels=Panels.WHOLE,
            finished_length=panel.finished_length,
            top_height=panel.top_height,
            cuts_per_panel=None,
            row=_row(panel.row, cloth),
            room=panel.room,
            allowances=panel.allowances,
            made=Made(Part.FLAT_PANEL, panel.name, exact=True, middle=middle),
            flat=panel.width,
        )
        for copy in _copies(one, panel.count, panel.places):
            yield ("flat_panels", number), panel.cloth, copy


def _row(rule: RowRule | None, cloth: Cloth) -> RowRule | None:
    return RowRule(below_top=ZERO) if rule is None and cloth.repeat is not None else rule


def _middle(panel: FlatPanel, cloth: Cloth) -> Fraction | None:
    """How far from a column the middle lies; of cloth run sideways, how far from a row along it.

    Where the repeat across is not known there is one column, and nothing to go on from it.
    """
    if panel.middle is Middle.ANYTHING or cloth.repeat is None:
        return None
    apart = cloth.repeat.along if cloth.run is Run.SIDEWAYS else cloth.repeat.across
    if panel.middle is Middle.MOTIF:
        return ZERO if apart is not None or not panel.beside else None
    return None if apart is None else apart / 2


def ordered_things(job: Job) -> Iterator[MadeAt]:
    """The small things that cloth is bought for, each copy by itself, backs after their fronts."""
    for number, thing in enumerate(job.wanted):
        if not thing.ordered:
            continue
        cloth = job.cloth_named(thing.cloth) or job.cloth
        for front in (True, False) if thing.backs else (True,):
            name = thing.name if front else f"{thing.name} back"
            one = _thing(name, thing, cloth, centred=front and thing.motif is Motif.CENTRED)
            backs = thing.count if thing.backs else 0
            before, after = (0, backs) if front else (thing.count, 0)
            for copy in _copies(one, thing.count, thing.places, before, after):
                yield ("wanted", number), thing.cloth, copy


def _thing(name: str, thing: Wanted, cloth: Cloth, *, centred: bool) -> Window:
    """A small thing with a point of the motif in its middle, or with a row at its edge and wherever there is room."""
    down, aside = thing.point or (ZERO, ZERO)
    sideways = cloth.run is Run.SIDEWAYS
    middle = (down if sideways else aside) if centred and cloth.repeat is not None else None
    made = Made(Part.SMALL_THING, thing.name, exact=True, middle=middle, seamed=thing.seam > 0)
    turned = OwnAllowances(thing.seam, thing.seam, thing.seam)
    one = _rectangle(name, thing.size, turned, made, cloth)
    # Run sideways the top lies at the far selvedge, and its rows are columns: one beside the middle lies below it.
    beyond = aside if sideways else -down
    row = RowRule(below_top=one.finished_length / 2 + beyond if centred else ZERO)
    return replace(one, row=row if cloth.repeat is not None else None)


def things_from_leftovers(things: Iterable[Wanted]) -> Iterator[Wanted]:
    """What of the small things is placed on what is left, backs after their fronts."""
    for thing in things:
        if not thing.ordered:
            yield replace(thing, backs=False)
            if thing.backs:
                yield replace(thing, name=f"{thing.name} back", backs=False, motif=Motif.ANYWHERE, point=None)


def _rectangle(name: str, size: tuple[Fraction, Fraction], turned: OwnAllowances, made: Made, cloth: Cloth) -> Window:
    """So long along the cloth, so wide across it between its turnings; of cloth run sideways what lies across it is the
    height of a panel, and what lies along it its width, seamed all round."""
    along, across = size
    if cloth.run is Run.SIDEWAYS:
        ends, side = (turned.heading or ZERO) + (turned.hem or ZERO), turned.side_hem or ZERO
        along, across = across, along + ends - 2 * side
        turned = OwnAllowances(side, side, side)
    return Window(
        name=name,
        panels=Panels.WHOLE,
        finished_length=along,
        hang=Hang.SAME,
        cuts_per_panel=None,
        allowances=turned,
        made=made,
        flat=across,
    )


def _copies(one: Window, count: int, places: tuple[Place, ...], before: int = 0, after: int = 0) -> tuple[Window, ...]:
    """So many of it, numbered where there are several, each with the wishes for all of them; as many lie ``before`` and
    ``after`` it in the counting of those."""
    if one.made is None:
        raise ValueError(one.name)
    made, copies = one.made, before + count + after
    return tuple(
        replace(
            one,
            name=one.name if count == 1 else f"{one.name} {number}",
            places=places,
            made=replace(made, copy=before + number, copies=copies),
        )
        for number in range(1, count + 1)
    )


def exact_start(window: Window, cloth: Cloth, needed: Fraction) -> tuple[Fraction, int] | None:
    """Where across an exact panel, ``needed`` wide with its turnings, begins from the near printed edge, and which
    column of the print (from 0) then lies level with those of the first; None where it finds no such place.

    Columns that lie level with the first are tried first, then those that a drop has lowered.
    """
    room = printed_width(cloth) - needed
    if room < 0 or window.made is None:
        return None
    if window.made.middle is None or cloth.repeat is None:
        return ZERO, 0
    across = cloth.repeat.across
    near = columns_across(cloth)[0] + window.made.middle - needed / 2 - cloth.near_selvedge
    if across is None:
        return (near, 0) if 0 <= near <= room else None
    levels = cloth.drop.denominator
    for column in range(levels):
        start = (near + column * across) % (levels * across)
        if start <= room:
            return start, column
    return None
