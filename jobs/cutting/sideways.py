"""Cloth run sideways: the height of a panel lies across the cloth, its flat width along the piece, without a seam."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.cutting.borders import with_border
from jobs.cutting.columns import columns_across, printed_width
from jobs.cutting.mirroring import HANDS, top_edge, way_choice
from jobs.cutting.reach import Reach
from jobs.cutting.rows import below_top, is_level, named
from jobs.cutting.sharing import Ways
from jobs.cutting.widths import cut_length, flat_width, handbook_cut
from jobs.model.choices import Unit
from jobs.model.cuts import Cut, Edge, Hand, Side, Way, leading_edge
from jobs.model.job import Job, allowances_of
from jobs.model.lengths import CENTIMETRE, round_up
from jobs.model.problems import Code, JobRefused, Path, Value, problem
from jobs.model.records import dataclass
from jobs.model.resolved import FlatWidth, Pairing, WayChoice
from jobs.model.schema import ZERO
from jobs.model.window import RowRule, Window
from jobs.prints.pairs import hand_ways


@dataclass(frozen=True)
class LevelPanels:
    """How the panels of a window are made up, before it is known where their rows hang."""

    window: Window
    choice: WayChoice
    width: FlatWidth
    reach: Reach


def height_of(window: Window, job: Job) -> Fraction:
    """What a panel takes across the cloth: (finished length + heading + hem) / (1 - shrinkage across)."""
    return cut_length(window.finished_length, allowances_of(window, job.allowances), job.cloth.shrinkage_across)


def spare_height(window: Window, job: Job) -> Fraction:
    """What is left of the cloth between its selvedge strips; less than 0 where the cloth is not tall enough."""
    return printed_width(job.cloth) - height_of(window, job)


def panels_of(window: Window, job: Job, path: Path) -> LevelPanels:
    """The panels of a window. Raises JobRefused with the first thing that is wrong: what follows would only puzzle."""
    choice, width = with_border(way_choice(window, job, path), window, job.cloth, path), flat_width(window, job)
    if width is None:
        raise _refused(path, Code.WIDTH_NOT_KNOWN)
    spare, height = spare_height(window, job), height_of(window, job)
    if spare < 0:
        sizes: dict[str, Value] = {"takes": height, "lies": printed_width(job.cloth), "missing": -spare}
        raise _refused((*path, "finished_length"), Code.NOT_TALL_ENOUGH, **sizes)
    if job.cloth.repeat is not None and job.cloth.repeat.across is None:
        raise _refused(("cloth", "repeat"), Code.SIDEWAYS_NEEDS_ACROSS)
    reach = Reach(job.cloth, height, choice.pairing)
    if not reach.tops():
        raise _refused((*path, "hang"), Code.PARTNER_DOES_NOT_FIT, spare=spare, pairing=choice.pairing.value)
    return LevelPanels(window, choice, width, reach)


def with_rows(job: Job) -> Mapping[str, Window]:
    """The windows by name, each with a rule for its rows: one that has none hangs its print as it lies.

    Then its top edge lies at the edge of the print, or as near it as its partner lets it.
    """
    if job.cloth.repeat is None or job.cloth.repeat.across is None:
        return named(job.windows)
    return named(tuple(_ruled(window, job) for window in job.windows))


def _ruled(window: Window, job: Job) -> Window:
    if window.row is not None:
        return window
    try:
        reach = Reach(job.cloth, height_of(window, job), way_choice(window, job).pairing)
    except JobRefused:
        # It is refused for its pair; the rows of the other windows are asked for all the same.
        return window
    tops = reach.tops()
    if not tops:
        return window
    below_edge = reach.row_below(tops[0][1])
    return replace(window, row=RowRule(below_top=_finished(below_edge, window, job)))


def _finished(below_edge: Fraction, window: Window, job: Job) -> Fraction:
    """A distance below the top edge as one below the finished top, once the cloth has shrunk."""
    return below_edge * (1 - job.cloth.shrinkage_across) - allowances_of(window, job.allowances).heading


def _below_edge(depth: Fraction, window: Window, job: Job) -> Fraction:
    """A distance below the finished top as one below the top edge, on cloth that has not shrunk yet."""
    return (allowances_of(window, job.allowances).heading + depth) / (1 - job.cloth.shrinkage_across)


def check_rows(panels: LevelPanels, job: Job, windows: Mapping[str, Window], path: Path) -> None:
    """Raise JobRefused where the rows asked for cannot be reached.

    They run along the piece at fixed places, so no more of a repeat is reached than there is height to spare.
    """
    window, reach = panels.window, panels.reach
    if job.cloth.repeat is None or not is_level(window, named(job.windows)):
        return
    depth = below_top(windows[window.name.casefold()], windows)
    if reach.top_for(_below_edge(depth, window, job)) is not None:
        return
    period = reach.across * (1 - job.cloth.shrinkage_across)
    wanted, spare = depth % period, spare_height(window, job)
    best = _nearest(wanted, period, panels, job)
    rule = window.row or RowRule()
    if rule.level_with is not None:
        sizes: dict[str, Value] = {"spare": spare, "wanted": wanted, "best": best % period}
        raise _refused((*path, "row"), Code.LEVEL_ROW_NOT_REACHED, **sizes)
    key, value = "below_top", best
    if rule.above_foot is not None:
        key, value = "above_foot", (window.finished_length - best) % period
    sizes = {"spare": spare, "wanted": wanted, "best": best % period, "key_name": key, "value": value}
    raise _refused((*path, "row"), Code.ROW_NOT_REACHED, **sizes)


def _nearest(wanted: Fraction, period: Fraction, panels: LevelPanels, job: Job) -> Fraction:
    """The distance below the finished top, from 0 up, nearest to the one asked for that can be reached."""
    column, found = columns_across(job.cloth)[0], []
    for part in panels.reach.tops():
        low, high = (_finished(end - column, panels.window, job) for end in part)
        for place in _inside(low, high, period, job):
            off = (place - wanted) % period
            found.append((min(off, period - off), place))
    return min(found)[1]


def _inside(low: Fraction, high: Fraction, period: Fraction, job: Job) -> Iterator[Fraction]:
    """The ends of a stretch, whole repeats taken away and then drawn in to what a tape shows, where it is that long."""
    step = Fraction(1, 16) if job.unit is Unit.INCH else CENTIMETRE / 10
    for edge in (low, high):
        away = edge // period * period
        least, most = max(low - away, Fraction(0)), high - away
        ends = {round_up(least, step), most // step * step}
        yield from [end for end in ends if least <= end <= most] or [edge - away]


def _refused(path: Path, code: Code, **values: Value) -> JobRefused:
    return JobRefused([problem(path, code, **values)])


@dataclass(frozen=True)
class _Lie:
    """Where a panel lies: its top edge across from the near selvedge, its first edge along from a row."""

    way: Way
    top: Fraction
    row: Fraction
    phase: Fraction


def cuts_of(panels: LevelPanels, slug: str, depth: Fraction, job: Job) -> list[Cut]:
    """One cut for each panel, the left one first; ``depth`` is from the finished top to a row, which is reached."""
    return [_cut(panels, slug, job, hand, lie) for hand, lie in _lies(panels, depth, job).items()]


def _length(panels: LevelPanels, job: Job) -> Fraction:
    """What a panel takes along the piece: its flat width with two side hems / (1 - shrinkage)."""
    return panels.width.needed / (1 - job.cloth.shrinkage)


def _lies(panels: LevelPanels, depth: Fraction, job: Job) -> dict[Hand, _Lie]:
    hands, reach, cloth = HANDS[panels.window.panels], panels.reach, job.cloth
    if cloth.repeat is None:
        return dict.fromkeys(hands, _Lie(Way.UPRIGHT, reach.tops()[0][1], ZERO, ZERO))
    top = reach.top_for(_below_edge(depth, panels.window, job))
    if top is None:
        raise ValueError(f"the rows of {panels.window.name} cannot be reached")
    along, length = cloth.repeat.along, _length(panels, job)
    # A row of the column next below the top edge lies at the leading edge of the first panel, or, where the print has a
    # mirror line beside the row, that line: then two panels meet on it and waste nothing.
    before = ZERO if hands[0] is Hand.RIGHT else length
    phase = (reach.column_below(top) * cloth.drop * along + cloth.print.mirror_offset - before) % along
    made = panels.window.made
    if made is not None and made.middle is not None:
        # What shall lie in the middle of a flat panel or a small thing lies half its length from either end.
        phase = (reach.column_below(top) * cloth.drop * along + made.middle - length / 2) % along
    ways = hand_ways(panels.choice, hands)
    first = _Lie(ways[hands[0]], top, reach.row_below(top), phase)
    lies = {hands[0]: first}
    if Hand.LEFT in ways and Hand.RIGHT in ways:
        lies[Hand.RIGHT] = _partner(first, panels, job, along)
    return lies


def _partner(first: _Lie, panels: LevelPanels, job: Job, along: Fraction) -> _Lie:
    """The right panel of a pair: its print is the mirror image of the left one's, in from the leading edge."""
    pairing, reach = panels.choice.pairing, panels.reach
    top, steps = reach.partner_top(first.top)
    if pairing in (Pairing.OWN_IMAGE, Pairing.OWN_SLID):
        # The mirror line lies at m after a row: what is at s on the left panel is at 2 m - s on the right one.
        after = 2 * job.cloth.print.mirror_offset - first.phase - _length(panels, job)
    else:
        after = first.phase + (along / 2 if pairing is Pairing.TURNED_SLID else ZERO)
    # With a slide across, the mirror image of the left panel's rows lies between the rows of the print.
    row = reach.row_below(top) if pairing is Pairing.OWN_SLID else first.row
    return _Lie(pairing.way, top, row, (after + steps * job.cloth.drop * along) % along)


