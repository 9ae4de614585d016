"""Files spoilt at random, and what reading them says: a value, or a clear refusal; anything else is a fault.

Run: python -m tests.benchmarks.spoilt_files 10000
"""

from __future__ import annotations

import json
import random
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from calibration.table import fit_table
from jobs.journal.events import BadLine, parse_journal
from jobs.journal.file import JournalFile
from jobs.reading.job_file import read_job
from jobs.reading.problems import Problems
from projector.files.light_file import read_light
from projector.files.marks_file import read_marks
from projector.files.points_file import read_points
from projector.files.table_file import read_stored, write_table
from projector.session.controls.keys import DEFAULT_KEYS
from projector.session.controls.remapping import WRITTEN, keys_from
from projector.session.cutting.remembered import LAYER_NAMES
from projector.simulated.rig import marks_of, rig_over

ROOT = Path(__file__).parents[2]
TOKENS = (
    *(
        "",
        " ",
        "\n",
        "\t",
        ":",
        "-",
        "- ",
        "{",
        "}",
        "[",
        "]",
        ",",
        "'",
        '"',
        "#",
        "&a",
        "*a",
        "!!int",
        "<<",
        "---",
        "|",
    ),
    *(
        "0",
        "-1",
        "1e999",
        "1/0",
        "nan",
        "inf",
        "1:30",
        "no",
        "~",
        "9" * 400,
        "1/2",
        "½",
        "٣",
        "\x00",
        "\ufeff",
        "\u202e",
    ),
    *("yd", "cm", "next stop", "PageDown", "keys", "job", "cloth", "windows", "pieces", "marks", "table", "pixel"),
)

LIGHT = b'dark: ["rows and columns", "letters"]\nwider: 2\ncolours: 3\n'

Reader = Callable[[Path], object]


def samples(folder: Path) -> list[tuple[str, bytes, Reader]]:
    """One of each kind of file, sound, with its reader."""
    rig = rig_over(60.0, 54.0, tilt_deg=10, roll_deg=1.5, width_px=1024, height_px=768)
    places = ((0.0, 0.0), (58.0, 0.0), (58.0, 50.0), (0.0, 50.0), (30.0, 24.0))
    table = folder / "sound.table"
    write_table(table, fit_table(marks_of(rig, places), 1024, 768))
    journal = folder / "sound.cuts"
    with JournalFile(journal) as record:
        for cut in ("a", "b", "c"):
            record.append("done", cut, "plan", datetime(2031, 5, 4, tzinfo=UTC))
    keys = "keys:\n" + "".join(f"  {word}: [F{number + 2}]\n" for number, word in enumerate(list(WRITTEN)[:12]))
    points = "points:\n" + "".join(f"  - {{row: {n}, column: {n % 2}, table: [{n}.5, 3 1/4]}}\n" for n in range(4))
    jobs = [("job", path.read_bytes(), read_job) for path in sorted((ROOT / "jobs" / "examples").glob("*.yaml"))]
    marks = (ROOT / "docs" / "first-job" / "marks.yaml").read_bytes()
    return [
        *jobs,
        ("table", table.read_bytes(), read_stored),
        ("marks", marks, read_marks),
        ("points", points.encode(), read_points),
        ("journal", journal.read_bytes(), _reads_no_more_than(journal.read_bytes())),
        ("keys", keys.encode(), keys_from),
        ("all keys", _all_keys().encode(), keys_from),
        ("light", LIGHT, lambda path: read_light(path, LAYER_NAMES)),
    ]


def _all_keys() -> str:
    """A keys file that gives every action its usual keys and one with Alt."""
    lines = []
    for number, (word, action) in enumerate(WRITTEN.items()):
        keys = [*(key for key, asked in DEFAULT_KEYS.items() if asked is action), f"Alt+F{number % 24 + 1}"]
        if number >= 24:
            keys[-1] = f"Ctrl+Alt+F{number % 24 + 1}"
        lines.append(f"  {word}: [{', '.join(json.dumps(key) for key in keys)}]\n")
    return "keys:\n" + "".join(lines)


def _reads_no_more_than(sound: bytes) -> Reader:
    """A reader of journals that finds fault with any event that does not stand in the sound one."""
    events = parse_journal(sound).events

    def read(path: Path) -> object:
        found = parse_journal(path.read_bytes()).events
        if found != events[: len(found)]:
            raise AssertionError("a spoilt journal tells of other cuts")
        return found

    return read


def spoilt(data: bytes, rng: random.Random) -> bytes:
    """The bytes with one to five things done to them."""
    for _ in range(rng.randint(1, 5)):
        at, length = rng.randrange(len(data) + 1), rng.choice((1, 1, 3, 10, 60))
        piece = data[at : at + length]
        new = rng.choice(
            (b"", piece * 2, rng.choice(TOKENS).encode(), rng.randbytes(rng.randint(1, 3)), _line(data, rng))
        )
        data = data[:at] + new + data[at + rng.choice((0, length)) :]
    return data if rng.random() > 0.02 else data[: rng.randrange(len(data) + 1)]


def _line(data: bytes, rng: random.Random) -> bytes:
    return rng.choice(data.splitlines(keepends=True) or [b""])


class UnclearError(Exception):
    """A refusal that does not say what is wrong and what to do."""


def verdict(read: Reader, path: Path) -> str:
    """``read`` or ``refused``; anything else is raised. A refusal without words or advice is a fault."""
    try:
        read(path)
    except Problems as refused:
        unclear = [repr(str(p)) for p in refused.problems if not (p.what and p.advice and str(p).isprintable())]
        if unclear or not refused.problems:
            raise UnclearError(unclear) from refused
        return "refused"
    except BadLine as bad:
        if not bad.what or bad.line < 1:
            raise UnclearError(str(bad)) from bad
        return "refused"
    return "read"


def main(count: int, seed: int = 1) -> int:
    rng, found, begun, slowest = random.Random(seed), Counter[tuple[str, str]](), time.perf_counter(), 0.0
    faults = 0
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        kinds = samples(folder)
        path = folder / "spoilt"
        for kind, data, read in kinds:
            path.write_bytes(data)
            assert verdict(read, path) == "read", f"the sound {kind} is refused"
        for number in range(count):
            kind, data, read = kinds[number % len(kinds)]
            path.write_bytes(spoilt(data, rng))
            at = time.perf_counter()
            try:
                found[kind, verdict(read, path)] += 1
            except Exception as fault:
                faults += 1
                print(f"{kind} {number}: {type(fault).__name__}: {fault}\n{path.read_bytes()!r}")
            slowest = max(slowest, time.perf_counter() - at)
    for (kind, said), times in sorted(found.items()):
        print(f"{kind:<8} {said:<8} {times}")
    seconds = time.perf_counter() - begun
    print(f"{count} spoilt files, {faults} faults, {seconds:.1f} s, slowest {1000 * slowest:.0f} ms")
    return int(faults > 0)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000))
