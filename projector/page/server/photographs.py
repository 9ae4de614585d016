"""A photograph of the cloth of a job: brought in, told how large it is, measured, and its answer put into the job."""

from __future__ import annotations

import json
import tempfile
from pathlib import Path

from jobs.io.editing import CannotEdit
from projector.files.write import CannotWrite, write_whole
from projector.page.form.open_job import OpenJob
from projector.page.measured import Measured, measured, taken
from projector.page.scale_ways import WAYS, Amiss, Place, doubt_of_clicks, words_for
from projector.page.work.commands import Outcome, run_bounded

MOST_BYTES = 60_000_000
PHOTO, SHOWN, SHEET, SEEN, TILE = "photo", "shown.jpg", "sheet.png", "seen.jpg", "tile.png"


class Photograph:
    """The photograph of one job that is looked at now, in a folder that goes with it."""

    def __init__(self) -> None:
        self._held = tempfile.TemporaryDirectory(prefix="lightchalk-", ignore_cleanup_errors=True)
        self.folder = Path(self._held.name)
        self.name = ""
        self.number = 0
        self.found: Measured | None = None
        self._shrunk = 1.0

    @property
    def is_there(self) -> bool:
        """Whether a photograph was brought in."""
        return bool(self.name)

    def picture(self, name: str) -> Path | None:
        """The file of a picture that the page shows; None where it is not made."""
        path = self.folder / name
        return path if name in (SHOWN, SEEN, TILE) and path.is_file() else None

    async def bring(self, data: bytes, name: str) -> str:
        """Take a photograph in; what is wrong with it, empty where it can be shown."""
        path = self.folder / PHOTO
        path.write_bytes(data)
        ran = await run_bounded("preview", str(path), str(self.folder / SHOWN))
        told = _json(ran)
        if "wrong" in told or not ran.well:
            self.name = ""
            return str(told.get("wrong") or "This is no picture that can be opened.")
        self.name, self.found, self._shrunk = name[:120], None, float(str(told["shrunk"]))
        self.number += 1
        for made in (SEEN, TILE, SHEET):
            (self.folder / made).unlink(missing_ok=True)
        return ""

    async def measure(self, job: OpenJob, way: str, places: list[Place], typed: list[str]) -> str:
        """Measure the print, its scale told by ``places`` in pixels of the shown picture; what is wrong, or nothing."""
        chosen = next((one for one in WAYS if one.word == way), None)
        if chosen is None or len(typed) != len(chosen.asks) or not self.is_there:
            return "Choose what the picture shows."
        in_file = [((x + 0.5) * self._shrunk, (y + 0.5) * self._shrunk) for x, y in places]
        try:
            words = words_for(chosen, in_file, typed, job.values.unit)
        except Amiss as amiss:
            return str(amiss)
        pictures = ("--picture", str(self.folder / SHEET), "--tile", str(self.folder / TILE))
        ran = await run_bounded("measure", str(self.folder / PHOTO), *words, *pictures, "--json")
        if not ran.well:
            return " ".join(line.replace(f"{self.folder / PHOTO}: ", "") for line in ran.lines()) or "It failed."
        self.found = measured(ran.out, job.values.unit, doubt_of_clicks(chosen, places))
        await run_bounded("seen", str(self.folder / SHEET), str(self.folder / SEEN))
        self.number += 1
        return ""

    def take(self, job: OpenJob, number: int, *, picture: bool) -> str:
        """Put an answer into the job, the mean repeat kept beside it where ``picture``; what is wrong, or nothing."""
        if self.found is None or not 0 <= number < len(self.found.answers):
            return "Measure the photograph first."
        answer = self.found.answers[number]
        try:
            kept = self._kept(job) if picture and answer.pictured else ""
            job.replaced(lambda text, _: taken(text, answer, kept))
        except CannotWrite as fault:
            return f"The picture cannot be kept: {fault.what}; {fault.advice}."
        except CannotEdit as fault:
            return f"{fault}."
        return ""

    def _kept(self, job: OpenJob) -> str:
        """The name under which the mean repeat lies beside the job's file now; empty where the job is in no file."""
        if job.file is None:
            return ""
        number = 1
        while (out := job.file.with_name(f"{job.file.stem}-repeat{'' if number == 1 else f'-{number}'}.png")).exists():
            number += 1
        write_whole(out, (self.folder / TILE).read_bytes())
        return out.name

    def close(self) -> None:
        """Take the pictures away."""
        self._held.cleanup()


def _json(ran: Outcome) -> dict[str, object]:
    try:
        found = json.loads(ran.out)
    except ValueError:
        return {}
    return found if isinstance(found, dict) else {}