def _cut(panels: LevelPanels, slug: str, job: Job, hand: Hand, lie: _Lie) -> Cut:
    cloth, window = job.cloth, panels.window
    allowances = allowances_of(window, job.allowances)
    length, height = _length(panels, job), panels.reach.height
    top, hem = top_edge(lie.way, cloth), allowances.side_hem / (1 - cloth.shrinkage)
    side = Side(hem, hem)
    patterned = cloth.repeat is not None
    return Cut(
        id=f"{slug}-{hand}",
        window=window.name,
        hand=hand,
        panel=f"{window.name}, {hand}",
        number=1,
        of=1,
        length=length,
        across=(lie.top, lie.top + height) if top is Edge.NEAR else (lie.top - height, lie.top),
        parted=(ZERO, cloth.width),
        top_edge=top,
        leading_edge=leading_edge(hand, top, lie.way),
        way=lie.way,
        handbook=handbook_cut(length, cloth.repeat.along if cloth.repeat else None),
        row=lie.row if patterned else None,
        phase=lie.phase,
        heading=allowances.heading / (1 - cloth.shrinkage_across),
        hem=allowances.hem / (1 - cloth.shrinkage_across),
        leading_side=side,
        return_side=side,
    )


def stacked(cuts: Sequence[Cut], job: Job) -> Ways:
    """The cuts, in the same order, those that fit above each other in one length with the same word in ``beside``.

    Panels of plain cloth: the widest first, each in the first length that still has room below; all tops stay towards
    the far selvedge. Patterned cloth is left as it is: its rows say where a panel lies.
    """
    if job.cloth.repeat is not None or not job.cloth.side_by_side:
        return Ways((tuple(cuts),), all_told=True)
    windows = {window.name for window in job.windows if window.side_by_side}
    sharing = sorted((one for one in cuts if one.window in windows), key=lambda one: (-one.length, -one.height, one.id))
    lanes: list[list[Cut]] = []
    for cut in sharing:
        for lane in lanes:
            top = lane[-1].across[0]
            if top - cut.height >= job.cloth.near_selvedge:
                lane.append(replace(cut, across=(top - cut.height, top), after=lane[0].length - cut.length))
                break
        else:
            lanes.append([cut])
    shared = {cut.id: cut for lane in lanes if len(lane) > 1 for cut in _parted(lane, job)}
    low = sorted(one.height for one in sharing)[:2]
    shares = {one.id: one.height / printed_width(job.cloth) for one in sharing}
    none_fit = len(low) < 2 or sum(low) > job.cloth.width - job.cloth.near_selvedge - job.cloth.far_selvedge
    return Ways((tuple(shared.get(cut.id, cut) for cut in cuts),), none_fit, (shares,))


def _parted(lane: list[Cut], job: Job) -> Iterator[Cut]:
    """The cuts of one length, the uppermost first, each slit from the one above and the one below it."""
    for number, cut in enumerate(lane):
        near = ZERO if number == len(lane) - 1 else cut.across[0]
        far = job.cloth.width if number == 0 else cut.across[1]
        yield replace(cut, beside=lane[0].id, parted=(near, far))
