"""What the page shows of a calibration: how far off the light can be, drawn and in words."""

from __future__ import annotations

import tempfile
from pathlib import Path

from jobs.model.records import dataclass
from projector.page.work.commands import run_command

MOST_HELD = 50


@dataclass(frozen=True)
class TableLook:
    """A calibration as it is looked at: the expected error as SVG, what is said of it, and a line for each mark."""

    svg: str
    lines: tuple[str, ...]
    marks: tuple[str, ...] = ()


class Tables:
    """Looks of table files, kept as long as the file is as it was."""

    def __init__(self) -> None:
        self._held: dict[tuple[Path, int, str], TableLook] = {}

    async def look(self, path: Path, unit: str) -> TableLook:
        """The calibration in this file, for a person who measures in ``unit`` (in, cm or mm)."""
        key = path, path.stat().st_mtime_ns, unit
        if key not in self._held:
            if len(self._held) >= MOST_HELD:
                self._held.clear()
            self._held[key] = await _looked_at(path, unit)
        return self._held[key]


async def _looked_at(path: Path, unit: str) -> TableLook:
    with tempfile.TemporaryDirectory(prefix="lightchalk-") as folder:
        out = Path(folder) / "error.svg"
        ran = await run_command("table", str(path), "--units", unit, "--picture", str(out))
        said = [line for line in ran.lines({path: "this calibration"}) if str(out) not in line]
        svg = out.read_text(encoding="utf-8") if ran.well and out.is_file() else ""
    marks = tuple(line.strip() for line in said if line.startswith("  mark "))
    return TableLook(svg, tuple(line.strip() for line in said if not line.startswith("  mark ")), marks)
