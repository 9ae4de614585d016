"""What is printed or sent of a job: made by the commands that make it, looked at in the browser before it is saved."""

from __future__ import annotations

import tempfile
from pathlib import Path

from jobs.cutting.slugs import slug
from jobs.journal.events import BadLine
from jobs.journal.file import bytes_of, records_of
from jobs.model.choices import Unit
from jobs.model.records import dataclass
from projector.files.write import write_whole
from projector.page.form.document import elsewhere
from projector.page.form.open_job import OpenJob
from projector.page.work.commands import run_command

TYPES = {
    "pdf": "application/pdf",
    "svg": "image/svg+xml",
    "png": "image/png",
    "csv": "text/csv; charset=utf-8",
    "dxf": "image/vnd.dxf",
}


@dataclass(frozen=True)
class Paper:
    """One paper: its name in an address, what it is, the command that makes it, and the kinds of file it comes in."""

    key: str
    title: str
    says: str
    words: tuple[str, ...]
    endings: tuple[str, ...]
    by_stop: bool = False
    by_table: bool = False


PAPERS = (
    Paper(
        "hung", "As it hangs", "Every window at its height, for the person who will live with it.",
        ("picture", "--of", "hung"), ("svg", "png"),
    ),
    Paper(
        "folds", "As it hangs, gathered", "The same in folds, as full as each window says.",
        ("picture", "--of", "hung", "--folds"), ("svg", "png"),
    ),
    Paper(
        "cloth", "The cloth with its cuts", "Every piece to scale: where each cut lies and which way its top points.",
        ("picture", "--of", "cloth"), ("svg", "png"),
    ),
    Paper(
        "sheet", "Cut sheet", "To pin above the table: order, arithmetic, cuts to tick, stops, cautions.",
        ("sheet", "--only", "sheet"), ("pdf",), by_table=True,
    ),
    Paper(
        "tags", "Top tags", "One for the top of each cut: cut out and pinned on.",
        ("sheet", "--only", "tags"), ("pdf",), by_table=True,
    ),
    Paper(
        "plan", "The plan as a table", "A line for each cut, lengths in inches, for a spreadsheet.",
        ("export", "--as", "csv"), ("csv",), by_table=True,
    ),
    Paper(
        "lines", "The lines of a stop", "What is lit at one stop as a drawing for other programs (DXF).",
        ("export", "--as", "dxf"), ("dxf",), by_stop=True, by_table=True,
    ),
)  # fmt: skip


@dataclass(frozen=True)
class Made:
    """A paper as a file, or the lines that say why there is none."""

    data: bytes
    kind: str
    name: str
    wrong: tuple[str, ...] = ()


async def make(job: OpenJob, paper: Paper, ending: str, table: Path | None, stop: int, cloth: str) -> Made:
    """Make a paper of the job as it is now, saved or not, around what is cut; of one ``cloth`` where it has several."""
    of = f"-{slug(cloth)[:30]}" if cloth else ""
    name = f"{slug(job.title)[:50]}{of}-{paper.key}.{ending}"
    with tempfile.TemporaryDirectory(prefix="lightchalk-") as folder:
        file, out = Path(folder) / "job.yaml", Path(folder) / f"paper.{ending}"
        write_whole(file, elsewhere(job.document))
        try:
            for ending_of_record, record in (records_of(job.document.path) if job.document.path else {}).items():
                write_whole(file.with_name(file.name + ending_of_record), bytes_of(record))
        except (BadLine, OSError) as error:
            return Made(b"", ending, name, (f"What is cut already cannot be read: {error}",))
        command, *options = paper.words
        words = [command, str(file), *options, "--out", str(out)]
        if cloth:
            words += ["--cloth", cloth]
        if command == "sheet":
            words += ["--paper", "letter" if job.values.unit is Unit.INCH else "a4"]
        if paper.by_table and table is not None:
            words += ["--table", str(table)]
        if paper.by_stop:
            words += ["--stop", str(stop)]
        ran = await run_command(*words)
        if not ran.well or not out.is_file():
            return Made(b"", ending, name, tuple(ran.lines({file: "this job"})))
        return Made(out.read_bytes(), ending, name)
