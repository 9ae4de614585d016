"""A new job: one mirrored pair with the usual sizes, in the unit of the person's tape, to be typed over."""

from __future__ import annotations

from fractions import Fraction
from importlib.resources import files

from jobs.io.reader import parse_job
from jobs.io.writer import job_text
from jobs.model.allowances import Allowances
from jobs.model.choices import Follow, Panels, PrintKey, Unit
from jobs.model.cloth import Cloth
from jobs.model.job import CuttingTable, Job
from jobs.model.lengths import CENTIMETRE
from jobs.model.print import Repeat
from jobs.model.window import RowRule, Window

# Common practice, no source: the defaults of the questions, in inches and in centimetres, as each tape would say them.
_USUAL = {
    "width": ("54", "140"),
    "selvedge": ("1/2", "3/2"),
    "along": ("18", "45"),
    "across": ("27/2", "34"),
    "heading": ("4", "10"),
    "hem": ("8", "20"),
    "side_hem": ("3", "8"),
    "seam": ("1/2", "3/2"),
    "squaring": ("1", "3"),
    "length": ("84", "210"),
    "row": ("5", "12"),
    "table": ("120", "300"),
    "deep": ("60", "150"),
    "sold": ("9", "10"),
}


def blank_job(unit: Unit, title: str = "New job") -> str:
    """The text of a new job, every number of it a usual one that the person types over.

    How the print mirrors, its drop and whether it is one-way have no usual answer: they are not known until answered.
    """

    def size(name: str) -> Fraction:
        inches, centimetres = _USUAL[name]
        return Fraction(inches) if unit is Unit.INCH else Fraction(centimetres) * CENTIMETRE

    cloth = Cloth(
        name="My cloth",
        width=size("width"),
        selvedge=size("selvedge"),
        repeat=Repeat(size("along"), size("across")),
        sold_by=size("sold"),
        follow=Follow.PRINT,
        not_known=frozenset(PrintKey),
    )
    window = Window("Window 1", Panels.PAIR, size("length"), row=RowRule(below_top=size("row")))
    allowances = Allowances(size("heading"), size("hem"), size("side_hem"), size("seam"), size("squaring"))
    table = CuttingTable(size("table"), size("deep"))
    return job_text(Job(title, unit, cloth, (window,), allowances, table))


def examples() -> dict[str, str]:
    """The example jobs that come with the program: title -> text."""
    found = sorted(entry.name for entry in files("jobs.examples").iterdir() if entry.name.endswith(".yaml"))
    texts = [(files("jobs.examples") / name).read_text(encoding="utf-8") for name in found]
    return {parse_job(text, name).title: text for name, text in zip(found, texts, strict=True)}
