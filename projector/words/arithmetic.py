"""The arithmetic of an order as plain sentences with their numbers, in the job's unit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from jobs.cutting.columns import printed_width, seam_allowance
from jobs.cutting.widths import RETURNS, reached
from jobs.model.allowances import Allowances
from jobs.model.choices import HalfAt, Panels, ReturnsAdded, Run, Unit
from jobs.model.cuts import Cut, Edge, Hand
from jobs.model.job import Job, allowances_of
from jobs.model.lengths import show_length, show_share
from jobs.model.numbers import counted, show_number
from jobs.model.resolved import FlatWidth, ResolvedJob, ResolvedWindow, Seams
from jobs.model.window import Window
from jobs.ordering.order import Order
from jobs.packing.items import lanes_of
from projector.words.buying import buy_lines, total_lines
from projector.words.exact import exact_lines, joined_lines
from projector.words.pairs import way_lines

LYING = (
    "Run sideways, what points along the selvedge on the cloth hangs level: take a print whose motifs point to a "
    "selvedge, or one that looks right lying on its side, and lay the piece with their tops away from you"
)
NAP = (
    "Run sideways, pile and sheen lie level instead of up and down: hold a piece up and look whether that pleases "
    "before you buy, and keep every top at the same selvedge"
)


def order_lines(resolved: ResolvedJob, order: Order) -> tuple[str, ...]:
    """Every step from the windows to what is bought."""
    job, cuts = resolved.job, resolved.cuts
    return (
        *panel_lines(resolved),
        *(step for group in _equal_cuts(cuts, job) for step in _length_lines(job, group)),
        *way_lines(resolved),
        *total_lines(resolved, order),
        *buy_lines(job, order),
    )


def panel_lines(resolved: ResolvedJob) -> tuple[str, ...]:
    """From rod to cuts, what seams and trims take, and which cuts lie side by side; none for panels of one cut."""
    job = resolved.job
    if job.cloth.run is Run.SIDEWAYS:
        level = (step for one in resolved.windows for step in _sideways_lines(one, job))
        return (*level, *_lane_lines(job, resolved.cuts), *_sideways_cautions(job))
    seamed = _seams_by_window(resolved)
    faces = [one for one in resolved.windows if one.window.made is None or not one.window.made.exact]
    steps = dict.fromkeys(step for one in faces for step in _window_lines(one, job, seamed))
    return (*steps, *exact_lines(resolved), *_lane_lines(job, resolved.cuts))


def seam_lines(resolved: ResolvedJob) -> tuple[str, ...]:
    """Where joined cuts are seamed, what is trimmed there and what is left; none where no cuts are joined."""
    found = (line for lines in _seams_by_window(resolved).values() for line in lines)
    return tuple(dict.fromkeys((*found, *joined_lines(resolved))))


def _seams_by_window(resolved: ResolvedJob) -> dict[str, tuple[str, ...]]:
    """What is said of the seams of each window with joined cuts; whose it is where they differ."""
    job, said = resolved.job, dict[str, tuple[str, ...]]()
    for one in resolved.windows:
        if one.seams is not None and one.count > 1:
            said[one.window.name] = tuple(_seam_lines(job.as_for(one.window), one.seams))
    if len(set(said.values())) < 2:
        return said
    whose = {lines: ", ".join(name for name in said if said[name] == lines) for lines in said.values()}
    return {name: tuple(f"{whose[lines]}: {line}" for line in lines) for name, lines in said.items()}


def _window_lines(one: ResolvedWindow, job: Job, seamed: Mapping[str, tuple[str, ...]]) -> Iterator[str]:
    name = one.window.name
    if one.width is not None:
        yield from _width_lines(name, one, one.width, job)
        yield _count_line(one, one.width, job)
    elif one.count > 1:
        yield f"{name}: {_cuts(one.count)} to a panel, as written."
    yield from _half_lines(one)
    yield from seamed.get(name, ())
    if one.lost and not one.is_narrow:
        yield _trim_line(one, job)
    if job.cloth.border is not None and one.window.made is None and one.window.panels is not Panels.WHOLE:
        yield _border_line(one, job)


def _border_line(one: ResolvedWindow, job: Job) -> str:
    """In which panels the border leads, and how they lie for it."""
    edge = job.cloth.border.value if job.cloth.border is not None else ""
    leading = [cut for cut in one.cuts if cut.number == 1]
    with_it = [cut for cut in leading if cut.leading_edge.value == edge]
    where = "in both panels" if len(with_it) > 1 else f"in the {with_it[0].hand} panel"
    lie = " and ".join(f"the {cut.hand} one {cut.way}" for cut in leading)
    return f"{one.window.name}: the border along the {edge} selvedge leads {where}: {lie}."


def _width_lines(name: str, one: ResolvedWindow, width: FlatWidth, job: Job) -> Iterator[str]:
    window = one.window
    hem = allowances_of(window, job.allowances).side_hem
    hems = f"; with 2 side hems of {_say(job, hem)} a panel takes {_say(job, width.needed)}" if hem else ""
    if window.flat is not None:
        yield f"{name}: {_say(job, window.flat)} flat {_for_each(window)}{hems}."
        return
    number = RETURNS[window.panels]
    parts = [f"rod {_say(job, window.rod or Fraction(0))}"]
    parts += [f"overlap {_say(job, window.overlap)}"] if window.overlap else []
    returns = (
        f"{number} returns of {_say(job, window.returns)}" if number > 1 else f"return {_say(job, window.returns)}"
    )
    before = job.returns_added is ReturnsAdded.BEFORE
    parts += [returns] if window.returns and before else []
    if len(parts) > 1:
        yield f"{name}: {' + '.join(parts)} = {_say(job, width.overall)} over all."
    overall = _say(job, width.overall) if len(parts) > 1 else parts[0]
    later = f" + {returns}" if window.returns and not before else ""
    order = f" (returns added {job.returns_added})" if window.returns else ""
    flat = f"{overall} x {_fullness(job, window.fullness)}{later} = {_say(job, width.flat)} flat{order}"
    half = f", {_say(job, width.flat / 2)} for each panel" if width.panels == 2 else ""
    yield f"{name}: {flat}{half}{hems}."


def _for_each(window: Window) -> str:
    """Whose width it is that was derived from another window's."""
    each = "for each panel" if window.panels is Panels.PAIR else "for the panel"
    return f"{each}, as the face of {window.made.of} is wide" if window.made is not None else each


