"""The photographs of one lit table: kept on the disk with what was typed, judged one by one, fitted together.

They are kept until the calibration that they make is used, or until somebody throws them away.
"""

from __future__ import annotations

import asyncio
import contextlib
import hashlib
import json
import secrets
import shutil
from collections.abc import Callable
from dataclasses import asdict, field, replace
from pathlib import Path
from typing import Any

from jobs.model.choices import Unit
from jobs.model.lengths import LengthError, parse_length
from jobs.model.records import dataclass
from projector.files.decimal_comma import with_point
from projector.files.lit_reference import reference_of
from projector.files.write import CannotWrite, make_folder, write_whole
from projector.page.server.tables import TableLook, Tables
from projector.page.work.commands import Outcome, run_bounded
from projector.words.wording import sentence

FOLDER, KEPT, ASKED, MADE, MOVED = "photographs", "kept.json", "asked.json", "made.yaml", "moved.svg"
NOT_COMPARED = "This photograph and the one of when it was calibrated do not go together: calibrate again."
MOST = 12
"""Photographs of one table: more tell nothing new."""
LENGTHS = 2
REST_S = 0.3
"""Somebody who types is waited for so long before the fit begins."""
Json = dict[str, Any]


@dataclass(frozen=True)
class Shot:
    """One photograph: its file is called ``name`` plus ``.jpg``; ``said`` and ``look`` are what was said of it.

    Without a ``sighting`` it shows too little and is not used.
    """

    name: str
    said: str
    look: tuple[str, ...] = ()
    sighting: Json | None = field(default=None, repr=False)


@dataclass(frozen=True)
class Moved:
    """What a photograph, of the name ``of``, tells of how far the light has moved since; ``svg`` draws it."""

    of: str
    said: str
    svg: str = ""


