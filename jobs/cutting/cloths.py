"""A job cloth by cloth: all that is cut from each of its cloths, as a job of one cloth.

Order, plan, sheet, tags, record and light know jobs of one cloth. Each is worked out for itself; ``Frame`` tells where
its keys stand in the file of the whole job.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from jobs.cutting.made import (
    LAYERS,
    MadeAt,
    bands_of,
    flat_panels_of,
    lining_of,
    ordered_things,
    things_from_leftovers,
    tie_backs_of,
)
from jobs.cutting.slugs import slug, window_slugs
from jobs.model.choices import Part
from jobs.model.cloth import Cloth
from jobs.model.job import Job
from jobs.model.problems import Code, JobRefused, Path, Problem, problem
from jobs.model.records import dataclass
from jobs.model.trimmings import Band, Lining
from jobs.model.window import Window

LONGEST_ENDING = 40


@dataclass(frozen=True)
class Frame:
    """Where the cloth of a job of one cloth, its windows and whatever else is listed stand in the file of the whole."""

    cloth: Path
    windows: tuple[Path, ...]
    wanted: tuple[Path, ...] = ()
    flat_panels: tuple[Path, ...] = ()

    def in_file(self, path: Path) -> Path:
        """The place in the file of what stands at this path of the job of one cloth."""
        if path[:1] == ("cloth",):
            return (*self.cloth, *path[1:])
        for name, places in self._lists():
            if path[:1] == (name,) and len(path) > 1 and isinstance(path[1], int) and path[1] < len(places):
                return (*places[path[1]], *path[2:])
        return path

    def of_file(self, path: Path) -> Path | None:
        """The path in the job of one cloth of what stands at this place of the file; None where it is another's."""
        if path[: len(self.cloth)] == self.cloth:
            return ("cloth", *path[len(self.cloth) :])
        for name, places in self._lists():
            at = max((place for place in places if path[: len(place)] == place), key=len, default=None)
            if at is not None:
                return (name, places.index(at), *path[len(at) :])
        listed = len(path) > 1 and path[0] in ("windows", "wanted", "flat_panels")
        return None if listed or path[:1] in (("cloth",), ("cloths",)) else path

    def _lists(self) -> tuple[tuple[str, tuple[Path, ...]], ...]:
        return ("windows", self.windows), ("wanted", self.wanted), ("flat_panels", self.flat_panels)


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
    faces = (made for number, window in enumerate(job.windows) for made in _cut_for(number, window, job, problems))
    for path, cloth, one in (*faces, *flat_panels_of(job), *ordered_things(job)):
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
        wanted = tuple(("wanted", at) for at, one in enumerate(job.wanted) if one.cloth.casefold() in called)
        panels = tuple(("flat_panels", at) for at, one in enumerate(job.flat_panels) if one.cloth.casefold() in called)
        yield number, Frame(job.place_of_cloth(number), windows, wanted, panels)


def _of_cloth(job: Job, number: int, windows: Sequence[tuple[Path, Window]]) -> ClothJob:
    frame = next(one for at, one in frames_of(job) if at == number)
    left = [(path, one) for path in frame.wanted for one in things_from_leftovers([job.wanted[int(path[1])]])]
    frame = replace(frame, windows=tuple(path for path, _ in windows), wanted=tuple(path for path, _ in left))
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
        wanted=tuple(replace(one, cloth="") for _, one in left),
        flat_panels=(),
        notices=tuple(notices),
        listed=False,
    )
    return ClothJob(alone, frame, number)


def _cut_for(number: int, window: Window, job: Job, problems: list[Problem]) -> Iterator[MadeAt]:
    """What is cut for a window, its face first; what cannot be made of it goes to the problems."""
    path: Path = ("windows", number)
    yield path, window.cloth, replace(window, cloth="", lining=None, interlining=None, bands=(), tie_backs=None)
    for made in _beside_face(number, window, job):
        try:
            yield from made()
        except JobRefused as refused:
            problems += refused.problems


def _beside_face(number: int, window: Window, job: Job) -> Iterator[Callable[[], list[MadeAt]]]:
    """How each part of a window beside its face is made."""
    path: Path = ("windows", number)
    for key, part in LAYERS:
        layer: Lining | None = getattr(window, key)
        if layer is not None:
            yield partial(_lining, window, layer, part, job, (*path, key))
    for at, band in enumerate(window.bands):
        yield partial(_bands, window, band, job, (*path, "bands", at))
    if window.tie_backs is not None:
        found = tie_backs_of(window, window.tie_backs, job)
        ties: list[MadeAt] = [((*path, "tie_backs"), window.tie_backs.cloth, one) for one in found]
        yield lambda: ties


def _lining(window: Window, layer: Lining, part: Part, job: Job, path: Path) -> list[MadeAt]:
    return [(path, layer.cloth, lining_of(window, layer, part, job, path))]


def _bands(window: Window, band: Band, job: Job, path: Path) -> list[MadeAt]:
    return [(path, band.cloth, one) for one in bands_of(window, band, job, path)]


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