def _fullness(job: Job, fullness: Fraction) -> str:
    """As it is said beside the unit: 1 3/4 with inches, 1.75 with centimetres, where that is exact."""
    decimal = f"{float(fullness):g}"
    return decimal if job.unit is not Unit.INCH and Fraction(decimal) == fullness else show_number(fullness)


def _half_lines(one: ResolvedWindow) -> Iterator[str]:
    """Where the half cuts of a panel go, where that is not outside."""
    name, cuts = one.window.name, one.count
    if cuts <= 1 or one.window.half_at is HalfAt.RETURN or (one.window.half_at is HalfAt.LEADING and cuts % 1 == 0):
        return
    if one.window.half_at is HalfAt.LEADING:
        yield f"{name}: its half cut is joined at the leading edge."
    elif cuts % 2 == 1:
        yield f"{name}: a whole cut lies in the middle, as many at either side."
    else:
        part = "half a cut" if cuts % 1 == 0 else "a quarter of a cut, one half split,"
        yield f"{name}: a whole cut lies in the middle, {part} outermost at either side."


def _count_line(one: ResolvedWindow, width: FlatWidth, job: Job) -> str:
    name, cuts = one.window.name, one.count
    if one.is_narrow:
        return f"{name}: that is no more than half the cloth, so a panel is cut as a strip of its own width."
    needed = width.needed + one.lost
    said = f"{_say(job, width.needed)} + {_say(job, one.lost)} that is trimmed" if one.lost else _say(job, needed)
    two = f", {_cuts(2 * cuts)} for the pair" if one.window.panels is Panels.PAIR else ""
    printed = printed_width(job.cloth)
    if cuts <= 1 or one.seams is None:
        return f"{name}: one cut of {_say(job, printed)} between the selvedges is enough{two}."
    gives = _say(job, reached(cuts, job.cloth, one.seams, one.window.half_at))
    apart = f"seamed {_say(job, one.seams.between)} apart"
    return f"{name}: {said} to a panel; {_cuts(cuts)} {apart}, counted to the outer printed edges, give {gives}{two}."


