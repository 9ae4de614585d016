"""The piece as lines of plain letters, for the terminal: the same content as the picture."""

from __future__ import annotations

from fractions import Fraction

from jobs.model.choices import Run
from jobs.model.cuts import Edge, Placement
from jobs.model.lengths import show_cut
from jobs.model.plan import Plan
from projector.papers.piece_shapes import Tier, tiers_of

COLUMNS = 78
KEY = "< > beside TOP: points to the top edge  ^ row  x flaw  . leftover  / squaring"
KEY_SIDEWAYS = "A V beside TOP: points to the top edge  ^ row  x flaw  . leftover  / squaring"


def cloth_lines(plan: Plan, columns: int = COLUMNS) -> tuple[str, ...]:
    """Lines no wider than ``columns`` that show each piece: cuts, tops, rows, flaws and leftovers, to scale."""
    lines: list[str] = []
    tiers = [tier for use in plan.pieces for tier in tiers_of(plan, use)]
    longest = max((tier.span.end - tier.span.start for tier in tiers), default=Fraction(1))
    for tier in tiers:
        if tier.span.start == 0:
            what = "piece as ordered" if plan.assumed_piece else f"piece {tier.use.number}"
            lines.append(f"{what}, {show_cut(tier.use.piece.length, plan.job.unit)}, first end at the left")
        lines += _TierRows(plan, tier, (columns - 1) / longest).lines()
    return (*lines, KEY_SIDEWAYS if plan.job.cloth.run is Run.SIDEWAYS else KEY)


class _TierRows:
    """One tier as rows of letters; column 0 is its first position."""

    def __init__(self, plan: Plan, tier: Tier, per_inch: Fraction) -> None:
        self.plan, self.tier, self.per_inch = plan, tier, per_inch
        self.width = self.column(tier.span.end) + 1

    def column(self, position: Fraction) -> int:
        inside = min(max(position, self.tier.span.start), self.tier.span.end)
        return int((inside - self.tier.span.start) * self.per_inch + Fraction(1, 2))

    def lines(self) -> list[str]:
        bars = [[" "] * self.width for _ in range(6)]
        for row in bars[1:4]:
            self._fill_free(row)
        for lane in self._lanes():
            self._cut(bars, lane)
        self._rows(bars[4])
        self._flaws(bars[2:4])
        self._scale(bars[5])
        return ["".join(row).rstrip() for row in bars]

    def _fill_free(self, row: list[str]) -> None:
        for span in self.tier.use.leftovers:
            if span.end > self.tier.span.start and span.start < self.tier.span.end:
                self._put(row, self.column(span.start), "." * (self.column(span.end) - self.column(span.start)))
        squaring = self.plan.job.allowances.squaring
        if squaring > self.tier.span.start:
            self._put(row, 0, "/" * self.column(squaring))

    def _lanes(self) -> list[list[Placement]]:
        """The cuts that lie side by side in one length, which share one bar; every other cut alone."""
        lanes: dict[str, list[Placement]] = {}
        for placed in self.tier.placements:
            lanes.setdefault(placed.cut.beside or f"alone {placed.cut.id}", []).append(placed)
        return [sorted(lane, key=lambda placed: placed.cut.across) for lane in lanes.values()]

    def _cut(self, bars: list[list[str]], lane: list[Placement]) -> None:
        placed = lane[0]
        first, last = placed.crosscuts
        left, right = self.column(first), self.column(last)
        inner = max(0, right - left - 1)
        for row, text in zip(bars[:5], ["-" * inner, *self._words(lane, inner), "-" * inner], strict=True):
            ends = "+" if row in (bars[0], bars[4]) else "|"
            self._put(row, left, ends + text[:inner].ljust(inner) + ends)
        unit = self.plan.job.unit
        start, end = show_cut(first, unit), show_cut(last, unit)
        if first >= self.tier.span.start and len(start) + len(end) + 4 <= inner:
            self._put(bars[0], left + 2, start)
            if last <= self.tier.span.end:
                self._put(bars[0], right - 1 - len(end), end)

    def _words(self, lane: list[Placement], inner: int) -> tuple[str, ...]:
        placed, cut = lane[0], lane[0].cut
        if not cut.top_edge.is_end:
            return self._level_words(lane, inner)
        shows = {name: self._shows(edge) for name, edge in (("top", placed.top), ("foot", placed.foot))}
        mark = "<" if cut.top_edge is Edge.FIRST else ">"
        top, foot = (f"{mark} TOP {mark}" if shows["top"] else f"{mark} {mark}", "foot" if shows["foot"] else "")
        ends = (top, foot) if cut.top_edge is Edge.FIRST else (foot, top)
        gap = inner - 2 - len(ends[0]) - len(ends[1])
        first = f" {ends[0]}{' ' * gap}{ends[1]} " if gap >= 1 else f"{top:^{inner}}"
        if len(top) > inner:
            first = mark * inner
        windows = " + ".join(dict.fromkeys(one.cut.window for one in lane))
        panels = cut.which
        if len(lane) > 1:
            panels = " + ".join(f"{one.cut.hand} {one.cut.number}" for one in lane)
        whose = (_short(text, inner).center(inner) for text in (windows, panels))
        return (first, *whose)

    def _level_words(self, lane: list[Placement], inner: int) -> tuple[str, ...]:
        """Of sideways cuts: TOP in the line towards its selvedge; whose they are, the farthest first, in the others."""
        cut = lane[0].cut
        mark = "A" if cut.top_edge is Edge.FAR else "V"
        top = next(text for text in (f"{mark} TOP {mark}", f"{mark}TOP{mark}", mark, "") if len(text) <= inner)
        windows = " + ".join(dict.fromkeys(one.cut.window for one in reversed(lane)))
        hands = " + ".join(str(one.cut.hand) for one in reversed(lane))
        whose = (windows, hands if len(lane) > 1 else cut.which)
        lines = (top, *whose) if cut.top_edge is Edge.FAR else (*whose, top)
        return tuple(_short(line, inner).center(inner) for line in lines)

    def _shows(self, edge: Fraction) -> bool:
        return self.tier.span.start <= edge <= self.tier.span.end

    def _rows(self, row: list[str]) -> None:
        repeat = self.plan.job.cloth.repeat
        if repeat is None:
            return
        first = self.tier.use.piece.first_row
        count = int((self.tier.span.end - first) // repeat.along) + 1
        for number in range(max(0, count)):
            at = first + number * repeat.along
            if at >= self.tier.span.start and row[self.column(at)] in " -.":
                row[self.column(at)] = "^"

    def _flaws(self, rows: list[list[str]]) -> None:
        for flaw in self.tier.use.piece.flaws:
            if flaw.end > self.tier.span.start and flaw.start < self.tier.span.end:
                left = self.column(flaw.start)
                for row in rows:
                    for at in range(left, max(left + 1, self.column(flaw.end))):
                        if row[at] in " .":
                            row[at] = "x"

    def _scale(self, row: list[str]) -> None:
        for edge in (self.tier.span.start, self.tier.span.end):
            text = show_cut(edge, self.plan.job.unit)
            self._put(row, max(0, min(self.column(edge), self.width - len(text))), text)

    def _put(self, row: list[str], at: int, text: str) -> None:
        for number, letter in enumerate(text):
            if 0 <= at + number < len(row):
                row[at + number] = letter


def _short(text: str, width: int) -> str:
    return text if len(text) <= width else text[: max(0, width - 2)] + ".."[: max(0, width)]
