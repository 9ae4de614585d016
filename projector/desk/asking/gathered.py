"""The job that the answers so far make; what was not asked yet is left at its usual value."""

from __future__ import annotations

from fractions import Fraction

from jobs.model.choices import End, Follow, Hang, Panels, PrintKey, Run, Symmetry
from jobs.model.cloth import Cloth, Flaw, Piece, Print, Repeat
from jobs.model.job import Allowances, CuttingTable, Job
from jobs.model.numbers import parse_fraction, parse_share
from jobs.model.window import RowRule, Window
from projector.desk.asking.said import Said

_KINDS = {"yes": Symmetry.MIRROR, "slid": Symmetry.GLIDE}
WIDE = Fraction(400)
STAND_IN = Window("not asked yet", Panels.WHOLE, Fraction(1))


def job_of(said: Said) -> Job:
    """The job of these answers, complete or not. A job without a window yet gets one that stands in for it."""
    table = None
    if said.has("table_width"):
        table = CuttingTable(said.length("table_length"), said.length("table_width"))
    allowances = Allowances(*(said.length(key) for key in ("heading", "hem", "side_hem", "seam", "squaring")))
    return Job(
        title=said.text("title", "not asked yet"),
        unit=said.unit,
        cloth=_cloth(said),
        windows=windows_of(said) or (STAND_IN,),
        allowances=allowances,
        table=table,
    )


def windows_of(said: Said) -> tuple[Window, ...]:
    """The windows that have a name by now."""
    groups = _groups(said, "window", "name")
    return tuple(_window(said, group) for group in groups)


def _groups(said: Said, word: str, first: str) -> list[str]:
    """``window 1``, ``window 2``, ... as far as their ``first`` question is answered."""
    found: list[str] = []
    while said.has(f"{word} {len(found) + 1} {first}"):
        found.append(f"{word} {len(found) + 1}")
    return found


def _cloth(said: Said) -> Cloth:
    repeat = None
    if said.has("along"):
        across = said.length("across") if said.given("across") else None
        repeat = Repeat(said.length("along"), across)
    return Cloth(
        name=said.text("cloth", "not asked yet"),
        width=said.length("width", WIDE),
        selvedge=said.length("selvedge"),
        repeat=repeat,
        drop=parse_fraction(said.text("drop")) if said.given("drop") else Fraction(0),
        print=_print(said),
        shrinkage=parse_share(said.text("shrinkage", "0 %")),
        colour=said.text("colour", Cloth.colour),
        sold_by=said.length("sold_by") if said.given("sold_by") else None,
        pieces=tuple(_piece(said, group) for group in _groups(said, "piece", "length")),
        follow=Follow.PRINT if repeat else Follow.SELVEDGE,
        run=Run.SIDEWAYS if said.yes("sideways") else Run.UP,
        not_known=frozenset(key for key in PrintKey if not said.given(key)) if repeat else frozenset(),
    )


def _print(said: Said) -> Print:
    down, across = (_KINDS.get(said.text(key), Symmetry.NONE) for key in ("top_to_bottom", "side_to_side"))
    both = Symmetry.NONE not in (down, across)
    return Print(
        top_to_bottom=down,
        side_to_side=across,
        half_turn=both or said.yes("half_turn"),
        mirror_offset=said.length("mirror_offset"),
        one_way=said.yes("one_way"),
        top_towards=End(said.text("top_towards", End.FIRST.value)),
    )


def _piece(said: Said, group: str) -> Piece:
    flaws = tuple(_flaw(said, flaw) for flaw in _groups(said, f"{group} flaw", "to"))
    return Piece(said.length(f"{group} length"), said.length(f"{group} first_row"), flaws)


def _flaw(said: Said, group: str) -> Flaw:
    across = None
    if said.has(f"{group} across_to"):
        across = (said.length(f"{group} across_from"), said.length(f"{group} across_to"))
    note = said.text(f"{group} note") if said.given(f"{group} note") else ""
    return Flaw(said.length(f"{group} from"), said.length(f"{group} to"), across, note)


def _window(said: Said, group: str) -> Window:
    rod = said.length(f"{group} rod") if said.has(f"{group} rod") else None
    panels = Panels(said.text(f"{group} panels", STAND_IN.panels.value))
    hang = said.text(f"{group} hang", Hang.MIRRORED.value) if panels is Panels.PAIR else Hang.MIRRORED.value
    return Window(
        name=said.text(f"{group} name"),
        panels=panels,
        finished_length=said.length(f"{group} finished_length", STAND_IN.finished_length),
        hang=Hang(hang),
        top_height=said.length(f"{group} top_height") if said.given(f"{group} top_height") else None,
        cuts_per_panel=None if rod is not None else parse_fraction(said.text(f"{group} cuts_per_panel", "1")),
        rod=rod,
        returns=said.length(f"{group} returns"),
        overlap=said.length(f"{group} overlap"),
        fullness=parse_fraction(said.text(f"{group} fullness", "2")),
        row=_row(said, group),
    )


def _row(said: Said, group: str) -> RowRule | None:
    if said.has(f"{group} level_with"):
        return RowRule(level_with=said.text(f"{group} level_with"))
    if not said.has(f"{group} distance"):
        return None
    distance = said.length(f"{group} distance")
    return RowRule(above_foot=distance) if said.text(f"{group} rule") == "foot" else RowRule(below_top=distance)