def _seam_lines(job: Job, lines: Seams) -> Iterator[str]:
    """Where the seams lie and why there, what is trimmed and what is left as allowance."""
    places = f"{_say(job, lines.near)} and {_say(job, job.cloth.width - lines.far)} from the near selvedge edge"
    if job.cloth.repeat is None:
        if lines.near or lines.far:
            yield f"Seams: {places}; {_left_outside(job, lines)}."
        return
    match = "Match each length to the one before it before you cut it."
    if lines.columns and not lines.at_printed_edge:
        runs_on = f"{counted(lines.columns, 'column')} apart, so that the print runs on"
        yield f"Seams: {places}, {runs_on}; {_left_outside(job, lines)}. {match}"
        yield from _column_too_many(job, lines)
        return
    yield f"Seams: {places}; {_left_outside(job, lines)}. {match}"
    if lines.at_printed_edge:
        across, printed = _say(job, job.cloth.repeat.across or Fraction(0)), _say(job, printed_width(job.cloth))
        rows = "the rows of the next one a column on" if lines.columns else "their rows level"
        yield (
            f"Look out: the repeat across, {across}, is wider than the print, {printed}, so a whole repeat spans "
            f"joined cuts. They are joined where the print ends, {rows}. Lay two lengths edge to edge before you buy: "
            "if the second must lie lower, write the width of the print as `across`, and how much lower as `drop`."
        )
    else:
        yield "Look out: no whole column is known to lie between two seams, so the print may not run on across them."


def _left_outside(job: Job, lines: Seams) -> str:
    """What is trimmed beyond a seam and what is left there, and whether that is less than a seam is to have."""
    sides = [(edge, seam_allowance(edge, job.cloth, job.allowances, lines)) for edge in (Edge.NEAR, Edge.FAR)]
    trimmed = [(edge, lines.inset(edge) - left) for edge, left in sides]
    cut = f"{_by_side(job, trimmed)} is trimmed" if any(off for _, off in trimmed) else "nothing is trimmed"
    short = min(left for _, left in sides) < job.allowances.seam
    less = f", less than the {_say(job, job.allowances.seam)} that a seam is to have" if short else ""
    return f"{cut} beyond them and {_by_side(job, sides)} is left as seam allowance, selvedge and all{less}"


def _by_side(job: Job, lengths: Sequence[tuple[Edge, Fraction]]) -> str:
    said = {edge: _say(job, length) for edge, length in lengths}
    if len(set(said.values())) == 1:
        return said[Edge.NEAR]
    return f"{said[Edge.NEAR]} at the near and {said[Edge.FAR]} at the far side"


def _column_too_many(job: Job, lines: Seams) -> Iterator[str]:
    """That another column is printed, and why the seams do not lie that far apart."""
    apart, least = (lines.columns + 1) * lines.between / lines.columns, job.allowances.least_seam
    if apart <= printed_width(job.cloth):
        left = _say(job, (job.cloth.width - apart) / 2)
        yield (
            f"One column more is printed; seams {_say(job, apart)} apart would leave {left} outside each, less than "
            f"the least seam of {_say(job, least)} (`least_seam`)."
        )


def _trim_line(one: ResolvedWindow, job: Job) -> str:
    leading = next(hand for hand, trims in one.trims if trims.leading)
    other = Hand.LEFT if leading is Hand.RIGHT else Hand.RIGHT
    lost = _say(job, one.lost)
    return (
        f"{one.window.name}: so that the pair mirrors, {lost} is trimmed from the leading edge of the {leading} panel "
        f"and {lost} from the return edge of the {other} one, before they are hemmed."
    )


def _sideways_lines(one: ResolvedWindow, job: Job) -> Iterator[str]:
    """The height of a window's panels across the cloth, what is over, and where the tops lie."""
    name = one.window.name
    if one.width is not None:
        yield from _width_lines(name, one, one.width, job)
    yield f"{name}: run sideways, one cut without a seam for each panel; {_height(one, job)}."
    yield from _tops(one, job)


def _height(one: ResolvedWindow, job: Job) -> str:
    given, share = allowances_of(one.window, job.allowances), job.cloth.shrinkage_across
    parts = ((one.window.finished_length, "finished"), (given.heading, "heading"), (given.hem, "hem"))
    said = " + ".join(f"{_say(job, length)} {word}" for length, word in parts if length)
    raw = sum((length for length, _ in parts), Fraction(0))
    lost = f" / (1 - {show_share(share)}) = {_say(job, one.cuts[0].height)}" if share else ""
    return f"{said} = {_say(job, raw)}{lost} lie across, of {_say(job, printed_width(job.cloth))} between the selvedges"


