"""A panel that is cut, laid back and photographed: whether its mates will match, for ``lay --back``."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from calibration.laying.flattening import Lit
from calibration.laying.laid_back import LaidBack
from calibration.laying.laying import Photo
from calibration.laying.tile import Tile
from calibration.problems import PhotographRefused, Problem
from calibration.table import Table
from jobs.model.choices import Unit
from jobs.model.cuts import Placement
from jobs.model.plan import Plan
from jobs.model.records import dataclass
from jobs.planning.mates import meetings_of
from jobs.prints.photographs.problems import PhotoRefused
from projector.commands.shared.cloths import Where
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.laid import Files, pattern_of
from projector.commands.shared.loading import load_stored
from projector.commands.shared.planned import fitting, load_going_on, on_cloth
from projector.commands.shared.recording import record_of
from projector.files.lit_photograph import rgb_in
from projector.light.pattern import levels_of, pattern_frame
from projector.prints.face import face_of
from projector.scene.mates import Higher, Mating, Seam, mating, panel_seen
from projector.scene.mates_said import mating_said
from projector.scene.print_marks import NoLattice, lattice_of
from projector.words.edges import lies_said
from projector.words.measures import format_length
from projector.words.wording import sentence

Told = tuple[dict[str, Any], tuple[str, ...]]


@dataclass(frozen=True)
class Backs:
    """The cut whose panel lies in the photograph, and photographs of its mates: cut and file of each."""

    cut: str
    beside: tuple[tuple[str, Path], ...]


@dataclass(frozen=True)
class _Work:
    """What all photographs of a job are read by."""

    job: Where
    plan: Plan
    done: tuple[str, ...]
    table: Table
    lit: Lit
    tile: Tile


def mates_of(job: Where, files: Files, backs: Backs) -> Told:
    """What the panel's photograph says of its mates: as JSON values, and as lines.

    Raises InputAtFault for what cannot be judged: a cut that is not made, a photograph of something else.
    """
    work = _work(job, files)
    back = _back(work, backs.cut, files.photo)
    others = {cut: _back(work, cut, photo) for cut, photo in backs.beside}
    placed = _placed(work, backs.cut)
    found = mating(work.plan.job, placed, meetings_of(placed, work.plan.placements), back, others)
    strangers = others.keys() - {seam.meeting.mate.cut.id for seam in found.seams}
    if strangers:
        raise InputAtFault(f"{job}: {', '.join(sorted(strangers))}: no edge of it meets an edge of {backs.cut}")
    name = found.placed.cut.name
    first = f"{work.plan.job.title}: {name}, laid back"
    lines = (first, *_sizes(back, work.plan), *mating_said(found, work.plan.job, work.done))
    return _document(found, back, work), lines


def _work(job: Where, files: Files) -> _Work:
    begun = fitting(job, load_going_on(job, record_of(job).events))
    read = begun.plan.job
    table = on_cloth(job, load_stored(files.table).table, read)
    pattern = pattern_of(table, files.table)
    lit = Lit(pattern, levels_of(pattern_frame(pattern, on_white=files.on_white), table.gamma))
    try:
        lattice = lattice_of(read.cloth)
    except NoLattice as none:
        raise InputAtFault(f"{job}: {_no_lattice(plain=none.plain)}") from None
    face = face_of(read.cloth)
    if face.shapes is not None:
        raise InputAtFault(
            f"{job}: cloth: the job has no picture of its print to look for; photograph the cloth with measure --into"
        )
    return _Work(job, begun.plan, begun.done, table, lit, Tile.of_picture(face.pixels, lattice))


def _no_lattice(*, plain: bool) -> str:
    if plain:
        return "cloth: plain cloth has no print that could miss its mate's"
    return "cloth, repeat: the repeat across is not given; measure it and add across"


def _back(work: _Work, cut: str, photo: Path) -> LaidBack:
    placed = _placed(work, cut)
    cloth = work.plan.job.cloth
    tile = replace(work.tile, lattice=lattice_of(cloth, work.plan.pieces[placed.piece - 1].piece))
    try:
        found = panel_seen(Photo(rgb_in(photo), work.lit), work.table, placed, tile, cloth)
    except PhotoRefused as unread:
        raise InputAtFault(f"{photo}: {sentence(unread.problems[0])}") from None
    except PhotographRefused as refused:
        raise _refused(photo, placed, refused.problems, work.plan.job.unit) from None
    if found.problems:
        raise _refused(photo, placed, found.problems, work.plan.job.unit)
    return found


def _refused(photo: Path, placed: Placement, problems: Sequence[Problem], unit: Unit) -> InputAtFault:
    """Why a photograph tells nothing, and how the panel is to lie."""
    why = (f"{photo}: {sentence(one, unit)}" for one in problems)
    return InputAtFault(*why, f"{photo}: {lies_said(placed.cut)}")


def _placed(work: _Work, cut: str) -> Placement:
    """Where the cut lies on its piece. Raises InputAtFault where the plan has none such, or it is not made yet."""
    placed = next((one for one in work.plan.placements if one.cut.id == cut), None)
    if placed is None:
        names = ", ".join(work.done) or "none is made yet"
        raise InputAtFault(f"{work.job}: there is no cut {cut} of this cloth; made are: {names}")
    if cut not in work.done:
        raise InputAtFault(f"{work.job}: {cut} is not cut yet, as far as it was ticked: tick it in `cut` first")
    if not placed.cut.top_edge.is_end:
        raise InputAtFault(
            f"{work.job}: {cut} is run sideways: its rows lie as they are printed, whatever its cut ends are, "
            "and need no photograph"
        )
    return placed


def _sizes(back: LaidBack, plan: Plan) -> Iterator[str]:
    unit, fit = plan.job.unit.value, back.found.fit
    sizes = [(back.length_in, fit.stretch_along, "long"), (back.width_in, fit.stretch_across, "wide")]
    said = [f"{format_length(size * by, unit)} {word}" for size, by, word in sizes if size is not None]
    if said:
        yield f"It lies {' and '.join(said)}; its print was seen at {len(back.laid.compared.alike)} places"
    if back.turned:
        yield "It lies turned by half a turn: that does not matter"


def _document(found: Mating, back: LaidBack, work: _Work) -> dict[str, Any]:
    job = work.plan.job
    return {
        "cut": found.placed.cut.id,
        "name": found.placed.cut.name,
        "tolerance_in": float(job.tolerance),
        "turned": back.turned,
        "ends": list(found.seen),
        "length_in": back.length_in,
        "width_in": back.width_in,
        "longer_in": found.longer_in,
        "places": len(back.laid.compared.alike),
        "seams": [_seam(one, float(job.tolerance), work.done) for one in found.seams],
        "aslant": [
            {"end": one.end, "lower_at_return_in": one.lower_in, "within_in": one.within_in} for one in found.aslant
        ],
    }


def _seam(seam: Seam, tolerance_in: float, done: Sequence[str]) -> dict[str, Any]:
    meeting = seam.meeting
    return {
        "edge": meeting.cut.cut.name_of(meeting.edge),
        "mate": meeting.mate.cut.id,
        "mate_name": meeting.mate.cut.name,
        "mate_edge": meeting.mate.cut.name_of(meeting.mate_edge),
        "sewn": meeting.sewn,
        "mate_is_cut": meeting.mate.cut.id in done,
        "against": "photograph" if seam.photographed else "plan",
        "top": _end(seam.top),
        "foot": _end(seam.foot),
        "verdict": seam.verdict(tolerance_in).value,
        "cut_lower_in": seam.lower_in,
        "light_to_right_in": seam.to_right_in,
    }


def _end(one: Higher | None) -> dict[str, float] | None:
    return None if one is None else {"higher_in": one.higher_in, "within_in": one.within_in}