class LitPhotographs:
    """One set, of the table file at ``table``; ``show`` is called when there is something new to be seen.

    ``fit`` is what the last fit told, ``made`` how the calibration looks that it gives, if it gives one.
    """

    def __init__(self, state: Path, table: Path, show: Callable[[], None]) -> None:
        self.table, self._show = table, show
        self.folder = state / FOLDER / hashlib.sha256(str(table).encode()).hexdigest()[:16]
        self.size = (1920, 1080)
        self.unit = Unit.INCH
        self.shots: list[Shot] = []
        self.typed = [""] * LENGTHS
        self.fit: Json = {}
        self.made: TableLook | None = None
        self.judging = self.fits = 0
        self.moved: Moved | None = None
        self.comparing = self.knocked = self.simulated = False
        self.trouble = ""
        self._one = asyncio.Lock()
        self._tables = Tables()
        self._fitting: asyncio.Task[None] | None = None
        self._read()

    @property
    def is_fitting(self) -> bool:
        """Whether a fit is on its way."""
        return self._fitting is not None and not self._fitting.done()

    @property
    def used(self) -> list[Shot]:
        """The photographs that show enough."""
        return [one for one in self.shots if one.sighting is not None]

    @property
    def can_compare(self) -> bool:
        """Whether there is a calibration, and a photograph of when it was made, to tell whether anything has moved."""
        return self.table.is_file() and reference_of(self.table).is_file()

    async def compare(self, name: str) -> None:
        """Tell from this photograph how far the light has moved since the table was calibrated."""
        if self.comparing or not self.can_compare or all(one.name != name for one in self.used):
            return
        self.comparing, self.moved = True, None
        self._show()
        out = self.folder / MOVED
        try:
            asked = ["--photo", str(self._file(name)), "--then", str(reference_of(self.table)), "--picture", str(out)]
            ran = await run_bounded("table", str(self.table), *asked, "--units", self.unit.value)
            if ran.well:
                self.moved = Moved(name, ran.out.splitlines()[0], out.read_text(encoding="utf-8"))
            else:
                self.moved = Moved(name, NOT_COMPARED)
        finally:
            self.comparing = False
            self._show()

    def light(self, size: tuple[int, int], unit: Unit, *, simulated: bool = False) -> None:
        """The light is on: a frame of this size, a person who measures in ``unit``. Photographs of another size go."""
        self.simulated = simulated
        if (size, unit) == (self.size, self.unit):
            return
        self.shots = self.shots if size == self.size else []
        self.size, self.unit = size, unit
        self._changed()

    def begin(self) -> None:
        """Fit what was kept, where that was not done yet."""
        if self.used and not self.fit and not self.is_fitting:
            self._changed()

    async def bring(self, data: bytes) -> Json:
        """Take a photograph in; what is said of it."""
        if len(self.shots) >= MOST:
            return {"say": f"{MOST} photographs are enough: take one away first.", "bad": True}
        name = secrets.token_hex(6)
        try:
            make_folder(self.folder)
            write_whole(self._file(name), data)
        except CannotWrite as fault:
            return {"say": f"It cannot be kept: {fault.what}; {fault.advice}.", "bad": True}
        self.judging += 1
        self._show()
        try:
            async with self._one:
                small = str(self.picture(name))
                told = _json(await run_bounded("judge", str(self._file(name)), small, f"{self.size[0]}x{self.size[1]}"))
        finally:
            self.judging -= 1
        shot = _shot(name, told)
        # One that shows nothing makes way for the next.
        for old in [one for one in self.shots if one.sighting is None]:
            self._remove(old)
        self.shots.append(shot)
        self._changed()
        return {"say": shot.said, "bad": shot.sighting is None}

    def drop(self, name: str) -> None:
        """Do without a photograph."""
        for one in [one for one in self.shots if one.name == name]:
            self._remove(one)
        self._changed()

    def type(self, number: int, text: str) -> None:
        """What the tape says, as it is typed."""
        if 0 <= number < LENGTHS and len(text) <= 60:
            self.typed[number] = text
            self._changed()

    def picture(self, name: str) -> Path:
        """Where the small picture of a photograph is."""
        return self.folder / f"{name}.small.jpg"

    def over(self, name: str) -> Path:
        """Where the bars are that lie over it."""
        return self.folder / f"{name}.over.svg"

    def use(self) -> str:
        """Put the calibration into the table file; what is wrong, empty where all went well. The photographs go."""
        if self.made is None or self.is_fitting:
            return "The calibration is not ready yet."
        try:
            write_whole(self.table, (self.folder / MADE).read_text(encoding="utf-8"))
            write_whole(reference_of(self.table), self._file(self.used[0].name).read_bytes())
        except (OSError, CannotWrite) as fault:
            return f"It cannot be written: {fault.what if isinstance(fault, CannotWrite) else fault.strerror}."
        self.clear()
        return ""

    def clear(self) -> None:
        """Throw everything away."""
        self._stop()
        shutil.rmtree(self.folder, ignore_errors=True)
        self.shots, self.typed, self.fit, self.made, self.moved = [], [""] * LENGTHS, {}, None, None
        self._show()

    def wrong(self, number: int) -> str:
        """Why a length that was typed is none; empty for nothing typed."""
        return self._length(number)[1]

    def tape_in(self) -> list[float]:
        """The lengths that were typed, in inches."""
        return [length for length, _ in map(self._length, range(LENGTHS)) if length]

    def _length(self, number: int) -> tuple[float, str]:
        text = self.typed[number].strip()
        if not text:
            return 0.0, ""
        try:
            return float(parse_length(with_point(text), self.unit)), ""
        except LengthError as refused:
            return 0.0, f"{sentence(refused.problem)}."
        except ValueError as refused:
            return 0.0, f"{refused}."

    def _file(self, name: str) -> Path:
        return self.folder / f"{name}.jpg"

    def _remove(self, one: Shot) -> None:
        self.shots.remove(one)
        self.moved = None if self.moved is not None and self.moved.of == one.name else self.moved
        for path in (self._file(one.name), self.picture(one.name), self.over(one.name)):
            with contextlib.suppress(OSError):
                path.unlink(missing_ok=True)

    def _changed(self) -> None:
        """Keep all, and fit anew."""
        self.trouble = ""
        if self.shots or any(self.typed):
            kept = {
                "table": str(self.table),
                "size": self.size,
                "unit": self.unit.value,
                "typed": self.typed,
                "shots": [asdict(one) for one in self.shots],
            }
            try:
                make_folder(self.folder)
                write_whole(self.folder / KEPT, json.dumps(kept))
            except CannotWrite as fault:
                self.trouble = f"This cannot be kept: {fault.what}; {fault.advice}."
        self._stop()
        self.made = None
        self._fitting = asyncio.get_running_loop().create_task(self._fit()) if self.used else None
        if not self.used:
            self.fit = {}
        self._show()

    def _stop(self) -> None:
        if self._fitting is not None:
            self._fitting.cancel()
            self._fitting = None

    async def _fit(self) -> None:
        await asyncio.sleep(REST_S)
        out = self.folder / MADE
        if self.table.is_file():
            # What was set beside the map, such as the projector's gamma, is kept.
            out.write_bytes(self.table.read_bytes())
        else:
            out.unlink(missing_ok=True)
        asked = {
            "size": self.size,
            "sightings": [one.sighting for one in self.used],
            "tape_in": self.tape_in(),
            "simulated": self.simulated,
            "unit": self.unit.value,
        }
        overs = [str(self.over(one.name)) for one in self.used]
        (self.folder / ASKED).write_text(json.dumps({**asked, "overs": overs, "out": str(out)}), encoding="utf-8")
        ran = await run_bounded("fit", str(self.folder / ASKED))
        fit = _json(ran) or {"wrong": [[None, "The program itself went wrong with these photographs."]]}
        made = await self._tables.look(out, self.unit.value) if fit.get("error_in") is not None else None
        self.fit, self.made, self._fitting = fit, made, None
        self.fits += 1
        self._show()

    def _read(self) -> None:
        """What was kept before."""
        try:
            kept = json.loads((self.folder / KEPT).read_text(encoding="utf-8"))
            shots = [replace(Shot(**one), look=tuple(one["look"])) for one in kept["shots"]]
            size, typed = (int(kept["size"][0]), int(kept["size"][1])), [str(text) for text in kept["typed"]]
            unit = Unit(kept["unit"])
        except (OSError, ValueError, TypeError, KeyError, IndexError):
            return
        if len(typed) == LENGTHS:
            self.size, self.typed, self.unit = size, typed, unit
            self.shots = [one for one in shots if self._file(one.name).is_file()]


def kept_tables(state: Path) -> list[Path]:
    """The table files of which photographs are kept that were not used yet."""
    found = []
    for file in sorted((state / FOLDER).glob(f"*/{KEPT}")):
        with contextlib.suppress(OSError, ValueError, TypeError, KeyError):
            kept = json.loads(file.read_text(encoding="utf-8"))
            if kept["shots"]:
                found.append(Path(kept["table"]))
    return found


def _shot(name: str, told: Json) -> Shot:
    if "sighting" not in told:
        return Shot(name, str(told.get("wrong") or "This is no picture that can be opened."))
    seen = f"{told['seen']} of {told['of']} corners were found."
    return Shot(name, " ".join(told["look"]) or f"Good: {seen}", tuple(told["look"]), told["sighting"])


def _json(ran: Outcome) -> Json:
    try:
        found = json.loads(ran.out) if ran.well else {}
    except ValueError:
        return {}
    return found if isinstance(found, dict) else {}