def _tops(one: ResolvedWindow, job: Job) -> Iterator[str]:
    """Where the tops lie, and the rows where the job leaves them to the print."""
    first, last, name = one.cuts[0], one.cuts[-1], one.window.name
    own = dict.fromkeys((_top_of(cut), cut.top_edge, cut.hand) for cut in (first, last))
    places = dict.fromkeys(_say(job, top) for top, _, _ in own)
    if first.top_edge is last.top_edge:
        yield f"{name}: the tops lie towards the far selvedge, {' and '.join(places)} from the near selvedge edge."
    else:
        far, near = (f"the {hand} panel at the {at} selvedge, {_say(job, top)}" for top, at, hand in own)
        yield f"{name}: tops: {far}, and {near}, both from the near selvedge edge."
    if first.row is not None and not one.row_is_asked:
        below = first.row * (1 - job.cloth.shrinkage_across) - allowances_of(one.window, job.allowances).heading
        if below < 0 and job.cloth.repeat is not None and job.cloth.repeat.across is not None:
            below %= job.cloth.repeat.across * (1 - job.cloth.shrinkage_across)
        yield f"{name}: no row is asked for, so the print is taken as it lies: {_say(job, below)} below the top."


def _top_of(cut: Cut) -> Fraction:
    return cut.top_edge.at(cut.across, cut.across)


def _sideways_cautions(job: Job) -> Iterator[str]:
    """What to look at before cloth is bought to be run sideways."""
    if job.cloth.repeat is not None:
        yield f"Look out: {LYING}."
    elif job.cloth.print.one_way:
        yield f"Look out: {NAP}."


def _lane_lines(job: Job, cuts: Sequence[Cut]) -> Iterator[str]:
    for lane in lanes_of(cuts):
        if len(lane) > 1:
            names = " and ".join(cut.name for cut in lane)
            how = "Side by side" if lane[0].top_edge.is_end else "One above the other across the cloth"
            yield f"{how} in one length of {_say(job, lane[0].shared_length)}: {names}."


def _equal_cuts(cuts: Sequence[Cut], job: Job) -> list[list[Cut]]:
    """Cuts of one length that are made up of the same parts."""
    groups: dict[object, list[Cut]] = {}
    for cut in cuts:
        groups.setdefault((cut.length, _allowances(cut, job)), []).append(cut)
    return list(groups.values())


def _length_lines(job: Job, group: list[Cut]) -> Iterator[str]:
    """How long one cut is, and how many repeats that takes, for cuts of one length."""
    cut, cloth = group[0], job.cloth
    raw = cut.length * (1 - cloth.shrinkage)
    names = ", ".join(dict.fromkeys(one.window for one in group))
    said = " + ".join(f"{_say(job, length)} {word}" for length, word in _parts(job, cut, raw) if length)
    along = "" if cut.top_edge.is_end else " along the piece"
    yield f"{names}: {said} = {_say(job, raw)} to cut{along}."
    if cloth.shrinkage:
        share = show_share(cloth.shrinkage)
        yield f"The cloth shrinks by {share}: {_say(job, raw)} / (1 - {share}) = {_say(job, cut.length)} to cut."
    if cloth.repeat:
        repeats = cut.handbook / cloth.repeat.along
        exact = cut.handbook == cut.length
        how = "exactly, nothing is added" if exact else f"rounded up, {_say(job, cut.handbook - cut.length)} over"
        yield (
            f"Repeats of {_say(job, cloth.repeat.along)}: {_say(job, cut.length)} takes {counted(repeats, 'repeat')} "
            f"({how}) = {_say(job, cut.handbook)} for a handbook cut."
        )


def _parts(job: Job, cut: Cut, raw: Fraction) -> list[tuple[Fraction, str]]:
    """What a cut is made up of along the piece, on cloth that has shrunk."""
    given = _allowances(cut, job)
    if not cut.top_edge.is_end:
        return [(raw - 2 * given.side_hem, "flat"), (2 * given.side_hem, "for two side hems")]
    made = job.made_for(cut.window)
    if made is not None and made.seamed and given.heading == given.hem:
        return [(raw - 2 * given.hem, "finished"), (2 * given.hem, "for two seams")]
    return [(raw - given.heading - given.hem, "finished"), (given.heading, "heading"), (given.hem, "hem")]


def _allowances(cut: Cut, job: Job) -> Allowances:
    window = next(one for one in job.windows if one.name == cut.window)
    return allowances_of(window, job.allowances)


def _cuts(count: Fraction) -> str:
    return counted(count, "cut")


def _say(job: Job, length: Fraction) -> str:
    return show_length(length, job.unit)
