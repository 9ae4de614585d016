"""A job cloth by cloth: what is cut from each of its cloths, as a job of one cloth, with linings as windows of theirs.

Order, plan, sheet, tags, record and light know jobs of one cloth. Each is worked out for itself; ``Frame`` tells where
its keys stand in the file of the whole job.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.cutting.slugs import slug, window_slugs
from jobs.cutting.widths import flat_width
from jobs.model.choices import Hang, Part
from jobs.model.cloth import Cloth
from jobs.model.job import Job, allowances_of
from jobs.model.problems import Code, JobRefused, Path, Problem, problem
from jobs.model.records import dataclass
from jobs.model.window import Lining, Made, OwnAllowances, Window

LONGEST_ENDING = 40
_LAYERS = (("lining", Part.LINING), ("interlining", Part.INTERLINING))


@dataclass(frozen=True)
class Frame:
    """Where the cloth and the windows of a job of one cloth stand in the file of the whole job."""

    cloth: Path
    windows: tuple[Path, ...]
    wanted: tuple[Path, ...] = ()

    def in_file(self, path: Path) -> Path:
        """The place in the file of what stands at this path of the job of one cloth."""
        if path[:1] == ("cloth",):
            return (*self.cloth, *path[1:])
        for name, places in (("windows", self.windows), ("wanted", self.wanted)):
            if path[:1] == (name,) and len(path) > 1 and isinstance(path[1], int) and path[1] < len(places):
                return (*places[path[1]], *path[2:])
        return path

    def of_file(self, path: Path) -> Path | None:
        """The path in the job of one cloth of what stands at this place of the file; None where it is another's."""
        if path[: len(self.cloth)] == self.cloth:
            return ("cloth", *path[len(self.cloth) :])
        for name, places in (("windows", self.windows), ("wanted", self.wanted)):
            at = max((place for place in places if path[: len(place)] == place), key=len, default=None)
            if at is not None:
                return (name, places.index(at), *path[len(at) :])
        return (
            None
            if path[:1] in (("cloth",), ("cloths",)) or (len(path) > 1 and path[0] in ("windows", "wanted"))
            else path
        )


@dataclass(frozen=True)
class ClothJob:
    """One cloth of a job and all that is cut from it, as a job of its own.

    ``number`` counts the cloths of the whole job from 0, ``of`` is how many there are. ``ending`` is a short name of
    the cloth for files that are kept of it beside the job; empty for the first, and for the only one.
    """

    job: Job
    frame: Frame
    number: int = 0
    of: int = 1
    ending: str = ""

    @property
    def name(self) -> str:
        return self.job.cloth.name


def jobs_of_cloths(job: Job) -> tuple[ClothJob, ...]:
    """A job of one cloth for each cloth from which something is cut, in their order.

    What is told of the whole job is told of each. Raises JobRefused where a window names a cloth that is not there, or
    where a lining cannot be made from its face.
    """
    numbers = {cloth.name.casefold(): number for number, cloth in reversed(list(enumerate(job.every_cloth)))}
    mine: list[list[tuple[Path, Window]]] = [[] for _ in job.every_cloth]
    problems: list[Problem] = []
    for number, window in enumerate(job.windows):
        for path, cloth, one in _cut_for(number, window, job, problems):
            at = numbers.get(cloth.casefold()) if cloth else 0
            if at is None:
                problems.append(problem((*path, "cloth"), Code.NO_SUCH_CLOTH, name=cloth, near=names_of_cloths(job)))
            else:
                mine[at].append((path, one))
    if problems:
        raise JobRefused(problems)
    endings = _endings(job.every_cloth)
    used = [number for number, windows in enumerate(mine) if windows]
    found = [_of_cloth(job, number, mine[number]) for number in used]
    return tuple(replace(one, of=len(used), ending=endings[one.number]) for one in found)


def unused_cloths(job: Job) -> tuple[str, ...]:
    """The names of cloths from which nothing is cut."""
    used = {one.number for one in jobs_of_cloths(job)}
    return tuple(cloth.name for number, cloth in enumerate(job.every_cloth) if number not in used)


def cannot_be_made(number: int, window: Window, job: Job) -> tuple[Problem, ...]:
    """What keeps something from being cut for a window beside its face, with its place in the file."""
    problems: list[Problem] = []
    list(_cut_for(number, window, job, problems))
    return tuple(problems)


def names_of_cloths(job: Job) -> tuple[str, ...]:
    """The names of all cloths of a job."""
    return tuple(cloth.name for cloth in job.every_cloth)


