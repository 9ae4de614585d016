"""A whole job as the text of a job file, with remarks for the person who will change a number in it."""

from __future__ import annotations

from jobs.job import Job, Limits, ReturnsAdded, RoomLight
from jobs.writing import scalars
from jobs.writing.cloth_lines import cloth_lines
from jobs.writing.lines import flow, line
from jobs.writing.window_lines import window_lines

HEAD = (
    "# A job for lightchalk. Change any number in a text editor; what stands after # is a remark.",
    "# A length may carry its own unit: 11 1/4 | 28.6 cm | 6 yd | 5 ft 6 in",
)


def job_text(job: Job) -> str:
    """The text of a job file that reads back as ``job`` (its notices apart). Raises ValueError for a length whose
    exact fraction is too long to be written."""
    unit = job.unit
    lines = [*HEAD, line(0, "job", scalars.text(job.title))]
    lines += [line(0, "units", unit.value, "of numbers without a unit"), ""]
    lines += [*cloth_lines(job.cloth, unit), ""]
    given = job.allowances
    lines += [
        line(0, "allowances"),
        line(2, "heading", scalars.length(given.heading, unit), "cloth turned over at the top"),
        line(2, "hem", scalars.length(given.hem, unit), "cloth turned up at the foot"),
        line(2, "side_hem", scalars.length(given.side_hem, unit), "turned in at each side"),
        line(2, "seam", scalars.length(given.seam, unit), "each edge that is joined"),
        line(2, "squaring", scalars.length(given.squaring, unit), "lost in straightening the first end"),
    ]
    if job.returns_added is not ReturnsAdded.BEFORE:
        lines.append(line(0, "returns_added", job.returns_added.value))
    lines += ["", *window_lines(job.windows, unit)]
    if job.table is not None:
        size = [("length", scalars.length(job.table.length, unit)), ("width", scalars.length(job.table.width, unit))]
        lines += ["", line(0, "table", flow(size))]
    lines += _rest(job)
    return "\n".join(lines) + "\n"


def _rest(job: Job) -> list[str]:
    """What few jobs say, written only where it differs from what is taken when it is left out."""
    lines = []
    if job.limits != Limits():
        agreed = flow([("bow", scalars.share(job.limits.bow)), ("skew", scalars.share(job.limits.skew))])
        lines.append(line(0, "limits", agreed, "as agreed with the supplier"))
    if job.tolerance != Job.tolerance:
        lines.append(line(0, "tolerance", scalars.length(job.tolerance, job.unit), "of a lit cut line"))
    if job.flaws_may_lie_in:
        lines.append(line(0, "flaws_may_lie_in", "[" + ", ".join(part.value for part in job.flaws_may_lie_in) + "]"))
    lines += _sewing(job)
    if job.wanted:
        lines.append(line(0, "wanted", remark="small things from what is left"))
    for thing in job.wanted:
        size = f"[{scalars.length(thing.along, job.unit)}, {scalars.length(thing.across, job.unit)}]"
        entries = [("name", scalars.text(thing.name)), ("size", size), ("count", str(thing.count))]
        lines.append("  - " + flow([*entries, ("row", thing.motif.value)]))
    return ["", *lines] if lines else []


def _sewing(job: Job) -> list[str]:
    """What is lit for the sewing, and the light of the room."""
    unit, lines = job.unit, []
    if job.pins is not None:
        places = [("spacing", job.pins.spacing), ("from_side", job.pins.from_side)]
        value = flow([(key, scalars.length(size, unit)) for key, size in places])
        lines.append(line(0, "pins", value, "along the heading"))
    if job.stiffener is not None:
        lines.append(line(0, "stiffener", scalars.length(job.stiffener, unit), "below the cut edge of the heading"))
    if job.doubled:
        lines.append(line(0, "doubled", "[" + ", ".join(part.value for part in job.doubled) + "]", "turned twice"))
    if job.light != RoomLight():
        lux = [("room", scalars.number(job.light.room)), ("projector", scalars.number(job.light.projector))]
        lines.append(line(0, "light", flow(lux), "lux on the table"))
    return lines
