"""``lightchalk sheet``: the cut sheet and the top tags, as a PDF to print."""

from __future__ import annotations

from pathlib import Path

import click

from jobs.model.records import dataclass
from projector.commands.shared.cloths import Where, with_option
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.loading import load_table
from projector.commands.shared.options import FILE, Size, as_value, check_ending
from projector.commands.shared.planned import load_fitting_plan
from projector.commands.shared.terminal import watching


@dataclass(frozen=True)
class Made:
    """On which paper, in which units (None: the job's own), tags of which size in inches."""

    paper: str
    units: str | None
    tags: tuple[float, float]


@click.command("sheet", epilog="Example: lightchalk sheet jobs/examples/reading_room.yaml --out sheet.pdf --paper a4")
@click.argument("job", type=FILE)
@with_option
@click.option("--out", type=FILE, required=True, metavar="FILE.pdf", help="The file to write.")
@click.option("--table", "table_file", type=FILE, help="A table file: stops are those of its projector.")
@click.option("--paper", type=click.Choice(["letter", "a4"]), default="letter", show_default=True, help="The paper.")
@click.option("--units", type=click.Choice(["in", "cm", "both"]), help="Units of lengths; left out: the job's own.")
@click.option("--tags", type=Size(), default="3.5x2.5", show_default=True, help="Size of a tag, inches or with units.")
@click.option("--only", type=click.Choice(["sheet", "tags"]), help="Leave the other one out.")
@as_value("made", Made)
def command(job: Where, out: Path, table_file: Path | None, only: str | None, made: Made) -> None:
    """The cut sheet to pin above the table, and a tag for the top of each cut.

    The sheet has the windows, the order with its arithmetic, the cloth to scale, the cuts to tick off, pictures of
    what will hang, the stops at the table, folds, leftovers and cautions. The tags are cut out and pinned on.
    """
    from datetime import date

    from projector.files.write import write_whole
    from projector.papers.pdf import pdf_bytes
    from projector.papers.sheet.flow import PaperSize
    from projector.papers.sheet.lengths import Units
    from projector.papers.sheet.pages import TagTooLargeError, sheet_pages, tag_pages

    check_ending(out, "a sheet", ".pdf")
    plan = load_fitting_plan(job, load_table(table_file) if table_file else None)
    size, shown = PaperSize(made.paper), Units(made.units) if made.units else None
    try:
        labels = [] if only == "sheet" else tag_pages(plan, size, *made.tags, shown)
    except TagTooLargeError as refused:
        raise InputAtFault(str(refused)) from None
    day = date.today().isoformat()
    pages = [] if only == "tags" else sheet_pages(plan, size, day, shown)
    with watching("Writing pages") as on_progress:
        write_whole(out, pdf_bytes([*pages, *labels], plan.job.title, on_progress=on_progress))
    click.echo(f"Wrote {out}: {len(pages)} pages of sheet, {len(labels)} of tags")
