"""What a photograph of a panel laid back says of its mates, in sentences: what was seen, and what to do."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from jobs.model.job import Job
from projector.scene.mates import Aslant, Higher, Mating, Seam, Verdict
from projector.words.measures import format_error, format_length


def mating_said(found: Mating, job: Job, done: Collection[str]) -> Iterator[str]:
    """All of it, one sentence each; ``done`` are the cuts that are made."""
    for end in ("top", "foot"):
        if end not in found.seen:
            yield (
                f"Its {end} is not in the picture and is not judged: lay that end in the light, bare table beyond it, "
                "and take another photograph"
            )
    for seam in found.seams:
        yield from _seam_said(seam, job, done)
    if not found.seams:
        yield "No other panel hangs or is sewn beside it: nothing need match"
    tolerance = float(job.tolerance)
    for one in found.aslant:
        if abs(one.lower_in) > max(tolerance, one.within_in):
            yield _aslant_said(one, job)
    if found.longer_in is not None and abs(found.longer_in) > tolerance:
        way = "longer" if found.longer_in > 0 else "shorter"
        yield f"It was cut {_length(abs(found.longer_in), job)} {way} than its print has it: see to it at the hem"


def verdict_said(seam: Seam, tolerance_in: float) -> str:
    """The verdict in few words."""
    return {
        Verdict.MATCHES: "they match",
        Verdict.MISSES: "THEY MISS",
        Verdict.OPEN: "so near to what is allowed that the photograph cannot tell",
    }[seam.verdict(tolerance_in)]


def ends_said(seam: Seam, job: Job) -> str:
    """How the panel's print hangs against its mate's, at top and foot, as far as these were seen."""
    parts = [(name, one) for name, one in (("top", seam.top), ("foot", seam.foot)) if one is not None]
    return ", ".join(f"{higher_said(one, job)}{_within(one.within_in, job)} at the {name}" for name, one in parts)


def _seam_said(seam: Seam, job: Job, done: Collection[str]) -> Iterator[str]:
    meeting, tolerance = seam.meeting, float(job.tolerance)
    mate = meeting.mate.cut
    edge, mate_edge = meeting.cut.cut.name_of(meeting.edge), mate.name_of(meeting.mate_edge)
    how = "sewn to" if meeting.sewn else "beside"
    against = "as photographed" if seam.photographed else "as planned"
    yield (
        f"Its {edge} edge {how} the {mate_edge} edge of {mate.name}, {against}: its print hangs "
        f"{ends_said(seam, job)}; {_length(tolerance, job)} is allowed: {verdict_said(seam, tolerance)}"
    )
    if seam.verdict(tolerance) is Verdict.MATCHES or not seam.lower_in:
        yield from () if mate.id in done else (f"Cut {mate.name} as planned",)
    elif mate.id in done:
        yield _both_cut_said(seam, job)
    else:
        yield from _moved_said(seam, job)


def _moved_said(seam: Seam, job: Job) -> Iterator[str]:
    """How the mate is cut with its row moved."""
    mate, size = seam.meeting.mate.cut, _length(abs(seam.lower_in), job)
    down = "foot" if seam.lower_in > 0 else "top"
    way = "right" if seam.to_right_in > 0 else "left"
    yield (
        f"Cut {mate.name} with its row moved by {size}: lay it, then move the light {size} to the {way}, towards its "
        f"{down}, and cut there"
    )
    left = [abs(one.higher_in - seam.lower_in) for one in seam.seen]
    if max(left) > float(job.tolerance):
        yield f"So cut they still miss by {_length(max(left), job)} at one end, for the two ends do not agree"


def _both_cut_said(seam: Seam, job: Job) -> str:
    """What is left to do where both are cut."""
    size, higher = _length(abs(seam.lower_in), job), seam.lower_in > 0
    if seam.meeting.sewn:
        return (
            f"Both are cut: sew them print to print, not edge to edge; its top edge then lies {size} "
            f"{'below' if higher else 'above'} its mate's"
        )
    return f"Both are cut: turn {size} {'less' if higher else 'more'} over at its top, and its print hangs level"


def _aslant_said(one: Aslant, job: Job) -> str:
    low, high = ("return", "leading") if one.lower_in > 0 else ("leading", "return")
    long = high if one.end == "top" else low
    size = _length(abs(one.lower_in), job)
    return (
        f"Its {one.end} was cut aslant, {size} lower at its {low} edge than at its {high} edge"
        f"{_within(one.within_in, job)}: true it before its mate is cut, {size} off at its {long} edge and nothing "
        "at the other, and photograph it again"
    )


def higher_said(one: Higher, job: Job) -> str:
    """How much higher or lower, in few words."""
    level = round(abs(one.higher_in) * 64) == 0
    return "level" if level else f"{_length(abs(one.higher_in), job)} {'higher' if one.higher_in > 0 else 'lower'}"


def _within(within_in: float, job: Job) -> str:
    return f" (give or take {format_error(within_in, job.unit.value)})"


def _length(inches: float, job: Job) -> str:
    return format_length(inches, job.unit.value)