def frames_of(job: Job) -> Iterator[tuple[int, Frame]]:
    """For each cloth by number the windows and small things of the file that are its own, nothing derived from them.

    A window that names no cloth of the job belongs to none.
    """
    for number, cloth in enumerate(job.every_cloth):
        called = ("", cloth.name.casefold()) if number == 0 else (cloth.name.casefold(),)
        windows = tuple(("windows", at) for at, one in enumerate(job.windows) if one.cloth.casefold() in called)
        wanted = tuple(("wanted", at) for at, one in enumerate(job.wanted) if number == 0)
        yield number, Frame(job.place_of_cloth(number), windows, wanted)


def _of_cloth(job: Job, number: int, windows: Sequence[tuple[Path, Window]]) -> ClothJob:
    frame = next(one for at, one in frames_of(job) if at == number)
    frame = replace(frame, windows=tuple(path for path, _ in windows))
    notices = []
    for notice in job.notices:
        path = frame.of_file(notice.path)
        if path is not None:
            notices.append(replace(notice, path=path))
    alone = replace(
        job,
        cloth=job.every_cloth[number],
        cloths=(),
        windows=tuple(window for _, window in windows),
        wanted=tuple(job.wanted[int(path[1])] for path in frame.wanted),
        notices=tuple(notices),
        listed=False,
    )
    return ClothJob(alone, frame, number)


def _cut_for(number: int, window: Window, job: Job, problems: list[Problem]) -> Iterator[tuple[Path, str, Window]]:
    """What is cut for a window, its face first: where it stands, the name of its cloth, and it as a window of that."""
    path: Path = ("windows", number)
    yield path, window.cloth, replace(window, cloth="", lining=None, interlining=None)
    for key, part in _LAYERS:
        layer: Lining | None = getattr(window, key)
        if layer is not None:
            try:
                yield (*path, key), layer.cloth, _layer(window, layer, part, job, (*path, key))
            except JobRefused as refused:
                problems += refused.problems


def _layer(window: Window, layer: Lining, part: Part, job: Job, path: Path) -> Window:
    """A lining as a window of its cloth: as wide as the face laid flat, and as long, less what it is told to be less.

    It is named after its window, hangs the same way in both panels and has a row of its print at its finished top.
    """
    length = window.finished_length - layer.shorter
    if length <= 0:
        raise JobRefused([problem((*path, "shorter"), Code.LINING_TOO_SHORT, length=window.finished_length)])
    face = allowances_of(window, job.allowances)
    flat, cuts = _width(window, layer, job, path)
    return Window(
        name=f"{window.name} {part}",
        panels=window.panels,
        finished_length=length,
        hang=Hang.SAME,
        top_height=window.top_height,
        cuts_per_panel=cuts,
        side_by_side=window.side_by_side,
        room=window.room,
        allowances=OwnAllowances(
            face.heading if layer.heading is None else layer.heading,
            face.hem if layer.hem is None else layer.hem,
            face.side_hem if layer.side_hem is None else layer.side_hem,
        ),
        made=Made(part, window.name),
        flat=flat,
    )


def _width(window: Window, layer: Lining, job: Job, path: Path) -> tuple[Fraction | None, Fraction | None]:
    """The flat width of one panel between its finished sides, or where the face is told in cuts, how many it has."""
    width = flat_width(window, job)
    if width is not None:
        flat = width.flat / width.panels - layer.narrower
        if flat <= 0:
            raise JobRefused([problem((*path, "narrower"), Code.LINING_TOO_NARROW, flat=width.flat / width.panels)])
        return flat, None
    if layer.cuts_per_panel is not None:
        return None, layer.cuts_per_panel
    widths = {cloth.width for cloth in job.every_cloth if cloth.name.casefold() == layer.cloth.casefold()}
    face = next((c for c in job.every_cloth if c.name.casefold() == window.cloth.casefold()), job.cloth)
    if widths and widths != {face.width}:
        raise JobRefused([problem(path, Code.LINING_CUTS_NOT_KNOWN, cloth=layer.cloth)])
    return None, window.cuts_per_panel


def _endings(cloths: Sequence[Cloth]) -> tuple[str, ...]:
    """A short name for the files of each cloth, all different; empty for the first one."""
    slugs = window_slugs(cloth.name for cloth in cloths)
    found, taken = [""], set[str]()
    for number, cloth in enumerate(cloths[1:], 2):
        name = slugs[cloth.name][:LONGEST_ENDING].strip("-") or slug("")
        name = name if name not in taken and len(name.encode()) <= 2 * LONGEST_ENDING else f"cloth-{number}"
        taken.add(name)
        found.append(name)
    return tuple(found)
